"""Many densely sampled smooth curves laid end to end in one array, so that all are worked at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.biarc import cross, dot

_STRAIGHT_RAD = 1e-8  # an interval turning by less than this is straight


@dataclass(frozen=True, eq=False)
class Samples:
    """Exact points and tangents of m curves, n samples in all.

    Between two samples a curve is taken as the cubic Hermite curve through them, its end speeds the length of the arc
    over the chord: samples are to be so dense that this is exact to a small part of the tolerance.

    xy          : (n, 2) [mm]
    way         : (n, 2) unit tangents
    along       : (n,) length along all curves, going on from one to the next [mm]
    turn        : (n - 1,) angle the tangent turns by in each interval, 0 between curves [rad]
    first, last : (m,) index of each curve's first and last sample
    """

    xy: FloatArray
    way: FloatArray
    along: FloatArray
    turn: FloatArray
    first: IntArray
    last: IntArray

    @property
    def lengths(self) -> FloatArray:
        """(m,) length of each curve [mm]."""
        length: FloatArray = self.along[self.last] - self.along[self.first]
        return length

    def at(self, along: FloatArray, curve: IntArray) -> tuple[FloatArray, FloatArray]:
        """Points and unit tangents at lengths along given curves.

        along   : (k,) [mm]
        curve   : (k,) which curve each is on
        returns : (k, 2) [mm], (k, 2)
        """
        i, u, step = self._stretch(along, curve)
        u, step = u[:, None], step[:, None]
        leave, arrive = step * self.way[i], step * self.way[i + 1]
        rest, chord = 1.0 - u, self.xy[i + 1] - self.xy[i]
        xy = self.xy[i] + u * u * (3.0 - 2.0 * u) * chord + u * rest * (rest * leave - u * arrive)
        way = 6.0 * u * rest * chord + rest * (1.0 - 3.0 * u) * leave + u * (3.0 * u - 2.0) * arrive
        return xy, way / np.hypot(way[:, 0], way[:, 1])[:, None]

    def points(self, along: FloatArray, curve: IntArray) -> FloatArray:
        """(k, 2) points alone, as `at` gives them: a third of its time [mm]."""
        i, u, step = self._stretch(along, curve)
        rest = 1.0 - u
        far, leave, arrive = u * u * (3.0 - 2.0 * u), step * u * rest * rest, step * u * u * rest
        xy = np.empty((len(u), 2))
        for c in (0, 1):  # x and y apart: half the memory at once
            p, way = self.xy[:, c], self.way[:, c]
            here = p[i]
            xy[:, c] = here + far * (p[i + 1] - here) + leave * way[i] - arrive * way[i + 1]
        return xy

    def _stretch(self, along: FloatArray, curve: IntArray) -> tuple[IntArray, FloatArray, FloatArray]:
        """(k,) interval of each length along, share of the way through it, and its length [mm]."""
        i = np.clip(np.searchsorted(self.along, along, side="right") - 1, self.first[curve], self.last[curve] - 1)
        step = self.along[i + 1] - self.along[i]
        return i, np.clip((along - self.along[i]) / step, 0.0, 1.0), step

    def curvature(self) -> tuple[FloatArray, FloatArray]:
        """(n - 1,) size of the curvature in each interval [1/mm], and of its rate along the curve [1/mm2]."""
        step = np.diff(self.along)
        inside = step > 0.0
        step = np.where(inside, step, 1.0)
        bend = self.turn / step
        rate = np.abs(np.diff(bend)) / (0.5 * (step[1:] + step[:-1]))
        rate = np.where(inside[1:] & inside[:-1], rate, 0.0)
        before, after = np.append(0.0, rate), np.append(rate, 0.0)
        return np.abs(bend), np.maximum(before, after)

    def folds(self) -> IntArray:
        """(k,) index of each sample after which the curve stands still or runs against its own tangents."""
        chord = np.diff(self.xy, axis=0)
        onward = (dot(chord, self.way[:-1]) > 0.0) & (dot(chord, self.way[1:]) > 0.0)
        onward[self.last[:-1]] = True
        return np.flatnonzero(~onward)

    def taken(self, first: IntArray, last: IntArray) -> Samples:
        """Only the stretches from `first` to `last` (indices, both ends kept), as curves of their own."""
        count = last - first + 1
        end = np.cumsum(count)
        take = np.arange(end[-1]) - np.repeat(end - count - first, count)
        return gathered(self.xy[take], self.way[take], end - count, end - 1)

    def straights(self, least_mm: float) -> IntArray:
        """(k, 2) first and last sample of every stretch that is straight and at least this long [mm]."""
        chord = np.diff(self.xy, axis=0)
        reach = np.hypot(chord[:, 0], chord[:, 1])
        straight = (np.abs(self.turn) < _STRAIGHT_RAD) & (np.abs(cross(self.way[:-1], chord)) <= _STRAIGHT_RAD * reach)
        straight[self.last[:-1]] = False
        edge = np.diff(np.concatenate(([0], straight.astype(np.int8), [0])))
        runs = np.column_stack((np.flatnonzero(edge == 1), np.flatnonzero(edge == -1)))
        return runs[self.along[runs[:, 1]] - self.along[runs[:, 0]] >= least_mm]


def gathered(xy: FloatArray, way: FloatArray, first: IntArray, last: IntArray) -> Samples:
    """Samples of curves that lie end to end in `xy` and `way`, with lengths and turns worked out."""
    chord = np.diff(xy, axis=0)
    reach = np.hypot(chord[:, 0], chord[:, 1])
    turn = np.arctan2(cross(way[:-1], way[1:]), dot(way[:-1], way[1:]))
    between = last[:-1]
    reach[between], turn[between] = 0.0, 0.0
    arc = reach / np.sinc(0.5 * turn / np.pi)
    return Samples(xy, way, np.append(0.0, np.cumsum(arc)), turn, first, last)
