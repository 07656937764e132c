"""What runs along the blade, pulled and pressed: tube, strips, caps, sheet, foam; and the tube's wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import LengthStock
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.strength.build import Build
from geomgen.strength.formulas.tube import tube_section, tube_shear_mpa, tube_twist_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bonds import kind_of, stock_of
from geomgen.strength.links.choose import more_wall, weakest
from geomgen.strength.links.running import Running, Runs, main_spar, running, stands
from geomgen.strength.links.tube_wall import buckles_mpa
from geomgen.strength.sections.stress import PULL_NOTE, twist_share

BENDS = "by bending of all that bends together, plane sections, typical moduli"


def spars_along(build: Build, runs: Runs | None = None) -> Iterator[Link]:
    """Of each table's parts of one stock the weakest place, pulled and pressed; of round spars wall and twist too."""
    runs = running(build) if runs is None else runs
    links = (link for key, some in runs.items() for link in _each(build, key, some))
    yield from weakest(links, lambda link: (link.between[0].role, link.path, link.fails))


def _each(build: Build, key: Key, some: Sequence[Running]) -> Iterator[Link]:
    of, tube = stock_of(build, key), round_stock(build, key)
    if of is None or of.of(Property.WIDTH_STIFFNESS) is not None:  # boards are told by their faces
        return
    part = build.part(key)
    ways = zip(
        (Fails.PULLED_APART, Fails.PRESSED),
        stands(part, of),
        ([one.pulled for one in some], [one.pressed for one in some]),
        strict=True,
    )
    for fails, (wanted, figure), stresses in ways:
        note = f"{BENDS}; {PULL_NOTE}" if key.path == main_spar(build) else BENDS
        yield _link(build, some, stresses, part.name, fails, figure, of.why_not(wanted), note)
    if tube is None:
        return
    sheared = [_sheared(tube, one) for one in some]
    why, note = of.why_not(Property.SHEAR), "twist by its share of the stiffness, and all of the shear"
    yield _link(build, some, sheared, part.name, Fails.SHEARED, of.of(Property.SHEAR), why, note)
    if tube.inside:
        note = "a cylinder's wall, knocked down as NASA SP-8007 does for thrust; bending gets no more"
        pressed = [one.pressed for one in some]
        figure = buckles_mpa(of, tube.outside or 0.0, tube.inside, of_fibres=kind_of(build, key) != "metal")
        yield _link(build, some, pressed, part.name, Fails.BUCKLED, figure, of.why_not(Property.MODULUS_ACROSS), note)


def round_stock(build: Build, key: Key) -> LengthStock | None:
    """A part's stock where that is a tube or rod."""
    stock = build.design.stock.get(build.part(key).stock)
    return stock if isinstance(stock, LengthStock) and stock.round else None


def _sheared(tube: LengthStock, run: Running) -> FloatArray:
    outside, inside = tube.outside or 0.0, tube.inside or 0.0
    turn = 1e3 * np.abs(run.loads.turn_nm) * twist_share(run.section, run.piece)
    across = np.hypot(run.loads.lag_n, run.loads.flap_n)
    return tube_twist_mpa(turn, outside, inside) + tube_shear_mpa(across, outside, inside)


def _link(
    build: Build,
    some: Sequence[Running],
    stresses: Sequence[FloatArray],
    name: str,
    fails: Fails,
    figure: Figure | None,
    why: str,
    note: str,
) -> Link:
    """A link at the place where its stress is greatest."""
    worst = int(np.argmax([float(stress[1].max(initial=0.0)) for stress in stresses]))
    key = some[worst].key
    return Link(
        name=name,
        fails=fails,
        path=key.path,
        r_mm=some[worst].r_mm,
        between=(key, key),
        stress=stresses[worst],
        unit="MPa",
        strength=figure,
        unpublished="" if figure else why,
        helps=tuple(_more_wall(build, key)),
        note=note,
    )


def _more_wall(build: Build, key: Key) -> Iterator[Help]:
    tube = round_stock(build, key)
    if tube is not None and tube.inside:
        outside, was = tube.outside or 0.0, float(tube_section(tube.outside or 0.0, tube.inside).second_mm4)
        yield from more_wall(
            build.design, build.part(key).stock, lambda to: float(tube_section(outside, to).second_mm4) / was
        )
