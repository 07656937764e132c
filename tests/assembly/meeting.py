"""How two plane shapes meet: what they share, how deep one reaches into the other, how far apart they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from by_equations import FloatArray
from numpy.typing import NDArray

BoolArray = NDArray[np.bool_]

NEAR = 0.35  # edges nearer than this are in contact: what wood glue fills, and a little [mm]
STEP = 0.7  # between the points of an edge that is measured [mm]
FEW = 20  # of so many points one is measured first, to see which others matter
TOUCHING = 1e-6  # what is nearer touches [mm]


@dataclass(frozen=True)
class Overlap:
    """What two shapes share in one plane.

    area    : of both [mm2]
    contact : length of the first's edge that lies on or in the second [mm]
    deepest : how far an edge of one reaches into the other [mm]
    at      : where
    """

    area: float = 0.0
    contact: float = 0.0
    deepest: float = 0.0
    at: tuple[float, float] = (0.0, 0.0)


def edge_points(shape: shapely.Geometry, step: float = STEP) -> FloatArray:
    """(n, 2) points on all edges of a shape, its corners among them."""
    lines = shapely.segmentize(shape.boundary, step)
    return shapely.get_coordinates(lines)


def distance(points: FloatArray, to: shapely.Geometry) -> FloatArray:
    """(n,) from points to the nearest edge of a shape."""
    return np.asarray(shapely.distance(shapely.points(points), to.boundary))


def overlap(one: shapely.Geometry, other: shapely.Geometry) -> Overlap:
    """How two shapes share a plane."""
    if not shapely.dwithin(one, other, NEAR):
        return Overlap()
    deepest, at, contact = 0.0, (0.0, 0.0), 0.0
    for mine, its in ((one, other), (other, one)):
        points = _around(edge_points(mine), its)
        if not len(points):
            continue
        inside = shapely.contains_xy(its, points)
        contact = contact or _length(points, inside | shapely.dwithin(its, shapely.points(points), NEAR))
        deep, where = _deepest(points[inside], its)
        if deep > deepest:
            deepest, at = deep, where
    return Overlap(float(one.intersection(other).area) if deepest > 0 else 0.0, contact, deepest, at)


def reach_into(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """How far an edge of one shape reaches into another [mm]."""
    return overlap(one, other).deepest if shapely.intersects(one, other) else 0.0


def beyond(shape: shapely.Polygon, room: shapely.Polygon) -> Overlap:
    """What of a shape lies outside the room it has."""
    points, edge = edge_points(shape), room.boundary
    shapely.prepare(edge)
    contact = _length(points, shapely.dwithin(edge, shapely.points(points), NEAR))
    deep, at = _deepest(points[~shapely.contains_xy(room, points)], room)
    return Overlap(float(shape.difference(room).area) if deep > 0 else 0.0, contact, deep, at)


def _deepest(points: FloatArray, shape: shapely.Geometry) -> tuple[float, tuple[float, float]]:
    """Of some points (n, 2), the greatest distance from a shape's edge, and where; 0 of none."""
    if not len(points):
        return 0.0, (0.0, 0.0)
    away = distance(points, shape)
    k = int(np.argmax(away))
    return float(away[k]), (float(points[k, 0]), float(points[k, 1]))


def _around(points: FloatArray, shape: shapely.Geometry) -> FloatArray:
    """Points in or near the box round a shape."""
    x0, y0, x1, y1 = shape.bounds
    low, high = np.array([x0, y0]) - NEAR, np.array([x1, y1]) + NEAR
    return points[((points >= low) & (points <= high)).all(axis=1)]


def _length(points: FloatArray, near: BoolArray) -> float:
    """How much of an edge, given by points along it, is near something [mm]; between its rings nothing is counted."""
    step = np.hypot(*np.diff(points, axis=0).T)
    return float(step[near[1:] & near[:-1] & (step <= STEP + 1e-9)].sum())


def farthest(points: FloatArray, others: Sequence[shapely.Geometry]) -> tuple[float, tuple[float, float]]:
    """Greatest distance of some points (n, 2) from the nearest of some shapes, and where.

    A few are measured first; of the rest only those that are farther than these from every shape.
    """
    at, far = shapely.points(points), np.arange(len(points))
    some = far[::FEW]
    away = _nearest(at[some], others)
    for other in others:
        far = far[~shapely.dwithin(other, at[far], max(away.max(), TOUCHING))]
    some, away = np.append(some, far), np.append(away, _nearest(at[far], others))
    k = int(np.argmax(away))
    x, y = points[some[k]]
    return float(away[k]), (float(x), float(y))


def _nearest(points: NDArray[np.object_], others: Sequence[shapely.Geometry]) -> FloatArray:
    """(n,) from each of some points to the nearest of some shapes."""
    return np.min([shapely.distance(points, other) for other in others], axis=0)
