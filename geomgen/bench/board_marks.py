"""One piece of the jig board as it is cut and engraved: slots, ribs' lines and names, the feather axis, joints."""

from __future__ import annotations

import string
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.marking.lettering import Arrow, letter
from geomgen.model.part import Flat, Text
from geomgen.plane.letters import text_width
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

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


def drawn(plan: Plan, thickness_mm: float, clockwise: bool, upper: bool) -> tuple[Flat, list[str]]:
    """The piece with all its marks, and notes on what found no room; letters stay upright.

    clockwise : x is drawn the other way round, x < 0 out along the blade
    upper     : y is drawn the other way round, y < 0 forward: seen from below, as a blade is built upside down
    """
    x, y = -1.0 if clockwise else 1.0, -1.0 if upper else 1.0
    mirror = np.diag((x, y, 1.0))
    corners = [(plan.start, plan.low), (plan.end, plan.low), (plan.end, plan.high), (plan.start, plan.high)]
    region = Region(from_points(np.array(corners), closed=True), plan.slots)
    marks = [*_lines(plan), *_ticks(plan)]
    flat = Flat(
        region=region.transformed(mirror),
        thickness_mm=thickness_mm,
        marks=tuple(mark.transformed(mirror) for mark in marks),
        texts=tuple(Text(t.text, (x * t.at[0], y * t.at[1]), t.height_mm, t.turn_deg) for t in _texts(plan)),
        face="the ribs' side",
    )
    title = ["JIG BOARD"] if plan.pieces == 1 else [f"JIG BOARD {plan.number} OF {plan.pieces}"]
    return letter(
        flat, title, [Arrow("FWD", "down" if upper else "up"), Arrow("TIP", "left" if clockwise else "right")]
    )


def _lines(plan: Plan) -> list[Path]:
    """The feather axis, and a line across at each rib, all broken at slots."""
    found = _broken(plan, np.array((plan.start, 0.0)), np.array((plan.end, 0.0)))
    for _, r, _ in plan.ribs:
        found += _broken(plan, np.array((r, plan.low)), np.array((r, plan.high)))
    return found


def _broken(plan: Plan, start: FloatArray, end: FloatArray) -> list[Path]:
    """A line along x or y, without what lies in or close to a slot or an edge."""
    axis = 0 if start[1] == end[1] else 1
    taken = [(start[axis], start[axis] + GAP_MM), (end[axis] - GAP_MM, end[axis])]
    for slot in plan.slots:
        box = np.array(slot.bounds()).reshape(2, 2) + np.array(((-GAP_MM,), (GAP_MM,)))
        if box[0, 1 - axis] < start[1 - axis] < box[1, 1 - axis]:
            taken.append((box[0, axis], box[1, axis]))
    found, at = [], float(start[axis])
    for low, high in sorted(taken):
        if low - at > GAP_MM:
            line = np.array((start, start))
            line[:, axis] = at, low
            found.append(from_points(line, closed=False))
        at = max(at, high)
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
