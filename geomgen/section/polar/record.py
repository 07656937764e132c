"""A section's polar as a record with its band and its source in words; several along a blade; one moved in its band."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.section.polar.cells import GRID_RAD, TURN, Cells, cells
from geomgen.section.polar.forces import SectionForces, SectionPolar

_ATTACHED_RAD = math.radians(25.0)  # the greatest lift is looked for within this


@dataclass(frozen=True, eq=False)
class Band:
    """How far a polar may be off, at each of its Reynolds numbers; (k,) each.

    slope                : of lift, share either way [-]
    zero_lift_rad        : angle without lift, either way [rad]
    greatest_lift        : either way [-]
    drag_low, drag_high  : factors of the least and of the most drag [-]
    """

    slope: FloatArray
    zero_lift_rad: FloatArray
    greatest_lift: FloatArray
    drag_low: FloatArray
    drag_high: FloatArray


@dataclass(frozen=True, eq=False)
class Polar:
    """What a section does in the air, over a whole turn and a range of Reynolds numbers.

    reynolds           : (k,) rising [-]
    alpha_rad          : (m,) rising from -pi to pi, both ends alike [rad]
    lift, drag, moment : (k, m) coefficients; moment about a quarter of the chord, nose up [-]
    band               : how far they may be off
    words              : where they came from, a sentence each
    """

    reynolds: FloatArray
    alpha_rad: FloatArray
    lift: FloatArray
    drag: FloatArray
    moment: FloatArray
    band: Band
    words: tuple[str, ...] = ()

    @cached_property
    def fine(self) -> FloatArray:
        """(3, k, 1441) lift, drag and moment at GRID_RAD [-]."""
        tables = self.lift, self.drag, self.moment
        return np.array([[np.interp(GRID_RAD, self.alpha_rad, row) for row in table] for table in tables])

    @cached_property
    def _cells(self) -> Cells:
        return cells([(self.reynolds, self.fine[:2])])

    @cached_property
    def _moments(self) -> Cells:
        return cells([(self.reynolds, self.fine[2:])])

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients at angles of attack [rad] and Reynolds numbers [-], (n,) each.

        Beyond its Reynolds numbers the last holds: `covers` says where.
        """
        values, slopes = self._cells.at(alpha_rad, reynolds, ((0, None),))
        return SectionForces(values[:, 0], slopes[:, 0], values[:, 1])

    def moment_at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> FloatArray:
        """(n,) moment coefficient about a quarter of the chord, nose up, at angles [rad] and Reynolds numbers [-]."""
        return self._moments.at(alpha_rad, reynolds, ((0, None),))[0][:, 0]

    def covers(self, reynolds: FloatArray | float) -> bool:
        """Whether all Reynolds numbers [-] are within the table."""
        asked = np.asarray(reynolds)
        return bool(np.all((asked >= self.reynolds[0]) & (asked <= self.reynolds[-1])))

    def greatest_lift(self, reynolds: float) -> float:
        """Greatest lift coefficient before stall at a Reynolds number [-]."""
        near = GRID_RAD[np.abs(GRID_RAD) < _ATTACHED_RAD]
        return float(np.max(self.at(near, np.full(len(near), reynolds)).lift))

    def band_at(self, reynolds: float) -> Band:
        """The band at one Reynolds number [-], (1,) each."""
        log, logs = [math.log(reynolds)], np.log(self.reynolds)
        band = self.band
        rows = band.slope, band.zero_lift_rad, band.greatest_lift, band.drag_low, band.drag_high
        return Band(*(np.interp(log, logs, row) for row in rows))


@dataclass(frozen=True, eq=False)
class AlongBlade:
    """Polars that go over into one another along a blade, as its shapes do: one place for each panel.

    polars : of the shapes
    share  : (n, k) of each polar at each panel; rows add up to 1 [-]
    """

    polars: tuple[Polar, ...]
    share: FloatArray

    @cached_property
    def _cells(self) -> Cells:
        return cells([(polar.reynolds, polar.fine[:2]) for polar in self.polars])

    @cached_property
    def _tables(self) -> tuple[tuple[IntArray, FloatArray], ...]:
        """The polars that take part at each panel, by falling share: first row (n,), share (n, 1)."""
        order = np.argsort(-self.share, axis=1, kind="stable")
        shares = np.take_along_axis(self.share, order, axis=1)
        most = int(np.max(np.count_nonzero(shares, axis=1)))
        size = len(self._cells.logs) * (TURN + 1)
        return tuple((order[:, i] * size, shares[:, i, None]) for i in range(most))

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients at angles of attack [rad] and Reynolds numbers [-], (n,) each, one for each panel."""
        values, slopes = self._cells.at(alpha_rad, reynolds, self._tables)
        return SectionForces(values[:, 0], slopes[:, 0], values[:, 1])

    def moment_at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> FloatArray:
        """(n,) moment coefficient about a quarter of the chord, nose up, one for each panel."""
        each = [polar.moment_at(alpha_rad, reynolds) for polar in self.polars]
        return np.asarray((self.share * np.column_stack(each)).sum(axis=1))

    def covers(self, reynolds: FloatArray) -> bool:
        """Whether the polars that take part at each panel hold its Reynolds number, (n,) [-]."""
        takes = self.share > 0.0
        return all(polar.covers(reynolds[takes[:, i]]) for i, polar in enumerate(self.polars))


@dataclass(frozen=True)
class Doubted:
    """Any polar moved within its band. Angles are drawn out about the one without lift, less and less aft.

    polar         : any
    slope         : factor on the slope of lift [-]
    zero_lift_rad : how far the angle without lift moves [rad]
    greatest      : share that the greatest lift grows by [-]
    drag          : factor [-]
    about_rad     : the polar's own angle without lift, one or (n,) [rad]; at 0 it moves a little with the slope
    """

    polar: SectionPolar
    slope: float = 1.0
    zero_lift_rad: float = 0.0
    greatest: float = 0.0
    drag: float = 1.0
    about_rad: FloatArray | float = 0.0

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients at angles [rad] and Reynolds numbers [-], (n,) each."""
        higher = 1.0 + self.greatest
        drawn = self.slope / higher - 1.0
        moved = alpha_rad - self.zero_lift_rad
        off = moved - self.about_rad
        forces = self.polar.at(moved + drawn * np.sin(off), reynolds)
        slope = forces.slope_per_rad * (higher * (1.0 + drawn * np.cos(off)))
        return SectionForces(higher * forces.lift, slope, self.drag * forces.drag)
