"""The cover between two ribs: how the air presses it there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.build import Build
from geomgen.strength.links.bays import Bay, bays

PEAK = 3.0  # of the mean pressure, near the nose: from memory
PEAK_WORDS = f"{PEAK:g} times the mean pressure, as near the nose: from memory"
FLAT = 2.0  # of the mean pressure, behind the nose, where a sheet has hardly a curve to hold it: from memory
FLAT_WORDS = f"{FLAT:g} times the mean pressure, as behind the nose, where it is nearly flat: from memory"


@dataclass(frozen=True, eq=False)
class Span:
    """A stretch of cover from one rib's face to the next one's.

    inner, outer : the ribs
    long_mm      : from face to face [mm]
    pressure_mpa : (2, c) greatest that air lifts or presses it with, `PEAK` times the lift over the chord [MPa]
    """

    inner: Bay
    outer: Bay
    long_mm: float
    pressure_mpa: FloatArray

    @property
    def flat_mpa(self) -> FloatArray:
        """(2, c) the same behind the nose, where a sheet is nearly flat [MPa]."""
        return self.pressure_mpa * (FLAT / PEAK)

    @property
    def r_mm(self) -> float:
        """Its middle [mm]."""
        return (self.inner.r_mm + self.outer.r_mm) / 2.0

    def has(self, r_mm: float) -> bool:
        """Whether a radius lies in it [mm]."""
        return self.inner.r_mm <= r_mm <= self.outer.r_mm


def spans(build: Build) -> Iterator[Span]:
    """Every stretch of cover between two ribs, from the root out."""
    for inner, outer in pairwise(bays(build)):
        apart = outer.r_mm - inner.r_mm
        chord = (inner.blank.station.chord_mm + outer.blank.station.chord_mm) / 2.0
        up, _ = build.loads.air_between(inner.r_mm, outer.r_mm)
        clear = apart - (inner.blank.place.thickness_mm + outer.blank.place.thickness_mm) / 2.0
        yield Span(inner, outer, clear, PEAK * np.abs(up) / (chord * apart))
