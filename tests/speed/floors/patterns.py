"""Floor: holes of paired patterns that are known already, put on their circle, and every pitch at which pins go in.

By bare numpy: which sets of holes, on which circle and from which angle on is told.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Known:
    """One pattern: its circle [mm]; for each pin, of the turning cap's holes and of the fixed one's, the first angle,
    the angle from one to the next [deg] and how many; pins; their fit [mm]."""

    circle: float
    turning: tuple[tuple[float, float, int], ...]
    fixed: tuple[tuple[float, float, int], ...]
    pins: int
    fit: float


def pitches(known: Known) -> FloatArray:
    """(n, 2) from where to where all pins go in, beginning within half a turn either way [deg]."""
    turning, fixed = (
        np.concatenate([first + step * np.arange(count) for first, step, count in sets])
        for sets in (known.turning, known.fixed)
    )
    slack = 2.0 * np.degrees(np.arcsin(known.fit / 2.0 / known.circle))
    pitch = ((turning[:, None] - fixed + 180.0) % 360.0 - 180.0).ravel()
    pitch = np.concatenate((pitch, pitch - 360.0, pitch + 360.0))
    at = np.concatenate((pitch - slack - 1e-9, pitch + slack + 1e-9))
    order = np.argsort(at, kind="stable")
    at, inside = at[order], np.cumsum(np.repeat((1, -1), len(pitch))[order]) >= known.pins
    turns = np.flatnonzero(np.diff(inside.astype(int), prepend=0))
    found = at[turns].reshape(-1, 2)
    return found[(found[:, 0] >= -180.0) & (found[:, 0] < 180.0)]
