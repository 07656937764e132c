"""At which angle a shape goes into a rectangle, exactly: the rectangle is laid round its convex hull as by calipers."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.polar import rotation

TIGHT_MM = 1e-6  # what is larger by less goes in


def angle_to_fit(points: ArrayLike, size: tuple[float, float]) -> float | None:
    """By what angle a shape is to be turned to go into an upright rectangle.

    points  : (n, 2) whose hull is the shape's [mm]
    size    : of the rectangle along x and along y [mm]
    returns : anticlockwise, from 0 to 180 [deg]: 0 or 90 where that will do, else the middle of the widest range of
              angles, rounded as far as it still goes in; None where there is none
    """
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.multipoints(np.asarray(points, dtype=np.float64))))

    def goes(angles: ArrayLike) -> list[bool]:
        return [bool((np.ptp(hull @ rotation(a).T, axis=0) <= np.add(size, TIGHT_MM)).all()) for a in np.ravel(angles)]

    for angle in (0.0, 90.0):
        if goes(angle)[0]:
            return angle
    ends = _ends(hull, size)
    good = ends[goes(ends)]
    if not good.size:
        return None
    ranges: list[list[float]] = []
    for low, high in zip(ends, np.append(ends[1:], 180.0), strict=True):
        if goes((low + high) / 2)[0]:
            if ranges and ranges[-1][1] == low:
                ranges[-1][1] = float(high)
            else:
                ranges.append([float(low), float(high)])
    low, high = max(ranges, key=lambda ends: ends[1] - ends[0], default=(good[0], good[0]))
    middle = float(low + high) / 2
    return next((round(middle, digits) for digits in range(4) if goes(round(middle, digits))[0]), middle)


def _ends(hull: FloatArray, size: tuple[float, float]) -> FloatArray:
    """Ascending angles between which a hull either goes in throughout or not at all [deg].

    Between two angles at which one of its edges lies level or upright, its extent is that of one pair of corners, and
    reaches a side of the rectangle where the cosine says.
    """
    edges = np.degrees(np.arctan2(*np.diff(hull, axis=0).T[::-1]))
    level = np.unique(np.concatenate([[0.0, 90.0], np.ravel((-edges[:, None] + (0.0, 90.0)) % 180.0)]))
    found = [level]
    for low, high in zip(level, np.append(level[1:], 180.0), strict=True):
        turned = hull @ rotation((low + high) / 2).T
        for axis, side in enumerate(size):
            across = hull[turned[:, axis].argmax()] - hull[turned[:, axis].argmin()]
            far, way = float(np.hypot(*across)), float(np.degrees(np.arctan2(across[1], across[0])))
            if far > side:
                lean = np.degrees(np.arccos(side / far))
                angles = (90.0 * axis - way + np.array([-lean, lean])) % 360.0
                found.append(angles[(angles > low) & (angles < high)])
    return np.unique(np.concatenate(found))
