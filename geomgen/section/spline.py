"""A smooth curve through points: a parametric cubic spline, its parameter close to arc length."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.section import hermite

FloatArray = NDArray[np.float64]


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
        tangent = speed / np.hypot(speed[:, 0], speed[:, 1])[:, None]
        step = hermite.steps(xy, tangent)
    return tangent


def _slopes(step: FloatArray, rise: FloatArray) -> FloatArray:
    """Derivatives (n, 2) at the knots of the spline with parameter steps (n - 1,) and rises (n - 1, 2)."""
    n = len(step) + 1
    slope = rise / step[:, None]
    matrix, right = np.zeros((n, n)), np.zeros((n, 2))
    inner = np.arange(1, n - 1)
    matrix[inner, inner - 1], matrix[inner, inner + 1] = step[1:], step[:-1]
    matrix[inner, inner] = 2.0 * (step[1:] + step[:-1])
    right[1:-1] = 3.0 * (step[1:, None] * slope[:-1] + step[:-1, None] * slope[1:])
    for row, near, far, way in ((0, 0, 1, 1), (n - 1, n - 2, n - 3, -1)):
        h, k = step[near], step[far]
        matrix[row, row], matrix[row, row + way] = k, h + k
        right[row] = ((h + 2.0 * (h + k)) * k * slope[near] + h * h * slope[far]) / (h + k)
    found: FloatArray = np.linalg.solve(matrix, right)
    return found
