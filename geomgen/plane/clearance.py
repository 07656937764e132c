"""Room inside a shape: how far points are from its edges."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.nearest import inside, nearest
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region


def clearance(shape: Loop | Region, points: ArrayLike) -> FloatArray:
    """Distance of points from the nearest edge of a shape, exact; negative outside it or in one of its holes.

    points  : (k, 2) [mm]
    returns : (k,) [mm]
    """
    at = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    loops = shape.loops() if isinstance(shape, Region) else (shape,)
    rooms = [_within(loops[0], at), *(-_within(hole, at) for hole in loops[1:])]
    away = np.min(np.abs(rooms), axis=0)
    signed: FloatArray = np.where(np.min(rooms, axis=0) > 0.0, away, -away)
    return signed


def _within(loop: Loop, at: FloatArray) -> FloatArray:
    """(k,) distance of (k, 2) points from a loop, negative outside it [mm]."""
    if isinstance(loop, Circle):
        return np.asarray(loop.radius - np.hypot(*(at - loop.center).T))
    ring = loop.segments()
    away, _ = nearest(ring, at)
    return np.where(inside(ring, at), away, -away)
