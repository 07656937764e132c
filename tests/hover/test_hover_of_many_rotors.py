"""The lifting line finds its point on rotors of any kind, and says where it doesn't."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from geomgen.arrays import FloatArray
from geomgen.hover.panels import panels
from geomgen.hover.wake.influence import Wake, wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import CappedLine, SectionForces, SectionPolar

Rotor = tuple[Wake, FloatArray, float, float]
PITCHES = np.radians(np.arange(-2.0, 16.1, 0.75))


@dataclass(frozen=True)
class Falling:
    """Lift that falls by 0.3 in so many deg past its greatest."""

    slope: float
    greatest: float
    within_deg: float

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        line, fall = self.slope * np.abs(alpha_rad), 0.3 / np.radians(self.within_deg)
        past = np.abs(alpha_rad) - self.greatest / self.slope
        lift = np.where(past < 0.0, line, self.greatest - np.minimum(fall * past, 0.3))
        slope = np.where(past < 0.0, self.slope, np.where(fall * past < 0.3, -fall, 0.0))
        return SectionForces(np.sign(alpha_rad) * lift, slope, 0.0113 + 1.25 * alpha_rad**2)


@pytest.fixture(scope="module")
def rotors() -> list[Rotor]:
    """1 to 6 blades, solidity 0.04 to 0.3, taper 0.4 to 1, twist up to 10 deg either way, seeded."""
    rng, found = np.random.default_rng(11), []
    for blades in (1, 2, 2, 3, 4, 5, 6, 2, 3, 4):
        root, taper, twist = rng.uniform(0.1, 0.3), rng.uniform(0.4, 1.0), np.radians(rng.uniform(-10.0, 10.0))
        chord = min(rng.uniform(0.04, 0.3) * np.pi / blades, 0.45, 6.0 * root / blades)
        table = wake(panels([root, 1.0], [chord, taper * chord], blades, 16))
        found.append((table, twist * (table.blade.r - 0.75), rng.uniform(5.0, 6.3), rng.uniform(0.7, 1.5)))
    return found


def test_lift_that_stays_at_its_greatest_always_has_a_point(rotors: list[Rotor]) -> None:
    for table, twist, slope, greatest in rotors:
        polar: SectionPolar = CappedLine(slope, greatest)
        points = [hover_point(table, pitch + twist, polar, 1e6) for pitch in PITCHES]
        assert all(point.solved for point in points)
        assert np.all(np.diff([point.thrust for point in points]) > -1e-4)  # near none, where wake and sign change


@pytest.mark.parametrize("within_deg", [4.0, 10.0])
def test_lift_that_falls_seldom_fails_and_says_so(rotors: list[Rotor], within_deg: float) -> None:
    points = [
        hover_point(table, pitch + twist, Falling(slope, greatest, within_deg), 1e6)
        for table, twist, slope, greatest in rotors
        for pitch in PITCHES
    ]
    failed = [point for point in points if not point.solved]
    assert len(failed) <= 0.01 * len(points) and all(point.stalled for point in failed)
    assert all(np.isfinite(point.thrust) and abs(point.thrust) < 0.1 for point in points)


def test_a_pitch_past_stall_is_said(rotors: list[Rotor]) -> None:
    table, _, slope, _ = rotors[1]
    assert hover_point(table, 0.4, CappedLine(slope, 0.7), 1e6).stalled
    assert not hover_point(table, 0.05, CappedLine(slope, 1.5), 1e6).stalled
