"""Ducted fans by momentum.

Sources: T = rho A Ve (Ve - V), P = 1/2 rho A Ve (Ve^2 - V^2), any textbook of propulsion; rows of a fan of 300 W in the
air and 0.003 m2, worked out apart with a root finder; w = V / Ve0, u (u^2 - w^2) = 1.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geomgen.hover.power.duct import (
    air_power_w,
    annulus_m2,
    jet_speed_at_power_m_s,
    jet_speed_m_s,
    static_power_w,
    static_thrust_n,
    thrust_at_power_n,
)

RHO = 1.225
ROWS = [  # V [m/s], Ve [m/s], T [N], T / T0
    (0, 54.65518, 10.97792, 1.00000),
    (5, 54.80765, 10.03216, 0.91385),
    (10, 55.26504, 9.19328, 0.83743),
    (15, 56.02714, 8.44748, 0.76950),
    (20, 57.09317, 7.78279, 0.70895),
    (25, 58.46120, 7.18897, 0.65486),
    (30, 60.12751, 6.65723, 0.60642),
    (40, 64.32753, 5.75112, 0.52388),
]
GIVEN_THRUST = [  # T [N], V [m/s], A [m2], Ve [m/s], P [W]
    (1.0, 20.0, 0.001, 40.270886, 30.135443),
    (0.75, 0.0, 0.001, 24.743583, 9.278844),
    (0.75, 20.8, 7.88854e-4, 40.13684, 22.85131),
]


@pytest.mark.parametrize(("speed", "jet", "thrust", "share"), ROWS)
def test_thrust_at_constant_power(speed: float, jet: float, thrust: float, share: float) -> None:
    assert jet_speed_at_power_m_s(300.0, speed, RHO, 0.003) == pytest.approx(jet, rel=1e-6)
    assert thrust_at_power_n(300.0, speed, RHO, 0.003) == pytest.approx(thrust, rel=1e-6)
    assert thrust / static_thrust_n(300.0, RHO, 0.003) == pytest.approx(share, abs=1e-5)


@pytest.mark.parametrize(("thrust", "speed", "area", "jet", "power"), GIVEN_THRUST)
def test_power_for_a_thrust(thrust: float, speed: float, area: float, jet: float, power: float) -> None:
    assert jet_speed_m_s(thrust, speed, RHO, area) == pytest.approx(jet, rel=1e-6)
    assert air_power_w(thrust, speed, RHO, area) == pytest.approx(power, rel=1e-6)


def test_small_fan_with_its_annulus_for_an_exit() -> None:
    area = annulus_m2(40.0, 22.0)
    assert jet_speed_m_s(0.75, 20.8, RHO, area) == pytest.approx(38.80189, rel=1e-6)
    assert air_power_w(0.75, 20.8, RHO, area) == pytest.approx(22.35071, rel=1e-6)


def test_large_fan_at_rest() -> None:
    """70 mm, 30 mm in the middle, 26.478 N: annulus 3.1416e-3 m2, jet 82.95 m/s, 1098.1 W."""
    area = annulus_m2(70.0, 30.0)
    assert area == pytest.approx(3.1416e-3, rel=1e-5)
    assert jet_speed_m_s(26.478, 0.0, RHO, area) == pytest.approx(82.95, rel=1e-4)
    assert static_power_w(26.478, RHO, area) == pytest.approx(1098.1, rel=1e-4)


@given(st.floats(1e-6, 1e4), st.floats(0.0, 120.0), st.floats(1e-4, 1e-2))
def test_jet_is_the_real_root_of_its_cubic(power: float, speed: float, area: float) -> None:
    """The same by eigenvalues of the companion matrix (numpy.roots), and there and back."""
    roots = np.roots([1.0, 0.0, -(speed**2), -2 * power / (RHO * area)])
    jet = jet_speed_at_power_m_s(power, speed, RHO, area)
    assert jet == pytest.approx(max(roots[abs(roots.imag) < 1e-6 * max(1.0, speed)].real), rel=1e-6)
    thrust = thrust_at_power_n(power, speed, RHO, area)
    assert air_power_w(thrust, speed, RHO, area) == pytest.approx(power, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("speed", [0.0, 20.0])
def test_no_thrust_takes_no_power_and_no_power_gives_no_thrust(speed: float) -> None:
    assert air_power_w(0.0, speed, RHO, 0.003) == 0.0
    assert thrust_at_power_n(0.0, speed, RHO, 0.003) == 0.0
    assert thrust_at_power_n(-5.0, speed, RHO, 0.003) == 0.0


def test_a_fan_that_brakes_is_driven_by_the_air() -> None:
    """At most rho A V^2 / 4, with a jet half as fast as the air."""
    most = RHO * 0.003 * 20.0**2 / 4
    assert jet_speed_m_s(-most, 20.0, RHO, 0.003) == pytest.approx(10.0)
    assert jet_speed_m_s(-2 * most, 20.0, RHO, 0.003) == pytest.approx(10.0)
    assert air_power_w(-most / 2, 20.0, RHO, 0.003) < 0.0


def test_first_slope_of_thrust_against_speed() -> None:
    """At constant power it falls by V / Ve0 at first."""
    still, jet = static_thrust_n(300.0, RHO, 0.003), math.cbrt(600.0 / (RHO * 0.003))
    assert thrust_at_power_n(300.0, 0.1, RHO, 0.003) / still == pytest.approx(1 - 0.1 / jet, abs=1e-6 * 5)
