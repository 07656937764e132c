"""Dimensions on a drawing: extension lines, lines with arrowheads, leaders to circles, level figures."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm, spelled
from geomgen.plane.path import Bounds, from_points
from geomgen.views.drawing import Drawn, Line, Point, Quarters, Ring, Shape, Words
from geomgen.views.plan_names import LETTER

ARROW, SLIM = 0.9, 0.16  # length and half width of an arrowhead, in sizes of the letters
TAIL = 1.8  # of an arrow that points in from outside, in sizes
CHAIN = (1.6, 0.4, 0.2, 0.4)  # dashes of a centre line, in sizes
STYLE, THIN = "faint", 0.05  # of its lines; their width in sizes


def told(value_mm: float, unit: str, sign: str = "") -> str:
    """A size with its unit, "Ø" before a diameter."""
    return f"{sign}{spelled(mm(value_mm, 1), unit)}"


def between(a: Point, b: Point, through: Point, words: str, size: float, along_deg: float = 0.0) -> list[Drawn]:
    """How far two points are apart in one direction.

    through   : a place on the dimension line, which runs `along_deg` from x, from a's side to b's
    size      : of the letters [mm]
    """
    along = np.array((np.cos(np.radians(along_deg)), np.sin(np.radians(along_deg))))
    start, end = (through + along * ((np.array(p) - through) @ along) for p in (a, b))
    inside = float((end - start) @ along) > 4.0 * ARROW * size
    items: list[Drawn] = []
    for point, foot in ((np.array(a), start), (np.array(b), end)):
        away = _unit(foot - point)
        if np.hypot(*(foot - point)) > 0.5 * size:
            items.append(Line([point + 0.3 * size * away, foot + 0.4 * size * away], STYLE, THIN * size))
    reach = 0.0 if inside else TAIL * size
    items.append(Line([start - reach * along, end + reach * along], STYLE, THIN * size))
    items += [arrow(start, along if not inside else -along, size), arrow(end, -along if not inside else along, size)]
    return [*items, _words(words, (start, end), inside, np.array(a), size)]


def _words(words: str, ends: tuple[FloatArray, FloatArray], inside: bool, at: FloatArray, size: float) -> Words:
    """Over a line that lies level and has room, else beyond its end or beside it."""
    start, end = ends
    x, y = (start + end) / 2
    level = abs(end[0] - start[0]) >= abs(end[1] - start[1])
    if not level:
        side = 1.0 if x >= at[0] else -1.0
        return Words(words, (float(x + 0.6 * side * size), float(y - 0.35 * size)), size, "ink", _anchor(side))
    if inside and LETTER * size * len(words) < end[0] - start[0]:
        return Words(words, (float(x), float(y + 0.35 * size)), size, "ink", "middle")
    return Words(words, (float(end[0] + (TAIL + 0.3) * size), float(end[1] - 0.35 * size)), size)


def around(center: Point, radius: float, to: Point, words: str, size: float) -> list[Drawn]:
    """A leader from words to a circle, pointing at its centre.

    to : where the words begin, or end on the left of the circle
    """
    side = 1.0 if to[0] >= center[0] else -1.0
    elbow = np.array(to) - (1.4 * side * size, -0.35 * size)
    way = _unit(np.array(center) - elbow)
    tip = np.array(center) - radius * way
    shelf = np.add(elbow, (side * size, 0.0))
    line = Line([tip, elbow, shelf], STYLE, THIN * size)
    return [line, arrow(tip, way, size), Words(words, to, size, "ink", _anchor(side))]


def arrow(tip: FloatArray, way: FloatArray, size: float) -> Shape:
    """A slim arrowhead that points along `way`."""
    across, back = np.array((-way[1], way[0])), tip - ARROW * size * way
    corners = (tip, back + SLIM * size * across, back - SLIM * size * across)
    return Shape((from_points(np.array(corners), closed=True),), f"{STYLE}-fill", 0.0)


def centre_line(points: Iterable[Point], size: float) -> Line:
    """Long and short dashes."""
    return Line(list(points), STYLE, THIN * size, tuple(size * dash for dash in CHAIN))


def centre_circle(center: Point, radius: float, size: float) -> Ring:
    """A circle on which middles lie."""
    return Ring(center, radius, STYLE, THIN * size, tuple(size * dash for dash in CHAIN))


def bounds_of(items: Iterable[Drawn]) -> Bounds:
    """Least x, least y, greatest x, greatest y of what is drawn, its level words about as wide as they come [mm]."""
    boxes = np.array([_box(item) for item in items])
    return _round(boxes[:, :2], boxes[:, 2:])


def _box(item: Drawn) -> Bounds:
    match item:
        case Words(at=(x, y), size=size):
            wide = LETTER * size * len(item.text)
            left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[item.anchor] * wide
            return left, y - 0.25 * size, left + wide, y + 0.75 * size
        case Ring(center=(x, y), radius=r) | Quarters(center=(x, y), radius=r):
            return x - r, y - r, x + r, y + r
        case Line(points=points):
            lines = np.asarray(points, dtype=np.float64)
            return _round(lines, lines)
        case Shape(loops=loops):
            boxes = np.array([loop.bounds() for loop in loops])
            return _round(boxes[:, :2], boxes[:, 2:])


def _round(low: FloatArray, high: FloatArray) -> Bounds:
    (x0, y0), (x1, y1) = low.min(axis=0).tolist(), high.max(axis=0).tolist()
    return x0, y0, x1, y1


def _anchor(side: float) -> str:
    return "start" if side > 0.0 else "end"


def _unit(vector: FloatArray) -> FloatArray:
    return np.asarray(vector / max(float(np.hypot(*vector)), 1e-9))
