"""Two scales and an edge, by the lever, by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from made_up import made_up_design, part

from geomgen.mass.lines import Line, lines
from geomgen.mass.measured import measured
from geomgen.mass.statement import MassStatement, summed
from geomgen.mass.weigh_in.as_built import as_built, rebuilt
from geomgen.mass.weigh_in.gaussian import nine_of_ten
from geomgen.mass.weigh_in.reading import FORWARD, OUT, ROOT, TIP, WHOLE, Kind, Reading
from geomgen.model.part import Bought
from geomgen.model.role import Assembly, Role

DESIGN = made_up_design()
UNIFORM = 1.0 / math.sqrt(12.0)


def three_weights() -> tuple[Line, ...]:
    """40, 30 and 30 g at r 100, 400 and 700, 10 mm behind, on and 10 mm before the axis, of which nothing is sure."""
    parts = [
        part(f"weight {r:g}", Bought((0.0, grams, 2 * grams)), [[1, r, forward, 0]], role=Role.FITTING)
        for r, forward, grams in ((100.0, -10.0, 40.0), (400.0, 0.0, 30.0), (700.0, 10.0, 30.0))
    ]
    hub = part("hub", Bought((50.0, 50.0, 50.0)), [[1, 0, 0, 0]], assembly=Assembly.HUB, role=Role.FITTING)
    return lines(measured([*parts, hub], {}), DESIGN)


def scale(which: str, grams: float, place: float, step_g: float = 0.1, step_mm: float = 1.0) -> Reading:
    return Reading(8 if which == ROOT else 9, Kind.BLADE, which, 1, 0, grams, place, step_g, step_mm)


def stated(*readings: Reading) -> MassStatement:
    found = three_weights()
    built = as_built(readings, found, DESIGN, {})
    return summed(rebuilt(found, built), DESIGN, built=built)


def test_two_scales_by_the_lever() -> None:
    """60 g at r 200 and 40 g at r 700 carry 100 g; about the axis 60 x 200 + 40 x 700 = 40,000 g mm, so at r 400."""
    first, second = stated(scale(ROOT, 60.0, 200.0), scale(TIP, 40.0, 700.0)).each_blade
    assert first.mass_g.typical == pytest.approx(100.0, abs=1e-3)
    assert first.cg_radius_mm.typical == pytest.approx(400.0, abs=0.02)
    assert first.static_moment_g_mm.typical == pytest.approx(40_000.0, abs=2.0)
    assert second.mass_g.likely_high - second.mass_g.likely_low > 20.0  # it shares its grade, and no scale had it


def test_the_steps_of_scale_and_ruler_are_the_doubt() -> None:
    """The mass is off by both scales' steps. The centre by (200 - 400) / 100 = -2 mm and (700 - 400) / 100 = 3 mm for
    each gram on a scale, and by 0.6 and 0.4 of what the supports' places are off, the share that each carries."""
    first = stated(scale(ROOT, 60.0, 200.0), scale(TIP, 40.0, 700.0)).each_blade[0]
    mass_g = math.sqrt(2.0) * 0.1 * UNIFORM
    centre_mm = math.hypot(math.hypot(2.0, 3.0) * 0.1, math.hypot(0.6, 0.4) * 1.0) * UNIFORM
    for band, deviation in ((first.mass_g, mass_g), (first.cg_radius_mm, centre_mm)):
        half = band.likely_high - band.typical
        assert 1.55 * deviation < half < 1.65 * deviation
        assert band.typical - band.likely_low == pytest.approx(half)
        assert band.high - band.typical == pytest.approx(3.0 * deviation, rel=1e-2)


def test_a_coarser_scale_leaves_more_doubt() -> None:
    fine, coarse = (
        stated(scale(ROOT, 60.0, 200.0, step), scale(TIP, 40.0, 700.0, step)).each_blade[0].mass_g
        for step in (0.1, 1.0)
    )
    ratio = (coarse.likely_high - coarse.typical) / (fine.likely_high - fine.typical)
    assert ratio == pytest.approx(10.0, rel=0.02)


@pytest.mark.parametrize("step", [1.0, 5.0])
def test_a_knife_edge_says_where_and_not_how_heavy(step: float) -> None:
    first = stated(Reading(9, Kind.BLADE, OUT, 1, 0, math.nan, 412.0, 0.1, step)).each_blade[0]
    assert first.cg_radius_mm.typical == pytest.approx(412.0, abs=0.05)
    half = first.cg_radius_mm.likely_high - first.cg_radius_mm.typical
    assert 1.5 * step * UNIFORM < half < 1.65 * step * UNIFORM
    assert first.mass_g.likely_high - first.mass_g.likely_low > 40.0


def test_an_edge_along_the_blade_says_how_far_forward() -> None:
    """It balances 4 mm before the axis, and weighs 90 g."""
    edge = Reading(9, Kind.BLADE, FORWARD, 1, 0, math.nan, 4.0, 0.1, 0.1)
    first = stated(edge, scale(WHOLE, 90.0, math.nan)).each_blade[0]
    assert first.cg_chordwise_mm.typical == pytest.approx(4.0, abs=1e-2)
    assert first.mass_g.typical == pytest.approx(90.0, abs=1e-2)


def test_one_scale_alone_gives_a_moment() -> None:
    """The tip's scale alone: sum of m (r - 200) / 500 is what it says."""
    tip = Reading(9, Kind.BLADE, TIP, 1, 0, 40.0, 700.0, 0.1, 0.01)
    root = Reading(8, Kind.BLADE, ROOT, 1, 0, 60.0, 200.0, 1e3, 0.01)  # so coarse that it says nothing
    first = stated(root, tip).each_blade[0]
    moment = first.static_moment_g_mm.typical - 200.0 * first.mass_g.typical
    assert moment == pytest.approx(40.0 * 500.0, rel=1e-3)


def test_a_stated_mass_without_doubt_gives_way_to_the_scale() -> None:
    """The hub is said to weigh 50 g, no more and no less; the scale says 57.3 g."""
    found = three_weights()
    built = as_built([Reading(9, Kind.PART, "hub", None, 1, 57.3, math.nan, 0.1, 1.0)], found, DESIGN, {})
    hub = rebuilt(found, built)[-1]
    assert hub.set_g == pytest.approx((57.25, 57.3, 57.35), abs=0.01)
    assert hub.figure.figure.source == "weighed in"
    (check,) = built.checks
    assert (check.computed, check.weighed, check.as_computed) == (50.0, 57.3, False)


def test_how_many_deviations_hold_nine_of_ten_of_an_error_that_is_partly_uniform() -> None:
    """By drawing a million of each; a uniform one alone by its closed form, 0.9 of the square root of 3."""
    random = np.random.default_rng(1)
    for share in (0.0, 0.3, 0.6, 0.9):
        drawn = math.sqrt(share) * random.uniform(-math.sqrt(3.0), math.sqrt(3.0), 1_000_000)
        drawn += math.sqrt(1.0 - share) * random.standard_normal(1_000_000)
        assert np.mean(np.abs(drawn) < nine_of_ten(share)) == pytest.approx(0.9, abs=0.006)
    assert nine_of_ten(1.0) == pytest.approx(0.9 * math.sqrt(3.0), abs=1e-6)
