"""Ribs as plates: webs, bridges beside holes, members of a truss, and wood that splits beside the tube."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.strength import Property, Strength
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_second_mm4, rectangle_shear_mpa
from geomgen.strength.formulas.rib import opening_corner_mpa
from geomgen.strength.formulas.split import hole_split_mpa
from geomgen.strength.formulas.tube import column_n
from geomgen.strength.formulas.wood import strength_at_mpa
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bays import Bay, bays, lift_n
from geomgen.strength.links.bonds import stock_of
from geomgen.strength.links.choose import closer, denser, sized, thicker, weakest
from geomgen.strength.links.rib_cuts import RibCuts, rib_cuts, round_holes

SQUARE, LONG = 0.9, 0.45  # a round hole counts as an opening of so many diameters high and long: from memory
DIAGONAL_DEG = 45.0  # a truss's flattest member, against the chord
CARRIED = "the bay's lift, of a flat plate ahead of the tube and of a bent one behind it, carried to the tube alone"


def rib_webs(build: Build) -> Iterator[Link]:
    """Of ribs of one run and sheet the weakest in each way."""
    every = [cuts for bay in bays(build) if (cuts := rib_cuts(build, bay)) is not None]
    for maker in (_sheared, _bent, _bridges, _members, _bowed, _split):
        links = (link for cuts in every for link in maker(build, cuts))
        yield from weakest(links, lambda link: (link.path, build.part(link.between[0]).stock))


def _sheared(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """The web where the least of it is left for what passes there."""
    x, left = cuts.cuts
    tall = np.array([one.area_mm2 / cuts.thick_mm for one in left])
    for_each_n = rectangle_shear_mpa(cuts.shear_share(x), cuts.thick_mm, tall)
    yield _link(build, cuts, f"web of {cuts.bay.rib.name}", Fails.SHEARED, float(for_each_n.max()), Property.SHEAR)


def _bent(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """The rib as a beam that sticks out ahead of the tube and behind it; where a spar's notch is cut into it under a
    sheet, sheet and spar are its flange."""
    x, left = cuts.cuts
    whole = ~cuts.notched_under_sheet(x)
    for_each_n = cuts.arm_mm(x)[whole] / np.array(
        [one.section_mm3 for one, is_whole in zip(left, whole, strict=True) if is_whole]
    )
    yield _link(build, cuts, f"{cuts.bay.rib.name} in its plane", Fails.BENT, float(for_each_n.max()), Property.BENDING)


def _bridges(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """Wood above and below an open hole, bent at the hole's corners; each takes by its stiffness."""
    most = 0.0
    for x, high, left in round_holes(cuts):
        if len(left.widths) < 2:
            continue
        bridge = left.widths + (1.0 - SQUARE) * high / 2.0
        share = bridge**3 / (bridge**3).sum()
        force = float(cuts.shear_share(np.array([x]))[0])
        corner = opening_corner_mpa(force, LONG * high, bridge, cuts.thick_mm, share)
        most = max(most, float(corner.max()))
    if most > 0.0:
        yield _link(build, cuts, f"bridge beside a hole in {cuts.bay.rib.name}", Fails.BENT, most, Property.BENDING)


def _members(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """A diagonal of a truss, pulled or pressed, its grain at 45 deg to it."""
    of, found = stock_of(build, cuts.bay.key), list(_diagonals(build, cuts))
    if of is None or not found:
        return
    share, _, wide = max(found, key=lambda each: each[0])
    strength = _at_angle(of, Property.TENSION, Property.TENSION_ACROSS)
    force = share / np.sin(np.radians(DIAGONAL_DEG))
    yield _link(
        build, cuts, f"diagonal of {cuts.bay.rib.name}", Fails.PULLED_APART, force / (wide * cuts.thick_mm),
        Property.TENSION_ACROSS, strength, web=lambda to: to / wide,
    )  # fmt: skip


def _bowed(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """A diagonal of a truss that bows out of the rib's plane between its flanges, its ends free to turn."""
    of, found = stock_of(build, cuts.bay.key), list(_diagonals(build, cuts))
    stiff = of.of(Property.MODULUS) if of is not None else None
    across = of.of(Property.MODULUS_ACROSS) if of is not None else None
    if stiff is None or across is None or not found:
        return
    sine, thick = np.sin(np.radians(DIAGONAL_DEG)), cuts.thick_mm
    share, deep, wide = max(found, key=lambda each: each[0] * each[1] ** 2)

    def bows(modulus: float, less: float) -> float:
        at = float(strength_at_mpa(modulus, less, DIAGONAL_DEG))
        return float(column_n(at, rectangle_second_mm4(wide, thick), deep / sine)) / (wide * thick)

    source = f"Euler, ends free to turn; modulus at 45 deg to the grain; {stiff.source}"
    strength = worked_out(bows, stiff, across, unit="MPa", source=source)
    yield _link(
        build, cuts, f"diagonal of {cuts.bay.rib.name}", Fails.BUCKLED, share / sine / (wide * thick), Property.MODULUS,
        strength, web=lambda to: to / wide, power=3.0,
    )  # fmt: skip


def _split(build: Build, cuts: RibCuts) -> Iterator[Link]:
    """Wood beside the tube's hole, pulled across the grain."""
    tube = next((hole.bounds() for hole in cuts.filled if hole.bounds()[0] <= cuts.axis[0] <= hole.bounds()[2]), None)
    if tube is None:
        return
    x, left = cuts.cuts
    sides = np.array([tube[0], tube[2]])
    at = left[int(np.argmin(np.abs(x - cuts.axis[0])))]
    if len(at.widths) < 2:
        return
    tall, hole = float(at.ends[-1] - at.starts[0]), tube[3] - tube[1]
    share, arm = cuts.shear_share(sides), cuts.arm_mm(sides)
    for_each_n = hole_split_mpa(share, arm, tall, hole, float(at.widths.min()), cuts.thick_mm)
    yield _link(
        build,
        cuts,
        f"{cuts.bay.rib.name} beside the tube",
        Fails.SPLIT,
        float(for_each_n.max()),
        Property.TENSION_ACROSS,
    )


def _diagonals(build: Build, cuts: RibCuts) -> Iterator[tuple[float, float, float]]:
    """Of members between two of a truss's holes: share of the lift, depth between its flanges there, and their width
    [mm]."""
    lighten = build.design.blade.ribs[cuts.bay.blank.place.run].lighten
    x, left = cuts.cuts
    for one, other in zip(cuts.truss[:-1], cuts.truss[1:], strict=True):
        middle = (one.bounds()[2] + other.bounds()[0]) / 2.0
        at = left[int(np.argmin(np.abs(x - middle)))]
        wide = lighten.web if lighten else 0.0
        clear = max(float(at.ends[-1] - at.starts[0]) - 2.0 * wide, wide)
        yield float(cuts.shear_share(np.array([middle]))[0]), clear, wide


def _at_angle(of: Strength, along: Property, across: Property) -> Figure | None:
    one, other = of.of(along), of.of(across)
    if one is None or other is None:
        return None
    source = f"Hankinson at 45 deg to the grain, of {one.source}, and {other.source}"
    return worked_out(lambda a, b: strength_at_mpa(a, b, DIAGONAL_DEG), one, other, unit="MPa", source=source)


def _link(
    build: Build,
    cuts: RibCuts,
    name: str,
    fails: Fails,
    for_each_n: float,
    wanted: Property,
    strength: Figure | None = None,
    *,
    web: Callable[[float], float] | None = None,
    power: float = 1.0,
) -> Link:
    """A link within a rib whose stress grows with the lift of its bay.

    for_each_n : stress for each newton of that [MPa/N]
    wanted     : what of its stock it is held against, where `strength` isn't said
    web        : width of a truss's member [mm] -> margin over what it is
    power      : of the sheet's thickness by which the margin grows
    """
    bay, of = cuts.bay, stock_of(build, cuts.bay.key)
    found = strength or (of.of(wanted) if of is not None else None)
    why = "" if found else of.why_not(wanted) if of is not None else f"unpublished: {bay.rib.stock or 'it'} isn't known"
    stress: FloatArray = for_each_n * lift_n(build, bay)
    return Link(
        name=name,
        fails=fails,
        path=bay.key.path,
        r_mm=bay.r_mm,
        between=(bay.key, bay.key),
        stress=stress,
        unit="MPa",
        strength=found,
        unpublished=why,
        helps=(*_helps(build, bay, web, power), *denser(build.design, bay.blank.place.stock, wanted)),
        note=CARRIED,
    )


def _helps(build: Build, bay: Bay, web: Callable[[float], float] | None, power: float) -> Iterator[Help]:
    design, place = build.design, bay.blank.place
    lighten = design.blade.ribs[place.run].lighten
    yield from closer(design, place.run)
    yield from thicker(design, place.stock, lambda to: (to / place.thickness_mm) ** power)
    if web is not None and lighten is not None:
        yield from sized(design, f"blade.ribs.{place.run}.lighten.web", lighten.web, 1.5, web)
