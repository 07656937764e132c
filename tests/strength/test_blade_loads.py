"""A blade's loads against sums of the test's own: over elements, over lines, over the air's pieces."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from geomgen.arrays import FloatArray
from geomgen.craft import Craft
from geomgen.frames import turn
from geomgen.model.role import Assembly
from geomgen.strength.blade_loads import GREATEST, TYPICAL, BladeLoads, Case
from geomgen.strength.loads import GRAVITY_M_S2, InHub, blade_loads, states_of

SPEEDS = np.linspace(0.0, 50.0, 10)
TEN = tuple(Case(f"{speed:.0f}", float(speed), gains=0.3 * float(speed), fan_n=0.02 * float(speed)) for speed in SPEEDS)


def loads(craft: Craft, cases: tuple[Case, ...], stiffer: float = 1.0) -> BladeLoads:
    design, stiff = craft.design, craft.stiffness
    stiff = replace(stiff, ei_nm2=stiff.ei_nm2 * stiffer, gj_nm2=stiff.gj_nm2 * stiffer)
    hub = InHub(design.pitch.set, design.rotor.coning, design.hub.socket.fit)
    return blade_loads(craft.placed, stiff, craft.points, craft.air_loads, cases, hub)


def by_elements(craft: Craft, case: Case) -> tuple[FloatArray, FloatArray]:
    """Force and moment about the rotor's middle of all that acts on one blade that doesn't bend, in its coned axes.

    Of a rigid body that turns about a fixed axis: m a of its centre, w x I w + I dw/dt about a point on the axis
    (textbook mechanics); weight at the centre; the air's pieces and the fans one by one.
    """
    coning, pitched = math.radians(craft.design.rotor.coning), turn("x", craft.design.pitch.set)[:3, :3]
    up = np.array([math.sin(coning), 0.0, math.cos(coning)])
    mine = [e for e in craft.elements if e.assembly is Assembly.BLADE and e.key in craft.points.keys]
    w, gain = case.rad_s * up, case.gains * up
    force, moment = np.zeros(3), np.zeros(3)
    for element in mine:
        kg, at = element.mass_g * 1e-3, pitched @ element.centre * 1e-3
        about = pitched @ element.inertia @ pitched.T * 1e-9 + kg * (at @ at * np.eye(3) - np.outer(at, at))
        weight = -kg * GRAVITY_M_S2 * up
        force += weight - kg * (np.cross(w, np.cross(w, at)) + np.cross(gain, at))
        moment += np.cross(at, weight) - np.cross(w, about @ w) - about @ gain
    air, square = craft.air_loads, case.rad_s**2
    for r, (y, z), lift, back, nose in zip(
        air.r_mm, air.quarter_mm, air.up_n_s2, air.back_n_s2, air.turn_nm_s2, strict=True
    ):
        each = square * np.array([0.0, -back, lift])
        force += each
        moment += np.cross(np.array([r, y, z]) * 1e-3, each) + np.array([square * nose, 0.0, 0.0])
    fans = air.fans
    assert fans is not None
    each = case.fan_n * fans.forward - [0.0, square * fans.drag_n_s2, 0.0]
    force += each
    spins = fans.spin[1] * math.sqrt(case.fan_n / fans.full_n[0]) * case.rad_s
    moment += np.cross(fans.place * 1e-3, each) + np.array([spins, 0.0, 0.0])
    return force, moment


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_what_the_hub_holds_is_all_that_acts(name: str, request: pytest.FixtureRequest) -> None:
    """Ten speeds, both hands: a blade so stiff that it hardly bends. Inertia's sums by elements hold to 1e-4 of the
    whole (a skin's own breadth is spread evenly along it here), so moments are held to that; forces to 1e-9."""
    craft: Craft = request.getfixturevalue(name)
    got, place = loads(craft, TEN, stiffer=1e12), craft.placed
    for k, case in enumerate(TEN):
        force, moment = by_elements(craft, case)
        inner, outer = got.socket.inner_n[TYPICAL, k], got.socket.outer_n[TYPICAL, k]
        collar, pins = got.socket.collar_n[TYPICAL, k], got.socket.pins_nm[TYPICAL, k]
        whole = float(np.abs(force).max())
        assert [collar, *(inner + outer)] == pytest.approx(force, abs=1e-9 * whole)
        a, b = place.inner_mm * 1e-3, place.outer_mm * 1e-3
        held = (
            np.cross([a, 0.0, 0.0], [0.0, *inner]) + np.cross([b, 0.0, 0.0], [0.0, *outer]) + np.array([pins, 0.0, 0.0])
        )
        assert held == pytest.approx(moment, abs=2e-4 * whole)


def test_pulls_are_mass_times_radius_times_speed_squared(lantern: Craft) -> None:
    """Line by line; coning 2 deg lowers radius and pull by its cosine each, and by the sine of what lies above."""
    found = lantern.loads
    for line in lantern.weighed:
        if line.key not in found.pulls_n:
            continue
        out, _, _ = line.place_mm
        for row, grams in ((TYPICAL, line.set_g[1]), (GREATEST, line.set_g[2])):
            plain = np.array([grams * 1e-6 * out * case.rad_s**2 for case in found.cases])
            assert found.pulls_n[line.key][row] == pytest.approx(plain, rel=4e-3, abs=1e-6)
        assert found.centres_mm[line.key] == pytest.approx(out, abs=1e-6)
    whole = sum(pulls for pulls in found.pulls_n.values())
    assert found.socket.collar_n == pytest.approx(whole, rel=0.01, abs=0.3)  # weight, and the fans' tilt, besides


def test_air_between_places_is_all_of_it(lantern: Craft) -> None:
    found, air = lantern.loads, lantern.air_loads
    square = np.array([case.rad_s**2 for case in found.cases])
    assert found.air_up_n[TYPICAL].sum(axis=-1) == pytest.approx(square * air.up_n_s2.sum())
    assert found.air_back_n[GREATEST].sum(axis=-1) == pytest.approx(1.12 * square * air.back_n_s2.sum())
    up, _ = found.air_between(300.0, 500.0)
    inside = np.clip(np.minimum(air.r_mm + air.wide_mm / 2, 500) - np.maximum(air.r_mm - air.wide_mm / 2, 300), 0, None)
    assert up[TYPICAL] == pytest.approx(square * (inside / air.wide_mm @ air.up_n_s2), rel=0.01)


def test_flap_at_a_radius_by_what_lies_beyond(lantern: Craft) -> None:
    """At rest: weight times arm, over all lines' spreads; no air, no pull."""
    found, cut = lantern.loads, 300.0
    coning = math.radians(2.0)
    moment = 0.0
    for each, line in zip(lantern.measured, lantern.weighed, strict=True):
        if line.key in found.pulls_n:
            share, out = each.part.spread[:, 0], each.part.spread[:, 1]
            moment -= line.set_g[1] * 1e-6 * GRAVITY_M_S2 * float(share @ np.maximum(out - cut, 0.0)) * math.cos(coning)
    rest = found.at(cut).flap_nm[TYPICAL, 0]
    assert rest == pytest.approx(moment, rel=0.03)


def test_twist_goes_back_to_hover(lantern: Craft) -> None:
    """2 % of rpm for each degree or so (thrust by pitch, hover's own table), the other way."""
    found = lantern.as_twisted
    assert found is not None and found.rpm is not None
    slope = (found.rpm - found.stiff_rpm) / found.turned_deg
    assert -20.0 < slope < -5.0


def test_the_air_is_laid_evenly_along_its_pieces(lantern: Craft) -> None:
    """Between any two radii the lift that acts is the integral of each piece's lift over its width, within a sixth of
    the piece that either lies in; all of it and its first moment as of the pieces' middles."""
    air, cases = lantern.air_loads, (Case("turning", 10.0),)
    states = states_of(air, cases, TYPICAL, 0.0)
    count = 6 * len(air.r_mm)  # the fans come last
    x, up = 1e3 * states.places_m[:count, 0], states.forces_n[0, :count, 2]
    assert up.sum() == pytest.approx(100.0 * air.up_n_s2.sum())
    assert up @ x == pytest.approx(100.0 * air.up_n_s2 @ air.r_mm)
    low, high = air.r_mm - air.wide_mm / 2.0, air.r_mm + air.wide_mm / 2.0
    for start, end in ((300.0, 341.0), (500.0, 558.2), (636.5, 694.7)):
        share = np.clip(np.minimum(high, end) - np.maximum(low, start), 0.0, None) / air.wide_mm
        off = 100.0 * sum(np.interp(r, air.r_mm, air.up_n_s2) for r in (start, end)) / 6.0
        assert up[(x > start) & (x < end)].sum() == pytest.approx(100.0 * share @ air.up_n_s2, abs=off)
