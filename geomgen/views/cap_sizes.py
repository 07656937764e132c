"""The sizes of a pitch cap or a wedge, drawn round its picture, with it seen on its edge beside it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.plane.path import Circle
from geomgen.plane.polar import on_circle
from geomgen.views.dimensions import around, between, centre_line, told
from geomgen.views.drawing import Drawn, rectangle

CAPS = (Role.TURNING_CAP, Role.FIXED_CAP)
SIZE_MM = 3.2  # of the letters
OFF_MM = 8.0  # from the cap to the nearest dimension line
CLEAR_MM = 1.2  # between a line and what is cut or written on the cap
AXIS = (0.0, 0.0)


def cap_sizes(part: Part, unit: str) -> list[Drawn]:
    """Over all, index circle, spar's hole, thickness; of a wedge where its hole is; nothing of any other part."""
    if not isinstance(part.shape, Flat):
        return []
    if part.role is Role.WEDGE:
        return [*_wedge(part.shape, unit)]
    if part.role not in CAPS:
        return []
    index_mm = part.facts["index_circle_mm"]
    return [*_over_all(part.shape, index_mm, unit), *_circles(part.shape, index_mm, unit)]


def _over_all(flat: Flat, index_mm: float, unit: str) -> Iterator[Drawn]:
    """A diameter where it is round, else length and height; and its thickness, clear of the index circle below it."""
    x0, y0, x1, y1 = flat.region.bounds()
    below, edge, thick = y0 - OFF_MM, x1 + 2.0 * OFF_MM, flat.thickness_mm
    below -= OFF_MM * (abs(below + index_mm) < 2.0 * SIZE_MM)
    rim = flat.region.outer.flattened(0.1)
    (_, left), (foot, _) = rim[rim.argmin(axis=0)].tolist()
    (_, right), (top, _) = rim[rim.argmax(axis=0)].tolist()
    sign = "Ø " if isinstance(flat.region.outer, Circle) else ""
    yield from between((x0, left), (x1, right), (x0, below), told(x1 - x0, unit, sign), SIZE_MM)
    if not sign:
        beside = (x1 + OFF_MM, y0)
        yield from between((foot, y0), (top, y1), beside, told(y1 - y0, unit), SIZE_MM, 90.0)
        edge += 12.0 * SIZE_MM
    yield rectangle(edge, y0, edge + thick, y1, "wood-fill ink", 0.3)
    yield from between((edge, y0), (edge + thick, y0), (edge, below), told(thick, unit), SIZE_MM)


def _wedge(flat: Flat, unit: str) -> Iterator[Drawn]:
    """Length, height, thickness; how far its hole's middle is from the inner long side, told beside the clipped corner,
    and from the end with the figure."""
    (hole,), (x0, y0, x1, y1) = flat.region.holes, flat.region.bounds()
    assert isinstance(hole, Circle)
    x, y = hole.center
    lettered, clipped, way = (x1, x0, 1.0) if flat.texts[0].at[0] > (x0 + x1) / 2 else (x0, x1, -1.0)
    across, aside, beside = sorted((x, lettered)), clipped - way * OFF_MM, lettered + way * OFF_MM
    thick, edge, below = flat.thickness_mm, x1 + 12.0 * SIZE_MM, y0 - OFF_MM
    yield from between((x0, y0), (x1, y0), (x0, below), told(x1 - x0, unit), SIZE_MM)
    yield from between((lettered, y0), (lettered, y1), (beside, y0), told(y1 - y0, unit), SIZE_MM, 90.0)
    yield from between((x, y0), (x, y), (aside, y0), told(y - y0, unit), SIZE_MM, 90.0)
    yield from between((across[0], y), (across[1], y1), (x0, y1 + OFF_MM), told(across[1] - across[0], unit), SIZE_MM)
    yield from around(hole.center, hole.radius, (aside, y1 + 2 * OFF_MM), told(2 * hole.radius, unit, "Ø "), SIZE_MM)
    yield rectangle(edge, y0, edge + thick, y1, "wood-fill ink", 0.3)
    yield from between((edge, y0), (edge + thick, y0), (edge, below), told(thick, unit), SIZE_MM)


def _circles(flat: Flat, index_mm: float, unit: str) -> Iterator[Drawn]:
    """The circle of the index holes, left out where something is written, and the spar's hole, with their leaders.

    Each leader stands in the highest row from which it crosses neither holes nor letters.
    """
    x0, y0, _, y1 = flat.region.bounds()
    letters = shapely.union_all([shapely.LineString(path.flattened(0.1)) for t in flat.texts for path in written(t)])
    circle = shapely.LineString(on_circle(np.full(361, index_mm), np.arange(361.0)))
    for run in shapely.get_parts(shapely.line_merge(circle - letters.buffer(CLEAR_MM))):
        yield centre_line(shapely.get_coordinates(run).tolist(), SIZE_MM)
    spar = [hole for hole in flat.region.holes if isinstance(hole, Circle) and hole.center == AXIS]
    others = [shapely.Polygon(hole.flattened(0.1)) for hole in flat.region.holes if hole not in spar]
    there = shapely.union_all([letters, *others]).buffer(CLEAR_MM)
    rows = np.arange(y1, y0, -2.5 * SIZE_MM).tolist()
    for name, radius in [("index circle", index_mm), *(("spar", hole.radius) for hole in spar)]:
        ways = {row: radius / np.hypot(x0, row) for row in rows}
        lines = {row: shapely.LineString([(x0, row), (x0 * way, row * way)]) for row, way in ways.items()}
        row = next((row for row, line in lines.items() if not there.intersects(line)), rows[0])
        rows.remove(row)
        yield from around(AXIS, radius, (x0 - OFF_MM, row), f"{name} {told(2 * radius, unit, 'Ø ')}", SIZE_MM)
