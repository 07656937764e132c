"""At which pitches pins can be pushed in: from where the holes stand and how much room the pins have in them."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.polar import chord_deg


def pinned_deg(turning: ArrayLike, fixed: ArrayLike, *, pins: int, fit_mm: float) -> FloatArray:
    """Every stretch of pitch, the whole turn round, at which so many pins go in at once.

    turning : (n, 2) radius [mm] and angle [deg] of the turning cap's holes at the reference pitch
    fixed   : (m, 2) those of the fixed cap; holes of one circle have one and the same radius
    fit_mm  : how much wider they are than a pin: it passes two whose middles are no further apart [mm]
    returns : (k, 2) lowest and highest pitch of each stretch, rising, the lowest within -180 .. 180 [deg]
    """
    (rt, at), (rf, af) = np.asarray(turning, dtype=np.float64).T, np.asarray(fixed, dtype=np.float64).T
    one, other = np.nonzero(np.abs(rt[:, None] - rf[None, :]) < 1e-6)
    pitch = (at[one] - af[other] + 180.0) % 360.0 - 180.0
    slack = chord_deg(fit_mm, rt[one])
    round_again = np.concatenate((pitch, pitch - 360.0, pitch + 360.0))
    low, high = round_again - np.tile(slack, 3), round_again + np.tile(slack, 3)
    ends = np.concatenate((low - 1e-9, high + 1e-9))  # stretches that meet in a point are one
    way = np.concatenate((np.ones(len(low)), -np.ones(len(high))))
    order = np.argsort(ends, kind="stable")
    ends, inside = ends[order], np.cumsum(way[order]) >= pins
    first = np.flatnonzero(inside & ~np.concatenate(([False], inside[:-1])))
    last = np.flatnonzero(~inside & np.concatenate(([False], inside[:-1])))
    found = np.column_stack((ends[first], ends[last][: len(first)]))
    return found[(found[:, 0] >= -180.0) & (found[:, 0] < 180.0)]


def not_asked(stretches: FloatArray, wanted_deg: ArrayLike) -> FloatArray:
    """(n, 2) those stretches of pitch that hold no wanted one [deg]."""
    low, high = stretches[:, :1], stretches[:, 1:]
    holds = (np.asarray(wanted_deg, dtype=np.float64)[None, :] - low) % 360.0 <= high - low + 1e-6
    return np.asarray(stretches[~holds.any(axis=1)])
