"""The long edges of many ribs at once, in arrays of equal length: moved, cut and read all together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import BoolArray, FloatArray, IntArray
from geomgen.blade.curve import Curve, Side, joined
from geomgen.section import hermite


@dataclass(frozen=True, eq=False)
class Edges:
    """One long edge of each of k ribs, nose to tail, in arrays of equal length.

    xy, tangent : (k, n, 2) points [mm] and unit tangents; a corner's point stands twice, as in `Surface`. What stands
                  ahead of an edge's first point repeats it
    first, last : (k,) index of each edge's first and last point
    corners     : of each edge, index of the first of the two points of each corner
    """

    xy: FloatArray
    tangent: FloatArray
    first: IntArray
    last: IntArray
    corners: tuple[tuple[int, ...], ...]

    def side(self, k: int) -> Side:
        """One rib's edge, as curves from corner to corner."""
        inside = [c for c in self.corners[k] if self.first[k] <= c < self.last[k]]
        starts, ends = (self.first[k], *(c + 1 for c in inside)), (*(c + 1 for c in inside), self.last[k] + 1)
        curves = (Curve(self.xy[k, i:j], self.tangent[k, i:j]) for i, j in zip(starts, ends, strict=True))
        return Side(tuple(curves))

    def least_radius(self, sense: float) -> FloatArray:
        """(k,) least radius ahead of any corner where the edge turns in a sense (+1 anticlockwise) [mm].

        Negative where it runs back, infinite where it never turns so.
        """
        length, before_corner = self._steps()
        a, b = self.tangent[:, :-1], self.tangent[:, 1:]
        turn = sense * np.arcsin(np.clip(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0], -1.0, 1.0))
        turns = (turn > 1e-9) & before_corner
        return np.asarray(np.divide(length, turn, where=turns, out=np.full(turn.shape, np.inf)).min(axis=1))

    def forward_part(self, which: BoolArray) -> Edges:
        """The edges, those of some ribs (k,) from behind the last step ahead of any corner that runs back."""
        length, before_corner = self._steps()
        back = ((length <= 0) | (np.diff(self.xy[..., 0]) <= 0)) & before_corner
        start = np.max(np.where(back, np.arange(1, back.shape[1] + 1), 0), axis=1)
        return self._from(np.where(which, np.maximum(start, self.first), self.first))

    def _steps(self) -> tuple[FloatArray, BoolArray]:
        """(k, n - 1) signed length of each step along its tangent [mm], and whether it is ahead of any corner."""
        chord, way = np.diff(self.xy, axis=1), (self.tangent[:, 1:] + self.tangent[:, :-1]) / 2
        end = np.array([min(corners, default=chord.shape[1]) for corners in self.corners])
        along = chord[..., 0] * way[..., 0] + chord[..., 1] * way[..., 1]
        return along, np.arange(chord.shape[1]) < end[:, None]

    def _from(self, first: IntArray) -> Edges:
        """The edges from other first points on."""
        index = np.maximum(np.arange(self.xy.shape[1]), first[:, None])[..., None]
        xy, tangent = (np.take_along_axis(of, index, axis=1) for of in (self.xy, self.tangent))
        return replace(self, xy=xy, tangent=tangent, first=first)

    def aft(self) -> tuple[FloatArray, FloatArray]:
        """(k, n) x, never falling, and y from the foremost point on, which also stands for what is ahead of it [mm]."""
        index = np.maximum(np.arange(self.xy.shape[1]), np.argmin(self.xy[..., 0], axis=1)[:, None])
        x, y = (np.take_along_axis(self.xy[..., c], index, axis=1) for c in (0, 1))
        return np.maximum.accumulate(x, axis=1), y

    def at(self, x: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Where each edge reaches its own x (k,) [mm], on its way aft.

        returns : (k,) places between the points (2.25 is a quarter past the third), (k, 2) points, (k, 2) unit tangents
        """
        stretch, share = hermite.crossings(self.xy, self.tangent, x[:, None])
        row, both = np.arange(len(x))[:, None], stretch + np.arange(2)
        xy, ways = self.xy[row, both], self.tangent[row, both]
        ends = (xy[:, 0], xy[:, 1]), (ways[:, 0], ways[:, 1])
        point, speed = hermite.between(*ends, hermite.steps(xy, ways)[:, 0], share[:, 0])
        return (stretch + share)[:, 0], point, speed / np.hypot(speed[:, 0], speed[:, 1])[:, None]

    def cut(self, x: FloatArray, which: BoolArray, nose: bool) -> Edges:
        """The edges, those of some ribs (k,) begun (`nose`) or ended at their own x (k,) [mm], points exactly there."""
        place, point, way = self.at(x)
        at, on = (np.floor(place).astype(np.intp), 1) if nose else (np.ceil(place).astype(np.intp), -1)
        row = np.arange(len(x))
        near = np.clip(at + on, 0, self.xy.shape[1] - 1)
        at = np.where(np.hypot(*(self.xy[row, near] - point).T) < 1e-7, near, at)  # no point stands twice
        xy, tangent = self.xy.copy(), self.tangent.copy()
        xy[row[which], at[which]], tangent[row[which], at[which]] = point[which], way[which]
        done = replace(self, xy=xy, tangent=tangent)
        if nose:
            return done._from(np.where(which, at, self.first))
        return replace(done, last=np.where(which, at, self.last))


def gathered(curves: Sequence[tuple[FloatArray, FloatArray]], corners: Sequence[tuple[int, ...]]) -> Edges:
    """Edges out of each one's (n, 2) points [mm] and unit tangents, and its corners, counted from its first point."""
    sizes = np.array([len(xy) for xy, _ in curves], dtype=np.intp)
    n = int(sizes.max())
    first = n - sizes
    index = (np.cumsum(sizes) - n)[:, None] + np.maximum(np.arange(n), first[:, None])
    xy, tangent = (np.concatenate([curve[c] for curve in curves])[index] for c in (0, 1))
    moved = tuple(tuple(c + ahead for c in some) for some, ahead in zip(corners, first.tolist(), strict=True))
    return Edges(xy, tangent, first, np.full(len(sizes), n - 1), moved)


def rejoined(edges: Edges) -> Edges:
    """Edges that were moved inwards, their runs joined again at their corners (see `joined`)."""
    if not any(edges.corners):
        return edges
    sides = [joined(edges.side(k).curves) for k in range(len(edges.xy))]
    curves = [(np.concatenate([c.xy for c in s.curves]), np.concatenate([c.tangent for c in s.curves])) for s in sides]
    corners = [tuple((np.cumsum([len(c.xy) for c in side.curves])[:-1] - 1).tolist()) for side in sides]
    return gathered(curves, corners)
