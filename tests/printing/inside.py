"""Which points lie inside a closed mesh, by counting what lies over each of them: many points at once."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
ASKEW = np.linalg.qr(np.array([[0.83, 0.31, 0.47], [-0.29, 0.91, 0.17], [0.37, -0.23, 0.79]]))[0]  # along no face
TOUCHING = 1e-6  # [mm], and of a triangle


def inside(vertices: FloatArray, faces: NDArray[np.int64], points: FloatArray) -> NDArray[np.bool_]:
    """(n,) whether a straight line from each point goes out through the mesh an odd number of times, both ways.

    One on the mesh isn't inside.
    """
    corners, points = (np.asarray(vertices) @ ASKEW)[faces], np.asarray(points) @ ASKEW
    flat = shapely.STRtree(shapely.box(*corners.min(axis=1)[:, :2].T, *corners.max(axis=1)[:, :2].T))
    point, face = flat.query(shapely.points(points[:, :2]))
    shares = _shares(corners[face][..., :2], points[point, :2])
    over = (shares * corners[face][..., 2]).sum(axis=1) - points[point, 2]
    off = np.ones(len(points), dtype=bool)
    off[point[(np.abs(over) < TOUCHING) & (shares > -TOUCHING).all(axis=1)]] = False
    met = (shares >= 0.0).all(axis=1)
    odd, other = (np.bincount(point[met & way], minlength=len(points)) % 2 == 1 for way in (over > 0.0, over < 0.0))
    assert (odd == other)[off].all()  # or the line met an edge
    return odd & off


def _shares(corners: FloatArray, points: FloatArray) -> FloatArray:
    """(n, 3) how much of each corner of a triangle (n, 3, 2) a point (n, 2) is made of; negative outside it."""
    to = corners - points[:, None]
    twice = [to[:, i, 0] * to[:, j, 1] - to[:, i, 1] * to[:, j, 0] for i, j in ((1, 2), (2, 0), (0, 1))]
    areas = np.column_stack(twice)
    return np.asarray(areas / areas.sum(axis=1, keepdims=True))
