"""Lines and arcs as arrays: lengths, moments, bounds and flattening of many segments at once.

A segment runs from `start` to `end`; its bulge is tan(included angle / 4), positive where it turns
anticlockwise, 0 for a straight line (the convention of the LWPOLYLINE entity).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import FloatArray

_SERIES_BELOW = 0.15  # half angle [rad] below which the closed forms lose digits and their power series is exact
# power series in the half angle a of a circular segment over a chord of length 1; lowest power first
_AREA = np.array([1 / 6, 1 / 45, 1 / 315, 2 / 4725, 1 / 18711])  # times a
_FIRST = np.array([1 / 60, 1 / 252, 1 / 1350, 1 / 8316, 691 / 38697750])  # times a^2
_ALONG = np.array([1 / 120, 1 / 630, 1 / 3150, 1 / 17325, 823 / 85135050])  # times a
_ACROSS = np.array([1 / 420, 1 / 1260, 19 / 103950, 397 / 11351340])  # times a^3


@dataclass(frozen=True)
class Moments:
    """Integrals over an area, signed by the direction it is gone round (anticlockwise is positive).

    area  : integral of dA [mm2]
    first : integrals of x and y [mm3]
    xx, yy, xy : integrals of x^2, y^2 and x y about the origin [mm4]
    """

    area: float
    first: tuple[float, float]
    xx: float
    yy: float
    xy: float

    def plus(self, other: Moments, times: float = 1.0) -> Moments:
        """These moments and `times` the other's."""
        return Moments(
            self.area + times * other.area,
            (self.first[0] + times * other.first[0], self.first[1] + times * other.first[1]),
            self.xx + times * other.xx,
            self.yy + times * other.yy,
            self.xy + times * other.xy,
        )


@dataclass(frozen=True, eq=False)
class Segments:
    """Lines and arcs, each on its own row.

    start : (n, 2) [mm]
    end   : (n, 2) [mm]
    bulge : (n,) tan(included angle / 4) [-]
    """

    start: FloatArray
    end: FloatArray
    bulge: FloatArray

    @property
    def chord(self) -> FloatArray:
        """(n,) straight distance from start to end [mm]."""
        step = self.end - self.start
        return np.hypot(step[:, 0], step[:, 1])

    @property
    def angle(self) -> FloatArray:
        """(n,) included angle, positive anticlockwise [rad]."""
        return 4.0 * np.arctan(self.bulge)

    def radius(self) -> FloatArray:
        """(n,) radius, infinite for a line [mm]."""
        with np.errstate(divide="ignore", over="ignore"):
            return self.chord * (1.0 + self.bulge**2) / (4.0 * np.abs(self.bulge))

    def center(self) -> FloatArray:
        """(n, 2) centre of each arc; not finite for a line [mm]."""
        step = self.end - self.start
        left = np.column_stack((-step[:, 1], step[:, 0]))
        with np.errstate(divide="ignore", over="ignore", invalid="ignore"):
            apothem = (1.0 - self.bulge**2) / (4.0 * self.bulge)
            return 0.5 * (self.start + self.end) + left * apothem[:, None]

    def lengths(self) -> FloatArray:
        """(n,) length along the segment [mm]."""
        shrink: FloatArray = np.sinc(2.0 * np.arctan(np.abs(self.bulge)) / np.pi)
        return self.chord / shrink

    def directions(self) -> tuple[FloatArray, FloatArray]:
        """(n,) direction of travel at the start and at the end, against the x axis [rad]."""
        step = self.end - self.start
        along = np.arctan2(step[:, 1], step[:, 0])
        half = 2.0 * np.arctan(self.bulge)
        return along - half, along + half

    def points(self, share: FloatArray) -> FloatArray:
        """(n, 2) the point at a share of each segment's angle [mm]; `share` is (n,) in 0..1."""
        start, _ = self.directions()
        turn = self.angle * share
        run = self.lengths() * share * np.sinc(0.5 * turn / np.pi)
        heading = start + 0.5 * turn
        reached: FloatArray = self.start + run[:, None] * np.column_stack((np.cos(heading), np.sin(heading)))
        return reached

    def moments(self) -> Moments:
        """Moments of what the segments enclose, taken as one closed ring."""
        (x0, y0), (x1, y1) = self.start.T, self.end.T
        cross = x0 * y1 - x1 * y0
        area, first_across, along, across = _round_parts(self.bulge)
        chord = self.chord
        mid = 0.5 * (self.start + self.end)
        e = (self.end - self.start) / np.where(chord > 0.0, chord, 1.0)[:, None]
        n = np.column_stack((e[:, 1], -e[:, 0]))  # to the right of travel, where a positive bulge lies
        area, first_across = area * chord**2, first_across * chord**3
        along, across = along * chord**4, across * chord**4

        def second(i: int, j: int) -> float:
            round_part = (
                area * mid[:, i] * mid[:, j]
                + first_across * (mid[:, i] * n[:, j] + mid[:, j] * n[:, i])
                + along * e[:, i] * e[:, j]
                + across * n[:, i] * n[:, j]
            )
            return float(round_part.sum())

        fx, fy = (area[:, None] * mid + first_across[:, None] * n).sum(axis=0)
        return Moments(
            area=float(0.5 * cross.sum() + area.sum()),
            first=(float(((x0 + x1) * cross).sum() / 6.0 + fx), float(((y0 + y1) * cross).sum() / 6.0 + fy)),
            xx=float(((x0 * x0 + x0 * x1 + x1 * x1) * cross).sum() / 12.0) + second(0, 0),
            yy=float(((y0 * y0 + y0 * y1 + y1 * y1) * cross).sum() / 12.0) + second(1, 1),
            xy=float(((2.0 * x0 * y0 + x0 * y1 + x1 * y0 + 2.0 * x1 * y1) * cross).sum() / 24.0) + second(0, 1),
        )

    def boxes(self) -> tuple[FloatArray, FloatArray]:
        """(n, 2) least and (n, 2) greatest x and y of each segment, arcs included [mm]."""
        return self._boxes

    @cached_property
    def _boxes(self) -> tuple[FloatArray, FloatArray]:
        low, high = np.minimum(self.start, self.end), np.maximum(self.start, self.end)
        arc = np.flatnonzero(self.bulge)
        if len(arc):
            arcs = self.rows(arc)
            begin, turn = arcs.directions()[0], arcs.angle
            quarters = 0.5 * np.pi * np.arange(4)[:, None]  # x or y is greatest or least where it heads along an axis
            ahead = np.mod(np.sign(turn) * (quarters - begin), 2.0 * np.pi)
            quarter, passed = np.nonzero(ahead < np.abs(turn))
            reached = arcs.rows(passed).points(ahead[quarter, passed] / np.abs(turn[passed]))
            np.minimum.at(low, arc[passed], reached)
            np.maximum.at(high, arc[passed], reached)
        return low, high

    def bounds(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y of all, arcs included [mm]."""
        low, high = self.boxes()
        (x0, y0), (x1, y1) = low.min(axis=0), high.max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)

    def rows(self, which: NDArray[np.intp]) -> Segments:
        """Only the rows asked for, in that order."""
        return Segments(self.start[which], self.end[which], self.bulge[which])

    def split(self, most_rad: float) -> tuple[Segments, NDArray[np.intp]]:
        """The same with every arc in equal parts of at most `most_rad`; and the row each part comes from."""
        count = np.maximum(np.ceil(np.abs(self.angle) / most_rad), 1.0).astype(np.intp)
        row = np.repeat(np.arange(len(count)), count)
        part = np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)
        whole = self.rows(row)
        end = np.where((part + 1 == count[row])[:, None], whole.end, whole.points((part + 1) / count[row]))
        start = np.where((part == 0)[:, None], whole.start, np.roll(end, 1, axis=0))
        return Segments(start, end, np.tan(0.25 * self.angle / count)[row]), row

    def flattened(self, tol_mm: float) -> tuple[FloatArray, NDArray[np.intp]]:
        """Chords within `tol_mm` of each segment, their corners on it.

        returns : (m, 2) the points from each start up to, but without, each end [mm]; (m,) row each belongs to
        """
        if not tol_mm > 0.0:
            raise ValueError(f"a flattening tolerance must be greater than 0 mm, not {tol_mm}")
        turn = np.abs(self.angle)
        with np.errstate(invalid="ignore"):
            per_chord = 2.0 * np.arccos(np.clip(1.0 - tol_mm / self.radius(), 0.0, 1.0))
        with np.errstate(divide="ignore", invalid="ignore"):
            steps = np.where(turn > 0.0, np.ceil(turn / per_chord - 1e-9), 1.0)
        # the nearly straight: an arc no higher than the tolerance is one chord
        height = 0.5 * self.chord * np.abs(self.bulge)
        count = np.where(height <= tol_mm, 1, np.maximum(steps, 1.0)).astype(np.intp)
        row = np.repeat(np.arange(len(count)), count)
        share = (np.arange(len(row)) - np.repeat(np.cumsum(count) - count, count)) / count[row]
        return self.rows(row).points(share), row


def _round_parts(bulge: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    """Area, first moment across, second moments along and across of the piece between arc and chord.

    Over a chord of length 1, about its middle; the area is positive where the arc turns anticlockwise.
    bulge  : (n,) [-]
    source : circular segment, by integration; below `_SERIES_BELOW` the power series of the same
    """
    half = 2.0 * np.arctan(bulge)
    z = half * half
    area = half * np.polyval(_AREA[::-1], z)
    first = z * np.polyval(_FIRST[::-1], z)
    along = half * np.polyval(_ALONG[::-1], z)
    across = half * z * np.polyval(_ACROSS[::-1], z)
    big = np.abs(half) > _SERIES_BELOW
    if big.any():
        a = half[big]
        s, c = np.sin(a), np.cos(a)
        apothem = 0.5 * c / s
        wide = (a - s * c) / (4.0 * s**2)
        area[big] = wide
        first[big] = 1.0 / 12.0 - apothem * wide
        along[big] = (3.0 * a - 3.0 * s * c - 2.0 * s**3 * c) / (192.0 * s**4)
        across[big] = (a - s * c + 2.0 * s**3 * c) / (64.0 * s**4) - apothem / 6.0 + apothem**2 * wide
    return area, first, along, across
