"""Fans: claims judged, classes, what of their power the air gets.

Sources of figures: makers' and builders' tables in public notes and build logs; thrust of the classes worked out apart.
"""

from __future__ import annotations

import pytest

from geomgen.errors import DesignError
from geomgen.hover.air import standard_air
from geomgen.hover.power.duct import thrust_at_power_n
from geomgen.hover.power.fan import Fan, class_fan, ideal_share, measured_fan
from geomgen.hover.power.throttle import POWER_EXPONENT, full_air_power_w, part_load

AIR = standard_air(0)
CLAIMS = [  # inside, centre [mm], thrust [N], electrical power [W], share that the air takes
    (34, 20, 2.157, 124.3, 0.473),
    (50, 26, 9.316, 567.0, 0.599),
    (64, 28, 20.94, 1265.4, 0.671),
    (64, 28, 12.75, 592.0, 0.681),
    (64, 28, 14.22, 769.6, 0.617),
    (70, 30, 12.65, 548.0, 0.662),
    (70, 30, 26.48, 1598.0, 0.687),
    (70, 30, 32.36, 2243.0, 0.662),
]
CLASS_THRUST = [  # class, electrical power [W], static thrust at typical efficiency [N]
    ("30 mm", 40, 0.888),
    ("30 mm", 70, 1.29),
    ("40 mm", 130, 2.56),
    ("50 mm", 900, 11.8),
    ("64 mm", 700, 13.1),
    ("70 mm", 2240, 30.3),
    ("90 mm", 1800, 30.8),
]


def fan(voltage: float | None = 22.2) -> Fan:
    return measured_fan(70.0, 30.0, 26.48, 1598.0, voltage, AIR)


@pytest.mark.parametrize(("inside", "centre", "thrust", "power", "share"), CLAIMS)
def test_what_the_air_takes(inside: float, centre: float, thrust: float, power: float, share: float) -> None:
    assert ideal_share(inside, centre, thrust, power, 1.225) == pytest.approx(share, abs=6e-4)


def test_a_claim_that_cannot_be_is_refused() -> None:
    """A 70 mm fan said to give 11.77 N for 277.5 W: the air alone would take 118 %."""
    with pytest.raises(DesignError) as caught:
        measured_fan(68.0, 26.0, 11.77, 277.5, 11.1, AIR, path="power.fan.thrust")
    (fault,) = caught.value.faults
    assert fault.path == "power.fan.thrust" and "118 %" in fault.wrong and "75 %" in fault.allowed


def test_a_claim_that_is_hard_to_believe_is_told() -> None:
    assert "doubtful" in measured_fan(70.0, 30.0, 27.5, 1598.0, 22.2, AIR).caution
    assert fan().caution == ""


def test_a_measured_fan_gives_back_its_point() -> None:
    """26.48 N take 1098.2 W of 1598 W: jet 82.95 m/s (T / rho A = Ve^2, P = T Ve / 2, by hand)."""
    power = full_air_power_w(fan(), 1.225)
    assert power == pytest.approx(1098.2, rel=1e-4)
    assert thrust_at_power_n(power, 0.0, 1.225, fan().exit_area_m2) == pytest.approx(26.48, rel=1e-6)
    assert fan().static_jet_m_s == pytest.approx(82.95, rel=1e-4)
    assert (fan().efficiency.low, fan().efficiency.high) == pytest.approx((0.687 * 0.85, 0.687 * 1.15), rel=1e-3)


@pytest.mark.parametrize(("name", "power", "thrust"), CLASS_THRUST)
def test_thrust_by_class(name: str, power: float, thrust: float) -> None:
    assert class_fan(name, AIR, power).static_thrust_n == pytest.approx(thrust, rel=6e-3)


def test_a_fan_of_no_class_is_told() -> None:
    with pytest.raises(DesignError) as caught:
        class_fan("41 mm", AIR, path="power.fan.kind")
    assert caught.value.faults[0].path == "power.fan.kind"


def test_efficiency_at_a_third_of_full_power() -> None:
    """5, 10 or 15 % less (from memory); no more is lost, or won, at full throttle and beyond."""
    third = (1 / 3) ** (1 / POWER_EXPONENT)
    assert part_load(third) == pytest.approx(0.90)
    assert part_load(third, 0.05) == pytest.approx(0.95)
    assert part_load(1.0) == part_load(1.2) == 1.0


def test_thin_air_takes_power_as_it_has_density() -> None:
    assert full_air_power_w(fan(), 1.0) / full_air_power_w(fan(), 1.225) == pytest.approx(1 / 1.225)
    assert full_air_power_w(fan(), 1.225, 0.5) == pytest.approx(799.0)
