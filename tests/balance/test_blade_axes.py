"""Axes of inertia by hand: point masses under pitch, coning and hand, and what pulls a turning blade flat."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from geomgen.balance.inertia import about_origin, blade_inertia, craft_inertia
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.schema import Design
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role


def point(grams: float, *place: float, blade: int | None = None, assembly: Assembly = Assembly.BLADE) -> Element:
    return Element(Key(Role.RIB, "x"), assembly, blade, "x", grams, np.array(place), np.zeros((3, 3)))


def design(**rotor: Any) -> Design:
    made = demo().design
    return made.model_copy(update={"rotor": made.rotor.model_copy(update=rotor)})


def test_a_quarter_turn_of_pitch_takes_forward_to_up() -> None:
    """10 g, 500 out and 30 forward: lag has the 30 at pitch 0; a quarter turn on, leading edge up, flap has it."""
    some = [point(10, 500, 30, 0)]
    level, turned = (blade_inertia(some, pitch_deg=p, coning_deg=0).at_set for p in (0, 90))
    assert np.diag(level) == pytest.approx([10 * 900, 10 * 500**2, 10 * (500**2 + 900)])
    assert np.diag(turned) == pytest.approx([10 * 900, 10 * (500**2 + 900), 10 * 500**2])
    assert (level[0, 1], level[0, 2]) == pytest.approx((-10 * 500 * 30, 0))
    assert (turned[0, 1], turned[0, 2]) == pytest.approx((0, -10 * 500 * 30), abs=1e-9)


def test_pitch_of_30_deg_makes_a_product_of_flap_and_lag() -> None:
    """Two of 10 g, 50 ahead and 50 behind: y z sums to 2 x 10 x 50^2 sin 30 cos 30, leading edge up."""
    some = [point(10, 400, 50, 0), point(10, 400, -50, 0)]
    at_set = blade_inertia(some, pitch_deg=30, coning_deg=0).at_set
    assert at_set[1, 2] == pytest.approx(-50_000 * 0.5 * np.sqrt(0.75))
    assert at_set[2, 2] - at_set[1, 1] == pytest.approx(50_000 * (0.75 - 0.25))


@pytest.mark.parametrize(("place", "nearer"), [((500, 0, 0), np.cos), ((0, 0, 500), np.sin), ((0, 500, 0), None)])
def test_coning_about_the_rotor_axis(place: tuple[float, ...], nearer: Any) -> None:
    """Out along a blade coned by 20 deg 500 is 500 cos 20 deg off the axis; up from it 500 sin 20 deg; ahead, 500."""
    found = blade_inertia([point(10, *place)], pitch_deg=0, coning_deg=20).about_rotor_axis
    assert found == pytest.approx(10 * (500 * (nearer(np.radians(20)) if nearer else 1.0)) ** 2)


def test_a_clockwise_craft_is_the_mirror_image() -> None:
    """Blade 2 of three, 30 g at 400, stands at 120 deg, or at -120 deg: x y sums to 30 x 400^2 cos 120 sin 120."""
    some = [point(30, 400, 0, 0, blade=2), point(20, 0, 10, 5, assembly=Assembly.HUB)]
    found = {
        turn: craft_inertia(some, design(blades=3, turn=turn, coning=0.0)) for turn in ("anticlockwise", "clockwise")
    }
    xy, total = 30 * 400**2 * np.cos(np.radians(120)) * np.sin(np.radians(120)), 50.0
    for turn, sign in (("anticlockwise", 1.0), ("clockwise", -1.0)):
        centre = np.array([30 * -200 / total, sign * (30 * 400 * np.sqrt(0.75) + 200) / total, 2.0])
        body = found[turn].body
        assert body.centre == pytest.approx(centre)
        assert body.inertia[0, 1] == pytest.approx(-(sign * xy - total * centre[0] * centre[1]))
        assert body.inertia[1, 2] == pytest.approx(-(20 * sign * 10 * 5 - total * centre[1] * centre[2]))
        assert found[turn].about_rotor_axis == pytest.approx(30 * 400**2 + 20 * 100)


def test_turning_pulls_a_blade_flat() -> None:
    """At 300 rpm each 10 g of two pulls outwards by m w2 y at a height z: moments -2 m w2 y z about the feather axis,
    nose down at a pitch above 0, up below."""
    w2 = (300 * np.pi / 30) ** 2
    for pitch in (12.0, -7.0):
        y, z = 0.05 * np.cos(np.radians(pitch)), 0.05 * np.sin(np.radians(pitch))
        some = [point(10, 400, 50, 0), point(10, 400, -50, 0)]
        found = blade_inertia(some, pitch_deg=pitch, coning_deg=0).flattening_nm(300)
        assert found == pytest.approx(-2 * 0.010 * w2 * y * z)


def test_flattening_of_a_coned_blade_by_its_forces() -> None:
    """Each mass's own pull, outwards from the rotor axis, in the coned axes: moment of all about the feather axis."""
    rng = np.random.default_rng(3)
    places, grams = rng.uniform((100, -60, -20), (800, 60, 20), (20, 3)), rng.uniform(1, 20, 20)
    some = [point(m, *p) for m, p in zip(grams, places, strict=True)]
    pitch, coning, w2 = np.radians(11), np.radians(6), (260 * np.pi / 30) ** 2
    x, y0, z0 = places.T
    y, z = y0 * np.cos(pitch) - z0 * np.sin(pitch), y0 * np.sin(pitch) + z0 * np.cos(pitch)
    off = x * np.cos(coning) - z * np.sin(coning)  # from the rotor axis along the blade's azimuth, square to it y
    pull_up = -off * np.sin(coning)  # what of that pull lies along the blade's own z
    moment = np.sum(grams * 1e-9 * w2 * (y * pull_up - z * y))
    found = blade_inertia(some, pitch_deg=11, coning_deg=6).flattening_nm(260)
    assert found == pytest.approx(moment)


def test_only_one_blades_own_elements_count() -> None:
    some = [point(10, 500, 0, 0), point(3, 500, 0, 0, blade=2), point(50, 0, 0, 0, assembly=Assembly.HUB)]
    masses = [blade_inertia(some, pitch_deg=0, coning_deg=0, number=k).mass_g for k in (1, 2)]
    assert masses == [10, 13]


def test_the_crafts_own_sums(lantern: Craft) -> None:
    """Two blades and the hub about the rotor axis; moments about the centre are those less what the centre's own
    distance makes, by parallel axes."""
    of, hub = lantern.inertia, [e for e in lantern.elements if e.assembly == Assembly.HUB]
    alone = about_origin(hub)[2, 2]
    assert of.craft.about_rotor_axis == pytest.approx(2 * of.blade.about_rotor_axis + alone)
    body = of.craft.body
    off = body.centre[0] ** 2 + body.centre[1] ** 2
    assert body.inertia[2, 2] == pytest.approx(of.craft.about_rotor_axis - body.mass_g * off)
    heavier = [replace(e, inertia=e.inertia * 2, mass_g=e.mass_g * 2) for e in hub]
    assert about_origin(heavier)[0, 0] == pytest.approx(2 * about_origin(hub)[0, 0])
