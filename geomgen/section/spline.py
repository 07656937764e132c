"""A smooth curve through points: a parametric cubic spline, its parameter close to arc length."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section import hermite


def tangents(xy: FloatArray) -> FloatArray:
    """Unit tangents of the smooth curve through points.

    xy      : (n, 2), n >= 4, in order along the curve, none repeated
    returns : (n, 2)
    source  : the cubic spline with continuous curvature whose third derivative runs on over the second and the last but
              one point; its parameter is the chords' length first, then the length of the curve that gives
    """
    chord = np.diff(xy, axis=0)
    step = np.hypot(chord[:, 0], chord[:, 1])
    for _ in range(3):
        speed = _slopes(step, chord)
        tangent: FloatArray = speed / np.hypot(speed[:, 0], speed[:, 1])[:, None]
        step = hermite.steps(xy, tangent)
    return tangent


def _slopes(step: FloatArray, rise: FloatArray) -> FloatArray:
    """Derivatives (n, 2) at the knots of the spline with parameter steps (n - 1,) and rises (n - 1, 2).

    source : continuous second derivatives at the inner knots, one polynomial over the first two and over the last two
             steps: a system of three diagonals, solved by elimination; x and y go together as one complex number
    """
    slope = (rise[:, 0] + 1j * rise[:, 1]) / step
    first, last = _end(step[0], step[1], slope[0], slope[1]), _end(step[-1], step[-2], slope[-1], slope[-2])
    below = [*step[1:].tolist(), last[1]]
    middle = [first[0], *(2.0 * (step[1:] + step[:-1])).tolist(), last[0]]
    above = [first[1], *step[:-1].tolist()]
    right = [first[2], *(3.0 * (step[1:] * slope[:-1] + step[:-1] * slope[1:])).tolist(), last[2]]
    for i, (under, over) in enumerate(zip(below, above, strict=True)):
        part = under / middle[i]
        middle[i + 1] -= part * over
        right[i + 1] -= part * right[i]
    right[-1] /= middle[-1]
    for i in range(len(above) - 1, -1, -1):
        right[i] = (right[i] - above[i] * right[i + 1]) / middle[i]
    found = np.array(right)
    return np.column_stack([found.real, found.imag])


def _end(near: float, far: float, slope: complex, next_slope: complex) -> tuple[float, float, complex]:
    """Diagonal, neighbour and right side of an end's row."""
    both = near + far
    right = ((near + 2.0 * both) * far * slope + near * near * next_slope) / both
    return float(far), float(both), complex(right)
