"""Mean lift against closed forms.

Closed forms: rectangular blade from the axis T = rho (Omega R)^2 (N c R) C_L / 6, reference radius R / sqrt(3);
with a root cut-out x0, reference radius^2 / R^2 = (1 - x0^3) / (3 (1 - x0)) = .3700, .39083, .41333, .43750 for
x0 = .10, .15, .20, .25 (elementary integrals, also in rotor textbooks); tolerance 1e-9.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad

from geomgen.hover.mean_lift import FORMULA, WARNING, chord_moment, mean_lift

RHO, CL = 1.225, 0.6


def test_rectangular_blade_from_the_axis_is_the_textbook_sixth() -> None:
    got = mean_lift([0, 1500], [200, 200], 2, 5000, CL, RHO)
    omega = got.rpm * np.pi / 30
    area_m2 = 2 * 0.2 * 1.5
    assert RHO * (omega * 1.5) ** 2 * area_m2 * CL / 6 == pytest.approx(5 * 9.80665, rel=1e-9)
    assert got.reference_radius_mm == pytest.approx(1500 / np.sqrt(3), rel=1e-9)
    assert got.tip_speed_m_s == pytest.approx(omega * 1.5, rel=1e-9)
    assert got.solidity == pytest.approx(2 * 0.2 / (np.pi * 1.5), rel=1e-9)


def test_five_kilograms_at_one_and_a_half_metres() -> None:
    """5 kg, R 1.5 m, 2 blades of 0.2 m, rho 1.225: mean lift coefficient 1.12655 at 120, .72100 at 150, .50069 at
    180 rpm (momentum-theory exercise: C_T over solidity times six)."""
    for rpm, coefficient in ((120, 1.12655), (150, 0.72100), (180, 0.50069)):
        assert mean_lift([0, 1500], [200, 200], 2, 5000, coefficient, RHO).rpm == pytest.approx(rpm, rel=1e-5)


@pytest.mark.parametrize(
    ("cut", "factor", "radius"),
    [(0.10, 0.3700, 0.60828), (0.15, 0.39083, 0.62517), (0.20, 0.41333, 0.64291), (0.25, 0.43750, 0.66144)],
)
def test_root_cut_out(cut: float, factor: float, radius: float) -> None:
    got = mean_lift([cut * 800, 800], [150, 150], 3, 1600, CL, RHO)
    exact = (1 - cut**3) / (3 * (1 - cut))
    assert (got.reference_radius_mm / 800) ** 2 == pytest.approx(exact, rel=1e-9)
    assert exact == pytest.approx(factor, abs=5.1e-6)
    assert got.reference_radius_mm / 800 == pytest.approx(radius, abs=5.1e-6)
    omega, area_m2 = got.rpm * np.pi / 30, 3 * 0.15 * 0.8 * (1 - cut)
    thrust = 0.5 * exact * RHO * (omega * 0.8) ** 2 * area_m2 * CL
    assert thrust == pytest.approx(1.6 * 9.80665, rel=1e-9)


@pytest.mark.parametrize("power", [0, 1, 2])
def test_chord_moments_of_a_bent_taper_against_quadrature(power: int) -> None:
    r, chord = [130.0, 300.0, 520.0, 800.0], [210.0, 230.0, 190.0, 90.0]
    numeric = quad(lambda x: np.interp(x, r, chord) * x**power, 130, 800, points=r[1:-1], epsabs=0, epsrel=1e-12)[0]
    assert chord_moment(r, chord, power) == pytest.approx(numeric, rel=1e-12)


def test_coning_asks_for_more_turns() -> None:
    flat, coned = (mean_lift([130, 800], [210, 150], 2, 1600, CL, RHO, coning) for coning in (0, 6))
    assert coned.rpm / flat.rpm == pytest.approx(np.cos(np.radians(6)) ** -1.5, rel=1e-12)


def test_a_coned_tip_goes_round_a_smaller_circle() -> None:
    """A blade of 2 m coned by 60 deg: its tip goes round 1 m."""
    got = mean_lift([0, 2000], [200, 200], 2, 5000, CL, RHO, 60)
    assert got.tip_speed_m_s == pytest.approx(2 * np.pi * got.rpm / 60, rel=1e-12)


def test_speed_goes_with_the_root_of_weight_over_density() -> None:
    base = mean_lift([130, 800], [210, 150], 2, 1000, CL, 1.2).rpm
    assert mean_lift([130, 800], [210, 150], 2, 4000, CL, 1.2).rpm == pytest.approx(2 * base)
    assert mean_lift([130, 800], [210, 150], 2, 1000, CL, 0.3).rpm == pytest.approx(2 * base)


def test_it_says_what_it_is_and_what_it_leaves_out() -> None:
    assert "mean lift" in FORMULA and "ignores losses" in WARNING
