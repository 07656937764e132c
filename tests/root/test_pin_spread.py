"""Pins and holes against 100 000 blades drawn here, from places of holes in the plane and the pins' fit alone.

Each hole's middle is drawn evenly from a disc about its place; the blade stands evenly anywhere between where its pins
stop it; blades whose pins don't go in at any pitch are left out. A pin passes two holes whose middles are no further
apart than the fit. Arcs for chords: within (fit / radius)^2 / 24, under 2e-5 here.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from geomgen.root.pin_spread import PinSpread, pin_spread

DRAWS = 100_000
FITS, RADII, SCATTERS = (0.1, 0.2, 0.4), (20.0, 45.0, 60.0), ((0.0, 0.0), (0.05, 0.05), (0.1, 0.2), (0.2, 0.2))


def drawn(rng: np.random.Generator, places: np.ndarray, scatter: float) -> np.ndarray:
    """(draws, pins) middles of holes as complex numbers [mm]."""
    size = (DRAWS, len(places))
    return places + scatter * np.sqrt(rng.random(size)) * np.exp(2j * np.pi * rng.random(size))


def blades_deg(radii: tuple[float, ...], fit: float, scatter: tuple[float, float]) -> np.ndarray:
    """How far each blade whose pins go in stands off its pitch: by the law of cosines, hole for hole [deg]."""
    rng = np.random.default_rng(2026)
    places = np.array(radii) * np.exp(2j * np.pi * np.arange(len(radii)) / len(radii))
    turning, fixed = (drawn(rng, places, each) for each in scatter)
    one, other = np.abs(turning), np.abs(fixed)
    cosine = (one**2 + other**2 - fit**2) / (2.0 * one * other)
    free, middle = np.arccos(np.clip(cosine, -1.0, 1.0)), np.angle(fixed / turning)
    low, high = (middle - free).max(axis=1), (middle + free).min(axis=1)
    stands = low + (high - low) * rng.random(DRAWS)
    return np.degrees(stands[(low <= high) & (cosine <= 1.0).all(axis=1)])


def root_deg(found: PinSpread) -> float:
    return math.hypot(found.play_spread_deg, found.holes_spread_deg)


@pytest.mark.parametrize("pins", [1, 2, 3])
@pytest.mark.parametrize("fit", FITS)
def test_like_blades_that_are_drawn(pins: int, fit: float) -> None:
    for radius, scatter in itertools.product(RADII, SCATTERS):
        blades = blades_deg((radius,) * pins, fit, scatter)
        found = pin_spread((radius,) * pins, fit_mm=fit, scatter_mm=scatter)
        assert root_deg(found) == pytest.approx(math.sqrt(3.0) * blades.std(), rel=0.05)
        assert np.abs(blades).max() <= (found.play_limit_deg + found.holes_limit_deg) * (1.0 + 2e-5)
        assert found.eased == pytest.approx(1.0 - len(blades) / DRAWS, abs=0.007)


def test_pins_on_two_circles() -> None:
    radii, scatter = (40.0, 45.0), (0.1, 0.2)
    blades, found = blades_deg(radii, 0.2, scatter), pin_spread(radii, fit_mm=0.2, scatter_mm=scatter)
    assert root_deg(found) == pytest.approx(math.sqrt(3.0) * blades.std(), rel=0.05)
    assert np.abs(blades).max() <= found.play_limit_deg + found.holes_limit_deg


@pytest.mark.parametrize("pins", [1, 2, 5])
@pytest.mark.parametrize(("fit", "radius"), [(0.1, 20.0), (0.2, 45.9), (0.4, 60.0)])
def test_holes_in_place_leave_fit_over_radius(pins: int, fit: float, radius: float) -> None:
    found = pin_spread((radius,) * pins, fit_mm=fit, scatter_mm=(0.0, 0.0))
    by_hand = math.degrees(fit / radius)
    assert found.play_limit_deg == pytest.approx(by_hand, rel=1e-12)
    assert found.play_spread_deg == pytest.approx(by_hand, rel=1e-9)
    assert (found.holes_limit_deg, found.holes_spread_deg) == (0.0, pytest.approx(0.0, abs=1e-12))
    assert found.eased == pytest.approx(0.0, abs=1e-12)


def test_worst_case_by_hand() -> None:
    """All holes of a cap off along the circle, the caps' opposite ways, and the pins against one side."""
    found = pin_spread((40.0, 40.0), fit_mm=0.2, scatter_mm=(0.1, 0.2))
    assert found.play_limit_deg + found.holes_limit_deg == pytest.approx(math.degrees((0.2 + 0.1 + 0.2) / 40.0))


def test_pins_without_any_room() -> None:
    """Nothing goes in but where holes are in place: then the blade can't stand off; else it is said, at its limits."""
    assert pin_spread((40.0,), fit_mm=0.0, scatter_mm=(0.0, 0.0)) == PinSpread(0.0, 0.0, 0.0, 0.0, 0.0)
    found = pin_spread((40.0, 40.0), fit_mm=0.0, scatter_mm=(0.1, 0.1))
    assert found.eased == 1.0 and found.holes_spread_deg == found.holes_limit_deg > 0.0
