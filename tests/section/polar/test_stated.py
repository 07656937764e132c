"""Stated polars: limits of form, and NACA 0012; measured values quoted singly."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.section.families import naca
from geomgen.section.polar.stated import stated_polar

TWO = np.array([2e5])


def test_symmetric_at_reynolds_3e5_holds_a_measured_symmetric_section() -> None:
    # E472, symmetric, 12.1 % thick: Lyon et al., Summary of Low-Speed Airfoil Data, vol. 3, 1998, at Re 303 100:
    # slope 6.14 per rad, greatest lift 1.250, least drag 0.0102
    polar = stated_polar(naca("0012", "open", ""))
    band, re = polar.band_at(3.031e5), np.array([3.031e5])
    at_zero = polar.at(np.zeros(1), re)
    assert at_zero.lift[0] == pytest.approx(0.0, abs=1e-6)
    assert abs(6.14 / at_zero.slope_per_rad[0] - 1.0) < band.slope[0] <= 0.15 + 1e-12
    assert abs(1.250 - polar.greatest_lift(3.031e5)) < band.greatest_lift[0] <= 0.25 + 1e-12
    assert band.drag_low[0] < 0.0102 / at_zero.drag[0] < band.drag_high[0] <= 1.5 + 1e-12
    assert band.drag_low[0] >= 0.5


def test_past_stall_a_plate() -> None:
    # SAND80-2114, NACA 0015: lift 1.05 at 45 deg, drag 1.80 at 90 deg
    forces = stated_polar(naca("2412", "open", "")).at(np.radians([45.0, 90.0, -45.0]), np.full(3, 1e5))
    assert forces.lift[[0, 2]] == pytest.approx([1.05, -1.05], rel=0.15)
    assert forces.drag[1] == pytest.approx(1.80, rel=0.15)


def test_drag_is_never_below_laminar_friction() -> None:
    # a plate's two sides, laminar: 2.656 / sqrt(Re) (Blasius)
    polar = stated_polar(naca("2412", "open", ""))
    low = polar.band_at(1e5).drag_low[0] * polar.drag.min(axis=1)
    assert np.all(low > 2.656 / np.sqrt(polar.reynolds))


def test_open_bays_cost_drag_once_and_are_told() -> None:
    # 8 to 17 % from Re 2e5: Lyon et al. 1998, the same section with and without open bays
    plain, open_bays = (stated_polar(naca("2412", "open", ""), open_bays=b) for b in (False, True))
    ratio = open_bays.at(np.zeros(1), TWO).drag / plain.at(np.zeros(1), TWO).drag
    assert 1.08 <= ratio[0] <= 1.17
    assert "film" in " ".join(open_bays.words) and "film" not in " ".join(plain.words)


def test_what_lies_outside_the_measured_sections_is_told_with_wider_bands() -> None:
    thick, like = stated_polar(naca("0018", "open", "")), stated_polar(naca("0012", "open", ""))
    assert "18.0 % thick" in " ".join(thick.words)
    assert thick.band.slope == pytest.approx(1.5 * like.band.slope)


def test_a_plate_across_the_stream_is_pushed_at_its_middle() -> None:
    # by symmetry: drag 1.80 (SAND80-2114), a quarter of the chord behind the point of reference, nose down
    polar = stated_polar(naca("2412", "open", ""))
    assert polar.moment_at(np.array([np.pi / 2]), TWO) == pytest.approx([-1.80 / 4.0], rel=0.01)


def test_camber_adds_to_the_greatest_lift() -> None:
    # Clark-Y, camber 3.3 %, 1.354 and E472, symmetric, 1.250 at Re 3e5: Lyon et al. 1998; NACA 2412 lies between
    flat, cambered = (stated_polar(naca(digits, "open", "")).greatest_lift(3e5) for digits in ("0012", "2412"))
    assert flat + 0.03 < cambered < 1.354 + 0.05


def test_a_thin_cambered_section_at_reynolds_2e5() -> None:
    # BW-3, 5.0 % thick: slope 5.67 per rad at Re 200 100, Lyon et al. 1998; the nearest of four digits
    polar = stated_polar(naca("4405", "open", ""))
    slope = polar.at(np.zeros(1), TWO).slope_per_rad[0]
    assert abs(5.67 / slope - 1.0) < polar.band_at(2e5).slope[0]


def test_widths_of_bands_are_among_the_words() -> None:
    like, thick = (stated_polar(naca(digits, "open", "")) for digits in ("0012", "0018"))
    for polar in (like, thick):
        for reynolds, named in ((2e5, "200 000"), (6e4, "60 000")):
            band = polar.band_at(reynolds)
            told = (
                f"Re {named}: slope within {100 * band.slope[0]:.0f} %, angle without lift within "
                f"{np.degrees(band.zero_lift_rad[0]):.1f} deg, greatest lift within {band.greatest_lift[0]:.2f}, "
                f"drag {band.drag_low[0]:.2f} to {band.drag_high[0]:.2f} times"
            )
            assert told in " ".join(polar.words)
    assert "slope within 15 %, angle without lift within 1.3 deg" in " ".join(like.words)
    assert "set by eye to the same four sections" in " ".join(like.words)


def test_drag_is_least_at_the_lift_that_the_camber_is_made_for() -> None:
    # mean line 64 has its ideal lift at 0.76 (Abbott and von Doenhoff, 1959; from memory), that of 2412 a third of it
    polar, alpha = stated_polar(naca("2412", "open", "")), np.radians(np.arange(-6.0, 10.0, 0.05))
    forces = polar.at(alpha, np.full_like(alpha, 2e5))
    assert forces.lift[np.argmin(forces.drag)] == pytest.approx(0.76 / 3, abs=0.03)
