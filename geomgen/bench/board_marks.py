"""One piece of the jig board as it is cut and engraved: slots, ribs' lines and names, the feather axis, joints."""

from __future__ import annotations

import string
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.label import Arrow, Label
from geomgen.model.part import Flat, Text
from geomgen.plane.letters import text_width
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region

LETTER_MM = 4.0  # of ribs' names and the joints' letters
GAP_MM = 1.0  # from a line or a letter to a slot
TICK_MM = 8.0  # of the lines that run across a joint, on either side
FROM_AXIS_MM = 6.0  # names stay so far from the feather axis


@dataclass(frozen=True, eq=False)
class Plan:
    """One piece of the board in plan, x out along the blade, y forward of the feather axis.

    start, end : its ends along r [mm]
    low, high  : its edges across [mm]
    ribs       : name, r and length along r of the slots of each rib on it [mm]
    slots      : closed paths
    number     : which piece, from the root
    pieces     : how many there are
    between    : least and greatest y that is free between the front and rear slots of all its ribs [mm]
    """

    start: float
    end: float
    low: float
    high: float
    ribs: tuple[tuple[str, float, float], ...]
    slots: tuple[Path, ...]
    number: int
    pieces: int
    between: tuple[float, float]


def drawn(plan: Plan, thickness_mm: float, upper: bool) -> Flat:
    """The piece with its lines and names.

    upper : y is drawn the other way round, y < 0 forward: seen from below, as a blade is built upside down
    """
    y = -1.0 if upper else 1.0
    seen = np.diag((1.0, y, 1.0))
    corners = [(plan.start, plan.low), (plan.end, plan.low), (plan.end, plan.high), (plan.start, plan.high)]
    region = Region(from_points(np.array(corners), closed=True), plan.slots)
    title = "JIG BOARD" if plan.pieces == 1 else f"JIG BOARD {plan.number} OF {plan.pieces}"
    return Flat(
        region=region.transformed(seen),
        thickness_mm=thickness_mm,
        marks=tuple(mark.transformed(seen) for mark in (*_lines(plan), *_ticks(plan))),
        texts=tuple(replace(text, at=(text.at[0], y * text.at[1])) for text in _texts(plan)),
        face="the ribs' side",
        label=Label(groups=((title, Arrow("FWD", "down" if upper else "up"), Arrow("TIP", "right")),)),
    )


def _lines(plan: Plan) -> list[Path]:
    """The feather axis, and a line across at each rib, all broken at slots."""
    boxes = np.array([slot.bounds() for slot in plan.slots]).reshape(-1, 4) + GAP_MM * np.array((-1.0, -1.0, 1.0, 1.0))
    left, low, right, high = boxes.T
    on_axis = boxes[(low < 0.0) & (high > 0.0)]
    found = _broken(0, 0.0, (plan.start, plan.end), on_axis[:, [0, 2]])
    for _, r, _ in plan.ribs:  # slots stand in order along r
        met = boxes[np.searchsorted(right, r, "right") : np.searchsorted(left, r, "left")]
        found += _broken(1, r, (plan.low, plan.high), met[:, [1, 3]])
    return found


def _broken(axis: int, at: float, ends: tuple[float, float], breaks: FloatArray) -> list[Path]:
    """A line along x or y (axis 0 or 1), `at` across it, without the breaks (n, 2) and what is close to its ends."""
    found, start = [], ends[0]
    edges = [(ends[0], ends[0] + GAP_MM), (ends[1] - GAP_MM, ends[1])]
    for low, high in sorted((*map(tuple, breaks.tolist()), *edges)):
        if low - start > GAP_MM:
            line = np.full((2, 2), at)
            line[:, axis] = start, low
            found.append(from_points(line, closed=False))
        start = max(start, high)
    return found


def _ticks(plan: Plan) -> list[Path]:
    """Lines that run across each joint, near both edges: they meet where the pieces lie true."""
    found = []
    for x, inward, _ in _joints(plan):
        for y in (plan.low + LETTER_MM, plan.high - LETTER_MM):
            found.append(from_points(np.array(((x + GAP_MM * inward, y), (x + TICK_MM * inward, y))), closed=False))
    return found


def _joints(plan: Plan) -> list[tuple[float, float, str]]:
    """x of each joint of the piece, the way from it into the piece, and the letter it is told by."""
    letters = string.ascii_uppercase
    found = [(plan.start, 1.0, letters[(plan.number - 2) % 26])] if plan.number > 1 else []
    return found + ([(plan.end, -1.0, letters[(plan.number - 1) % 26])] if plan.number < plan.pieces else [])


def _texts(plan: Plan) -> list[Text]:
    """Names beside the ribs' lines, ROOT and TIP at the ends, and the letters of the joints."""
    middle = _beside_axis(plan)
    last = plan.end - (2 * GAP_MM + LETTER_MM if plan.number == plan.pieces else 0.0)  # TIP stands there
    radii = [r - wide / 2 for _, r, wide in plan.ribs[1:]] + [last]
    found = []
    for (name, r, wide), following in zip(plan.ribs, radii, strict=True):
        start, long = r + wide / 2 + GAP_MM, text_width(name, LETTER_MM)
        if start + long + GAP_MM <= following:
            found.append(Text(name, (start + long / 2, middle), LETTER_MM))
        else:  # little room between two ribs: along the line
            found.append(Text(name, (start + LETTER_MM / 2, middle), LETTER_MM, 90.0))
    if plan.number == 1:
        found.append(Text("ROOT", (plan.start + GAP_MM + LETTER_MM / 2, middle), LETTER_MM, 90.0))
    if plan.number == plan.pieces:
        found.append(Text("TIP", (plan.end - GAP_MM - LETTER_MM / 2, middle), LETTER_MM, 90.0))
    for x, inward, joint in _joints(plan):
        for y in (plan.low + 2.5 * LETTER_MM, plan.high - 2.5 * LETTER_MM):
            found.append(Text(joint, (x + inward * LETTER_MM, y), LETTER_MM))
    return found


def _beside_axis(plan: Plan) -> float:
    """The y of the names: between front and rear slots, off the feather axis [mm]."""
    low, high = plan.between
    middle = 0.5 * (low + high)
    if abs(middle) >= FROM_AXIS_MM:
        return middle
    return -FROM_AXIS_MM if -low >= high else FROM_AXIS_MM
