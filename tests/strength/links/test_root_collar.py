"""The collar by each of its fixings, against the closed forms written here, from the design's own numbers."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from root_build import (
    ANTICLOCKWISE,
    CLAMPED,
    CLOCKWISE,
    PINNED,
    UNFIXED,
    build_of,
    crafted,
    margin,
    named,
    root_links,
    summed,
    without,
)

from geomgen.cache import Cache
from geomgen.materials.strength import Property
from geomgen.strength.build import Build
from geomgen.strength.link import Fails


def pulled(build: Build) -> np.ndarray:
    """All of the blade's mass lines but the collar's own, and what holds it: by the test's own sum.

    Pins that clips hold pull at the fixed cap.
    """
    elsewhere = ("hub.collar", "pitch.pin") if build.design.pitch.pin.clip else ("hub.collar",)
    lines = {key: each for key, each in build.loads.pulls_n.items() if not key.path.startswith(elsewhere)}
    return np.asarray(sum(lines.values()))


@pytest.fixture(scope="module", params=["lantern", "starter", "clockwise"])
def glued(request: pytest.FixtureRequest, cache: Cache) -> Build:
    if request.param == "clockwise":
        return build_of(crafted("lantern", CLOCKWISE, cache=cache))
    return build_of(crafted(request.param, cache=cache))


@pytest.fixture(scope="module")
def pinned(cache: Cache) -> Build:
    return build_of(crafted("lantern", *PINNED, cache=cache))


@pytest.fixture(scope="module")
def clamped(cache: Cache) -> Build:
    return build_of(crafted("lantern", *CLAMPED, cache=cache))


def test_glue_carries_all_that_hangs_on_it_over_its_area(glued: Build) -> None:
    link = named(root_links(glued), "glue of the collar on the spar")
    design = glued.design
    tube = design.stock[design.blade.spar["main"].stock]
    area = math.pi * tube.outside * design.hub.collar.fixing.length
    np.testing.assert_allclose(link.stress, pulled(glued) / area, rtol=1e-12)
    assert link.alone
    assert (link.strength.low, link.strength.typical) == (2.0, 5.0)  # design at a mean of 2 to 5 MPa: from memory


def test_a_glue_that_does_not_hold_on_carbon_has_no_margin(cache: Cache) -> None:
    wood = ('kind = "glued", length = 12', 'kind = "glued", length = 12, glue = "wood glue"')
    build = build_of(crafted("lantern", wood, cache=cache))
    link = named(root_links(build), "glue of the collar on the spar")
    assert link.strength is None
    assert "carbon" in link.unpublished


def test_a_shorter_glue_line_can_be_made_as_long_as_the_collar(cache: Cache) -> None:
    build = build_of(crafted("lantern", ('kind = "glued", length = 12', 'kind = "glued", length = 8'), cache=cache))
    (help_,) = (
        one for one in named(root_links(build), "glue of the collar on the spar").helps if one.path.endswith("length")
    )
    assert help_.times == pytest.approx(12 / 8)


def test_a_pin_is_cut_twice_and_bears_on_two_walls(pinned: Build) -> None:
    links, force, d, wall = root_links(pinned), pulled(pinned), 2.0, 1.5
    cut = named(links, "pin of the collar")
    np.testing.assert_allclose(cut.stress, 2 * force / (math.pi * d**2), rtol=1e-12)
    bears = named(links, "spar under the collar's pin")
    np.testing.assert_allclose(bears.stress, force / (2 * d * wall), rtol=1e-12)
    assert (bears.strength.low, cut.strength.low) == (50.0, 198.0)  # carbon wall from memory; mild steel .55 of 360


def test_a_pin_shears_out_to_the_spars_inner_end(pinned: Build) -> None:
    link = named(root_links(pinned), "spar between the collar's pin and its inner end")
    seat = 45.0 / math.cos(math.radians(2.0)) + 9.5 * math.tan(math.radians(2.0))  # bay, pocket of 19, coning 2 deg
    edge = seat - 12.0 / 2 - 30.0  # the spar begins at 30
    np.testing.assert_allclose(link.stress, pulled(pinned) / (2 * 2 * 1.5 * (edge - 1.0)), rtol=1e-9)
    assert link.strength.low == 35.0
    assert "blade.spar.main.from" in {one.path for one in link.helps}


def test_a_pins_hole_leaves_less_of_the_spar(pinned: Build) -> None:
    link = named(root_links(pinned), "spar at the collar's pin")
    ring = shapely.Point(0, 0).buffer(4.0, 512) - shapely.Point(0, 0).buffer(2.5, 512)
    left = (ring - shapely.box(-1.0, -9, 1.0, 9)).area
    np.testing.assert_allclose(link.stress, 2.5 * pulled(pinned) / left, rtol=1e-4)


def test_a_clamp_slips_by_friction_and_pinches_the_tube(clamped: Build) -> None:
    links, force = root_links(clamped), pulled(clamped)
    slips = named(links, "clamp of the collar on the spar")
    area = math.pi / 4 * (3.0 - 0.9382 * 0.5) ** 2  # ISO 898-1
    np.testing.assert_allclose(slips.stress, force, rtol=1e-12)
    assert slips.strength.low == pytest.approx(2 * 2 * 0.15 * 0.3 * 0.4 * 310.0 * area)
    assert slips.strength.typical == pytest.approx(2 * 2 * 0.20 * 0.4 * 580.0 * area)
    pinched = named(links, "spar under the collar's clamp")
    r, length, wall = 3.25, 12.0, 1.5
    needed = force / np.array([[2 * 0.20], [2 * 0.15]])  # friction on both halves
    np.testing.assert_allclose(pinched.stress, 1.910 * needed * r / (length * wall**2), rtol=1e-12)
    assert pinched.strength.low == 25.0
    assert pinched.fails is Fails.CRUSHED


def test_a_clamped_metal_tube_is_held_against_its_yield(clamped: Build) -> None:
    carbon = clamped.strengths["carbon_tube_8"]
    metal = replace(clamped.strengths["steel_rod_3"], name="metal")
    build = replace(clamped, strengths={**clamped.strengths, "carbon_tube_8": metal})
    assert named(root_links(build), "spar under the collar's clamp").strength == metal.of(Property.TENSION)
    unknown = without(carbon, Property.TENSION_ACROSS, Property.TENSION)
    build = replace(clamped, strengths={**clamped.strengths, "carbon_tube_8": unknown})
    assert named(root_links(build), "spar under the collar's clamp").strength is None


def test_a_clamp_on_kite_days_tube(cache: Cache) -> None:
    """5/16 in outside and 3/16 in inside, a collar 3/4 in long: the demo says itself that it would crush the tube."""
    clamped = 'fixing = { kind = "glued", length = "3/4 in" }', 'fixing = { kind = "clamped", screw = "#4-40" }'
    for edits in ((clamped,), (clamped, ANTICLOCKWISE)):
        build = build_of(crafted("kite_day", *edits, cache=cache))
        pinched = named(root_links(build), "spar under the collar's clamp")
        r, length, wall = (7.9375 + 4.7625) / 4, 19.05, (7.9375 - 4.7625) / 2
        most = 1.910 * pulled(build)[1].max() / 0.30 * r / (length * wall**2)
        assert pinched.stress.max() == pytest.approx(most)
        assert margin(pinched) < 0.2


def test_without_a_fixing_nothing_is_said_to_hold(cache: Cache) -> None:
    build = build_of(crafted("lantern", *UNFIXED, cache=cache))
    link = named(root_links(build), "collar on the spar")
    assert (link.strength, link.fails) == (None, Fails.SLIPS)
    assert "no fixing is stated" in link.unpublished


def test_the_collars_face_on_the_hub(glued: Build) -> None:
    link = named(root_links(glued), "hub under the collar's face")
    area = math.pi / 4 * (18.0**2 - 8.3**2)
    np.testing.assert_allclose(link.stress, summed(glued) / area, rtol=1e-12)
    walls = 2 * 3 * 0.45 / ((28.0 - 8.3) / 2)  # three lines on either side of what is solid there
    inside = (0.45 - walls) / (1 - walls)
    share = walls + (1 - walls) * inside * (0.5 + 0.4 * inside)
    assert link.strength.typical == pytest.approx(54.0 * share, rel=1e-9)
    assert link.alone


def test_nobody_knows_what_a_collar_is_made_of(glued: Build) -> None:
    link = named(root_links(glued), "the collar itself")
    assert link.strength is None
    np.testing.assert_allclose(link.stress, pulled(glued), rtol=1e-12)
