"""Unbalance by hand: the demo with its receiver beside the axis, a raised blade, grades, two planes.

Worked figures of grades: public tables of ISO 21940-11, G = e w and U = 1000 G m / w; what was worked out from them
stands beside each check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from geomgen.balance.unbalance import Unbalance, Vector, permissible_g_mm, two_planes, unbalance
from geomgen.craft import Craft
from geomgen.mass.elements import of_craft
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role

EXACT = 1e-4  # g mm that the kernel's own sums over the hub leave
CraftOf = Callable[..., Craft]
BESIDE = ("at     = 0\nheight = 40", "at     = 15\nheight = 40")  # the receiver, 16 g
LAMP = '[fitting.lamp]\non = "hub"\nat = 30\nazimuth = "40 deg"\nheight = 25\nmass = "5 g"\n'


def point(grams: float, *place: float) -> Element:
    return Element(Key(Role.FITTING, "x"), Assembly.HUB, None, "x", grams, np.array(place), np.zeros((3, 3)))


def test_the_demo_as_it_is_and_with_its_receiver_beside_the_axis(craft_of: CraftOf) -> None:
    """16 g x 15 mm = 240 g mm along blade 1; at 240 rpm, 8 pi rad/s, that pulls 240e-6 x 631.65 = .152 N."""
    assert craft_of("lantern").balance.unbalance.static.size == pytest.approx(0.0, abs=EXACT)
    assert craft_of("lantern").balance.unbalance.couple.size == pytest.approx(0.0, abs=40 * EXACT)
    off = craft_of("lantern", BESIDE)
    found = off.balance.unbalance
    assert found.static.size == pytest.approx(240.0) and found.static.whole_deg == 0
    assert (found.static.x, found.static.y) == (pytest.approx(240.0), pytest.approx(0.0, abs=EXACT))
    assert round(found.force_n(240.0), 3) == 0.152
    assert found.eccentricity_mm == pytest.approx(240.0 / off.mass.craft.mass_g.typical)
    # its couple: as high over where the feather axes meet as it stands over the hub's floor, less the floor's depth
    height = 40.0 + off.hub_spec.floor - off.hub_spec.axis_height
    assert found.couple.x == pytest.approx(240.0 * height) and found.couple.y == pytest.approx(0.0, abs=40 * EXACT)
    assert off.mass.craft.cg_x_mm.typical == pytest.approx(found.eccentricity_mm)


@pytest.mark.parametrize("example", ["lantern", "kite_day", "starter"])
def test_every_example_is_balanced_as_designed(craft_of: CraftOf, example: str) -> None:
    """A hub that is weighed by its slices has its middle within some hundredths of a millimetre of the axis."""
    static, sliced = craft_of(example).balance.unbalance.static, example == "kite_day"
    assert static.size == pytest.approx(0.0, abs=1.0 if sliced else EXACT)
    assert sliced or static.azimuth_deg is None


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
def test_an_azimuth_is_as_seen_from_above_whichever_way_it_turns(craft_of: CraftOf, turn: str) -> None:
    """5 g at 30 mm and 40 deg, which the design says anticlockwise seen from above: 150 g mm there."""
    craft = craft_of("starter", ('"anticlockwise"', f'"{turn}"'), ("[glue]\n", f"{LAMP}[glue]\n"))
    found = craft.balance.unbalance.static
    assert (found.size, found.azimuth_deg) == (pytest.approx(150.0), pytest.approx(40.0))


def test_one_blade_raised_by_3_mm_makes_a_couple(lantern: Craft) -> None:
    """Two of 100 g at 400 mm, one 3 mm higher: 100 x 400 x 3 g mm2, no unbalance; at 240 rpm 1.2e-4 x 631.65 N m.
    The demo's: what one blade has about the axis, times 3."""
    found = unbalance([point(100, 400, 0, 5), point(100, -400, 0, 2)])
    assert found.static.size == pytest.approx(0.0) and found.couple == Vector(120_000.0, 0.0)
    assert found.couple_nm(240.0) == pytest.approx(1.2e-4 * 631.6547, rel=1e-6)
    placed = of_craft(lantern.elements, lantern.design)
    raised = [replace(e, centre=e.centre + np.array([0, 0, 3.0])) if e.blade == 1 else e for e in placed]
    one = lantern.mass.blade
    coning, pitch = np.radians(2.0), np.radians(8.0)
    up = one.cg_chordwise_mm.typical * np.sin(pitch) + one.cg_vertical_mm.typical * np.cos(pitch)
    out = one.mass_g.typical * (one.cg_radius_mm.typical * np.cos(coning) - up * np.sin(coning))
    ahead = one.mass_g.typical * (
        one.cg_chordwise_mm.typical * np.cos(pitch) - one.cg_vertical_mm.typical * np.sin(pitch)
    )
    before, after = unbalance(placed), unbalance(raised)
    assert after.static.size == pytest.approx(before.static.size, abs=1e-6)
    assert after.couple.x - before.couple.x == pytest.approx(3.0 * out)
    assert after.couple.y - before.couple.y == pytest.approx(3.0 * ahead)


def test_a_body_of_its_own_extent_makes_a_couple_by_its_product() -> None:
    """A rod of 60 g and 200 mm, tilted by 30 deg in the plane of x and z: x z over it is m l2 / 12 sin 30 cos 30."""
    way = np.array([np.cos(np.radians(30)), 0.0, np.sin(np.radians(30))])
    own = 60 * 200**2 / 12 * (np.eye(3) - np.outer(way, way))
    found = unbalance([replace(point(60, 0, 0, 0), inertia=own)])
    assert found.couple.x == pytest.approx(60 * 200**2 / 12 * way[0] * way[2]) and found.couple.y == 0.0


def test_grades_against_worked_figures() -> None:
    """50 kg at 3000 rpm, G 6.3: e 20.05 um, 1002.7 g mm. 4 kg at 120 rpm: 2005.4, 5093.0, 12732 g mm and .317, .804,
    2.011 N. 2 g at 1.5 m there: G 9.42."""
    assert permissible_g_mm(6.3, 50e3, 3000.0) == pytest.approx(1002.7, rel=1e-4)
    assert permissible_g_mm(6.3, 50e3, 3000.0) / 50e3 * 1e3 == pytest.approx(20.05, rel=3e-4)
    for grade, most, force in ((6.3, 2005.4, 0.317), (16.0, 5093.0, 0.804), (40.0, 12732.0, 2.011)):
        assert permissible_g_mm(grade, 4e3, 120.0) == pytest.approx(most, rel=1e-4)
        of = Unbalance(4e3, Vector(permissible_g_mm(grade, 4e3, 120.0), 0.0), Vector(0.0, 0.0))
        assert round(of.force_n(120.0), 3) == force
        assert of.grade_mm_s(120.0) == pytest.approx(grade)
    assert round(unbalance([point(2, 0, 1500, 0), point(3998, 0, 0, 0)]).grade_mm_s(120.0), 2) == 9.42


def test_two_planes_by_equilibrium() -> None:
    """Forces and moments about any point along the axis are the same of both weights as of all masses."""
    rng = np.random.default_rng(5)
    some = [point(m, *p) for m, p in zip(rng.uniform(1, 50, 8), rng.uniform(-300, 300, (8, 3)), strict=True)]
    low, high = two_planes(unbalance(some), -14.0, 22.0)
    for z0 in (0.0, -300.0, 75.0):
        moment = sum(np.cross([0, 0, e.centre[2] - z0], e.mass_g * np.array([*e.centre[:2], 0.0])) for e in some)
        pair = sum(np.cross([0, 0, z - z0], [each.x, each.y, 0.0]) for z, each in ((-14.0, low), (22.0, high)))
        assert pair == pytest.approx(moment, rel=1e-9)
    force = sum(e.mass_g * e.centre[:2] for e in some)
    assert (low.x + high.x, low.y + high.y) == pytest.approx(tuple(force))
    with pytest.raises(ValueError, match="apart"):
        two_planes(unbalance(some), 3.0, 3.0)


def test_forces_are_told_at_hovers_rpm_or_the_designs(craft_of: CraftOf) -> None:
    craft = craft_of("lantern")
    assert craft.balance.by_hover and craft.balance.rpm == craft.verdict.carrying_rpm[1]
    nothing = craft_of("starter", ('range   = ["2 deg", "14 deg"]', 'range = ["-16 deg", "-4 deg"]'),
                       ('set     = "8 deg"', 'set = "-16 deg"'))  # fmt: skip
    assert not nothing.balance.by_hover and nothing.balance.rpm == 290.0
