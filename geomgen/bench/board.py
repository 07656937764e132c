"""The board that ribs' feet stand on: a slot for each tab, lines, names, and pieces where it is longer than a sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.bench.board_marks import Plan, drawn
from geomgen.bench.feet import Footing
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm
from geomgen.frames import applied, shift, turn
from geomgen.model.layout import rib_key
from geomgen.model.made import NOTHING, Made, attempted
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.arcs import rectangle
from geomgen.plane.path import Path
from geomgen.structure.ribs.blank import Blank

FIT_MM = 0.1  # a slot is this much longer and wider than the tab in it
ROUND_MM = 15.0  # of board beyond the slots and the feather axis, across the blade
ENDS_MM = 20.0  # of board beyond the first and last slots, along the blade
EDGE_MM = 2.0  # of a sheet or a bed that no piece comes nearer to


@dataclass(frozen=True)
class _Slots:
    """The slots of one rib.

    name     : of the rib
    r_mm     : its radius [mm]
    wide_mm  : of its slots along r [mm]
    forward  : (n,) middles of its slots ahead of the feather axis [mm]
    long_mm  : of its slots across r [mm]
    """

    name: str
    r_mm: float
    wide_mm: float
    forward: tuple[float, ...]
    long_mm: float

    def paths(self) -> tuple[Path, ...]:
        """The slots in plan: x out along the blade, y forward."""
        return tuple(rectangle((self.r_mm, y), self.wide_mm, self.long_mm) for y in self.forward)


def boards(design: Design, blanks: Sequence[Blank], plane: Footing | None) -> Made:
    """The jig board in one or more pieces; none where the design asks for no board or no feet.

    Drawn in plan as seen by who builds on it: x out along the blade, y forward; y backward with the feet on the upper
    side. A fault where no piece between two ribs goes on a sheet.
    """
    jig = design.blade.jig
    if plane is None or jig is None or jig.board is None:
        return NOTHING
    stock = jig.board
    return attempted(lambda: Made(tuple(_pieces(design, stock, blanks, plane))))


def _pieces(design: Design, stock: str, blanks: Sequence[Blank], plane: Footing) -> list[Part]:
    slots = [_slots(blank, plane) for blank in blanks]
    y = [edge for each in slots for f in each.forward for edge in (f - each.long_mm / 2, f + each.long_mm / 2)]
    low, high = min(*y, 0.0) - ROUND_MM, max(*y, 0.0) + ROUND_MM
    ends = slots[0].r_mm - slots[0].wide_mm / 2 - ENDS_MM, slots[-1].r_mm + slots[-1].wide_mm / 2 + ENDS_MM
    cuts = [ends[0], *_joints(design, stock, slots, ends, high - low), ends[1]]
    pieces = []
    for number, (start, end) in enumerate(pairwise(cuts), start=1):
        inside = [each for each in slots if start < each.r_mm < end]
        plan = Plan(
            start,
            end,
            low,
            high,
            ribs=tuple((each.name, each.r_mm, each.wide_mm) for each in inside),
            slots=tuple(path for each in inside for path in each.paths()),
            number=number,
            pieces=len(cuts) - 1,
            between=_between(inside),
        )
        pieces.append(_part(design, stock, plane, plan))
    return pieces


def _slots(blank: Blank, plane: Footing) -> _Slots:
    feet = plane.stands[rib_key(blank.place)].feet
    forward = tuple(-foot.aft_mm for foot in feet)
    return _Slots(
        blank.place.name, blank.place.r_mm, blank.place.thickness_mm + FIT_MM, forward, feet[0].tab_mm + FIT_MM
    )


def _between(slots: Iterable[_Slots]) -> tuple[float, float]:
    """The y between front and rear slots that all ribs of a piece have free: least and greatest [mm]."""
    rows = [(min(each.forward) + each.long_mm / 2, max(each.forward) - each.long_mm / 2) for each in slots]
    return max(low for low, _ in rows), min(high for _, high in rows)


def _joints(design: Design, stock: str, slots: Sequence[_Slots], ends: tuple[float, float], wide: float) -> list[float]:
    """Where the board is cut across, in the middle of bays: as few pieces as go on the sheet, nearly alike."""
    longest = _longest(design, stock, wide)
    middles = np.array([(a.r_mm + a.wide_mm / 2 + b.r_mm - b.wide_mm / 2) / 2 for a, b in pairwise(slots)])
    joints, start = list[float](), ends[0]
    while ends[1] - start > longest:
        left = ends[1] - start
        reached = middles[(middles > start + 1e-6) & (middles <= start + longest)]
        if not len(reached):
            raise MakeError(_too_long(stock, start, longest))
        ideal = start + left / np.ceil(left / longest)
        rest = reached[reached >= ends[1] - longest * (np.ceil(left / longest) - 1)]  # so that no piece more is needed
        reached = rest if len(rest) else reached
        start = float(reached[np.argmin(np.abs(reached - ideal))])
        joints.append(start)
    return joints


def _longest(design: Design, stock: str, wide: float) -> float:
    """The longest piece of a width that goes on the sheet as sold and on the laser's bed [mm]."""
    found = [np.inf]
    for size in (design.sheet(stock).size, design.laser.bed):
        if size is not None:
            long, short = max(size) - 2 * EDGE_MM, min(size) - 2 * EDGE_MM
            found.append(long if wide <= short else short)  # wider than it goes: a note says so
    return float(min(found))


def _too_long(stock: str, start: float, longest: float) -> Fault:
    wrong = f"no joint between ribs within {mm(longest, 0)} of r {mm(start, 0)}, the longest piece that can be cut"
    return Fault("blade.jig.board", stock, wrong, remedy="a larger sheet or bed, or ribs closer to one another")


def _part(design: Design, stock: str, plane: Footing, plan: Plan) -> Part:
    thickness, upper = design.sheet(stock).thickness, plane.side == "upper"
    flat = drawn(plan, thickness, upper)
    place = shift((0.0, 0.0, plane.z_mm - plane.up * thickness / 2)) @ turn("x", 180.0 if upper else 0.0)
    notes = [f"the face that is drawn is the one the ribs stand on; slots are {mm(FIT_MM)} larger than the tabs"]
    if plan.pieces > 1:
        notes.append("lay the pieces on a flat table, the same letters together, and their centre lines in one line")
    if upper:
        notes.append("the blade is built upside down on it")
    return Part(
        name="jig board" if plan.pieces == 1 else f"jig board {plan.number}",
        role=Role.JIG_BOARD,
        stock=stock,
        path="blade.jig.board",
        mark=() if plan.pieces == 1 else (plan.number,),
        shape=flat,
        assembly=Assembly.BENCH,
        count=1,
        spread=point(applied(place, (*flat.region.centroid(), 0.0))),
        places=(place,),
        notes=tuple(notes),
        facts={"board_z_mm": plane.z_mm},
    )
