"""The rpm that carries a weight: by hand with even inflow, and by what must hold whatever the theory.

Source of the hand calculation: blade elements with even inflow in closed form, any textbook of helicopters; induced
power 1.15 times the ideal one (common practice).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from rotor_cases import BLADES, CHORD, DRAG, POLAR, RADIUS, ROOT, SLOPE, ByReynolds, table

from geomgen.hover import carried as module
from geomgen.hover.carried import Carried, NotCarried, Task, Why, carried

RHO, NU = 1.225, 1.46072e-5  # standard air at sea level
TASK = Task(10.0, RADIUS, RHO, NU)


def at(pitch_deg: float, task: Task = TASK) -> Carried:
    found = carried(table(), 0.0, math.radians(pitch_deg), POLAR, task)
    assert isinstance(found, Carried)
    return found


def by_hand(pitch_deg: float) -> tuple[float, float, float]:
    """rpm, induced and profile power [W] of even inflow: C_T = s a / 2 (t (1 - x^3) / 3 - l (1 - x^2) / 2)."""
    solidity = BLADES * CHORD / math.pi
    half, kappa = solidity * SLOPE / 2, 1.15
    steep, flat = half * math.radians(pitch_deg) * (1 - ROOT**3) / 3, half * (1 - ROOT**2) / 2
    # 2 (l / kappa)^2 = steep - flat l
    inflow = (-flat + math.sqrt(flat**2 + 8 * steep / kappa**2)) / (4 / kappa**2)
    thrust = 2 * (inflow / kappa) ** 2
    tip = math.sqrt(TASK.weight_n / (thrust * RHO * math.pi * RADIUS**2))
    unit = RHO * math.pi * RADIUS**2 * tip**3
    return tip / RADIUS * 30 / math.pi, thrust * inflow * unit, solidity * DRAG / 8 * (1 - ROOT**4) * unit


@pytest.mark.parametrize("pitch", [6.0, 8.0, 10.0])
def test_rectangular_blade_by_hand(pitch: float) -> None:
    """Even inflow costs 10 % of power at most, and so 6 % of rpm; profile power goes with the cube of rpm."""
    rpm, induced, profile = by_hand(pitch)
    got = at(pitch)
    assert got.rpm == pytest.approx(rpm, rel=0.06)
    assert got.induced_w == pytest.approx(induced, rel=0.10)
    assert got.profile_w == pytest.approx(profile * (got.rpm / rpm) ** 3, rel=0.05)
    assert got.power_w == pytest.approx(induced + profile, rel=0.10)


@pytest.mark.parametrize("coning", [0.0, 0.1])
def test_lift_carries_the_weight_and_torque_times_speed_is_power(coning: float) -> None:
    got = at(8.0, replace(TASK, coning_rad=coning))
    carried_n = RHO * math.pi * RADIUS**2 * got.tip_speed_m_s**2 * got.point.thrust * math.cos(coning)
    assert carried_n == pytest.approx(10.0, rel=2e-4)
    assert BLADES * float(np.sum(got.lift_n)) * math.cos(coning) == pytest.approx(10.0, rel=2e-4)
    assert got.torque_n_m * got.rpm * math.pi / 30 == pytest.approx(got.induced_w + got.profile_w)
    assert got.tip_speed_m_s == pytest.approx(got.rad_s * RADIUS * math.cos(coning))
    assert ROOT * RADIUS < got.r_m[0] < got.r_m[-1] < RADIUS


def test_coned_blades_turn_faster() -> None:
    """Speed over ground falls with the cosine and so does what points up: rpm goes with cos^-1.5."""
    assert at(8.0, replace(TASK, coning_rad=0.2)).rpm / at(8.0).rpm == pytest.approx(math.cos(0.2) ** -1.5, rel=1e-4)


def test_rpm_goes_with_the_root_of_weight_over_density_and_power_with_its_cube() -> None:
    """Coefficients that don't know the Reynolds number are alike at any rpm."""
    other = at(8.0, Task(20.0, RADIUS, 1.0, NU))
    assert other.rpm / at(8.0).rpm == pytest.approx(math.sqrt(2 * 1.225), rel=2e-4)
    assert other.power_w / at(8.0).power_w == pytest.approx(2**1.5 * 1.225**0.5, rel=5e-4)


def test_numbers_of_mach_and_reynolds_by_hand() -> None:
    got = at(8.0)
    assert got.mach_tip == pytest.approx(got.rpm * math.pi / 30 * 1.5 / 340.294)


def test_ground_spares_rpm_and_power() -> None:
    """6 % more thrust at one pitch is 3 % less rpm."""
    near = at(8.0, replace(TASK, ground=1 - 1 / 16))
    assert near.rpm / at(8.0).rpm == pytest.approx(1.06**-0.5, abs=0.01)
    assert near.power_w < at(8.0).power_w


def test_rpm_that_thrust_depends_on_is_found_in_few_points(monkeypatch: pytest.MonkeyPatch) -> None:
    """Four points of hover at most, each about a millisecond; the weight is met to 2e-4."""
    points = []

    def counted(*args: object) -> object:
        points.append(args)
        return hover_point(*args)  # type: ignore[arg-type]

    hover_point = module.hover_point
    monkeypatch.setattr(module, "hover_point", counted)
    for weight in (1.0, 10.0, 100.0):
        points.clear()
        got = carried(table(), 0.0, 0.14, ByReynolds(), replace(TASK, weight_n=weight))
        assert isinstance(got, Carried) and len(points) <= 4
        again = hover_point(table(), 0.14, ByReynolds(), got.tip_speed_m_s * RADIUS / NU)
        assert again.thrust * TASK.force_n(got.tip_speed_m_s) == pytest.approx(weight, rel=2e-4)


def test_where_it_begins_makes_no_difference() -> None:
    for pitch in np.radians([-3.0, 2.0, 5.0, 8.0, 11.0, 40.0]):
        got, alone = (carried(table(), 0.0, pitch, POLAR, TASK, first) for first in (30.0, None))
        assert type(got) is type(alone) and got.pitch_rad == pitch
        if isinstance(got, Carried) and isinstance(alone, Carried):
            assert got.rpm == pytest.approx(alone.rpm, rel=2e-4)


def test_twist_and_pitch_add() -> None:
    twist = np.radians(8.0 * (0.75 - table().blade.r))
    one = carried(table(), twist + 0.05, 0.08, POLAR, TASK)
    other = carried(table(), twist, 0.13, POLAR, TASK)
    assert isinstance(one, Carried) and isinstance(other, Carried)
    assert one.rpm == pytest.approx(other.rpm)


@pytest.mark.parametrize("pitch", [-4.0, 0.0])
def test_no_lift_is_told(pitch: float) -> None:
    got = carried(table(), 0.0, math.radians(pitch), POLAR, TASK)
    assert isinstance(got, NotCarried) and got.why is Why.NO_LIFT and got.nearest is None


def test_too_fast_for_a_little_lift() -> None:
    """A thousand times the weight at 2 deg would need tips beyond the speed of sound."""
    got = carried(table(), 0.0, math.radians(2.0), POLAR, replace(TASK, weight_n=1e4))
    assert isinstance(got, NotCarried) and got.why is Why.NO_LIFT


def test_stall_is_told_with_the_nearest_figures() -> None:
    got = carried(table(), 0.0, math.radians(30.0), POLAR, TASK)
    assert isinstance(got, NotCarried) and got.why is Why.PAST_STALL
    assert got.nearest is not None and got.nearest.point.stalled
    assert got.nearest.point.thrust * TASK.force_n(got.nearest.tip_speed_m_s) == pytest.approx(10.0, rel=1e-3)


@pytest.mark.parametrize("what", ["weight_n", "radius_m", "air_density", "kinematic_viscosity"])
def test_nothing_is_refused(what: str) -> None:
    with pytest.raises(ValueError, match="> 0"):
        carried(table(), 0.0, 0.1, POLAR, replace(TASK, **{what: 0.0}))
