"""Where spars are longer than their stock: scarfs, and sleeves inside tubes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import LengthStock
from geomgen.design.schema.spar import Joint as SpliceTable
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.model.part import Length, Part
from geomgen.model.role import Role
from geomgen.strength.build import Build
from geomgen.strength.formulas.glue import ring_glue_pull_mpa, scarf_cap, scarf_share
from geomgen.strength.formulas.ring import Pressed, crushing_mpa
from geomgen.strength.formulas.tube import tube_bending_mpa, tube_pull_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bonds import bond, kind_of, stock_of
from geomgen.strength.links.choose import sized, weakest
from geomgen.strength.links.running import Running, Runs, main_spar, near, running
from geomgen.strength.links.spars import round_stock
from geomgen.strength.sections.stiffness import TYPICAL
from geomgen.strength.sections.stress import curvature

SLEEVED = "the sleeve carries all of it where the tube is cut"


def splices(build: Build, runs: Runs | None = None) -> Iterator[Link]:
    """Of each spar's splices the weakest in each way."""
    runs = running(build) if runs is None else runs
    links = list[Link]()
    for key, some in runs.items():
        part = build.part(key)
        places = [r for name, r in part.facts.items() if name.startswith("joint_")]
        table = _table(build, key)
        if not places or table is None:
            continue
        sleeve = next((one for one in build.flying if one.role is Role.SLEEVE and one.path == key.path), None)
        for r in places:
            links += _scarfed(build, part, table, near(some, r), r) if sleeve is None else ()
            links += _sleeved(build, part, sleeve, near(some, r), r) if sleeve is not None else ()
    yield from weakest(links, lambda link: (link.path, link.fails, link.between[0].role))


def _table(build: Build, key: Key) -> SpliceTable | None:
    spar = build.design.blade.spar.get(key.path.removeprefix("blade.spar."))
    return spar.joint if spar is not None else None


def _scarfed(build: Build, part: Part, table: SpliceTable, run: Running, r_mm: float) -> Iterator[Link]:
    of = stock_of(build, part.key)
    if of is None:
        return
    figure, why = _share_of(build, part, of, table.slope)
    path = f"{part.path}.joint"

    def times(to: float) -> float:
        then, _ = _share_of(build, part, of, to)
        return then.low / figure.low if then is not None and figure is not None else 1.0

    wider = min(50.0, 1.5 * table.slope)
    helps = (Help(f"{path}.slope", f"{table.slope:g}", f"{wider:g}", times(wider)),)
    yield _link(
        part, (part.key, part.key), r_mm, f"scarf of {part.name}", Fails.PULLED_APART,
        np.maximum(run.pulled, run.pressed), figure, why, helps, "share of the uncut strip by glue and wood beside it",
    )  # fmt: skip


def _share_of(build: Build, part: Part, of: Strength, slope: float) -> tuple[Figure | None, str]:
    """What a scarf stands of the strip's own tension."""
    whole, across = of.of(Property.TENSION), of.of(Property.TENSION_ACROSS)
    bonded = bond(build, part.key, part.key)
    if whole is None or across is None or bonded.shear is None:
        return None, bonded.why_not_shear or of.why_not(Property.TENSION)
    cap = float(scarf_cap(slope))

    def left(s: float, tau: float, off: float) -> float:
        return s * min(cap, float(scarf_share(s, tau, off, slope)))

    source = f"of a scarf 1 in {slope:g}, never over {cap:.2g} of: {whole.source}"
    return worked_out(left, whole, bonded.shear, across, unit="MPa", source=source), ""


def _sleeved(build: Build, part: Part, sleeve: Part, run: Running, r_mm: float) -> Iterator[Link]:
    """A sleeve: bent and pulled, its glue, and the tube's mouth that it bears in."""
    inner, tube = build.design.stock.get(sleeve.stock), round_stock(build, part.key)
    of, whole = stock_of(build, sleeve.key), stock_of(build, part.key)
    if not isinstance(inner, LengthStock) or tube is None or of is None or whole is None:
        return
    if not isinstance(sleeve.shape, Length):
        return
    outside, inside, half = inner.outside or 0.0, inner.inside or 0.0, sleeve.shape.length_mm / 2.0
    moment, pull = _moment_nmm(build, run), _pull_n(build, run)
    between = (part.key, sleeve.key)
    path = f"{part.path}.joint"
    bent = tube_bending_mpa(moment, outside, inside) + tube_pull_mpa(np.abs(pull), outside, inside)
    stands = of.of(Property.COMPRESSION, Property.TENSION)
    yield _link(
        part, (sleeve.key, sleeve.key), r_mm, sleeve.name, Fails.BENT, bent, stands,
        of.why_not(Property.COMPRESSION), (), SLEEVED,
    )  # fmt: skip
    longer = tuple(sized(build.design, f"{path}.length", 2.0 * half, 1.5, lambda to: to / (2.0 * half)))
    bonded = bond(build, part.key, sleeve.key)
    yield _link(
        part, between, r_mm, f"glue of {sleeve.name}", Fails.UNSTUCK, ring_glue_pull_mpa(np.abs(pull), outside, half),
        bonded.shear, bonded.why_not_shear, (*longer, *bonded.helps), SLEEVED, alone=True,
    )  # fmt: skip
    if tube.inside:
        wanted = Property.TENSION_ACROSS if kind_of(build, part.key) == "fibre" else Property.TENSION
        line = 6.0 * moment / half**2  # force by length at the mouth, growing evenly from the sleeve's end
        mouth = crushing_mpa(line, 1.0, tube.outside or 0.0, tube.inside, Pressed.IN_A_SNUG_BED)
        square = tuple(sized(build.design, f"{path}.length", 2.0 * half, 1.5, lambda to: (to / (2.0 * half)) ** 2))
        yield _link(
            part, between, r_mm, f"mouth of {part.name} round its sleeve", Fails.CRUSHED, mouth, whole.of(wanted),
            whole.why_not(wanted), square, "glued: a snug bed, pressed harder towards the mouth",
        )  # fmt: skip


def _moment_nmm(build: Build, run: Running) -> FloatArray:
    """(2, c) bending of one piece by itself [N mm]."""
    pitch, number = build.design.pitch.set, run.piece.bends_with
    curved = curvature(run.section, run.loads, pitch_deg=pitch, number=number)
    own = run.piece.modulus_mpa[TYPICAL] * run.piece.second * 1e-3  # [N mm] for each 1/m
    return np.asarray(np.linalg.norm(curved @ own, axis=-1))


def _pull_n(build: Build, run: Running) -> FloatArray:
    """(2, c) pull of the main spar; nothing in others, which hang on the ribs [N]."""
    return run.loads.pull_n if run.key.path == main_spar(build) else np.zeros_like(run.loads.pull_n)


def _link(
    part: Part,
    between: tuple[Key, Key],
    r_mm: float,
    name: str,
    fails: Fails,
    stress: FloatArray,
    figure: Figure | None,
    why: str,
    helps: Sequence[Help],
    note: str,
    *,
    alone: bool = False,
) -> Link:
    return Link(
        name=name,
        fails=fails,
        path=f"{part.path}.joint",
        r_mm=r_mm,
        between=between,
        stress=stress,
        unit="MPa",
        strength=figure,
        unpublished="" if figure else why,
        alone=alone,
        helps=tuple(helps),
        note=note,
    )
