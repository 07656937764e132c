"""Floor: a surface given as a grid laid flat, by bare numpy and scipy.

Bays are developed as strips of cells from the lengths of their edges and diagonals, strung together at their common
rows, and relaxed: first the sum of area × strain², then of area × cosh(16 strain / greatest), of row edges, column
edges and half the change of angle of cells, by Newton's method in a banded matrix. Nothing is checked or measured, and
the grid has more columns than rows.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solveh_banded

FloatArray = NDArray[np.float64]

SHARP, ROUNDS, STILL = 16.0, 40, 1e-6
EVERY, FIRST, LAST = slice(None), slice(None, -1), slice(1, None)


def flat(grid: FloatArray) -> FloatArray:
    """(k, n, 2) the grid (k, n, 3), k <= n, in the flat: columns along x, rows along y, least x and y 0 [mm]."""
    space = grid.swapaxes(0, 1)
    row, column = _size(space[1:] - space[:-1]), _size(space[:, 1:] - space[:, :-1])
    d, e = space[1:, 1:] - space[:-1, :-1], space[:-1, 1:] - space[1:, :-1]
    near, far = _bays(row, column, _size(d), _size(e))
    width = np.convolve(row.sum(axis=1), (0.5, 0.5))
    width /= width.sum()
    at = _joined(near, far, width)
    points = _relaxed(np.stack((at.real, at.imag), axis=-1), space, d, e)
    way = points[:, -1] - points[:, 0]
    x, y = width @ (way / _size(way)[:, None])
    points = points @ (np.array(((x, -y), (y, x))) / np.hypot(x, y))
    return np.ascontiguousarray((points - points.min(axis=(0, 1))).swapaxes(0, 1))


def _size(v: FloatArray) -> Any:
    return np.sqrt((v * v).sum(axis=-1))


def _bays(row: FloatArray, column: FloatArray, d: FloatArray, e: FloatArray) -> tuple[Any, Any]:
    """(n, k - 1) near and far rows as complex numbers, the first column of each bay from 0 along x.

    Angles of triangles by the law of cosines; each cell is the mean of its two ways of being cut into triangles.
    """
    start, end, near, far = column[:-1], column[1:], row[:, :-1], row[:, 1:]
    turns = _angle(start, near, e), _angle(start, d, far) + _angle(d, near, end)
    step = 0.5 * near * (np.exp(1j * turns[0]) + np.exp(1j * turns[1]))
    at_a = 0.5 * (turns[0] + turns[1])  # a cell's corner where it starts, and the next one along the near row
    at_c = 0.5 * (_angle(near, end, d) + _angle(near, e, start) + _angle(e, end, far))
    way = np.exp(1j * _after_zero(at_a + at_c - np.pi))
    begin = _after_zero(way[:-1] * step)
    return begin, begin + way * column


def _angle(a: FloatArray, b: FloatArray, across: FloatArray) -> Any:
    """Between sides a and b of triangles with a third side, exact for thin ones too (half-angle form)."""
    c = np.maximum((across - a + b) * (across + a - b), 0.0)
    return 2.0 * np.arctan2(np.sqrt(c), np.sqrt((a + b - across) * (a + b + across)))


def _after_zero(steps: Any) -> Any:
    return np.concatenate((np.zeros_like(steps[:1]), np.cumsum(steps, axis=0)))


def _joined(near: Any, far: Any, width: FloatArray) -> Any:
    """(n, k) bays turned and moved to fit at their common rows."""
    last, first = far[:, :-1], near[:, 1:]
    last_mid, first_mid = width @ last, width @ first
    turn = width @ ((last - last_mid) * (first - first_mid).conj())
    turn /= abs(turn)
    turns = np.concatenate(([1.0], np.cumprod(turn)))
    start = _after_zero(turns[:-1] * (last_mid - turn * first_mid))
    begin, end = start + turns * near, start + turns * far
    return np.concatenate((begin[:, :1], 0.5 * (end[:, :-1] + begin[:, 1:]), end[:, -1:]), axis=1)


def _relaxed(points: FloatArray, space: FloatArray, d: FloatArray, e: FloatArray) -> FloatArray:
    area = 0.5 * _size(np.cross(d, e))
    half = np.pad(0.5 * area, 1)
    areas = (half[1:-1, 1:] + half[1:-1, :-1], half[1:, 1:-1] + half[:-1, 1:-1], area)
    row, column = ((v * v).sum(axis=-1) for v in (space[1:] - space[:-1], space[:, 1:] - space[:, :-1]))
    cell = _size(d + e) * _size(d - e)
    factors = (0.5 / row, 0.5 / column, 0.5 / cell)
    wanted = (0.5, 0.5, 0.5 * ((d * d).sum(axis=-1) - (e * e).sum(axis=-1)) / cell)
    still = STILL * np.ptp(points, axis=(0, 1)).max()
    scale, sharp = 1.0, 0.0
    strain, pulls = _strained(points, factors, wanted)
    for _ in range(2):
        cost = _total(strain, areas, scale, sharp)
        for _ in range(ROUNDS):
            step = _step(pulls, strain, areas, scale, sharp)
            full = abs(step).max()
            while True:
                new, new_pulls = _strained(points + step, factors, wanted)
                new_cost = _total(new, areas, scale, sharp)
                if new_cost <= cost or abs(step).max() < 1e-3 * full:
                    break
                step *= 0.5
            points, strain, pulls, cost = points + step, new, new_pulls, new_cost
            if full < still:
                break
        scale, sharp = max(abs(each).max() for each in strain), SHARP
        if scale < 1e-4:
            break
    return points


def _strained(points: FloatArray, factors: Any, wanted: Any) -> tuple[list[FloatArray], list[FloatArray]]:
    """Strains of row edges, column edges and cells, and half of how they change with ends of edges and diagonals."""
    ways = (
        points[1:] - points[:-1],
        points[:, 1:] - points[:, :-1],
        points[1:, 1:] - points[:-1, :-1],
        points[:-1, 1:] - points[1:, :-1],
    )
    squares = [(way * way).sum(axis=-1) for way in ways]
    squares[2] -= squares.pop()
    strain = [f * s - w for f, s, w in zip(factors, squares, wanted, strict=True)]
    return strain, [f[..., None] * way for f, way in zip((*factors, factors[2]), ways, strict=True)]


def _total(strain: list[FloatArray], areas: Any, scale: float, sharp: float) -> float:
    if sharp == 0.0:
        return sum(float((a * s * s).sum()) for a, s in zip(areas, strain, strict=True))
    spread = (np.cosh(np.minimum(abs(s) * (sharp / scale), 300.0)) for s in strain)
    return sum(float((a * s).sum() - a.sum()) for a, s in zip(areas, spread, strict=True))


def _step(pulls: list[FloatArray], strain: list[FloatArray], areas: Any, scale: float, sharp: float) -> FloatArray:
    """Newton's: products of slopes added up in the matrix's diagonals, which are grids of points themselves."""
    n, k = pulls[1].shape[0], pulls[0].shape[1]
    band, slope = np.zeros((2 * k + 4, n, k, 2)), np.zeros((n, k, 2))
    row, column, d, e = pulls
    corners = (
        ((FIRST, EVERY, 0, -row), (LAST, EVERY, k, row)),
        ((EVERY, FIRST, 0, -column), (EVERY, LAST, 1, column)),
        ((FIRST, FIRST, 0, -d), (FIRST, LAST, 1, -e), (LAST, FIRST, k, e), (LAST, LAST, k + 1, d)),
    )
    for ends, s, area in zip(corners, strain, areas, strict=True):
        if sharp == 0.0:
            first, second = 2.0 * area * s, 2.0 * area
        else:
            grown = np.exp(s * (sharp / scale))
            first, second = area * (grown - 1.0 / grown), area * (grown + 1.0 / grown) * (sharp / scale)
        for i, (p, q, at, pull) in enumerate(ends):
            slope[p, q] += first[..., None] * pull
            stiff = (2.0 * second)[..., None] * pull
            for r, t, other, before in ends[: i + 1]:
                for a, b in ((0, 0), (0, 1), (1, 0), (1, 1)):
                    if (down := 2 * (at - other) + a - b) >= 0:
                        band[down, r, t, b] += stiff[..., a] * before[..., b]
    band[0] += 1e-11 * band[0].mean()
    return -solveh_banded(band.reshape(2 * k + 4, -1), slope.ravel(), lower=True, check_finite=False).reshape(n, k, 2)
