"""Smooth curves held as points with unit tangents: lengths, points between, heights at given x. Array work throughout.

Between two samples the curve is the cubic Hermite curve whose end speeds are the length of the stretch. A corner is a
point that stands twice, once with the tangent before and once with the tangent after.
"""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray, IntArray


def steps(xy: FloatArray, tangent: FloatArray) -> FloatArray:
    """Length of each stretch between samples.

    xy, tangent : (..., n, 2)
    returns     : (..., n - 1), 0 at a corner
    source      : a cubic that leaves its chord at angles a and b is longer than it by (2a² - ab + 2b²)/30 of it, to the
                  fourth order (integral of half the slope squared)
    """
    chord = np.diff(xy, axis=-2)
    reach = np.hypot(chord[..., 0], chord[..., 1])
    a = _turn(chord, tangent[..., :-1, :])
    b = _turn(chord, tangent[..., 1:, :])
    return np.asarray(reach * (1.0 + (2.0 * a * a - a * b + 2.0 * b * b) / 30.0))


def lengths(xy: FloatArray, tangent: FloatArray) -> FloatArray:
    """(..., n) length of the curve from its first sample to each."""
    step = steps(xy, tangent)
    return np.concatenate([np.zeros((*step.shape[:-1], 1)), np.cumsum(step, axis=-1)], axis=-1)


def between(
    ends: tuple[FloatArray, FloatArray], tangents: tuple[FloatArray, FloatArray], step: FloatArray, share: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Points and speeds within stretches.

    ends, tangents : of each stretch, (m, 2) at its start and (m, 2) at its end
    step           : (m,) lengths
    share          : (m,) how far along, 0..1
    returns        : (m, 2) points, (m, 2) derivative by length (not of length 1)
    """
    (p, q), (leave, arrive), step, t = ends, tangents, step[..., None], share[..., None]
    rest, chord = 1.0 - t, q - p
    xy = p + t * t * (3.0 - 2.0 * t) * chord + t * rest * step * (rest * leave - t * arrive)
    speed = 6.0 * t * rest * chord / step + rest * (1.0 - 3.0 * t) * leave + t * (3.0 * t - 2.0) * arrive
    return xy, speed


def crossings(xy: FloatArray, tangent: FloatArray, x: FloatArray) -> tuple[IntArray, FloatArray]:
    """Where curves that run aft from their leftmost sample reach given x.

    xy, tangent : (k, n, 2), k curves
    x           : (k, m)
    returns     : (k, m) the stretch, and how far along it, 0..1 (an end of the curve where it doesn't reach x)
    """
    n = xy.shape[1]
    nose = np.argmin(xy[..., 0], axis=-1)[:, None]
    aft = (xy[:, None, :, 0] <= x[:, :, None]) & (np.arange(n) >= nose[:, :, None])
    stretch = np.clip(nose + np.sum(aft, axis=-1) - 1, nose, n - 2)
    (a, b), (leave, arrive), step = _stretches(xy, tangent, stretch)
    a, b, leave, arrive = a[..., 0], b[..., 0], step * leave[..., 0], step * arrive[..., 0]
    cubic, square = 2.0 * (a - b) + leave + arrive, 3.0 * (b - a) - 2.0 * leave - arrive
    share = np.clip((x - a) / np.where(b > a, b - a, 1.0), 0.0, 1.0)
    for _ in range(30):
        off = ((cubic * share + square) * share + leave) * share + a - x
        slope = (3.0 * cubic * share + 2.0 * square) * share + leave
        better = np.clip(share - off / np.maximum(slope, 1e-12), 0.0, 1.0)
        moved, share = np.max(np.abs(better - share), initial=0.0), better
        if moved < 1e-10:
            break
    return stretch, share


def heights(xy: FloatArray, tangent: FloatArray, x: FloatArray) -> FloatArray:
    """y of curves that run aft, at given x; beyond the tail along the last tangent.

    xy, tangent : (k, n, 2), k curves
    x           : (k, m)
    returns     : (k, m)
    """
    stretch, share = crossings(xy, tangent, x)
    ends, tangents, step = _stretches(xy, tangent, stretch)
    y = between(ends, tangents, step, share)[0][..., 1]
    slope = tangent[:, -1:, 1] / np.where(tangent[:, -1:, 0] > 0.0, tangent[:, -1:, 0], np.inf)
    return np.asarray(y + slope * np.maximum(x - xy[:, -1:, 0], 0.0))


def height(xy: FloatArray, tangent: FloatArray, along: FloatArray, x: float) -> float:
    """`heights` of one curve at one x, in plain numbers: ten times quicker for a rib that asks for one place.

    xy, tangent : (n, 2)
    along       : (n,) lengths from the first sample
    """
    nose = int(np.argmin(xy[:, 0]))
    i = min(max(nose + int(np.searchsorted(xy[nose:, 0], x, side="right")) - 1, nose), len(xy) - 2)
    (a, p), (b, q) = xy[i].tolist(), xy[i + 1].tolist()
    step = float(along[i + 1] - along[i])
    (leave, rise), (arrive, fall) = (step * tangent[i]).tolist(), (step * tangent[i + 1]).tolist()
    cubic, square = 2.0 * (a - b) + leave + arrive, 3.0 * (b - a) - 2.0 * leave - arrive
    share = min(max((x - a) / (b - a) if b > a else 0.0, 0.0), 1.0)
    for _ in range(30):
        slope = max((3.0 * cubic * share + 2.0 * square) * share + leave, 1e-12)
        better = min(max(share - (((cubic * share + square) * share + leave) * share + a - x) / slope, 0.0), 1.0)
        moved, share = abs(better - share), better
        if moved < 1e-10:
            break
    y = ((2.0 * (p - q) + rise + fall) * share + 3.0 * (q - p) - 2.0 * rise - fall) * share * share + rise * share + p
    beyond = max(x - float(xy[-1, 0]), 0.0)
    return float(y + beyond * (tangent[-1, 1] / tangent[-1, 0] if tangent[-1, 0] > 0.0 else 0.0))


Pair = tuple[FloatArray, FloatArray]


def _stretches(xy: FloatArray, tangent: FloatArray, stretch: IntArray) -> tuple[Pair, Pair, FloatArray]:
    """End points, end tangents and lengths of chosen stretches (k, m) of k curves."""
    row, both = np.arange(len(xy))[:, None, None], stretch[..., None] + np.arange(2)
    points, ways = xy[row, both], tangent[row, both]
    step = steps(points, ways)[..., 0]
    return (points[..., 0, :], points[..., 1, :]), (ways[..., 0, :], ways[..., 1, :]), step


def _turn(chord: FloatArray, tangent: FloatArray) -> FloatArray:
    """Angle from the chord to the tangent [rad]; 0 where the chord has no length."""
    cross = chord[..., 0] * tangent[..., 1] - chord[..., 1] * tangent[..., 0]
    dot = chord[..., 0] * tangent[..., 0] + chord[..., 1] * tangent[..., 1]
    return np.asarray(np.arctan2(cross, dot))
