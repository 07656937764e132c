"""The centre along the chord and a nose weight, by hand; and the blade weighed again with the weight in it."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from geomgen.balance.chordwise import Moments, chordwise, moments, nose_weight
from geomgen.craft import Craft
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.role import Assembly, Role

CraftOf = Callable[..., Craft]
ASKED = 'aim  = "60 g mm"\nnose_weight = {{ at = "60 %", chord = 0.02, to = {to} }}'
BUILT = '[fitting.nose]\non = "blade"\nat = "60 %"\nchord = 0.02\nmass = "{mass!r} g"\nstuck = true\n[glue]\n'


def point(grams: float, r: float, y: float) -> Element:
    return Element(Key(Role.RIB, "x"), Assembly.BLADE, None, "x", grams, np.array([r, y, 0.0]), np.zeros((3, 3)))


BLADE = Moments(150.0, 150 * 400.0, 150 * -15.0, 150 * 400.0 * -12.0, 150 * 400.0 * 550.0)


def test_a_nose_weight_by_moments() -> None:
    """150 g whose centre lies 15 behind the axis, a weight 35 ahead: 150 x 15 = m x 35, m = 64.286 g. Weighted by r,
    12 behind at 400 out, the weight at 480: 150 x 400 x 12 = m x 480 x 35, m = 42.857 g."""
    of = nose_weight(BLADE, 480.0, 35.0, 0.0)
    assert of.mass_g == pytest.approx(64.2857, abs=1e-4) and of.weighted_g == pytest.approx(42.8571, abs=1e-4)
    assert of.then is not None and of.then[0] == pytest.approx(0.0)
    # with 64.286 g: (-150 x 400 x 12 + 64.286 x 480 x 35) / (150 x 400 + 64.286 x 480)
    assert of.then[1] == pytest.approx((-720_000 + 1_080_000) / (60_000 + 30_857.14), abs=1e-4)
    # 64.286 g at .48 m and 345 rpm, 36.128 rad/s
    assert of.pull_n(345.0) == pytest.approx(0.0642857 * 0.48 * 36.128316**2, rel=1e-6)


def test_a_place_that_no_weight_brings_it_to_and_one_where_it_lies_already() -> None:
    behind = nose_weight(BLADE, 480.0, -20.0, 0.0)
    assert behind.mass_g is None and behind.then is None and behind.pull_n(300.0) is None
    there = nose_weight(BLADE, 480.0, 35.0, -16.0)
    assert there.mass_g == 0.0 and there.then == pytest.approx((-15.0, -12.0)) and there.weighted_g == 0.0


def test_the_quarter_chord_is_looked_up_where_the_centre_lies() -> None:
    """10 g at r 200, 5 ahead, and 30 g at r 600, 15 behind: centre at r 500, -10; weighted by r (10 x 200 x 5 - 30 x
    600 x 15) / 20000 = -13 at r (10 x 200^2 + 30 x 600^2) / 20000 = 560. The quarter chord runs from 2 to -6."""
    quarter = np.array([200.0, 600.0]), np.array([2.0, -6.0]), np.array([200.0, 120.0])
    of = chordwise(moments([point(10, 200, 5), point(30, 600, -15)]), quarter)
    plain = (of.plain.r_mm, of.plain.feather_mm, of.plain.quarter_mm, of.plain.chord_mm)
    assert plain == pytest.approx((500.0, -10.0, -10.0 + 4.0, 140.0))
    weighted = (of.weighted.r_mm, of.weighted.feather_mm, of.weighted.quarter_mm)
    assert weighted == pytest.approx((560.0, -13.0, -13.0 + 5.2))
    assert of.nose_weight is None
    # what mends it sits at r 560, a quarter of 128 ahead of the quarter chord: m 560 x 32 = 20000 x (13 - 5.2)
    assert (of.mends.r_mm, of.mends.forward_mm, of.mends.to_mm) == pytest.approx((560.0, -5.2 + 32.0, -5.2))
    assert of.mends.weighted_g == pytest.approx(8.70536, abs=1e-4)


def test_what_lies_round_an_elements_own_centre_counts() -> None:
    """A rod of 60 g from (100, -20) to (500, 60): r y over it is m (r y + l_r l_y / 12), r2 m (r2 + l_r2 / 12)."""
    way = np.array([400.0, 80.0, 0.0])
    own = 60.0 / 12.0 * (way @ way * np.eye(3) - np.outer(way, way))
    rod = Element(Key(Role.SPAR, "x"), Assembly.BLADE, None, "x", 60.0, np.array([300.0, 20.0, 0.0]), own)
    of = moments([rod])
    assert of.ry == pytest.approx(60 * (300 * 20 + 400 * 80 / 12)) and of.rr == pytest.approx(
        60 * (300**2 + 400**2 / 12)
    )


@pytest.mark.parametrize("to", [0.0, -5.0])
def test_the_centre_then_stands_where_it_was_asked(craft_of: CraftOf, to: float) -> None:
    """The demo's blade: the weight that is told, put in as a fitting, and all weighed again."""
    asked = craft_of("lantern", ('aim  = "60 g mm"', ASKED.format(to=to)))
    before, of = asked.mass.blade, asked.balance.chordwise.nose_weight
    assert of is not None and of.mass_g is not None and of.then is not None
    # 2 % of the chord there, 170.93 mm, 23 % ahead of the axis, turned by its twist against 75 % of the radius
    twist = np.radians(5.0 * (600.0 - 480.0) / 670.0)
    assert of.r_mm == pytest.approx(480.0)
    assert of.forward_mm == pytest.approx(0.23 * 178.657 * np.cos(twist), abs=0.3)
    by_hand = before.mass_g.typical * (to - before.cg_chordwise_mm.typical) / (of.forward_mm - to)
    assert of.mass_g == pytest.approx(by_hand)
    built = craft_of("lantern", ("[glue]\n", BUILT.format(mass=of.mass_g)))
    after = built.mass.blade
    assert after.mass_g.typical == pytest.approx(before.mass_g.typical + of.mass_g)
    assert after.cg_chordwise_mm.typical == pytest.approx(to, abs=0.1)
    assert after.cg_chordwise_r_weighted_mm.typical == pytest.approx(of.then[1], abs=0.1)
    assert of.then[0] == pytest.approx(to)


def test_the_centre_is_the_statements_own(lantern: Craft) -> None:
    of, blade = lantern.balance.chordwise, lantern.mass.blade
    assert of.plain.feather_mm == pytest.approx(blade.cg_chordwise_mm.typical)
    assert of.plain.r_mm == pytest.approx(blade.cg_radius_mm.typical)
    assert of.weighted.feather_mm == pytest.approx(blade.cg_chordwise_r_weighted_mm.typical)
    by_elements = moments(lantern.elements)
    assert by_elements.ry / by_elements.r == pytest.approx(of.weighted.feather_mm, abs=0.05)
    # a quarter of the chord is where the feather axis lies, so both distances are nearly one
    assert of.plain.quarter_mm == pytest.approx(of.plain.feather_mm, abs=0.3)
