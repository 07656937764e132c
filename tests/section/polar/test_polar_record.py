"""Polars as records, against a polar in closed form."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.section.polar.record import AlongBlade, Band, Doubted, Polar

REYNOLDS = np.array([5e4, 1e5, 4e5])
ANGLES = np.radians(np.arange(-180.0, 180.1, 0.25))
WIDE = np.zeros(3)


def polar(times: float = 1.0) -> Polar:
    """Lift (1 + log10(Re/1e5)) sin 2a, drag 0.02 + sin² a, so many times."""
    size = times * (1.0 + np.log10(REYNOLDS / 1e5))[:, None]
    drag = times * np.tile(0.02 + np.sin(ANGLES) ** 2, (3, 1))
    band = Band(WIDE + 0.1, WIDE, WIDE, WIDE + 0.5, WIDE + 2.0)
    return Polar(REYNOLDS, ANGLES, size * np.sin(2 * ANGLES), drag, -0.1 * size * np.sin(ANGLES), band)


ALPHA = np.array([-0.3, 0.0101, 0.2, 1.4, 3.1, -3.1, 0.2 + 2 * np.pi])
RE = np.array([6e4, 1e5, 2e5, 3.9e5, 5e4, 4e5, 2e5])
SIZE = 1.0 + np.log10(RE / 1e5)


def test_values_and_slope() -> None:
    forces = polar().at(ALPHA, RE)
    assert forces.lift == pytest.approx(SIZE * np.sin(2 * ALPHA), abs=1e-4)
    assert forces.drag == pytest.approx(0.02 + np.sin(ALPHA) ** 2, abs=1e-4)
    assert forces.slope_per_rad == pytest.approx(2 * SIZE * np.cos(2 * ALPHA), abs=0.02)
    assert polar().moment_at(ALPHA, RE) == pytest.approx(-0.1 * SIZE * np.sin(ALPHA), abs=1e-4)


def test_beyond_its_reynolds_numbers_the_last_holds_and_is_told() -> None:
    low, high = polar().at(np.array([0.2, 0.2]), np.array([1e3, 9e9])).lift
    assert low == pytest.approx((1 + np.log10(0.5)) * np.sin(0.4), abs=1e-4)
    assert high == pytest.approx((1 + np.log10(4.0)) * np.sin(0.4), abs=1e-4)
    assert polar().covers(RE) and not polar().covers(4.9e4) and not polar().covers(np.array([1e5, 5e5]))


def test_along_a_blade_each_place_has_its_blend() -> None:
    share = np.array([[1.0, 0.0, 0.0], [0.25, 0.75, 0.0], [0.0, 0.5, 0.5], [0.0, 0.0, 1.0]])
    blade = AlongBlade((polar(), polar(2.0), polar(3.0)), share)
    forces, one = blade.at(ALPHA[:4], RE[:4]), polar().at(ALPHA[:4], RE[:4])
    times = np.array([1.0, 1.75, 2.5, 3.0])
    assert forces.lift == pytest.approx(times * one.lift)
    assert forces.drag == pytest.approx(times * one.drag)


def test_moved_within_its_band() -> None:
    moved = Doubted(polar(), slope=1.1, zero_lift_rad=0.02, greatest=0.2, drag=1.5)
    at, reynolds = np.array([0.02, 0.021]), np.full(2, 1e5)
    forces = moved.at(at, reynolds)
    assert forces.lift[0] == pytest.approx(0.0, abs=1e-9)
    assert forces.slope_per_rad == pytest.approx(1.1 * 2.0, rel=1e-3)
    around = moved.at(np.linspace(0.0, 1.5, 3001), np.full(3001, 1e5))
    assert around.lift.max() == pytest.approx(1.2, abs=1e-4)
    assert moved.at(np.array([0.02]), reynolds[:1]).drag == pytest.approx(1.5 * 0.02, rel=1e-3)


def test_a_polar_need_only_cover_where_it_takes_part() -> None:
    whole, narrow = polar(), polar()
    narrow = Polar(REYNOLDS * 2, ANGLES, narrow.lift, narrow.drag, narrow.moment, narrow.band)
    blade = AlongBlade((whole, narrow), np.array([[1.0, 0.0], [0.5, 0.5]]))
    assert blade.covers(np.array([6e4, 2e5])) and not blade.covers(np.array([6e4, 6e4]))


def test_a_moved_polar_closes_over_a_turn() -> None:
    moved = Doubted(polar(), slope=1.15, greatest=-0.1)
    low, high = moved.at(np.array([-np.pi, np.pi]), np.full(2, 1e5)).lift
    assert low == pytest.approx(high, abs=1e-6)
