"""How boxes go on sheets, and pieces on lengths: the usual rules of thumb, never fewer than what is really needed.

Boxes stand in shelves, the highest first, each on the first shelf it fits on (first-fit decreasing height); pieces
are taken longest first, each from the first length it fits on (first-fit decreasing). Both are common practice; neither
promises the least, and a careful eye may save a sheet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

SAME_MM = 1e-6


@dataclass(frozen=True)
class Box:
    """What a part takes of a sheet.

    long_mm : along the sheet's length [mm]
    wide_mm : along the sheet's width [mm]
    turns   : may lie a quarter turn round
    """

    long_mm: float
    wide_mm: float
    turns: bool = True


@dataclass(frozen=True)
class Spot:
    """Where a box lies.

    box          : its number, as given
    sheet        : number of the sheet, from 0
    x_mm, y_mm   : its corner, along the sheet's length and its width [mm]
    long_mm, wide_mm : its size as it lies [mm]
    """

    box: int
    sheet: int
    x_mm: float
    y_mm: float
    long_mm: float
    wide_mm: float


def fits(box: Box, sheet: tuple[float, float]) -> bool:
    """Whether a box goes on a sheet, (length, width) [mm], as it may lie."""
    return _goes(box.long_mm, box.wide_mm, sheet) or (box.turns and _goes(box.wide_mm, box.long_mm, sheet))


def packed(boxes: Sequence[Box], sheet: tuple[float, float], gap_mm: float) -> tuple[Spot, ...]:
    """Boxes laid on as few sheets as four ways of laying shelves come to: along or across, boxes lying or standing.

    boxes   : each of which fits on a sheet
    sheet   : (length, width) of one sheet [mm]
    gap_mm  : left between boxes; none at the sheet's edge [mm]
    returns : a spot for each box, in the order in which they are laid
    """
    tries = [_shelved(boxes, sheet, gap_mm, across, standing) for across in (False, True) for standing in (False, True)]
    return min(tries, key=sheets_of)


def sheets_of(spots: Sequence[Spot]) -> int:
    """How many sheets lie under the spots."""
    return 1 + max((spot.sheet for spot in spots), default=-1)


def lengths_needed(pieces_mm: Sequence[float], length_mm: float, saw_mm: float, joint_mm: float) -> int:
    """Whole lengths that a list of pieces is sawn from.

    pieces_mm : [mm]; one that is longer than a length is joined from whole ones and a rest
    length_mm : one length as sold [mm]
    saw_mm    : taken by each cut between two pieces [mm]
    joint_mm  : overlap of a joint [mm], less than a length
    """
    whole, rests = 0, []
    for piece in pieces_mm:
        more = max(math.ceil((piece - length_mm - SAME_MM) / (length_mm - joint_mm)), 0)
        whole += more
        rests.append(piece - more * (length_mm - joint_mm))
    left: list[float] = []
    for rest in sorted(rests, reverse=True):
        first = next((k for k, free in enumerate(left) if rest <= free + SAME_MM), None)
        if first is None:
            left.append(length_mm)
            first = len(left) - 1
        left[first] -= rest + saw_mm
    return whole + len(left)


def _goes(long_mm: float, wide_mm: float, sheet: tuple[float, float]) -> bool:
    return long_mm <= sheet[0] + SAME_MM and wide_mm <= sheet[1] + SAME_MM


def _shelved(
    boxes: Sequence[Box], sheet: tuple[float, float], gap: float, across: bool, standing: bool
) -> tuple[Spot, ...]:
    """Boxes on shelves along the sheet's length, or across it."""
    run, rise = sheet[::-1] if across else sheet
    sized = [(k, *_laid(box, sheet, across, standing)) for k, box in enumerate(boxes)]
    shelves: list[tuple[int, float, float]] = []  # sheet, foot, length taken
    heights: list[float] = []  # of all shelves on each sheet
    spots = []
    for k, along, high in sorted(sized, key=lambda each: (-each[2], -each[1], each[0])):
        free = (i for i, (_, _, taken) in enumerate(shelves) if taken + along <= run + SAME_MM)
        shelf = next(free, None)
        if shelf is None:
            on = next((i for i, foot in enumerate(heights) if foot + high <= rise + SAME_MM), len(heights))
            if on == len(heights):
                heights.append(0.0)
            shelves.append((on, heights[on], 0.0))
            heights[on] += high + gap
            shelf = len(shelves) - 1
        on, foot, taken = shelves[shelf]
        shelves[shelf] = on, foot, taken + along + gap
        spots.append(Spot(k, on, foot, taken, high, along) if across else Spot(k, on, taken, foot, along, high))
    return tuple(spots)


def _laid(box: Box, sheet: tuple[float, float], across: bool, standing: bool) -> tuple[float, float]:
    """(along its shelf, height) of a box: turned as asked where it may turn and fits so."""
    ways = [(box.long_mm, box.wide_mm)]
    if box.turns:
        ways.append((box.wide_mm, box.long_mm))
    seen = [(wide, long) if across else (long, wide) for long, wide in ways if _goes(long, wide, sheet)]
    return max(seen, key=lambda way: way[1] if standing else way[0])
