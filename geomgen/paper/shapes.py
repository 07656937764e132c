"""The lines of a part on a page, each in its style, cut off at the page's window; and plain lines to draw with."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np

from geomgen.marking.lettering import written
from geomgen.paper.clip import clipped
from geomgen.paper.drawn import Line, Style
from geomgen.paper.template import Template
from geomgen.plane.path import Bounds, Loop, Path, from_points

Point = tuple[float, float]


def strokes_of(template: Template) -> list[tuple[Style, Loop]]:
    """All that is drawn of a part, in its own frame: what only explains first, so that cuts lie on top."""
    flat, folds = template.flat, template.flat.folds

    def folded(mark: Path) -> bool:
        return any(np.array_equal(mark.xy, fold.xy) for fold in folds)

    return [
        *((Style.REFERENCE, loop) for loop in (*flat.reference, *(pocket.loop for pocket in flat.pockets))),
        *((Style.MARK, path) for path in flat.marks if not folded(path)),
        *((Style.MARK, path) for text in flat.texts for path in written(text)),
        *((Style.FOLD, path) for path in folds),
        *((Style.CUT, loop) for loop in flat.region.loops()),
    ]


def on_page(strokes: Sequence[tuple[Style, Loop]], window: Bounds, shift: Point) -> list[Line]:
    """What of a part lies in a window of its own frame, moved to its place on the page [mm]."""
    found: dict[Style, list[Path]] = {}
    for style, loop in strokes:
        found.setdefault(style, []).extend(piece.moved(*shift) for piece in clipped(loop, window))
    return [Line(tuple(paths), style) for style, paths in found.items() if paths]


def line(*points: Point) -> Path:
    """A line through points."""
    return from_points(points, closed=False)


def box(bounds: Bounds) -> Path:
    """The four sides of a rectangle."""
    x0, y0, x1, y1 = bounds
    return from_points([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True)


def arrow(middle: Point, way: Point, long: float, *, both: bool = False) -> Iterable[Path]:
    """An arrow through a point; with a head at both ends where it has no sense. way : unit vector; long : [mm]."""
    (x, y), (dx, dy) = middle, way
    tip, tail = (x + 0.5 * long * dx, y + 0.5 * long * dy), (x - 0.5 * long * dx, y - 0.5 * long * dy)
    yield line(tail, tip)
    barb = 0.22 * long
    for (px, py), sign in ((tip, 1.0), (tail, -1.0)) if both else ((tip, 1.0),):
        back = math.atan2(-sign * dy, -sign * dx)
        ends = [
            (px + barb * math.cos(back + turn), py + barb * math.sin(back + turn))
            for turn in (math.radians(25.0), -math.radians(25.0))
        ]
        yield line(ends[0], (px, py), ends[1])
