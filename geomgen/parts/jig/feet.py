"""Feet that ribs stand on while a blade is built: down to one board, and with a tab into a slot of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geomgen.blade.rib_places import sheet_mm
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.parts.blank import Blank
from geomgen.parts.jig.level import from_level, to_level
from geomgen.parts.jig.standing import PLACES, clear_places
from geomgen.plane.path import Path, from_points
from geomgen.plane.splice import crossings, notched, replaced

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
class Footing:
    """What all feet of a blade stand on, at the reference pitch.

    z_mm     : the board's face that they stand on, in the blade frame [mm]
    side     : the side of the ribs that the feet are on: "lower", or "upper" for a blade built upside down
    board_mm : thickness of the board [mm]; 0 where none is asked for
    feet     : of each rib, front one first, by the rib's name
    notes    : of each rib, what the maker should know of its feet
    """

    z_mm: float
    side: Literal["lower", "upper"]
    board_mm: float
    feet: dict[str, tuple[Foot, ...]]
    notes: dict[str, tuple[str, ...]]

    @property
    def up(self) -> float:
        """1 where the ribs stand above the board, -1 where they hang below its plane, upside down."""
        return 1.0 if self.side == "lower" else -1.0


def footing(design: Design, made: Sequence[Blank]) -> Footing | None:
    """Where every rib's feet stand; None where the design asks for none.

    The board's plane is level at the reference pitch, `jig.clear` below the lowest point of all ribs (above the
    highest for feet on the upper side). Each rib gets a front and a rear foot, as near to their usual places as
    notches and tail let them be.
    raises : MakeError, every fault at once, where a rib has no room for two feet, or a foot none for its tab
    """
    jig = design.blade.jig
    if jig is None or jig.foot is None or not made:
        return None
    board = sheet_mm(design, jig.board) if jig.board is not None else 0.0
    tab = jig.foot - 2 * SHOULDER_MM if board > 0.0 else 0.0
    if board > 0.0 and tab < LEAST_TAB_MM:
        raise MakeError(_narrow(jig.foot))
    up = 1.0 if jig.side == "lower" else -1.0
    bounds = [blank.edge.transformed(to_level(blank.station)).bounds() for blank in made]
    z = min(low for _, low, _, _ in bounds) if up > 0 else max(high for *_, high in bounds)
    plane = Footing(z - up * jig.clear, jig.side, board, {}, {})
    feet: dict[str, tuple[Foot, ...]] = {}
    notes: dict[str, tuple[str, ...]] = {}
    faults = []
    for blank in made:
        some = [_foot(blank, plane, name, jig.foot, tab) for name in PLACES]
        found = tuple(each[0] for each in some if each is not None)
        feet[blank.place.name] = found
        notes[blank.place.name] = tuple(each[1] for each in some if each is not None and each[1])
        if len(found) < len(PLACES):
            missing = [name for name, each in zip(PLACES, some, strict=True) if each is None]
            faults.append(_no_room(blank, jig.foot, missing))
    if faults:
        raise MakeError(faults)
    return Footing(plane.z_mm, jig.side, board, feet, notes)


def footed(blank: Blank, plane: Footing) -> tuple[Path, tuple[Path, ...]]:
    """A rib's edge with its feet, and the lines along which they are cut off again, in the station's own frame.

    plane : of all ribs, as `footing` gives it
    """
    level, back = blank.edge.transformed(to_level(blank.station)), from_level(blank.station)
    marks = []
    edge = level
    for foot in plane.feet[blank.place.name]:
        marks.append(_line(level, foot, plane))
        edge = _with_foot(edge, foot, plane)
    return edge.transformed(back), tuple(mark.transformed(back) for mark in marks)


def _foot(blank: Blank, plane: Footing, name: str, width: float, tab: float) -> tuple[Foot, str] | None:
    """One foot in the first of its places where it can be drawn, and a note if that is not a usual one."""
    level = blank.edge.transformed(to_level(blank.station))
    for aft, share, usual in clear_places(blank, plane.side, name, width):
        foot = Foot(aft, width, tab)
        try:
            _with_foot(level, foot, plane)
        except ValueError:  # its sides meet no edge, or another part of it
            continue
        return foot, "" if usual else f"{name} foot moved to {100 * share:.0f} % of the rib's chord, clear of its cuts"
    return None


def _with_foot(level: Path, foot: Foot, plane: Footing) -> Path:
    """An edge in the level frame with one more foot, and its tab."""
    way, (_, edge_y) = np.array((0.0, plane.up)), _ends(level, foot.aft_mm, plane)
    made = notched(level, (foot.aft_mm, edge_y), way, foot.width_mm, -abs(edge_y - plane.z_mm))
    if foot.tab_mm > 0.0:
        made = notched(made, (foot.aft_mm, plane.z_mm), way, foot.tab_mm, -plane.board_mm)
    return made


def _ends(level: Path, aft_mm: float, plane: Footing) -> tuple[float, float]:
    """Where a line square to the board first meets the edge [mm]."""
    found = crossings(level, (aft_mm, plane.z_mm), (0.0, plane.up))
    if not found:
        raise ValueError(f"no edge over the board at {aft_mm:g} mm aft of the feather axis")
    return found[0].xy


def _line(level: Path, foot: Foot, plane: Footing) -> Path:
    """The rib's own edge across a foot, as an open path from front to rear or back."""
    a, b = (_ends(level, foot.aft_mm + side * 0.5 * foot.width_mm * plane.up, plane) for side in (-1.0, 1.0))
    rest_out = replaced(level, b, a, from_points(np.array((b, a)), closed=False))
    return Path(rest_out.xy, np.append(rest_out.bulge[:-1], 0.0), False)


def _narrow(foot: float) -> Fault:
    least = LEAST_TAB_MM + 2 * SHOULDER_MM
    wrong = f"leaves a tab of {foot - 2 * SHOULDER_MM:g} mm between two shoulders of {SHOULDER_MM:g} mm"
    return Fault("blade.jig.foot", f"{foot:g} mm", wrong, f"at least {least:g} mm")


def _no_room(blank: Blank, width: float, missing: Sequence[str]) -> Fault:
    where = f"rib {blank.place.name} at r {blank.place.r_mm:.1f} mm"
    wrong = f"{where} has no {' and no '.join(missing)} foot: no {width:g} mm of its edge are clear of notches and ends"
    return Fault("blade.jig.foot", f"{width:g} mm", wrong, remedy="narrower feet, or feet on the other side")
