"""A flat grid moved until its lengths are as near those in space as can be, and the stretch as even as can be."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.unroll.banded import solved

_SHARP = 16.0  # how much dearer the greatest strain is than small ones: cosh of this
_ROUNDS, _HALVINGS = 40, 8
_NOTHING = 1e-4  # no sheet feels less strain than this: what is left is not evened out
_STILL = 1e-6  # a step shorter than this share of the extent ends a search
_DAMPING = 1e-11  # of the mean stiffness: keeps the pattern from drifting as a whole
_FAR = 300.0  # a trial step's strains cost no more than cosh of this: far more than any step that is kept


@dataclass(frozen=True)
class _Strains:
    """Strains of one kind all over a grid, of edges (2 corners) or of cells (4), and their places in the equations.

    nodes  : (m, corners) numbers of points, rising
    factor : (m,) of squares of length [1/mm²]
    target : (m,) factor × squares in space [-]
    area   : (m,) that each stands for [mm²]
    unit   : (m, 2 corners) number of the unknown that is x or y of each corner
    pair   : two lists of unknowns, by column of `unit`, the first no lower in the matrix than the second
    band   : (m, pairs) where the product of the two goes in the matrix's band, counted along its rows
    """

    nodes: IntArray
    factor: FloatArray
    target: FloatArray
    area: FloatArray
    unit: IntArray
    pair: tuple[IntArray, IntArray]
    band: IntArray

    def of(self, points: FloatArray) -> FloatArray:
        """(m,) [-]"""
        squares = (_ways(points, self.nodes) ** 2).sum(axis=-1)
        strain: FloatArray = self.factor * _difference(squares) - self.target
        return strain

    def slopes(self, points: FloatArray) -> FloatArray:
        """(m, 2 corners) change of each strain with each of its unknowns [1/mm]."""
        pull = 2.0 * self.factor[:, None] * _ways(points, self.nodes)
        return np.hstack((-pull[0], pull[0]) if len(pull) == 1 else (-pull[0], -pull[1], pull[1], pull[0]))


def relaxed(xy: FloatArray, space: FloatArray) -> FloatArray:
    """The flat grid that is strained least and most evenly, near a first guess.

    xy      : (k, n, 2) first guess [mm]
    space   : (k, n, 3) [mm]
    returns : (k, n, 2) [mm]
    source  : Strains are Green's: half the change of a square of length, over the square, of row and column edges; and
              half the change of angle, from the two diagonals d, e of a cell with sides a, b: d² - e² = 4 a · b. Each
              counts by the area it stands for, so that a grid of uneven cells comes out like an even one. The sum of
              area × strain² is made least; then, s being the greatest strain left, that of area × cosh(16 strain / s),
              which takes the peaks off. Newton's method without the second derivatives of the strains themselves
              (Gauss; damped, Levenberg 1944). From memory
    """
    flip = space.shape[0] > space.shape[1]
    if flip:  # points are counted along the shorter side: the narrower the band, the sooner it is solved
        xy, space = xy.swapaxes(0, 1), space.swapaxes(0, 1)
    k, n = space.shape[:2]
    kinds = _strains(space)
    points = _least(xy.swapaxes(0, 1).reshape(-1, 2), kinds, 2 * k, 1.0, 0.0)
    most = max(float(abs(kind.of(points)).max()) for kind in kinds)
    if most > _NOTHING:
        points = _least(points, kinds, 2 * k, most, _SHARP)
    flat: FloatArray = points.reshape(n, k, 2)
    return flat.copy() if flip else flat.swapaxes(0, 1).copy()


def _strains(space: FloatArray) -> tuple[_Strains, _Strains]:
    """Strains of edges and of cells, points being counted along the grid's columns."""
    k, n = space.shape[:2]
    points, p = space.swapaxes(0, 1).reshape(-1, 3), np.arange(k * n).reshape(n, k).T
    d, e = space[1:, 1:] - space[:-1, :-1], space[1:, :-1] - space[:-1, 1:]
    area = 0.5 * np.linalg.norm(np.cross(d, e), axis=-1)
    beside = np.pad(0.5 * area, 1)  # half of each cell goes to each of two edges across
    row_area, column_area = (beside[1:] + beside[:-1])[:, 1:-1], (beside[:, 1:] + beside[:, :-1])[1:-1]
    row, column = (p[:, :-1], p[:, 1:]), (p[:-1], p[1:])
    edges = np.column_stack([np.append(a, b) for a, b in zip(row, column, strict=True)])
    stretch = 0.5 / ((points[edges[:, 1]] - points[edges[:, 0]]) ** 2).sum(axis=1)
    cells = np.column_stack([c.ravel() for c in (p[:-1, :-1], p[1:, :-1], p[:-1, 1:], p[1:, 1:])])
    shear = 0.5 / (np.linalg.norm(d + e, axis=-1) * np.linalg.norm(d - e, axis=-1)).ravel()
    return (
        _placed(points, edges, stretch, np.append(row_area, column_area)),
        _placed(points, cells, shear, area.ravel()),
    )


def _placed(points: FloatArray, nodes: IntArray, factor: FloatArray, area: FloatArray) -> _Strains:
    unit = (2 * nodes[:, :, None] + np.arange(2)).reshape(len(nodes), -1)
    low, high = np.tril_indices(unit.shape[1])
    band = (unit[:, low] - unit[:, high]) * (2 * len(points)) + unit[:, high]
    target = factor * _difference((_ways(points, nodes) ** 2).sum(axis=-1))
    return _Strains(nodes, factor, target, area, unit, (low, high), band)


def _ways(points: FloatArray, nodes: IntArray) -> FloatArray:
    """(1, m, 2 or 3) of edges from end to end, (2, m, 2 or 3) of cells along their two diagonals."""
    x = points[nodes]
    if nodes.shape[1] == 2:
        return np.asarray((x[:, 1] - x[:, 0])[None])
    return np.stack((x[:, 3] - x[:, 0], x[:, 1] - x[:, 2]))


def _difference(squares: FloatArray) -> FloatArray:
    """(m,) squares of edges (1, m) as they are, of cells (2, m) the first diagonal's less the second's."""
    return np.asarray(squares[0] if len(squares) == 1 else squares[0] - squares[1])


def _least(points: FloatArray, kinds: tuple[_Strains, ...], block: int, scale: float, sharp: float) -> FloatArray:
    """Points moved until the sum of area × cost of strain / scale is least: cosh(sharp × it), or, sharp 0, its square.

    points  : (k × n, 2) first guess [mm]
    block   : unknowns of one row of points along the shorter side
    returns : (k × n, 2) [mm]
    """
    still = _STILL * float(np.ptp(points, axis=0).max())
    height = 1 + max(int((kind.unit[:, -1] - kind.unit[:, 0]).max()) for kind in kinds)
    total = _total(points, kinds, scale, sharp)
    for _ in range(_ROUNDS):
        band, slope = _equations(points, kinds, scale, sharp, height)
        step = -solved(band, slope, block).reshape(-1, 2)
        full = float(abs(step).max())
        for _ in range(_HALVINGS):
            if (new := _total(points + step, kinds, scale, sharp)) <= total:
                break
            step *= 0.5
        else:
            break
        points, total = points + step, new
        if full < still:
            break
    return points


def _total(points: FloatArray, kinds: tuple[_Strains, ...], scale: float, sharp: float) -> float:
    return sum(float(kind.area @ _cost(kind.of(points) / scale, sharp)[0]) for kind in kinds)


def _equations(
    points: FloatArray, kinds: tuple[_Strains, ...], scale: float, sharp: float, height: int
) -> tuple[FloatArray, FloatArray]:
    """Newton's: the matrix's diagonals from the main one down (height, unknowns), and the slope (unknowns,)."""
    band, slope = np.zeros(height * points.size), np.zeros(points.size)
    for kind in kinds:
        _, first, second = _cost(kind.of(points) / scale, sharp)
        slopes = kind.slopes(points) / scale
        stiff = (kind.area * second)[:, None] * slopes
        products = stiff[:, kind.pair[0]] * slopes[:, kind.pair[1]]
        band += np.bincount(kind.band.ravel(), products.ravel(), len(band))
        slope += np.bincount(kind.unit.ravel(), ((kind.area * first)[:, None] * slopes).ravel(), len(slope))
    band[: points.size] += _DAMPING * band[: points.size].mean()
    return band.reshape(height, -1), slope


def _cost(strain: FloatArray, sharp: float) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Cost of strains, and its first and second derivative."""
    if sharp == 0.0:
        return strain * strain, 2.0 * strain, np.full_like(strain, 2.0)
    angle = np.clip(sharp * strain, -_FAR, _FAR)
    even = np.cosh(angle)
    return even - 1.0, sharp * np.sinh(angle), sharp**2 * even
