"""A surface in space laid flat: a skin's grid of points to its flat pattern.

Each bay between two rows is a strip of cells that is developed exactly, triangle by triangle; the bays are fitted to
each other along their common rows, and what doesn't fit is spread over the whole as little stretch as can be.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geomgen.arrays import FloatArray
from geomgen.unroll.relax import relaxed

ComplexArray = NDArray[np.complex128]

_APART = 1e-9  # neighbours nearer than this share of the whole grid's extent are the same point


@dataclass(frozen=True, eq=False)
class Unrolled:
    """A grid of points and the same grid in the flat.

    The flat's x runs along the columns, their mean direction lying along x; its y runs along the rows, and the least x
    and y are 0. Seen from the side that d/du × d/dv points to (u counts rows, v columns), the pattern is not mirrored.

    xy          : (k, n, 2) the points in the flat [mm]
    space       : (k, n, 3) the points as given [mm]
    mismatch_mm : greatest gap between neighbouring bays when each is laid flat on its own and fitted rigidly to its
                  neighbour [mm]
    stretch     : least and greatest of length in the flat over length in space, less 1, of all row edges, column edges
                  and both diagonals of cells [-]
    """

    xy: FloatArray
    space: FloatArray
    mismatch_mm: float
    stretch: tuple[float, float]

    def at(self, u: ArrayLike, v: ArrayLike) -> FloatArray:
        """Points in the flat at places counted in rows and columns: u = 2.25 is a quarter past the third row.

        u, v    : (m,) or one figure for all; 0 to k - 1 and 0 to n - 1, straight between neighbours
        returns : (m, 2) [mm]
        raises  : ValueError on a place off the grid
        """
        u, v = np.broadcast_arrays(np.atleast_1d(np.asarray(u, np.float64)), np.asarray(v, np.float64))
        k, n = self.xy.shape[:2]
        if not (np.all((u >= 0.0) & (u <= k - 1.0)) and np.all((v >= 0.0) & (v <= n - 1.0))):
            raise ValueError(f"places must be from 0 to {k - 1} in rows and from 0 to {n - 1} in columns")
        i, j = np.minimum(u.astype(np.intp), k - 2), np.minimum(v.astype(np.intp), n - 2)
        s, t = (u - i)[:, None], (v - j)[:, None]
        near = (1.0 - t) * self.xy[i, j] + t * self.xy[i, j + 1]
        far = (1.0 - t) * self.xy[i + 1, j] + t * self.xy[i + 1, j + 1]
        found: FloatArray = (1.0 - s) * near + s * far
        return found


def unroll(grid: ArrayLike) -> Unrolled:
    """A surface laid flat with as little stretch as can be, spread evenly.

    grid   : (k, n, 3) points, k, n >= 2, neighbours apart; columns run along the rulings of the surface, or nearly [mm]
    raises : ValueError on another shape, a figure that is not finite, coincident neighbours, a cell without area
    source : development of a ruled surface by triangulation, from memory; a rigid fit is the least-squares rotation of
             two sets of points (Kabsch); what is relaxed, see `relaxed`
    """
    space = np.array(grid, dtype=np.float64)
    _check(space)
    near, far = _bays(space)
    laid, mismatch = _joined(near, far, _shares(space))
    xy = relaxed(np.stack((laid.real, laid.imag), axis=-1), space)
    xy = _squared(xy, space)
    change = [flat / true - 1.0 for flat, true in zip(_lengths(xy), _lengths(space), strict=True)]
    stretch = min(float(c.min()) for c in change), max(float(c.max()) for c in change)
    for array in (xy, space):
        array.flags.writeable = False
    return Unrolled(xy, space, mismatch, stretch)


def _check(space: FloatArray) -> None:
    if space.ndim != 3 or space.shape[2] != 3 or min(space.shape[:2]) < 2:
        raise ValueError(f"a grid has two or more rows and columns of points in space, not the shape {space.shape}")
    if not np.isfinite(space).all():
        raise ValueError("a grid's figures must all be finite")
    extent = float(np.ptp(space, axis=(0, 1)).max())
    for name, length in zip(("row", "column", "diagonal", "diagonal"), _lengths(space), strict=True):
        if (same := np.argwhere(length <= _APART * extent)).size:
            raise ValueError(f"neighbouring points of a {name} coincide at row {same[0][0]}, column {same[0][1]}")
    across = np.cross(space[1:, 1:] - space[:-1, :-1], space[:-1, 1:] - space[1:, :-1])
    if (flat := np.argwhere(np.linalg.norm(across, axis=-1) <= (_APART * extent) ** 2)).size:
        raise ValueError(f"the cell after row {flat[0][0]}, column {flat[0][1]} has no area")


def _lengths(points: FloatArray) -> tuple[FloatArray, ...]:
    """Lengths of row edges (k, n - 1), column edges (k - 1, n), and the two diagonals of each cell (k - 1, n - 1)."""
    pairs = (
        (points[:, 1:], points[:, :-1]),
        (points[1:], points[:-1]),
        (points[1:, 1:], points[:-1, :-1]),
        (points[1:, :-1], points[:-1, 1:]),
    )
    return tuple(np.linalg.norm(a - b, axis=-1) for a, b in pairs)


def _shares(space: FloatArray) -> FloatArray:
    """(n,) share of the rows' length that each column stands for, half the way to each neighbour."""
    step = np.linalg.norm(np.diff(space, axis=1), axis=-1).sum(axis=0)
    share = 0.5 * (np.append(0.0, step) + np.append(step, 0.0))
    return np.asarray(share / share.sum())


def _bays(space: FloatArray) -> tuple[ComplexArray, ComplexArray]:
    """Each bay laid flat on its own, beginning at 0 with its first column along x: (k - 1, n) near and far row.

    The cell a b d c has its column a b laid along x; the next, c d, follows as the mean of the triangles to either side
    of the one diagonal and of the other. Cells are then strung together by adding up turns and steps.
    """
    a, b, c, d = space[:-1, :-1], space[1:, :-1], space[:-1, 1:], space[1:, 1:]
    lead_d, lead_c = _over(a, b, d), _over(a, b, c)
    over_ad = lead_d / abs(lead_d) * _over(a, d, c)
    back = lead_c - _norm(b - a)  # from b to c
    over_bc = _norm(b - a) + back / abs(back) * _over(b, c, d).conj()
    step = 0.5 * (over_ad + lead_c)
    turn = 0.5 * (np.angle(lead_d - over_ad) + np.angle(over_bc - lead_c))
    first = np.zeros((len(step), 1))
    way = np.exp(1j * np.hstack((first, np.cumsum(turn, axis=1))))
    near = np.hstack((first, np.cumsum(way[:, :-1] * step, axis=1)))
    return near, near + way * _norm(np.diff(space, axis=0))


def _over(p: FloatArray, q: FloatArray, r: FloatArray) -> ComplexArray:
    """r as a point in the plane with p at 0 and q on the x axis, y >= 0."""
    base, v = (q - p) / _norm(q - p)[..., None], r - p
    x = (base * v).sum(axis=-1)
    found: ComplexArray = x + 1j * _norm(v - x[..., None] * base)
    return found


def _norm(v: FloatArray) -> FloatArray:
    return np.asarray(np.linalg.norm(v, axis=-1))


def _joined(near: ComplexArray, far: ComplexArray, share: FloatArray) -> tuple[ComplexArray, float]:
    """(k, n) bays fitted to each other, a common row half way between the two, and the greatest gap between them.

    near, far : (bays, n) rows of each bay
    share     : (n,) weight of each column in the fit, sum 1
    """
    last, first = far[:-1], near[1:]
    last_mid, first_mid = (last @ share)[:, None], (first @ share)[:, None]
    turn = ((last - last_mid) * (first - first_mid).conj()) @ share
    turn = (turn / abs(turn))[:, None]
    gap = last - last_mid - turn * (first - first_mid)
    turns = np.cumprod(np.vstack((np.ones((1, 1)), turn)), axis=0)
    steps = turns[:-1] * (last_mid - turn * first_mid)
    starts = np.vstack((np.zeros((1, 1)), np.cumsum(steps, axis=0)))
    begin, end = starts + turns * near, starts + turns * far
    rows = np.vstack((begin[:1], 0.5 * (end[:-1] + begin[1:]), end[-1:]))
    return rows, float(abs(gap).max(initial=0.0))


def _squared(xy: FloatArray, space: FloatArray) -> FloatArray:
    """A pattern turned so that its columns' mean direction is x, and moved to x, y >= 0."""
    way = xy[-1] - xy[0]
    x, y = _shares(space) @ (way / _norm(way)[:, None])
    turned = xy @ (np.array([[x, -y], [y, x]]) / np.hypot(x, y))
    return np.asarray(turned - turned.min(axis=(0, 1)))
