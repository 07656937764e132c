"""A housing's drag."""

from __future__ import annotations

import math

import pytest

from geomgen.hover.power.duct import thrust_at_power_n
from geomgen.hover.power.nacelle import DRAG_COEFFICIENT, drag_n, frontal_area_m2


def test_two_fans_at_the_tip_by_hand() -> None:
    """300 W each in the air, exit 0.003 m2, radius 1.4 m, 150 rpm, drag area 0.002 m2 each: 7.53834 N, 0.59242 N,
    19.4486 N m (worked out by hand)."""
    speed = 150 * math.pi / 30 * 1.4
    thrust, drag = thrust_at_power_n(300.0, speed, 1.225, 0.003), drag_n(speed, 1.225, 0.002)
    assert thrust == pytest.approx(7.53834, rel=1e-6)
    assert drag == pytest.approx(0.59242, rel=1e-5)
    assert 2 * 1.4 * (thrust - drag) == pytest.approx(19.4486, rel=1e-5)


def test_a_housing_of_a_large_fan_is_of_the_size_that_is_expected() -> None:
    """A drag area of 0.002 m2 is usual with an exit of 0.003 m2, give or take half (from memory)."""
    area = frontal_area_m2(70.0)
    assert area * DRAG_COEFFICIENT.low < 0.002 < area * DRAG_COEFFICIENT.high
