"""The tip piece against closed forms (ellipse) and shapes put together by shapely; its place in the blade."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.craft import Craft
from geomgen.design.schema import Tip
from geomgen.frames import applied
from geomgen.marking.finish import finished
from geomgen.model.part import Flat
from geomgen.structure.tip import CORNER_MM, OUTERMOST, raked_plan, rounded_plan, tips
from geomgen.tolerances import STANDARD

CHORDS, DEPTHS = st.floats(60.0, 400.0), st.floats(8.0, 60.0)


def tipped(craft: Craft, **keys: object) -> Craft:
    blade = craft.design.blade.model_copy(update={"tip": Tip.model_construct(**keys)})
    return Craft(craft.design.model_copy(update={"blade": blade}), craft.folder, craft.cache)


@settings(max_examples=25, deadline=None)
@given(CHORDS, DEPTHS)
def test_rounded_is_two_quarter_ellipses(chord: float, depth: float) -> None:
    path = rounded_plan(chord, depth, STANDARD)
    assert path.area() == pytest.approx(np.pi / 4 * chord * depth, rel=2e-3)
    xy = path.flattened(0.001)
    a = np.where(xy[:, 0] > OUTERMOST * chord, (1 - OUTERMOST) * chord, OUTERMOST * chord)
    share = np.hypot((xy[:, 0] - OUTERMOST * chord) / a, xy[:, 1] / depth)
    curved = xy[:, 1] > 0.5
    assert np.abs(share[curved] - 1).max() * depth < 0.02
    assert path.bounds() == pytest.approx((0.0, 0.0, chord, depth), abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(CHORDS, DEPTHS)
def test_raked_is_what_a_string_round_two_corners_makes(chord: float, depth: float) -> None:
    """The convex hull of both round corners and the inner edge's ends."""
    path = raked_plan(chord, depth)
    radius = min(CORNER_MM, depth / 3, chord / 6)
    corners = [shapely.Point(at).buffer(radius, 256) for at in ((radius, 0.0), (chord - radius, depth - radius))]
    hull = shapely.union_all([*corners, shapely.LineString([(0.0, 0.0), (chord, 0.0)])]).convex_hull
    wanted = shapely.intersection(hull, shapely.box(-1.0, 0.0, chord + 1.0, depth + 1.0))
    assert path.area() > 0.0
    assert shapely.hausdorff_distance(shapely.Polygon(path.flattened(1e-4)), wanted) < 0.01
    assert path.bounds() == pytest.approx((0.0, 0.0, chord, depth), abs=1e-9)


@pytest.mark.parametrize(("name", "stock", "radius"), [("lantern", "ply_2", 800.0), ("kite_day", "ply_eighth", 914.4)])
@pytest.mark.parametrize("kind", ["rounded", "raked"])
def test_it_lies_in_the_chord_plane_from_the_last_rib_to_the_radius(
    craft_of: Callable[..., Craft], name: str, stock: str, radius: float, kind: str
) -> None:
    craft = tipped(craft_of(name), kind=kind, depth=15.0, stock=stock)
    (bare,) = tips(craft.layout).read().parts
    (part,) = finished([bare], clockwise=craft.design.rotor.turn == "clockwise", units=None, cache=craft.cache)
    assert isinstance(part.shape, Flat)
    xy = part.shape.region.outer.flattened(0.001)
    at = applied(part.places[0], np.column_stack([xy, np.zeros(len(xy))]))
    assert at[:, 0].min() == pytest.approx(radius - 15.0, abs=1e-9)
    assert at[:, 0].max() == pytest.approx(radius, abs=1e-3)  # by chords; exactly so in closed form above
    station = craft.blade.station(radius - 15.0)
    back = station.from_blade(at)
    np.testing.assert_allclose(back[:, 1], 0.0, atol=1e-9)  # in the chord plane
    assert (back[:, 0].min(), back[:, 0].max()) == pytest.approx((0.0, station.chord_mm), abs=1e-6)
    mirrored = craft.design.rotor.turn == "clockwise"
    assert np.linalg.det(part.places[0]) == pytest.approx(-1.0 if mirrored else 1.0)
    upward = applied(part.places[0], (0.0, 0.0, 1.0)) - applied(part.places[0], (0.0, 0.0, 0.0))
    assert upward[2] > 0.9  # the drawn face looks up
    assert [text.text for text in part.shape.texts] == ["TIP", "UPPER SIDE", "FWD", "OUT"]
    np.testing.assert_allclose(part.spread[0, 1:], applied(part.places[0], (*part.shape.region.centroid(), 0.0)))


def test_a_square_tip_is_no_part(craft_of: Callable[..., Craft]) -> None:
    craft = tipped(craft_of("lantern"), kind="square", depth=None, stock=None)
    assert tips(craft.layout).parts == ()


def test_the_last_rib_ends_where_the_tip_begins(craft_of: Callable[..., Craft]) -> None:
    craft = craft_of("kite_day")  # its ribs go to the tip
    craft = tipped(craft, kind="raked", depth=12.0, stock="ply_eighth")
    last = craft.rib_places[-1]
    assert last.r_mm + last.thickness_mm / 2 == pytest.approx(914.4 - 12.0)
