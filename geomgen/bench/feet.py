"""Feet that ribs stand on while a blade is built: down to one board, and with a tab into a slot of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.bench.level import from_level, to_level
from geomgen.bench.standing import PLACES, clear_places
from geomgen.design.schema import Design, Half
from geomgen.errors import Fault, MakeError, told_once
from geomgen.figures import at_least, mm
from geomgen.model.joint import Key
from geomgen.model.layout import rib_key
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.splice import Point, crossings, replaced
from geomgen.structure.ribs.blank import Blank

SHOULDER_MM = 2.0  # of a foot, either side of its tab: this is what stands on the board
LEAST_TAB_MM = 3.0  # narrowest tab that holds; common practice


@dataclass(frozen=True)
class Foot:
    """One foot of a rib.

    aft_mm   : its middle aft of the feather axis, along the board [mm]
    width_mm : its width [mm]
    tab_mm   : width of the tab in its middle that goes into the board [mm]; 0 where there is no board
    """

    aft_mm: float
    width_mm: float
    tab_mm: float


@dataclass(frozen=True, eq=False)
class Stand:
    """One rib on its feet.

    feet  : front one first
    edge  : the rib's edge with its feet, in the station's own frame
    marks : lines along the rib's own edge, along which the feet are cut off again
    notes : what the maker should know of its feet
    """

    feet: tuple[Foot, ...]
    edge: Path
    marks: tuple[Path, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Footing:
    """What all feet of a blade stand on, at the reference pitch.

    z_mm     : the board's face that they stand on, in the blade frame [mm]
    side     : the side of the ribs that the feet are on: "lower", or "upper" for a blade built upside down
    board_mm : thickness of the board [mm]; 0 where none is asked for
    stands   : each rib on its feet, by the rib's key
    """

    z_mm: float
    side: Half
    board_mm: float
    stands: dict[Key, Stand]

    @property
    def up(self) -> float:
        """1 where the ribs stand above the board, -1 where they hang below its plane, upside down."""
        return 1.0 if self.side == "lower" else -1.0


def footing(design: Design, blanks: Sequence[Blank]) -> Footing | None:
    """Every rib on its feet; None where the design asks for none.

    The board's plane is level at the reference pitch, `jig.clear` below the lowest point of all ribs (above the
    highest for feet on the upper side). Each rib gets a front and a rear foot, as near to their usual places as
    notches and tail let them be: square to the board, and from each sole on a tab through the board's thickness.
    raises : MakeError, every fault at once, where a rib has no room for two feet, or a foot none for its tab
    """
    jig = design.blade.jig
    if jig is None or jig.foot is None or not blanks:
        return None
    board = design.sheet(jig.board).thickness if jig.board is not None else 0.0
    tab = jig.foot - 2 * SHOULDER_MM if board > 0.0 else 0.0
    if board > 0.0 and tab < LEAST_TAB_MM:
        raise MakeError(_narrow(jig.foot))
    up = 1.0 if jig.side == "lower" else -1.0
    levels = [blank.edge.transformed(to_level(blank.station)) for blank in blanks]
    bounds = [level.bounds() for level in levels]
    z = min(low for _, low, _, _ in bounds) if up > 0 else max(high for *_, high in bounds)
    plane = Footing(z - up * jig.clear, jig.side, board, {})
    found = [_stood(blank, level, plane, jig.foot, tab) for blank, level in zip(blanks, levels, strict=True)]
    pairs = list(zip(blanks, found, strict=True))
    faults = told_once(
        (tuple(missing), blank.place.name, 0.0, _no_room(blank, jig.foot, missing))
        for blank, (_, missing) in pairs
        if missing
    )
    if faults:
        raise MakeError(faults)
    return replace(plane, stands={rib_key(blank.place): stand for blank, (stand, _) in pairs})


def on_feet(ribs: Iterable[Part], plane: Footing | None) -> list[Part]:
    """Ribs as they are cut: on feet, with the marks along which these are cut off again.

    plane : what their feet stand on; None for ribs without feet
    """
    if plane is None:
        return list(ribs)
    found = []
    for rib in ribs:
        assert isinstance(rib.shape, Flat)
        stand = plane.stands[rib.key]
        stands = f"stands on {len(stand.feet)} feet on its {plane.side} edge"
        notes = (f"{stands}: cut them off along the marks before that side is covered", *stand.notes)
        found.append(replace(rib, shape=_standing(rib.shape, stand), notes=(*rib.notes, *notes)))
    return found


def _standing(flat: Flat, stand: Stand) -> Flat:
    """A rib with its feet beyond its own edge; letters stay within that, whatever marks run along it."""
    return replace(
        flat,
        region=Region(stand.edge, flat.region.holes),
        stays=flat.region,
        marks=(*flat.marks, *stand.marks),
        label=replace(flat.label, clear_of="none", on_stays=True),
    )


def _stood(blank: Blank, level: Path, plane: Footing, width: float, tab: float) -> tuple[Stand, list[str]]:
    """A rib on its feet, and which of them find no place.

    level : the rib's edge in its level frame
    """
    edge, feet, marks, notes, missing = level, list[Foot](), list[Path](), list[str](), list[str]()
    for name in PLACES:
        for aft, share, usual in clear_places(blank, plane.side, name, width):
            foot = Foot(aft, width, tab)
            try:
                ends = _ends(level, foot, plane)
                edge = replaced(edge, *ends, _drawn(foot, ends, plane))
            except ValueError:  # no edge over one of its sides
                continue
            feet.append(foot)
            marks.append(_between(level, *ends))
            if not usual:
                notes.append(f"{name} foot moved to {100 * share:.0f} % of the rib's chord, clear of its cuts")
            break
        else:
            missing.append(name)
    back = from_level(blank.station)
    lines = tuple(mark.transformed(back) for mark in marks)
    return Stand(tuple(feet), edge.transformed(back), lines, tuple(notes)), missing


def _ends(level: Path, foot: Foot, plane: Footing) -> tuple[Point, Point]:
    """Where a foot's two sides, going up from the board, first meet the rib's edge, in the edge's own direction."""
    found = []
    for side in (-plane.up, plane.up):
        met = crossings(level, (foot.aft_mm + side * foot.width_mm / 2, plane.z_mm), (0.0, plane.up))
        if not met:
            raise ValueError(f"no edge over the board at {mm(foot.aft_mm)} aft of the feather axis")
        found.append(met[0].xy)
    return found[0], found[1]


def _drawn(foot: Foot, ends: tuple[Point, Point], plane: Footing) -> Path:
    """A foot's outline from one end on the rib's edge to the other."""
    (first, _), (last, _) = ends
    sole, tip = plane.z_mm, plane.z_mm - plane.up * plane.board_mm
    corners = [ends[0], (first, sole), (last, sole), ends[1]]
    if foot.tab_mm > 0.0:
        a, b = (foot.aft_mm + side * foot.tab_mm / 2 for side in (-plane.up, plane.up))
        corners[2:2] = [(a, sole), (a, tip), (b, tip), (b, sole)]
    return from_points(np.array(corners), closed=False)


def _between(level: Path, a: Point, b: Point) -> Path:
    """The stretch of a closed path from a to b, as an open one."""
    rest_out = replaced(level, b, a, from_points(np.array((b, a)), closed=False))
    return Path(rest_out.xy, np.append(rest_out.bulge[:-1], 0.0), False)


def _narrow(foot: float) -> Fault:
    least = LEAST_TAB_MM + 2 * SHOULDER_MM
    wrong = f"leaves a tab of {mm(foot - 2 * SHOULDER_MM)} between two shoulders of {mm(SHOULDER_MM)}"
    return Fault("blade.jig.foot", mm(foot), wrong, f"at least {at_least(least)}")


def _no_room(blank: Blank, width: float, missing: Sequence[str]) -> Fault:
    where = f"rib {blank.place.name} at r {mm(blank.place.r_mm, 1)}"
    wrong = f"{where} has no {' and no '.join(missing)} foot: no {mm(width)} of its edge are clear of notches and ends"
    return Fault("blade.jig.foot", mm(width), wrong, remedy="narrower feet, or feet on the other side")
