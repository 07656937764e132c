"""A blade's plan cut into panels along the radius, as the theories of hover take it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray

ROLL_UP = 0.92  # share of the radius; vorticity shed outboard of it ends in the tip vortex
PANELS = 20


@dataclass(frozen=True, eq=False)
class Panels:
    """The panels of one blade and how many blades there are; lengths by the rotor's radius.

    blades     : [-]
    edge       : (n + 1,) radii between panels, root first and tip last, one of them at ROLL_UP [R]
    edge_chord : (n + 1,) chord there [R]
    r          : (n,) radii of the panels' control points [R]
    chord      : (n,) chord there [R]
    """

    blades: int
    edge: FloatArray
    edge_chord: FloatArray
    r: FloatArray
    chord: FloatArray

    @cached_property
    def dr(self) -> FloatArray:
        """(n,) widths [R]."""
        return np.diff(self.edge)

    @cached_property
    def rolled(self) -> int:
        """Number of the edge at ROLL_UP, from 0 at the root."""
        return int(np.argmin(np.abs(self.edge - ROLL_UP)))

    @cached_property
    def solidity(self) -> float:
        """Blade area over disc area [-]."""
        return float(self.blades * np.sum(self.chord * self.dr) / np.pi)


def panels(r: ArrayLike, chord: ArrayLike, blades: int, count: int = PANELS) -> Panels:
    """Panels, narrower towards root and tip.

    r, chord : (k,) radii, rising from the root to 1 at the tip, and the chord there, straight between them [R]
    blades   : [-], >= 1
    count    : of panels [-], >= 8
    raises   : ValueError where radii don't rise to 1 from a root between 0 and 0.8, a chord isn't > 0, or the blades
               overlap at the root
    source   : cosine spacing (common practice), warped a little so that an edge lies at ROLL_UP
    """
    at, wide = np.asarray(r, dtype=np.float64), np.asarray(chord, dtype=np.float64)
    if not (at.ndim == 1 and at.shape == wide.shape and at.size > 1 and np.all(np.diff(at) > 0.0)):
        raise ValueError(f"radii must rise, with a chord each, not {at} and {wide}")
    if not (0.0 < at[0] <= 0.8 and abs(at[-1] - 1.0) < 1e-9 and np.all(wide > 0.0)):
        raise ValueError(f"radii run from a root in 0 to 0.8 up to 1, chords are > 0, not {at} and {wide}")
    if blades < 1 or count < 8 or blades * wide[0] > 2.0 * np.pi * at[0]:
        raise ValueError(f"{blades} blades of chord {wide[0]:g} R overlap at their root at {at[0]:g} R, or {count} < 8")
    root = float(at[0])
    to_roll_up = np.arccos(1.0 - 2.0 * (ROLL_UP - root) / (1.0 - root))
    even = np.arange(2 * count + 1) * np.pi / (2 * count)  # edges, and control points between them
    nearest = even[2 * round(to_roll_up / np.pi * count)]
    warped = even + (to_roll_up - nearest) / np.sin(nearest) * np.sin(even)
    both = root + (1.0 - root) * (1.0 - np.cos(warped)) / 2.0
    chords = np.interp(both, at, wide)
    return Panels(blades, both[::2], chords[::2], both[1::2], chords[1::2])
