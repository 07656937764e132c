"""Two arcs between two points, meeting in a tangent: the piece a smooth outline is put together from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray


def cross(a: FloatArray, b: FloatArray) -> FloatArray:
    """z of a × b for (..., 2) vectors."""
    z: FloatArray = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
    return z


def dot(a: FloatArray, b: FloatArray) -> FloatArray:
    """a · b for (..., 2) vectors."""
    product: FloatArray = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
    return product


def unit(v: FloatArray) -> FloatArray:
    """(..., 2) vectors at length 1."""
    scaled: FloatArray = v / np.hypot(v[..., 0], v[..., 1])[..., None]
    return scaled


@dataclass(frozen=True, eq=False)
class Biarcs:
    """Pairs of arcs from `start` to `end` by way of `joint`, one pair each row.

    start, joint, end        : (n, 2) [mm]
    start_way, way, end_way  : (n, 2) unit tangents at start, joint and end
    first, second            : (n,) bulges [-]
    """

    start: FloatArray
    joint: FloatArray
    end: FloatArray
    start_way: FloatArray
    way: FloatArray
    end_way: FloatArray
    first: FloatArray
    second: FloatArray

    def chords(self) -> tuple[FloatArray, FloatArray]:
        """(n,) straight lengths of first and second arc [mm]."""
        a, b = self.joint - self.start, self.end - self.joint
        return np.hypot(a[:, 0], a[:, 1]), np.hypot(b[:, 0], b[:, 1])

    def off(self, points: FloatArray) -> FloatArray:
        """(n, m) distance of (n, m, 2) points from the pair of arcs in the same row, + to the right of travel [mm].

        A point before the joint is measured to the first arc, one after it to the second, each as a whole circle:
        right for points that lie along the pair and turn by less than a right angle.
        """
        from_joint = points - self.joint[:, None, :]
        before = dot(from_joint, self.way[:, None, :]) < 0.0
        from_start = points - self.start[:, None, :]
        first, second = self.chords()
        before_off = off_circle(from_start, self.start_way[:, None, :], curvature(self.first, first)[:, None])
        after_off = off_circle(from_joint, self.way[:, None, :], curvature(self.second, second)[:, None])
        return np.where(before, before_off, after_off)


def biarcs(start: FloatArray, start_way: FloatArray, end: FloatArray, end_way: FloatArray) -> Biarcs:
    """The pairs of arcs with given ends and end tangents whose two tangent lengths are equal.

    start, end         : (n, 2) [mm], apart
    start_way, end_way : (n, 2) unit tangents, turning by less than 180 deg
    source             : tangents of length d from both ends have their tips 2 d apart, with the joint half way:
                         |end - start - d (start_way + end_way)| = 2 d
    """
    v, t = end - start, start_way + end_way
    vt, vv = dot(v, t), dot(v, v)
    d = vv / (vt + np.sqrt(vt * vt + 2.0 * (1.0 - dot(start_way, end_way)) * vv))
    joint = 0.5 * (start + end + d[:, None] * (start_way - end_way))
    way = unit(v - d[:, None] * t)
    return Biarcs(
        start, joint, end, start_way, way, end_way, bulge_from(start_way, joint - start), bulge_to(end - joint, end_way)
    )


def curvature(bulge: FloatArray, chord: FloatArray) -> FloatArray:
    """(n,) signed curvature of arcs over chords of given length [mm -> 1/mm]."""
    bent: FloatArray = 4.0 * bulge / ((1.0 + bulge**2) * chord)
    return bent


def bulge_from(way: FloatArray, chord: FloatArray) -> FloatArray:
    """(n,) bulge of the arc over a chord that leaves along the unit tangent `way`."""
    reach = np.hypot(chord[..., 0], chord[..., 1])
    return cross(way, chord) / (reach + dot(way, chord))


def bulge_to(chord: FloatArray, way: FloatArray) -> FloatArray:
    """(n,) bulge of the arc over a chord that arrives along the unit tangent `way`."""
    reach = np.hypot(chord[..., 0], chord[..., 1])
    return cross(chord, way) / (reach + dot(chord, way))


def off_circle(v: FloatArray, way: FloatArray, curvature: FloatArray) -> FloatArray:
    """Distance of (..., 2) points, + to the right, from a circle, or a line, that leaves the origin along `way`."""
    power = curvature * dot(v, v) - 2.0 * cross(way, v)
    return power / (1.0 + np.sqrt(np.maximum(1.0 + curvature * power, 0.0)))
