"""The square by which a printer is measured: its four corners, where they lie clear of what is cut and marked."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.figures import is_imperial, mm, spelled
from geomgen.paper.drawn import Item, Line, Style, Words
from geomgen.paper.shapes import line
from geomgen.paper.wording import CAPITAL, width_mm
from geomgen.plane.path import Bounds, Path

SQUARE_MM, SQUARE_IN_MM = 100.0, 4 * 25.4  # its sides; of a design in inches
_ARM_MM = 10.0  # length of a corner's arms
_CLEAR_MM = 2.0  # from other lines, where there is room
_WORDS_MM = 3.0
_WORDS_COUNT = 3  # a line through the words counts as so many through a corner
_TRIES = 900  # places looked at, about


def side_mm(unit: str) -> float:
    """Side of the square for a design's own unit of length [mm]."""
    return SQUARE_IN_MM if is_imperial(unit) else SQUARE_MM


def side_words(unit: str) -> str:
    """The same in words."""
    return spelled(mm(side_mm(unit)), unit)


@dataclass(frozen=True)
class Spot:
    """Where the square lies: its left and bottom, and whether its words stand at its upper side. [mm]."""

    left: float
    bottom: float
    words_above: bool = False


def corners(spot: Spot, unit: str) -> list[Item]:
    """The square's corners and its size in words."""
    side, a = side_mm(unit), _ARM_MM
    x0, y0, x1, y1 = spot.left, spot.bottom, spot.left + side, spot.bottom + side
    arms = (
        line((x0, y0 + a), (x0, y0), (x0 + a, y0)),
        line((x1 - a, y0), (x1, y0), (x1, y0 + a)),
        line((x1, y1 - a), (x1, y1), (x1 - a, y1)),
        line((x0 + a, y1), (x0, y1), (x0, y1 - a)),
    )
    y = y1 - CAPITAL * _WORDS_MM if spot.words_above else y0
    return [Line(arms, Style.GUIDE), Words(_named(unit), (x0 + a + 3.0, y), _WORDS_MM, style=Style.GUIDE)]


def quietest(window: Bounds, drawn: Sequence[Path], unit: str) -> Spot:
    """Where the square's corners and its words cross the fewest lines: the lowest such place, at the right."""
    side = side_mm(unit)
    wide, high = window[2] - window[0] - side, window[3] - window[1] - side
    step = max(4.0, math.sqrt(max(wide, 4.0) * max(high, 4.0) / _TRIES))
    xs = window[0] + np.linspace(0.0, wide, max(1, math.ceil(wide / step)) + 1)
    ys = window[1] + np.linspace(0.0, high, max(1, math.ceil(high / step)) + 1)
    at = np.array([(x, y) for y in ys for x in xs[::-1]])
    far, c = side - _ARM_MM, _CLEAR_MM
    parts = [(dx - c, dy - c, dx + _ARM_MM + c, dy + _ARM_MM + c) for dx in (0.0, far) for dy in (0.0, far)]
    end = _ARM_MM + 3.0 + width_mm(_named(unit), _WORDS_MM) + c
    parts += [(_ARM_MM, low - c, end, low + _WORDS_MM + c) for low in (0.0, side - _WORDS_MM)]
    boxes = np.concatenate([at + part[:2] for part in parts]), np.concatenate([at + part[2:] for part in parts])
    lines = shapely.STRtree([shapely.LineString(_points(path)) for path in drawn])
    hit = lines.query(shapely.box(*boxes[0].T, *boxes[1].T), predicate="intersects")[0]
    hits = np.bincount(hit, minlength=len(parts) * len(at)).reshape(len(parts), len(at))
    both = hits[:4].sum(axis=0) + _WORDS_COUNT * hits[4:]  # words below, words above
    best = int(np.argmin(both))
    x, y = at[best % len(at)]
    return Spot(float(x), float(y), words_above=best >= len(at))


def _named(unit: str) -> str:
    return f"square of {side_words(unit)}"


def _points(path: Path) -> FloatArray:
    points = path.flattened(0.2) if path.bulge.any() else path.xy
    return np.vstack((points, points[:1])) if path.closed else points
