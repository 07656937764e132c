"""Where lines and arcs meet, many pairs at once, in closed form."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import BoolArray, FloatArray, IntArray
from geomgen.plane.biarc import cross, dot
from geomgen.plane.segments import Segments

_ON_MM = 1e-7  # past an end by less is still on it
_PARALLEL = 1e-12  # sine of the angle between lines that don't meet


def near_pairs(segments: Segments) -> tuple[IntArray, IntArray]:
    """(m,) first and (m,) second row, first < second, of all segments whose boxes touch."""
    low, high = segments.boxes()
    touch = np.ones((len(low), len(low)), dtype=np.bool_)
    for k in range(2):
        touch &= low[:, None, k] <= high[None, :, k] + _ON_MM
        touch &= low[None, :, k] <= high[:, None, k] + _ON_MM
    first, second = np.nonzero(np.triu(touch, 1))
    return first, second


def meetings(segments: Segments, first: IntArray, second: IntArray) -> tuple[IntArray, FloatArray]:
    """Points that lie on both segments of a pair.

    first, second : (m,) rows of each pair
    returns       : (k,) pair of each point, and (k, 2) points [mm]; segments on one line or circle don't meet
    """
    bent = segments.bulge != 0.0
    swap = ~bent[second] & bent[first]  # of a line and an arc, the line comes first
    one, two = np.where(swap, second, first), np.where(swap, first, second)
    pairs, points = [], []
    for which, find in (
        (~bent[one] & ~bent[two], _two_lines),
        (~bent[one] & bent[two], _line_and_arc),
        (bent[one] & bent[two], _two_arcs),
    ):
        rows = np.flatnonzero(which)
        found = find(segments.rows(one[rows]), segments.rows(two[rows]))  # (r, s, 2), nan where there is none
        pairs.append(np.repeat(rows, found.shape[1]))
        points.append(found.reshape(-1, 2))
    pair, xy = np.concatenate(pairs), np.vstack(points)
    there = np.isfinite(xy).all(axis=1)
    pair, xy = pair[there], xy[there]
    on = _within(segments.rows(one[pair]), xy) & _within(segments.rows(two[pair]), xy)
    return pair[on], xy[on]


def shares(segments: Segments, points: FloatArray) -> FloatArray:
    """(n,) where (n, 2) points that lie on the line or circle of the same row are: 0 at its start, 1 at its end."""
    step, away = segments.end - segments.start, points - segments.start
    straight = dot(away, step) / dot(step, step)
    bent = np.flatnonzero(segments.bulge)
    if len(bent):
        arcs = segments.rows(bent)
        center, turn = arcs.center(), arcs.angle
        u, v = arcs.start - center, points[bent] - center
        ahead = np.mod(np.sign(turn) * np.arctan2(cross(u, v), dot(u, v)), 2.0 * np.pi)
        ahead = np.where(ahead > np.pi + 0.5 * np.abs(turn), ahead - 2.0 * np.pi, ahead)
        straight[bent] = ahead / np.abs(turn)
    return straight


def _within(segments: Segments, points: FloatArray) -> BoolArray:
    slack = _ON_MM / np.maximum(segments.lengths(), _ON_MM)
    share = shares(segments, points)
    inside: BoolArray = (share >= -slack) & (share <= 1.0 + slack)
    return inside


def _two_lines(one: Segments, two: Segments) -> FloatArray:
    a, b = one.end - one.start, two.end - two.start
    sine = cross(a, b)
    meet = np.abs(sine) > _PARALLEL * one.chord * two.chord
    share = np.where(meet, cross(two.start - one.start, b) / np.where(meet, sine, 1.0), np.nan)
    found: FloatArray = (one.start + share[:, None] * a)[:, None, :]
    return found


def _line_and_arc(line: Segments, arc: Segments) -> FloatArray:
    way = (line.end - line.start) / line.chord[:, None]
    center, radius = arc.center(), arc.radius()
    foot = line.start + dot(center - line.start, way)[:, None] * way
    half = _half_chord(radius, np.hypot(*(foot - center).T))
    return np.stack((foot - half[:, None] * way, foot + half[:, None] * way), axis=1)


def _two_arcs(one: Segments, two: Segments) -> FloatArray:
    c0, c1, r0, r1 = one.center(), two.center(), one.radius(), two.radius()
    apart = np.hypot(*(c1 - c0).T)
    far = apart > _PARALLEL * (r0 + r1)
    way = (c1 - c0) / np.where(far, apart, 1.0)[:, None]
    along = 0.5 * (apart + (r0 - r1) * (r0 + r1) / np.where(far, apart, 1.0))
    half = np.where(far, _half_chord(r0, np.abs(along)), np.nan)
    foot, left = c0 + along[:, None] * way, np.column_stack((-way[:, 1], way[:, 0]))
    return np.stack((foot - half[:, None] * left, foot + half[:, None] * left), axis=1)


def _half_chord(radius: FloatArray, off: FloatArray) -> FloatArray:
    """Half the chord of a circle at a distance from its centre; 0 where it is only just missed, nan where it is."""
    squared = (radius - off) * (radius + off)
    just = off - radius <= _ON_MM
    with np.errstate(invalid="ignore"):
        return np.where(squared >= 0.0, np.sqrt(np.maximum(squared, 0.0)), np.where(just, 0.0, np.nan))
