"""What hover hands over along the blade, against hover's own sums and against equilibrium by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from conftest import CraftOf

from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.hover.rotor import Setting
from geomgen.strength.run_up import run_up, trim_n


def flown(craft: Craft) -> Setting:
    at = craft.hover.flown.setting if craft.hover else None
    assert isinstance(at, Setting)
    return at


def test_blades_lift_what_fans_leave(lantern: Craft) -> None:
    """Equilibrium: all blades' force along the axis and the fans' carry the weight."""
    air, at = lantern.air_loads, flown(lantern)
    assert air.carries is not None and air.fans is not None
    lift = 2 * air.up_n_s2.sum() * at.blades.rad_s**2 * math.cos(math.radians(2.0))
    assert lift + at.fans_up_n == pytest.approx(at.weight_n, rel=1e-3)
    assert air.carries[1] == pytest.approx(at.blades.rad_s, rel=1e-6)


def test_fans_that_trim_pull_as_in_hover(lantern: Craft) -> None:
    """Torque of the drag over the arm of the fans; hover's by the wake's own sums of induced and profile power."""
    air, at = lantern.air_loads, flown(lantern)
    coning = math.radians(2.0)
    assert trim_n(air, at.blades.rad_s, coning) == pytest.approx(at.fan_n, rel=0.01)
    torque = air.back_n_s2 @ air.r_mm * 1e-3 * at.blades.rad_s**2 * math.cos(coning)
    assert 2 * torque == pytest.approx(at.blades.torque_n_m, rel=0.01)


def test_the_sections_moment_turns_the_nose_down(lantern: Craft) -> None:
    """Of a 4 % cambered section about its quarter chord: thin-aerofoil theory has -0.106 for NACA 44xx at 40 % (from
    memory), measured ones some -0.08 to -0.1. M = c_m rho/2 V^2 c^2, V = Omega r; chord by hand from the file."""
    air = lantern.air_loads
    chord = np.interp(air.r_mm, [130.0, 800.0], [0.210, 0.150])
    stream = 0.5 * air.density_kg_m3 * (air.r_mm * 1e-3) ** 2 * chord**2 * air.wide_mm * 1e-3
    inside = (air.r_mm > 250.0) & (air.r_mm < 770.0)  # a rounded tip has another chord
    coefficient = (air.turn_nm_s2 / stream)[inside]
    assert np.all((coefficient < -0.05) & (coefficient > -0.13))


def test_quarter_chord_at_the_pitch_to_fly_at(lantern: Craft) -> None:
    """The feather axis runs on the camber line over the quarter chord; turned by 8 deg that lies behind and above."""
    quarter, r = lantern.air_loads.quarter_mm, lantern.air_loads.r_mm
    k = int(np.argmin(abs(r - 650.0)))
    assert quarter[k, 1] < -4.0 and quarter[k, 0] > 0.0
    assert math.hypot(*quarter[k]) == pytest.approx(0.0366 * np.interp(r[k], [130.0, 800.0], [210.0, 150.0]), rel=0.15)


def test_fan_pulls_as_measured_where_no_pack_feeds_it(craft_of: CraftOf) -> None:
    """What the file states as measured standing, 1.9 N in the same air."""
    text = example_path("lantern").read_text(encoding="utf-8")
    pack = text[text.index("\n[pack.main]\n") : text.index("\n[glue]")]
    alone = craft_of("lantern", (pack, ""), ('pack   = "main"  ', "")).air_loads
    assert alone.fans is not None
    assert alone.fans.full_n[0] == pytest.approx(1.9, rel=0.02)
    assert np.all(np.diff(alone.fans.full_n) < 0.0)


@pytest.mark.parametrize(
    ("turn", "fan", "sign"),
    [("anti", "", 1.0), ("", "", -1.0), ("anti", "anti", -1.0), ("", "anti", 1.0)],
)
def test_the_fans_couple_changes_sides_with_either_turn(craft_of: CraftOf, turn: str, fan: str, sign: float) -> None:
    """Nose up for a fan that turns clockwise seen from behind on a rotor that turns anticlockwise (a textbook's sign,
    read): a mirror image of both has the same. 12 g cm2 at 40000 rpm, or, left unsaid, by tips'
    130 m/s on 20 mm: 0.0050 and 0.0078 kg m2 rad/s, by hand."""
    ours = 'turn   = "anticlockwise"            # seen from above', f'turn = "{turn}clockwise"'
    its = 'turn   = "clockwise"                # seen from behind', f'turn = "{fan}clockwise"'
    fans = craft_of("lantern", ours, its).air_loads.fans
    assert fans is not None
    assert fans.spin == pytest.approx((sign * 12e-7 * 40000.0 * math.pi / 30.0,) * 3)
    unsaid = 'speed  = "40000 rpm"                # at full throttle: ', "# "
    fans = craft_of("lantern", ours, its, unsaid).air_loads.fans
    assert fans is not None
    assert fans.spin[1] == pytest.approx(sign * 12e-7 * 130.0 / 0.02)
    assert abs(fans.spin[0]) < abs(fans.spin[1]) < abs(fans.spin[2])


def test_a_start_by_steps_of_its_own(lantern: Craft) -> None:
    """I dw/dt = moments, in ten times as many steps of the simplest kind, with the figures of the demo."""
    air = lantern.air_loads
    assert air.fans is not None
    inertia, coning = 0.09, math.radians(2.0)
    cases = run_up(air, inertia_kg_m2=inertia, blades=2, coning_rad=coning, run_up_s=3.0, most_rad_s=36.0, cases=20)
    arm = float(air.fans.place[0]) * 1e-3 * math.cos(coning) * float(air.fans.forward[1])
    drag = air.back_n_s2 @ air.r_mm * 1e-3 * math.cos(coning) + air.fans.drag_n_s2 * 0.768 * math.cos(coning)
    t = speed = 0.0
    at = {case.time_s: case for case in cases}
    times = sorted(time for time in at if time is not None)
    for goal in times[:15]:
        while t < goal - 1e-9:
            step = min(1e-3, goal - t)
            pull = min(t / 3.0, 1.0) * np.interp(speed * 0.768 * math.cos(coning), air.fans.speeds_m_s, air.fans.full_n)
            speed += step * 2 * (pull * arm - drag * speed**2) / inertia
            t += step
        assert at[goal].rad_s == pytest.approx(speed, rel=0.01, abs=0.02)
    assert cases[-1].rad_s == pytest.approx(36.0, rel=0.01)
