"""The taut loop round some circles: tangent lines and arcs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geomgen.plane.path import Circle, Loop, Path

_SAME = 1e-9  # angles nearer than this are one [rad]


def hull(circles: Sequence[Circle]) -> Loop:
    """The shortest closed loop round all circles, anticlockwise; a circle where one holds all the others.

    source : in each direction u the hull reaches as far as the circle of greatest c·u + r; two circles reach equally
             far where (c - d)·u = s - r, and there a tangent line leads from the one to the other
    """
    centers, radii = np.array([circle.center for circle in circles]), np.array([circle.radius for circle in circles])
    starts, outermost = _runs(centers, radii)
    if len(starts) < 2:
        return circles[int(outermost[0])]
    ends = np.append(starts[1:], starts[0] + 2 * np.pi)
    turns = np.column_stack((starts, ends))  # each run of directions is an arc of its circle
    spokes = np.stack((np.cos(turns), np.sin(turns)), axis=-1)
    xy = (centers[outermost, None] + radii[outermost, None, None] * spokes).reshape(-1, 2)
    bulge = np.column_stack((np.tan((ends - starts) / 4), np.zeros(len(starts)))).ravel()
    return Path(xy, bulge, True)


def _runs(centers: np.ndarray, radii: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(n,) directions from which on a circle reaches farthest [rad], and (n,) which circle that is."""
    i, j = np.triu_indices(len(radii), 1)
    apart, gap = centers[i] - centers[j], radii[j] - radii[i]
    far = np.hypot(*apart.T)
    meet = far > np.abs(gap)
    way, half = np.arctan2(apart[meet, 1], apart[meet, 0]), np.arccos(gap[meet] / far[meet])
    turns = np.sort(np.concatenate((way - half, way + half)) % (2 * np.pi))
    if not len(turns):
        return np.zeros(1), np.array([int(np.argmax(radii))])
    turns = turns[np.append(True, np.diff(turns) > _SAME)]
    middles = turns + np.diff(np.append(turns, turns[0] + 2 * np.pi)) / 2
    reach = centers @ np.stack((np.cos(middles), np.sin(middles))) + radii[:, None]
    outermost = reach.argmax(axis=0)
    first = outermost != np.roll(outermost, 1)
    return (turns[first], outermost[first]) if first.any() else (np.zeros(1), outermost[:1])
