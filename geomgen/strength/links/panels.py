"""Sheet between two ribs: it buckles when it is pressed along the blade, and air bends it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import HALVES, Half, SheetStock
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.groups import is_cover
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_bending_mpa
from geomgen.strength.formulas.panel import curve_buckling_mpa
from geomgen.strength.formulas.sandwich import core_shear_mpa
from geomgen.strength.formulas.short_panel import pressed_strip_nmm, short_panel_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.boards import PAPER_MM, is_board
from geomgen.strength.links.bonds import stock_of
from geomgen.strength.links.choose import closer, thicker, used, weakest
from geomgen.strength.links.running import Running, Runs, across_grain, bending_share, near, running
from geomgen.strength.links.spans import FLAT_WORDS, Span, spans

FLAT_MM = 1e-3  # a sagitta below that is none
NOT_BROKEN = "what buckles isn't broken: the spars take over what it carried"


@dataclass(frozen=True)
class Curved:
    """A panel between two ribs.

    long_mm   : from face to face [mm]
    wide_mm   : round the section [mm]
    radius_mm : of its curve; inf where it's flat [mm]
    across    : whether its grain runs across the blade
    """

    long_mm: float
    wide_mm: float
    radius_mm: float
    across: bool


def panels(build: Build, runs: Runs | None = None) -> Iterator[Link]:
    """Of each table's sheets the weakest panel in each way."""
    runs = running(build) if runs is None else runs
    every = list(spans(build))
    covers = [part for part in build.flying if is_cover(part.role) and part.role is not Role.FILM]
    for maker in (_buckled, _bent):
        links = (link for part in covers for link in maker(build, part, every, runs))
        yield from weakest(links, lambda link: (link.path, link.fails))


def _buckled(build: Build, part: Part, every: Sequence[Span], runs: Runs) -> Iterator[Link]:
    """Pressed along the blade, panel by panel."""
    of, some = stock_of(build, part.key), runs.get(part.key, ())
    sheet = build.design.stock.get(part.stock)
    if of is None or not some or not isinstance(sheet, SheetStock):
        return
    if is_board(of):  # its papers wrinkle, wherever the ribs stand: see `boxes`
        return
    found = list[Link]()
    for span in every:
        run = near(some, span.inner.r_mm)
        figure = _stands(of, sheet.thickness, _curved(part, span, _pressed_half(part, run)), bending_share(run))
        why, note = of.why_not(Property.MODULUS), f"flat panel and its curve; {NOT_BROKEN}"
        found.append(_link(build, part, span, Fails.BUCKLED, run.pressed, figure, why, note, power=2.0, gives_way=True))
    yield max(found, key=used)


def _pressed_half(part: Part, run: Running) -> Half:
    """The half of the section on which a sheet is pressed: its own; of one that lies on both, the one above where the
    tip is bent up."""
    marked = [half for half in HALVES if half in part.mark]
    worst = int(np.argmax(run.pressed[GREATEST]))
    return marked[0] if marked else HALVES[int(run.loads.flap_nm[GREATEST, worst] < 0.0)]


def _stands(of: Strength, thick: float, panel: Curved, share: float) -> Figure | None:
    """Stress at which a panel buckles: as a flat one, and what its curve adds.

    share : of the bending stiffness that is the panel's own. Stress is told at typical moduli: the less that share,
            the less of it a softer sheet takes, for the spars say how far all is bent
    """
    across = panel.across
    along = of.of(Property.MODULUS_ACROSS if across else Property.MODULUS)
    other = of.of(Property.MODULUS if across else Property.MODULUS_ACROSS, Property.MODULUS)
    bent = of.of(Property.BENDING_MODULUS_ACROSS if across else Property.BENDING_MODULUS)
    shear = of.of(Property.SHEAR_MODULUS)
    if along is None or other is None or shear is None:
        return None

    def each(e: float, softer: float, e2: float, g: float) -> float:
        flat = float(short_panel_mpa(min(e, softer), e2, g, thick, panel.long_mm, panel.wide_mm))
        return flat + float(curve_buckling_mpa(np.sqrt(e * e2), thick, panel.radius_mm))

    soft = bent or along
    moduli = (
        (along.low, soft.low, other.low, shear.low),
        (along.typical, soft.typical, other.typical, shear.typical),
        (along.high, soft.high, other.high, shear.high),
    )
    ends = [each(*one) * (share + (1.0 - share) * along.typical / one[0]) for one in moduli]
    low, high = min(ends), max(ends)
    return Figure(low, ends[1], high, "MPa", f"worked out from its moduli: {along.source}; curve's share from memory")


def _bent(build: Build, part: Part, every: Sequence[Span], runs: Runs) -> Iterator[Link]:
    """Bent by the air between ribs, over which it runs on."""
    of, sheet = stock_of(build, part.key), build.design.stock.get(part.stock)
    some = [span for span in every if _covers(part, span)]
    if of is None or not isinstance(sheet, SheetStock) or not some:
        return
    span = max(some, key=lambda one: float((one.pressure_mpa * one.long_mm**2)[GREATEST].max()))
    moment = pressed_strip_nmm(span.flat_mpa, span.long_mm)
    if is_board(of):
        apart = sheet.thickness - PAPER_MM
        face, core = of.of(Property.WIDTH_TENSION), of.of(Property.SHEAR)
        words = f"a face of the board, {FLAT_WORDS}"
        why = of.why_not(Property.WIDTH_TENSION)
        yield _link(build, part, span, Fails.BENT, moment / apart, face, why, words, unit="N/mm", power=2.0)
        shear = core_shear_mpa(0.6 * span.flat_mpa * span.long_mm, 1.0, apart)
        words = f"the board's core, beside a rib; {FLAT_WORDS}"
        yield _link(build, part, span, Fails.SHEARED, shear, core, of.why_not(Property.SHEAR), words)
        return
    wanted = (Property.BENDING_ACROSS, Property.TENSION_ACROSS) if across_grain(part) else (Property.BENDING,)
    figure, stress = of.of(*wanted), rectangle_bending_mpa(moment, 1.0, sheet.thickness)
    why, words = of.why_not(wanted[0]), f"a strip over many ribs, {FLAT_WORDS}"
    yield _link(build, part, span, Fails.BENT, stress, figure, why, words, power=2.0)


def _covers(part: Part, span: Span) -> bool:
    """Whether a sheet lies over a span."""
    if not isinstance(part.shape, Flat):
        return False
    out = part.spread[:, 1]
    return float(out.min()) - span.long_mm <= span.r_mm <= float(out.max()) + span.long_mm


def _curved(part: Part, span: Span, half: Half) -> Curved:
    """A panel by the inner rib's edge; its radius through the edge at a sixth, a half and five sixths."""
    blank = span.inner.blank
    side, step = blank.outline.side(half), blank.cover.step
    share = step if step is not None and part.role is Role.SHEETING else 1.0
    order = np.argsort(side.xy[:, 0])
    x, y = side.xy[order, 0], side.xy[order, 1]
    at = x[0] + (x[-1] - x[0]) * np.array([1.0, 3.0, 5.0]) / 6.0
    high = np.interp(at, x, y)
    chord, sagitta = float(np.hypot(at[2] - at[0], high[2] - high[0])), abs(float(high[1] - (high[0] + high[2]) / 2.0))
    radius = chord**2 / (8.0 * sagitta) if sagitta > FLAT_MM else np.inf
    return Curved(span.long_mm, share * side.length_mm, radius, across_grain(part))


def _link(
    build: Build,
    part: Part,
    span: Span,
    fails: Fails,
    stress: FloatArray,
    figure: Figure | None,
    why: str,
    note: str,
    unit: str = "MPa",
    power: float = 1.0,
    gives_way: bool = False,
) -> Link:
    """A panel's link. power : of sheet's thickness and of the space between ribs by which its margin changes"""
    key: Key = part.key
    sheet = build.design.stock[part.stock]
    was = sheet.thickness if isinstance(sheet, SheetStock) else 1.0
    return Link(
        name=f"{part.name} between ribs",
        fails=fails,
        path=part.path,
        r_mm=span.r_mm,
        between=(key, key),
        stress=stress,
        unit=unit,
        gives_way=gives_way,
        strength=figure,
        unpublished="" if figure else why,
        helps=(
            *closer(build.design, span.outer.blank.place.run, power),
            *thicker(build.design, part.stock, lambda to: (to / was) ** power),
        ),
        note=note,
    )
