"""Letters and arrows on a flat part: as large as fits clear of its edges, or a note where it is too small."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from geomgen.figures import mm
from geomgen.marking.room import Room
from geomgen.model.label import Arrow
from geomgen.model.part import Flat, Text
from geomgen.plane.letters import strokes, text_width
from geomgen.plane.path import Bounds, Path, from_points

HEIGHTS_MM = (5.0, 4.5, 4.0, 3.5, 3.0, 2.5, 2.0)  # of a capital
CLEAR_MM = 1.0  # least distance from letters to an edge


@dataclass(frozen=True)
class _Placed:
    """A text or an arrow in its place: box [mm], the label and its middle, an arrow's paths."""

    box: Bounds
    label: str
    label_at: tuple[float, float]
    paths: tuple[Path, ...] = ()


def letter(flat: Flat, items: Sequence[str | Arrow]) -> tuple[Flat, list[str]]:
    """Write short texts and arrows on a part, all of one height between 2 and 5 mm, clear of every edge by 1 mm.

    flat    : region, with what is marked on it already; mirrored already in a clockwise craft, as letters never are
    items   : texts and arrows, each kept whole; they stand side by side where there is room
    returns : the same part with more texts and marks; notes on what would not fit even at 2 mm
    """
    taken = [path.bounds() for path in (*flat.marks, *(path for text in flat.texts for path in written(text)))]
    room = Room.of(flat.drawn_face, CLEAR_MM).without(taken)
    height, placed = _largest(items, room)
    done = [each for each in placed if each]
    lettered = replace(
        flat,
        texts=(*flat.texts, *(Text(each.label, each.label_at, height) for each in done)),
        marks=(*flat.marks, *(path for each in done for path in each.paths)),
    )
    missing = [_label(item) for item, each in zip(items, placed, strict=True) if not each]
    note = f"no room for letters of {mm(HEIGHTS_MM[-1])}, left off: {', '.join(missing)}"
    return lettered, [note] if missing else []


def largest_mm(items: Sequence[str | Arrow]) -> float:
    """Length of all strokes of texts and arrows in the largest letters [mm]."""
    drawn = [_drawn(item, HEIGHTS_MM[0]) for item in items]
    paths = [path for each in drawn for path in (*each.paths, *strokes(each.label, HEIGHTS_MM[0]))]
    return sum(path.length() for path in paths)


def written(text: Text) -> list[Path]:
    """The strokes of a text where it stands on the part [mm]."""
    paths = strokes(text.text, text.height_mm)
    middle = np.array((0.5 * text_width(text.text, text.height_mm), 0.5 * text.height_mm))
    c, s = math.cos(math.radians(text.turn_deg)), math.sin(math.radians(text.turn_deg))
    turn = np.array(((c, s), (-s, c)))
    return [Path.trusted((path.xy - middle) @ turn + np.array(text.at), path.bulge, path.closed) for path in paths]


def _largest(items: Sequence[str | Arrow], room: Room) -> tuple[float, list[_Placed | None]]:
    """The largest height at which all items fit, or all that fit at the least height; and where each goes."""
    at = cache(lambda height: _place(items, height, room))
    if None not in at(HEIGHTS_MM[0]):
        return HEIGHTS_MM[0], at(HEIGHTS_MM[0])
    k = bisect_left(HEIGHTS_MM, True, key=lambda height: None not in at(height))  # smaller fit where larger do
    if k < len(HEIGHTS_MM):
        return HEIGHTS_MM[k], at(HEIGHTS_MM[k])
    least = at(HEIGHTS_MM[-1])
    fit = [item for item, each in zip(items, least, strict=True) if each]
    height, placed = _largest(fit, room)
    found = iter(placed)
    return height, [next(found) if each else None for each in least]


def _place(items: Sequence[str | Arrow], height: float, room: Room) -> list[_Placed | None]:
    placed: list[_Placed | None] = []
    last: Bounds | None = None
    for item in items:
        drawn = _drawn(item, height)
        x0, y0, x1, y1 = drawn.box
        box = room.find(x1 - x0, y1 - y0, last)
        placed.append(box and _shifted(drawn, box[0] - x0, box[1] - y0))
        if box:
            apart = max(0.0, height - CLEAR_MM)  # words stand a letter's height from one another
            room, last = room.without([(box[0] - apart, box[1], box[2] + apart, box[3])]), box
    return placed


def _label(item: str | Arrow) -> str:
    return item.label if isinstance(item, Arrow) else item


def _drawn(item: str | Arrow, height: float) -> _Placed:
    """A text or an arrow with the left end of its base line at the origin."""
    label = _label(item)
    width, below, above = (height * side for side in _extent(label))
    if isinstance(item, str):
        return _Placed((0.0, below, width, above), label, (0.5 * width, 0.5 * height))
    upright = item.towards in ("up", "down")
    long, gap = (1.0 if upright else 1.5) * height, 0.4 * height
    wide = 0.6 * height if upright else long
    left, start = (width + gap, 0.0) if item.towards == "right" else (0.0, wide + gap)
    paths = _arrow(item.towards, long, 0.3 * height, (left + 0.5 * wide, 0.5 * height))
    return _Placed((0.0, below, width + gap + wide, above), label, (start + 0.5 * width, 0.5 * height), paths)


@cache
def _extent(label: str) -> tuple[float, float, float]:
    """Width, depth below the base line (<= 0) and height above it (>= 1), in heights of a capital."""
    boxes = [path.bounds() for path in strokes(label, 1.0)]
    return text_width(label, 1.0), min(0.0, *(box[1] for box in boxes)), max(1.0, *(box[3] for box in boxes))


def _arrow(towards: str, long: float, barb: float, middle: tuple[float, float]) -> tuple[Path, Path]:
    along = np.array({"up": (0.0, 1.0), "down": (0.0, -1.0), "left": (-1.0, 0.0), "right": (1.0, 0.0)}[towards])
    across = np.array((-along[1], along[0]))
    tip, tail = middle + 0.5 * long * along, middle - 0.5 * long * along
    head = [tip - barb * along + barb * across, tip, tip - barb * along - barb * across]
    return from_points([tail, tip], closed=False), from_points(head, closed=False)


def _shifted(placed: _Placed, dx: float, dy: float) -> _Placed:
    x0, y0, x1, y1 = placed.box
    at = placed.label_at[0] + dx, placed.label_at[1] + dy
    paths = tuple(path.moved(dx, dy) for path in placed.paths)
    return _Placed((x0 + dx, y0 + dy, x1 + dx, y1 + dy), placed.label, at, paths)
