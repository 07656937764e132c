"""The nearest point on lines and arcs, and whether a point lies inside them: exact, many points at once.

An arc no higher than a 200-millionth of its chord is taken as a line: its centre is too far off to reckon from.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.plane.apart import index_of_least
from geomgen.plane.biarc import cross, dot
from geomgen.plane.segments import Segments

STRAIGHT = 1e-8  # bulge of the flattest arc that is not taken as a line


def nearest(segments: Segments, points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Distance of each point from the nearest line or arc, and where that is.

    segments : n lines and arcs [mm]
    points   : (k, 2) [mm]
    returns  : (k,) [mm], (k, 2) [mm]
    """
    if not len(points):
        return np.empty(0), np.empty((0, 2))
    owner, row = _near(segments, points)
    away, feet = feet_on(segments.rows(row), points[owner])
    least = index_of_least(away, owner)
    return away[least], feet[least]


def _near(segments: Segments, points: FloatArray) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Which of k points, and which of n segments may be nearest to it: its box lies no farther than some corner."""
    low, high = segments.boxes()
    x, y = points.T[:, :, None]
    beyond = np.maximum(low[:, 0] - x, x - high[:, 0]).clip(0.0), np.maximum(low[:, 1] - y, y - high[:, 1]).clip(0.0)
    corner = np.hypot(segments.start[:, 0] - x, segments.start[:, 1] - y).min(axis=1, keepdims=True)
    owner, row = np.nonzero(np.hypot(*beyond) <= corner * (1.0 + 1e-9) + 1e-9)
    return owner, row


def inside(ring: Segments, points: FloatArray) -> NDArray[np.bool_]:
    """(k,) whether each of (k, 2) points lies within a closed ring of lines and arcs, gone round either way."""
    k, n = len(points), len(ring.bulge)
    turns = windings(ring.rows(np.tile(np.arange(n), k)), np.repeat(points, n, axis=0))
    within: NDArray[np.bool_] = np.abs(turns.reshape(k, n).sum(axis=1)) > 0.5
    return within


def feet_on(segments: Segments, points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Row by row: distance of n points from n segments, and the nearest points on them: (n,) [mm], (n, 2) [mm]."""
    step = segments.end - segments.start
    share = dot(points - segments.start, step) / np.maximum(dot(step, step), np.finfo(float).tiny)
    feet = segments.start + np.clip(share, 0.0, 1.0)[:, None] * step
    arc = np.flatnonzero(np.abs(segments.bulge) > STRAIGHT)
    feet[arc] = _feet_on_arcs(segments.rows(arc), points[arc])
    return np.hypot(*(feet - points).T), feet


def windings(segments: Segments, points: FloatArray) -> FloatArray:
    """(n,) turns that n segments make about n points, row by row; a ring's sum is ±1 for a point inside, else 0."""
    a, b = segments.start - points, segments.end - points
    side_of, ahead = cross(a, b), dot(a, b)
    turns: FloatArray = np.arctan2(side_of, ahead) / (2.0 * np.pi)
    side = np.sign(segments.bulge)
    arc = np.flatnonzero((np.abs(segments.bulge) > STRAIGHT) & (side * side_of <= 0.0))  # on the arc's side
    arcs, side = segments.rows(arc), side[arc]
    in_disc = np.hypot(*(points[arc] - arcs.center()).T) < arcs.radius()
    turns[arc] += side * (in_disc & (side * side_of[arc] < 0.0))
    on_chord = (side_of[arc] == 0.0) & (ahead[arc] < 0.0)  # the arc makes half a turn to its own side
    turns[arc] = np.where(on_chord, 0.5 * side, turns[arc])
    return turns


def _feet_on_arcs(arcs: Segments, p: FloatArray) -> FloatArray:
    """Row by row: (n, 2) nearest point on each of n arcs to each of (n, 2) points."""
    center = arcs.center()
    spoke, begin = p - center, arcs.start - center
    reach = np.hypot(*spoke.T)
    turned = np.mod(np.sign(arcs.bulge) * np.arctan2(cross(begin, spoke), dot(begin, spoke)), 2.0 * np.pi)
    on_arc = (turned <= np.abs(arcs.angle)) & (reach > 0.0)
    foot = center + spoke * (arcs.radius() / np.where(reach > 0.0, reach, 1.0))[:, None]
    nearer_start = np.hypot(*(p - arcs.start).T) <= np.hypot(*(p - arcs.end).T)
    end = np.where(nearer_start[:, None], arcs.start, arcs.end)
    return np.where(on_arc[:, None], foot, end)
