"""A rotor turned by its fans: forces along its axis and torque are in balance, at any tilt and coning."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rotor_cases import BLADES, DRAG_AREA, FAN_AT, POLAR, RADIUS, WEIGHT, rotor

from geomgen.hover.rotor import NoSetting, Setting, setting
from geomgen.section.polar.forces import CappedLine

RHO = 1.225


def at(pitch_deg: float, tilt_deg: float = 0.0, coning_rad: float = 0.0) -> Setting:
    found = setting(rotor(tilt_deg, coning_rad), pitch_deg, WEIGHT)
    assert isinstance(found, Setting)
    return found


@pytest.mark.parametrize("coning", [0.0, 0.15])
@pytest.mark.parametrize("tilt", [-8.0, 0.0, 10.0])
@pytest.mark.parametrize("pitch", [5.0, 8.0, 12.0])
def test_balance_of_forces_and_of_torque(pitch: float, tilt: float, coning: float) -> None:
    """By hand: fans stand at r cos b from the axis, turned with the blade, tilted above the tangent of their circle."""
    got = at(pitch, tilt, coning)
    omega, arm = got.rpm * math.pi / 30, FAN_AT * math.cos(coning)
    turned = math.radians(pitch + tilt)
    lift = RHO * math.pi * RADIUS**2 * got.blades.tip_speed_m_s**2 * got.blades.point.thrust * math.cos(coning)
    up = BLADES * got.fan_n * math.sin(turned) * math.cos(coning)
    assert got.fans_up_n == pytest.approx(up)
    assert lift + up == pytest.approx(WEIGHT, rel=5e-4) and got.weight_n == pytest.approx(WEIGHT, rel=2e-4)
    assert got.fan_m_s == pytest.approx(omega * arm)
    housing = 0.5 * RHO * (omega * arm) ** 2 * DRAG_AREA
    torque = BLADES * arm * (got.fan_n * math.cos(turned) - housing)
    assert torque * omega == pytest.approx(got.blades.induced_w + got.blades.profile_w, rel=1e-6)
    assert got.nacelle_w == pytest.approx(BLADES * housing * omega * arm, rel=1e-6)
    assert got.air_w == pytest.approx(BLADES * got.fan_n * math.cos(turned) * got.fan_m_s, rel=1e-6)


def test_fans_that_pull_up_spare_rpm_and_ask_for_more_pull() -> None:
    """At 12 deg, 10 deg above the tangent: 22 deg up at all, 0.15 N or so of 10 N."""
    level, up, down = at(12.0, -12.0), at(12.0, 10.0), at(12.0, -34.0)
    assert level.fans_up_n == 0.0
    assert down.fans_up_n < 0.0 < up.fans_up_n
    assert up.rpm < level.rpm < down.rpm
    lifted = WEIGHT - up.fans_up_n
    assert up.rpm / level.rpm == pytest.approx(math.sqrt(lifted / WEIGHT), rel=5e-4)


def test_without_fans_only_the_air_is_known() -> None:
    bare = setting(replace(rotor(), fans=None), 8.0, WEIGHT)
    assert isinstance(bare, Setting)
    assert (bare.fan_n, bare.fans_up_n, bare.nacelle_w, bare.fan_m_s) == (0.0, 0.0, 0.0, 0.0)
    assert bare.air_w == bare.blades.power_w and bare.weight_n == WEIGHT
    level = at(8.0, -8.0)
    assert bare.rpm == pytest.approx(level.rpm) and bare.blades.power_w == pytest.approx(level.blades.power_w)


def test_past_stall_and_without_lift_in_words() -> None:
    stalled, flat = (setting(rotor(), pitch, WEIGHT) for pitch in (30.0, -3.0))
    assert isinstance(stalled, NoSetting) and "stall" in stalled.why and stalled.nearest is not None
    assert stalled.nearest.weight_n == pytest.approx(WEIGHT, rel=1e-3)
    assert isinstance(flat, NoSetting) and "no lift" in flat.why and flat.nearest is None


def test_fans_that_point_anywhere_else_in_words() -> None:
    """At 1 deg rpm and so torque are so large that fans at 33 deg down pull more than the blades lift."""
    down, across, back = (setting(rotor(tilt), 1.0, WEIGHT) for tilt in (-34.0, 89.0, 180.0))
    assert isinstance(down, NoSetting) and "pull down more" in down.why
    assert isinstance(across, NoSetting) and isinstance(back, NoSetting)
    assert across.why == back.why and "against" in back.why


@settings(max_examples=150, deadline=None)
@given(st.floats(-5.0, 35.0), st.floats(-90.0, 90.0), st.floats(0.0, 0.3), st.floats(0.5, 80.0))
def test_any_rotor_carries_its_weight_or_says_why_not(pitch: float, tilt: float, coning: float, weight: float) -> None:
    got = setting(rotor(tilt, coning), pitch, weight)
    assert got.pitch_deg == pitch
    if isinstance(got, NoSetting):
        assert got.why
    else:
        assert got.weight_n == pytest.approx(weight, rel=2e-3) and got.fan_n > 0.0 and got.air_w > 0.0


def test_another_polar_and_the_ground() -> None:
    draggy = setting(rotor(), 8.0, WEIGHT, polar=replace(POLAR, drag_at_zero=0.04))
    near = setting(rotor(), 8.0, WEIGHT, ground=0.9)
    assert isinstance(draggy, Setting) and isinstance(near, Setting)
    assert draggy.blades.profile_w / at(8.0).blades.profile_w == pytest.approx(2.0, rel=0.05)
    assert near.rpm < at(8.0).rpm and near.air_w < at(8.0).air_w
    assert isinstance(setting(rotor(), 8.0, WEIGHT, polar=CappedLine(5.7, 0.2)), NoSetting)
