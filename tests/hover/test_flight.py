"""One pitch in full: a whole case by hand, every watt from the pack to the air, and full throttle.

Sources: even inflow in closed form (any textbook of helicopters), induced power 1.15 times the ideal one (common
practice); momentum of ducted fans; the laws of the fan's class as stated in its tests.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rotor_cases import (
    BLADES,
    CHORD,
    DRAG,
    DRAG_AREA,
    FAN_AT,
    POLAR,
    RADIUS,
    ROOT,
    SLOPE,
    WEIGHT,
    ByReynolds,
    chain,
    rotor,
    table,
)

from geomgen.hover.flight import CHARGE, Flight, Full, flight, full_throttle
from geomgen.hover.power.chain import Beyond, Working
from geomgen.hover.power.pack import Stop
from geomgen.hover.rotor import NoSetting, Setting
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import SectionPolar

RHO, AREA = 1.225, math.pi / 4 * (0.040**2 - 0.022**2)  # of the fan's exit [m2]


def at(pitch_deg: float = 8.0, tilt_deg: float = 0.0, power_w: float = 130.0, *, at_tip: bool = True) -> Flight:
    return flight(rotor(tilt_deg), chain(power_w, at_tip=at_tip), pitch_deg, WEIGHT)


def known(got: Flight) -> tuple[Setting, Working, Full]:
    assert isinstance(got.setting, Setting) and isinstance(got.working, Working) and got.full is not None
    return got.setting, got.working, got.full


def even_inflow(pitch_deg: float) -> tuple[float, float]:
    """Coefficients of thrust and torque: C_T = s a / 2 (t (1 - x^3) / 3 - l (1 - x^2) / 2), l 1.15 times the ideal."""
    solidity = BLADES * CHORD / math.pi
    steep = solidity * SLOPE / 2 * math.radians(pitch_deg) * (1 - ROOT**3) / 3
    flat, square = solidity * SLOPE / 4 * (1 - ROOT**2), 2 / 1.15**2
    inflow = (math.sqrt(flat**2 + 4 * square * steep) - flat) / (2 * square)
    thrust = square * inflow**2
    return thrust, thrust * inflow + solidity * DRAG / 8 * (1 - ROOT**4)


def test_whole_case_by_hand() -> None:
    """8 deg, 10 N, three fans along the tangent. rpm, power and amperes within 10 %, which even inflow costs."""
    setting, working, _ = known(at(8.0, -8.0))
    thrust, torque = even_inflow(8.0)
    unit = RHO * math.pi * RADIUS**2
    tip = math.sqrt(WEIGHT / (thrust * unit))
    assert setting.rpm == pytest.approx(tip / RADIUS * 30 / math.pi, rel=0.06)
    speed = tip * FAN_AT / RADIUS
    housing = 0.5 * RHO * speed**2 * DRAG_AREA
    pull = torque * unit * tip**2 * RADIUS / (BLADES * FAN_AT) + housing
    assert setting.fan_n == pytest.approx(pull, rel=0.10)
    jet = speed / 2 + math.sqrt(speed**2 / 4 + pull / (RHO * AREA))
    air_w = 0.5 * pull * (jet + speed)
    share = air_w / (0.48 * 130.0)  # of full power: efficiency is 10 % down at a third of it, and straight with it
    motors_w = BLADES * air_w / (0.48 * (1 - 0.15 * (1 - share)))
    assert working.air_w == pytest.approx(BLADES * air_w, rel=0.10)
    assert working.plug_w == pytest.approx(motors_w, rel=0.10)
    amps = motors_w / (3 * 3.87)
    assert working.pack_a == pytest.approx(amps, rel=0.10)
    lasts = at(8.0, -8.0).lasts
    assert lasts is not None and lasts.minutes == pytest.approx(60 * 0.8 * 2.2 / amps, rel=0.10)


def test_full_throttle_by_hand() -> None:
    """Fans' pull at speed is what blades ask for, which goes with its square; 11.61 V less what pack and wires drop of
    it, by trial with 11.1 V for 130 W. Lift left within 10 % of all lift, which even inflow costs."""
    full = known(at(8.0, -8.0))[2]
    thrust, torque = even_inflow(8.0)
    unit = RHO * math.pi * RADIUS**2
    asked = torque * unit * RADIUS**3 / (BLADES * FAN_AT) + 0.5 * RHO * FAN_AT**2 * DRAG_AREA  # N for each (rad/s)^2
    volts = 3 * 3.87
    for _ in range(20):
        each_a = 130.0 * (volts / 11.1) ** 2.65 / volts
        volts = 3 * 3.87 - each_a * (3 * 3 * 0.008 + 2 * 17.241e-3 * 1.4 / 0.3 * 1.0786)
    full_w, omega = 0.48 * 130.0 * (volts / 11.1) ** 2.65, 5.0
    for _ in range(200):
        speed = omega * FAN_AT
        jet = jet_for(full_w, speed)
        omega *= (RHO * AREA * jet * (jet - speed) / (asked * omega**2)) ** 0.2
    assert full.rpm == pytest.approx(omega * 30 / math.pi, rel=0.06)
    assert full.lift_left + 1 == pytest.approx(thrust * unit * (omega * RADIUS) ** 2 / WEIGHT, rel=0.10)


def jet_for(air_w: float, speed: float) -> float:
    """Real root of 1/2 rho A u (u^2 - V^2) = P, by numpy's eigenvalues."""
    roots = np.roots([1.0, 0.0, -(speed**2), -2 * air_w / (RHO * AREA)])
    return float(max(roots[abs(roots.imag) < 1e-9].real))


@pytest.mark.parametrize("at_tip", [True, False])
@pytest.mark.parametrize(("pitch", "tilt"), [(6.0, 0.0), (8.0, -8.0), (11.0, 5.0)])
def test_every_watt_from_the_cells_to_the_air(pitch: float, tilt: float, at_tip: bool) -> None:
    """Cells' rest voltage times current is in blades, housings, jets, fans, wires and pack; by hand, to 1e-6."""
    setting, working, _ = known(at(pitch, tilt, at_tip=at_tip))
    along_w = BLADES * setting.fan_n * math.cos(math.radians(pitch + tilt)) * setting.fan_m_s
    ledger = {
        "induced": setting.blades.induced_w,
        "profile": setting.blades.profile_w,
        "housings": setting.nacelle_w,
        "jets": working.air_w - along_w,
        "fans": working.fans_w,
        "wires": working.wires_w,
        "pack": working.pack_w,
    }
    assert all(each > 0.0 for each in ledger.values())
    assert sum(ledger.values()) == pytest.approx(3 * 3.87 * working.pack_a, rel=1e-6)
    assert working.thrust_n == setting.fan_n


@pytest.mark.parametrize(
    ("pitch", "coning", "fans", "polar"),
    [
        (6.0, 0.0, 1, POLAR),
        (12.0, 0.0, 1, POLAR),
        (8.0, 0.12, 1, POLAR),
        (8.0, 0.0, 2, POLAR),
        (8.0, 0.0, 1, ByReynolds()),
    ],
)
def test_at_full_throttle_torque_is_in_balance(pitch: float, coning: float, fans: int, polar: SectionPolar) -> None:
    """Fans' pull at that speed, by momentum, turns blades, solved anew at that rpm, and housings."""
    full = known(flight(rotor(0.0, coning, fans, polar), chain(fans=fans), pitch, WEIGHT))[2]
    omega, arm, all_fans = full.rpm * math.pi / 30, FAN_AT * math.cos(coning), BLADES * fans
    speed, tip = omega * arm, omega * RADIUS * math.cos(coning)
    jet = jet_for(full.working.air_w / all_fans, speed)
    pull = RHO * AREA * jet * (jet - speed)
    assert full.working.thrust_n == pytest.approx(pull, rel=1e-6)
    point = hover_point(table(), math.radians(pitch), polar, tip * RADIUS / 1.46072e-5)
    unit = RHO * math.pi * RADIUS**2 * tip**2
    blades_w = point.torque * unit * tip
    housing = 0.5 * RHO * speed**2 * DRAG_AREA
    turned = math.radians(pitch)
    assert all_fans * speed * (pull * math.cos(turned) - housing) == pytest.approx(blades_w, rel=2e-4)
    lifted = (point.thrust * unit + all_fans * pull * math.sin(turned)) * math.cos(coning)
    assert full.lifted_n == pytest.approx(lifted, rel=2e-4)
    assert full.lift_left == pytest.approx(lifted / WEIGHT - 1, abs=3e-4)


def test_more_throttle_never_fewer_rpm() -> None:
    """From half throttle on, and at the throttle that carries the rpm that carries."""
    setting, working, _ = known(at())
    found = [full_throttle(rotor(), chain(), setting, throttle) for throttle in np.linspace(0.5, 1.0, 11)]
    rpm = [each.rpm for each in found]
    assert np.all(np.diff(rpm) > 0.0) and np.all(np.diff([each.lifted_n for each in found]) > 0.0)
    back = full_throttle(rotor(), chain(), setting, working.throttle)
    assert back.rpm == pytest.approx(setting.rpm, rel=1e-3) and abs(back.lift_left) < 2e-3


def test_fans_too_weak() -> None:
    weak = at(power_w=14.0)
    assert isinstance(weak.setting, Setting) and isinstance(weak.working, Beyond) and weak.working.throttle > 1.0
    assert not weak.holds and not weak.reaches(0.0)
    assert weak.lasts is not None and weak.lasts.stop is Stop.NEVER and weak.lasts.minutes == 0.0
    assert weak.full is not None and weak.full.lift_left < 0.0


def test_fans_that_are_strong_enough_only_with_a_full_pack() -> None:
    """At three fifths of a charge they no longer are; it flies until then."""
    got = at(power_w=20.0)
    assert isinstance(got.working, Beyond) and not got.holds
    assert got.lasts is not None and got.lasts.stop is Stop.THROTTLE and CHARGE < got.lasts.charge < 0.7


@settings(max_examples=200, deadline=None)
@given(
    st.floats(2.0, 14.0),
    st.floats(-20.0, 20.0),
    st.floats(5.0, 400.0),
    st.floats(1.0, 40.0),
    st.floats(0.0, 0.03),
    st.booleans(),
    st.sampled_from([POLAR, ByReynolds()]),
)
def test_it_carries_where_full_throttle_lifts_more_than_it_weighs(
    pitch: float, tilt: float, power_w: float, weight: float, cell_ohm: float, at_tip: bool, polar: SectionPolar
) -> None:
    """Two searches that know nothing of one another: by pull, and by balance of torque at full throttle."""
    got = flight(rotor(tilt, polar=polar), chain(power_w, at_tip=at_tip, cell_ohm=cell_ohm), pitch, weight)
    if isinstance(got.setting, NoSetting):
        assert got.full is None
        return
    assert got.full is not None and got.lasts is not None and got.working is not None
    if abs(got.full.lift_left) > 5e-3:
        assert (got.full.lift_left > 0.0) == isinstance(got.working, Working) == got.holds
    if isinstance(got.working, Working) and got.lasts.stop is not Stop.VOLTAGE:
        assert got.lasts.minutes > 0.0 and got.lasts.charge <= CHARGE


def test_enough_or_too_little_left_over() -> None:
    got = at()
    left = known(got)[2].lift_left
    assert got.holds and got.reaches(left) and not got.reaches(left + 1e-6)
    assert got.cost_w == known(got)[1].taken_w


def test_past_stall_and_without_a_chain() -> None:
    stalled = at(30.0)
    assert isinstance(stalled.setting, NoSetting) and "stall" in stalled.setting.why
    assert stalled.working is None and stalled.full is None and not stalled.holds and math.isinf(stalled.cost_w)
    bare = flight(rotor(), None, 8.0, WEIGHT)
    assert isinstance(bare.setting, Setting) and bare.working is None and bare.lasts is None and bare.full is None
    assert bare.reaches(0.5) and bare.cost_w == bare.setting.air_w


def test_stall_at_full_throttle_is_told() -> None:
    assert known(at())[2].stalled is False
    stalled = at(30.0).setting
    assert isinstance(stalled, NoSetting) and stalled.nearest is not None
    assert full_throttle(rotor(), chain(), stalled.nearest).stalled
