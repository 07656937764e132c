"""What is cut from each sheet: parts, how much of it is used, how long the cuts are, and how many minutes they take."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.stock.laying import lying, shape_of
from geomgen.stock.pieces import cuts_of
from geomgen.stock.sheets import Layout, Sheet
from geomgen.stock.tool import Tool, tool


@dataclass(frozen=True)
class SheetLine:
    """One sheet.

    sheet      : with what lies on it
    cut_by     : the tool
    done       : it is cut already
    parts      : what lies on it: part, its piece and in how many it is cut, how many of that; in the order of the parts
    in_parts_mm2 : area that ends in parts, holes taken off [mm2]
    used_mm    : of the sheet's length, from its end to the farthest part and as much again as it keeps from the edge
    cut_mm     : length of all outlines and holes [mm]
    minutes    : for that at the stated speed; without marks, and without ways between cuts; None where none is stated
    """

    sheet: Sheet
    cut_by: Tool
    done: bool
    parts: tuple[tuple[Key, int, int, int], ...]
    in_parts_mm2: float
    used_mm: float
    cut_mm: float
    minutes: float | None

    @property
    def untimed(self) -> bool:
        """Whether a laser cuts it at a speed that isn't stated."""
        return self.cut_by is Tool.LASER and self.minutes is None

    @property
    def pieces(self) -> int:
        """How many lie on it."""
        return len(self.sheet.laid)

    @property
    def used_share(self) -> float:
        """Of the whole sheet [-]."""
        return self.in_parts_mm2 / (self.sheet.size[0] * self.sheet.size[1])


def cut_list(layout: Layout, parts: Sequence[Part], design: Design) -> tuple[SheetLine, ...]:
    """A line for each sheet.

    parts : as they are cut, in the craft's own hand: those that lie there, among others
    """
    flats = {(cut.part.key, cut.piece): cut.flat for part in parts for cut in cuts_of(part)}
    rank = {part.key: n for n, part in enumerate(parts)}
    return tuple(_line(sheet, flats, rank, design) for sheet in layout.sheets)


def _line(sheet: Sheet, flats: dict[tuple[Key, int], Flat], rank: dict[Key, int], design: Design) -> SheetLine:
    there = [(laid, flats[laid.key, laid.piece]) for laid in sheet.laid if (laid.key, laid.piece) in flats]
    counted = Counter((laid.key, laid.piece) for laid, _ in there)
    of = Counter(key for key, _ in flats)
    in_order = sorted(counted, key=lambda each: (rank[each[0]], each[1]))
    ends = [lying(shape_of(flat, in_holes=False), laid).bounds[2] for laid, flat in there]
    cut_by = tool(design.stock[sheet.stock])
    assert cut_by is not None
    cut_mm, speed = sum(flat.region.length() for _, flat in there), design.laser.speed.get(sheet.stock)
    return SheetLine(
        sheet,
        cut_by,
        sheet.name in design.laser.done,
        tuple((key, piece, of[key], counted[key, piece]) for key, piece in in_order),
        sum(flat.region.area() for _, flat in there),
        min(max(ends, default=0.0) + sheet.edge_mm, sheet.size[0]),
        cut_mm,
        cut_mm / speed / 60.0 if speed is not None and cut_by is Tool.LASER else None,
    )
