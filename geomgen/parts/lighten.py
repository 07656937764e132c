"""Lightening holes: the largest circles along a rib's middle that keep a stated web to everything else."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.plane.path import Circle, Loop

FloatArray = NDArray[np.float64]

FLATTEN_MM = 0.01
PLACES = 600  # candidates along the middle of a rib
ROUND_DOWN_MM = 0.1  # hole diameters are whole multiples of this


def lightening_holes(
    outline: Loop, features: Sequence[Loop], middle: FloatArray, web_mm: float, least_mm: float
) -> tuple[Circle, ...]:
    """Circles, largest first, each as large as the web lets it be.

    outline  : the rib's outer edge [mm]
    features : holes already in the rib [mm]
    middle   : (n, 2) the line that the holes' centres lie on, nose to tail [mm]
    web_mm   : least wood between a hole and the outline, a feature or another hole [mm]
    least_mm : least diameter worth cutting [mm]
    """
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(middle, axis=0).T))])
    places = np.linspace(0.0, along[-1], PLACES)
    centres = np.column_stack([np.interp(places, along, middle[:, i]) for i in (0, 1)])
    points = shapely.points(centres)
    edges = shapely.linearrings(_ring(outline))
    room = shapely.distance(points, edges)
    room[~shapely.contains_properly(shapely.polygons(_ring(outline)), points)] = 0.0
    for feature in features:
        room = np.minimum(room, _distance(points, centres, feature))
    room -= web_mm + FLATTEN_MM
    holes: list[Circle] = []
    while (best := int(np.argmax(room))) >= 0 and 2 * room[best] >= least_mm:
        radius = float(np.floor(2 * room[best] / ROUND_DOWN_MM) * ROUND_DOWN_MM / 2)
        if 2 * radius < least_mm:
            break
        x, y = (float(v) for v in centres[best])
        holes.append(Circle((x, y), radius))
        room = np.minimum(room, np.hypot(*(centres - centres[best]).T) - radius - web_mm)
    return tuple(holes)


def _ring(loop: Loop) -> FloatArray:
    points = loop.flattened(FLATTEN_MM)
    return np.vstack([points, points[:1]])


def _distance(points: NDArray[np.object_], centres: FloatArray, feature: Loop) -> FloatArray:
    """Distance of each centre from a hole's edge, negative inside it [mm]."""
    if isinstance(feature, Circle):
        return np.asarray(np.hypot(*(centres - feature.center).T) - feature.radius)
    polygon = shapely.polygons(_ring(feature))
    away = shapely.distance(points, polygon)
    return np.where(away > 0, away, -1.0)
