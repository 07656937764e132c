"""Smooth curves by points and tangents, cut and joined exactly: what a rib's edge is made of before it becomes arcs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section import hermite


@dataclass(frozen=True, eq=False)
class Curve:
    """Points of a smooth curve with unit tangents, read between them by cubic Hermite.

    xy      : (n, 2) points [mm]
    tangent : (n, 2) unit tangents
    """

    xy: FloatArray
    tangent: FloatArray

    def at(self, u: float) -> tuple[FloatArray, FloatArray]:
        """Point (2,) and unit tangent (2,) at a place between the points: 2.25 is a quarter past the third."""
        i = min(int(u), len(self.xy) - 2)
        ends, ways = (self.xy[i], self.xy[i + 1]), (self.tangent[i], self.tangent[i + 1])
        point, speed = hermite.between(ends, ways, self._steps[i], np.asarray(u - i))
        return point, speed / np.hypot(*speed)

    def between(self, start: float | None, end: float | None) -> Curve:
        """The stretch between two places; None for the curve's own end."""
        low = 0 if start is None else int(np.floor(start)) + 1
        high = len(self.xy) if end is None else int(np.ceil(end))
        xy, tangent = self.xy[low:high], self.tangent[low:high]
        for place, first in ((start, True), (end, False)):
            if place is None:
                continue
            point, way = self.at(place)
            if len(xy) and np.hypot(*(xy[0 if first else -1] - point)) < 1e-7:
                xy, tangent = (xy[1:], tangent[1:]) if first else (xy[:-1], tangent[:-1])
            parts = ([point], xy) if first else (xy, [point])
            ways = ([way], tangent) if first else (tangent, [way])
            xy, tangent = np.vstack(parts), np.vstack(ways)
        return Curve(xy, tangent)

    def back(self) -> Curve:
        """The same curve gone the other way."""
        return Curve(self.xy[::-1], -self.tangent[::-1])

    def then(self, other: Curve) -> Curve:
        """Itself and another that goes on smoothly from its end."""
        return Curve(np.vstack([self.xy, other.xy[1:]]), np.vstack([self.tangent, other.tangent[1:]]))

    @cached_property
    def _steps(self) -> FloatArray:
        """(n - 1,) length of each stretch [mm]."""
        return hermite.steps(self.xy, self.tangent)

    @cached_property
    def length_mm(self) -> float:
        """Length of the curve [mm]."""
        return float(self._steps.sum())


@dataclass(frozen=True, eq=False)
class Side:
    """One long edge of a rib, nose to tail: curves that meet at corners."""

    curves: tuple[Curve, ...]

    @cached_property
    def xy(self) -> FloatArray:
        """(n, 2) the points of all its curves [mm]."""
        return np.vstack([curve.xy for curve in self.curves])

    @cached_property
    def _aft(self) -> FloatArray:
        """(n, 2) the points that run aft, from the foremost one on: none lies ahead of one before it."""
        points = self.xy[int(np.argmin(self.xy[:, 0])) :]
        farthest = np.maximum.accumulate(points[:, 0])
        return np.asarray(points[np.append(True, points[1:, 0] > farthest[:-1])])

    @property
    def length_mm(self) -> float:
        """Length of all its curves [mm]."""
        return sum(curve.length_mm for curve in self.curves)

    def y(self, x: FloatArray) -> FloatArray:
        """Height at many x, straight between points [mm]."""
        return np.asarray(np.interp(x, *self._aft.T))


def joined(runs: Sequence[Curve]) -> Side:
    """Runs that were moved inwards, joined again at their corners.

    Where two now cross (a corner that stands out) both end at the crossing; where they are apart (a corner that stands
    in) both go on straight along their tangents until they meet.
    """
    curves = [runs[0]]
    for run in runs[1:]:
        before = curves.pop()
        curves += _rejoined(before, run)
    return Side(tuple(curves))


def _rejoined(before: Curve, after: Curve) -> tuple[Curve, Curve]:
    if np.hypot(*(before.xy[-1] - after.xy[0])) < 1e-6:
        return before, after
    crossing = _crossing(before, after)
    if crossing is not None:
        u, v = crossing
        return before.between(None, u), after.between(v, None)
    a, b = before.tangent[-1], -after.tangent[0]
    reach = np.linalg.solve(np.column_stack([a, -b]), after.xy[0] - before.xy[-1])
    corner = before.xy[-1] + reach[0] * a
    return (
        Curve(np.vstack([before.xy, corner]), np.vstack([before.tangent, a])),
        Curve(np.vstack([corner, after.xy]), np.vstack([-b, after.tangent])),
    )


def _crossing(before: Curve, after: Curve) -> tuple[float, float] | None:
    """Places where two curves cross, by their chords and then by Newton's method on the curves."""
    p, q = before.xy[:-1, None], after.xy[None, :-1]
    d, e = np.diff(before.xy, axis=0)[:, None], np.diff(after.xy, axis=0)[None]
    cross = d[..., 0] * e[..., 1] - d[..., 1] * e[..., 0]
    gap = q - p
    with np.errstate(divide="ignore", invalid="ignore"):
        s = (gap[..., 0] * e[..., 1] - gap[..., 1] * e[..., 0]) / cross
        t = (gap[..., 0] * d[..., 1] - gap[..., 1] * d[..., 0]) / cross
    hits = np.argwhere((s >= 0) & (s <= 1) & (t >= 0) & (t <= 1))
    if not len(hits):
        return None
    i, j = hits[-1]
    u, v = i + float(s[i, j]), j + float(t[i, j])
    reach = np.hypot(*(before.xy[i + 1] - before.xy[i])), np.hypot(*(after.xy[j + 1] - after.xy[j]))
    for _ in range(6):
        (a, at), (b, bt) = before.at(u), after.at(v)
        (ax, ay), (bx, by), (x, y) = at * reach[0], -bt * reach[1], b - a
        turn = ax * by - ay * bx
        du, dv = (x * by - y * bx) / turn, (ax * y - ay * x) / turn
        u, v = min(max(u + du, i), i + 1.0), min(max(v + dv, j), j + 1.0)
        if abs(du) + abs(dv) < 1e-13:
            break
    return u, v
