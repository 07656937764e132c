"""Letters and arrows on a flat part: as large as fits clear of its edges, or a note where it is too small."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.parts.part import Flat, Text
from geomgen.plane.letters import strokes, text_width
from geomgen.plane.path import Bounds, Path, from_points

FloatArray = NDArray[np.float64]

HEIGHTS_MM = (5.0, 4.5, 4.0, 3.5, 3.0, 2.5, 2.0)  # of a capital, tried from the largest
CLEAR_MM = 1.0  # least distance from letters to an edge
_CELL_MM = 0.5  # of the grid on which room is looked for
_BELOW = 0.3  # how far letters such as g reach below the base line, in heights
_FLAT_MM = 0.05  # an edge may be this far off where room is looked for; taken off the room


@dataclass(frozen=True)
class Arrow:
    """An arrow with a word beside it.

    label   : the word
    towards : where it points in the part's own frame
    """

    label: str
    towards: Literal["up", "down", "left", "right"]


def letter(flat: Flat, lines: Sequence[str], arrows: Sequence[Arrow] = ()) -> tuple[Flat, list[str]]:
    """Write short texts and arrows on a part, all of one height between 2 and 5 mm, clear of every edge by 1 mm.

    flat    : region, with what is marked on it already
    lines   : texts, each kept whole; they stand side by side where there is room
    arrows  : arrows, after the texts
    returns : the same part with more texts and marks; notes on what would not fit even at 2 mm
    """
    room = _Room.of(flat)
    best: list[_Placed | None] = []
    height = HEIGHTS_MM[0]
    for trial in HEIGHTS_MM:
        placed = _place_all([*lines, *arrows], trial, room)
        if not best or placed.count(None) < best.count(None):
            best, height = placed, trial
        if None not in best:
            break
    done = [each for each in best if each is not None]
    asked = [*lines, *(arrow.label for arrow in arrows)]
    missing = [label for label, each in zip(asked, best, strict=True) if each is None]
    lettered = replace(
        flat,
        texts=(*flat.texts, *(Text(each.label, each.label_at, height) for each in done)),
        marks=(*flat.marks, *(path for each in done for path in each.paths)),
    )
    note = f"no room for letters of {HEIGHTS_MM[-1]:g} mm, left off: {', '.join(missing)}"
    return lettered, [note] if missing else []


def written(text: Text) -> list[Path]:
    """The strokes of a text where it stands on the part [mm]."""
    paths = strokes(text.text, text.height_mm)
    middle = np.array((0.5 * text_width(text.text, text.height_mm), 0.5 * text.height_mm))
    c, s = math.cos(math.radians(text.turn_deg)), math.sin(math.radians(text.turn_deg))
    turn = np.array(((c, s), (-s, c)))
    return [Path((path.xy - middle) @ turn + np.array(text.at), path.bulge, path.closed) for path in paths]


@dataclass(frozen=True)
class _Placed:
    """A text or an arrow in its place: box [mm], the label and its middle, an arrow's paths."""

    box: Bounds
    label: str
    label_at: tuple[float, float]
    paths: tuple[Path, ...] = ()


class _Room:
    """Where on a part there is room: a grid of points, each free or not, and the exact region to be sure."""

    def __init__(self, region: shapely.Polygon, free: NDArray[np.bool_], origin: tuple[float, float]) -> None:
        self.region, self.free, self.origin = region, free, origin
        self.blocked: NDArray[np.int32] = np.zeros(np.add(free.shape, 1), np.int32)
        self.blocked[1:, 1:] = (~free).cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)

    @classmethod
    def of(cls, flat: Flat) -> _Room:
        region = flat.region.to_shapely(_FLAT_MM)
        x0, y0, x1, y1 = flat.region.bounds()
        x, y = np.arange(x0, x1 + _CELL_MM, _CELL_MM), np.arange(y0, y1 + _CELL_MM, _CELL_MM)
        shapely.prepare(region)
        free = shapely.contains_xy(region, x[:, None], y[None, :])
        room = cls(region, free, (x0, y0))
        taken = [*flat.marks, *(path for text in flat.texts for path in written(text))]
        return room.without([path.bounds() for path in taken])

    def without(self, boxes: Iterable[Bounds]) -> _Room:
        """The room that is left beside boxes [mm]."""
        free = self.free.copy()
        for box in boxes:
            low, high = (
                (np.subtract(corner, self.origin) + pad) / _CELL_MM
                for corner, pad in ((box[:2], -CLEAR_MM), (box[2:], CLEAR_MM))
            )
            (i0, j0), (i1, j1) = np.maximum(np.ceil(low), 0).astype(int), np.floor(high).astype(int) + 1
            free[i0:i1, j0:j1] = False
        return _Room(self.region, free, self.origin)

    def find(self, width: float, height: float, after: Bounds | None) -> Bounds | None:
        """A box of that size with nothing nearer than the clearance, in one row with `after` if it may be; or None."""
        # one cell more than the box and its clearance, as the edge may pass between two points of the grid
        nx, ny = (math.ceil((side + 2.0 * (CLEAR_MM + _FLAT_MM)) / _CELL_MM) + 2 for side in (width, height))
        s = self.blocked
        if s.shape[0] <= nx or s.shape[1] <= ny:
            return None
        fits = s[nx:, ny:] - s[:-nx, ny:] - s[nx:, :-ny] + s[:-nx, :-ny] == 0
        i, j = np.nonzero(fits)
        if not len(i):
            return None
        x = self.origin[0] + (i + 0.5 * (nx - 1)) * _CELL_MM - 0.5 * width
        y = self.origin[1] + (j + 0.5 * (ny - 1)) * _CELL_MM - 0.5 * height
        if after is None:
            k = int(np.lexsort((x, -fits.sum(axis=0)[j]))[0])  # where most would fit in a row, at its left
        else:
            k = int(np.argmin(8.0 * np.abs(y - after[1]) + np.abs(x - after[2])))
        box = float(x[k]), float(y[k]), float(x[k]) + width, float(y[k]) + height
        pad = CLEAR_MM + _FLAT_MM
        near = shapely.box(box[0] - pad, box[1] - pad, box[2] + pad, box[3] + pad)
        return box if self.region.contains(near) else None


def _place_all(items: Sequence[str | Arrow], height: float, room: _Room) -> list[_Placed | None]:
    placed: list[_Placed | None] = []
    last: Bounds | None = None
    for item in items:
        drawn = _drawn(item, height)
        x0, y0, x1, y1 = drawn.box
        box = room.find(x1 - x0, y1 - y0, last)
        placed.append(box and _shifted(drawn, box[0] - x0, box[1] - y0))
        if box:
            room, last = room.without([box]), box
    return placed


def _drawn(item: str | Arrow, height: float) -> _Placed:
    """A text or an arrow with the left end of its base line at the origin."""
    label = item.label if isinstance(item, Arrow) else item
    width = text_width(label, height)
    below = -_BELOW * height if set(label) & set("gjpqy,;()Q") else 0.0
    if isinstance(item, str):
        return _Placed((0.0, below, width, height), label, (0.5 * width, 0.5 * height))
    long, gap = (1.0 if item.towards in ("up", "down") else 1.5) * height, 0.4 * height
    wide = 0.6 * height if item.towards in ("up", "down") else long
    left = width + gap if item.towards == "right" else 0.0
    start = 0.0 if item.towards == "right" else wide + gap
    paths = _arrow(item.towards, long, 0.3 * height, (left + 0.5 * wide, 0.5 * height))
    return _Placed((0.0, below, width + gap + wide, height), label, (start + 0.5 * width, 0.5 * height), paths)


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
