"""The square by which a printer is measured: its four corners, where they lie clear of what is cut and marked."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from geomgen.figures import is_imperial, mm, spelled
from geomgen.paper.drawn import Item, Line, Style, Words
from geomgen.paper.shapes import Point, line
from geomgen.plane.path import Bounds, Path

SQUARE_MM, SQUARE_IN_MM = 100.0, 4 * 25.4  # its sides; of a design in inches
_ARM_MM = 10.0  # length of a corner's arms
_CLEAR_MM = 2.0  # from other lines, where there is room
_WORDS_MM = 3.0
_TRIES = 900  # places looked at, about


def side_mm(unit: str) -> float:
    """Side of the square for a design's own unit of length [mm]."""
    return SQUARE_IN_MM if is_imperial(unit) else SQUARE_MM


def side_words(unit: str) -> str:
    """The same in words."""
    return spelled(mm(side_mm(unit)), unit)


def corners(left: float, bottom: float, unit: str) -> list[Item]:
    """The square's corners and its size in words; left and bottom of it [mm]."""
    side, a = side_mm(unit), _ARM_MM
    x0, y0, x1, y1 = left, bottom, left + side, bottom + side
    arms = (
        line((x0, y0 + a), (x0, y0), (x0 + a, y0)),
        line((x1 - a, y0), (x1, y0), (x1, y0 + a)),
        line((x1, y1 - a), (x1, y1), (x1 - a, y1)),
        line((x0 + a, y1), (x0, y1), (x0, y1 - a)),
    )
    words = f"square of {side_words(unit)}: measure it both ways"
    return [Line(arms, Style.GUIDE), Words(words, (left + a + 3.0, bottom), _WORDS_MM, style=Style.GUIDE)]


def spot(window: Bounds, drawn: Sequence[Path], unit: str) -> Point:
    """Where the square's corners and its words cross the fewest lines: the lowest such place, at the right [mm]."""
    side = side_mm(unit)
    wide, high = window[2] - window[0] - side, window[3] - window[1] - side
    step = max(4.0, math.sqrt(max(wide, 4.0) * max(high, 4.0) / _TRIES))
    xs = window[0] + np.linspace(0.0, wide, max(1, math.ceil(wide / step)) + 1)
    ys = window[1] + np.linspace(0.0, high, max(1, math.ceil(high / step)) + 1)
    at = np.array([(x, y) for y in ys for x in xs[::-1]])
    far, c = side - _ARM_MM, _CLEAR_MM
    parts = [(dx - c, dy - c, dx + _ARM_MM + c, dy + _ARM_MM + c) for dx in (0.0, far) for dy in (0.0, far)]
    parts.append((_ARM_MM, -c, far, _WORDS_MM + c))
    boxes = np.concatenate([at + part[:2] for part in parts]), np.concatenate([at + part[2:] for part in parts])
    lines = shapely.STRtree([shapely.LineString(_points(path)) for path in drawn])
    hit = lines.query(shapely.box(*boxes[0].T, *boxes[1].T), predicate="intersects")[0]
    hits = np.bincount(hit % len(at), minlength=len(at))
    x, y = at[int(np.argmin(hits))]
    return float(x), float(y)


def _points(path: Path) -> np.ndarray:
    points = path.flattened(0.2)
    return np.vstack((points, points[:1])) if path.closed else points
