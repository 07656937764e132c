"""Joined paths and the shapes of holes, against plain geometry."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.errors import MakeError
from geomgen.plane.arcs import arc_slot, ellipse, join, obround, rectangle, rounded
from geomgen.plane.path import Path, from_points
from geomgen.tolerances import STANDARD


def test_join_keeps_arcs_and_drops_repeated_points() -> None:
    half = Path(np.array([(2.0, 0.0), (-2.0, 0.0)]), np.array((1.0, 0.0)), False)
    back = Path(np.array([(-2.0, 0.0), (2.0, 0.0)]), np.array((1.0, 0.0)), False)
    disc = join([half, back], closed=True)
    assert len(disc.xy) == 2
    assert disc.area() == pytest.approx(4 * np.pi, rel=1e-14)
    opened = join([half, back], closed=False)
    assert len(opened.xy) == 3
    assert opened.length() == pytest.approx(4 * np.pi, rel=1e-14)


def test_join_spans_gaps_by_lines() -> None:
    bottom, top = from_points([(0, 0), (3, 0)], False), from_points([(3, 1), (0, 1)], False)
    box = join([bottom, top], closed=True)
    assert box.area() == pytest.approx(3.0)
    assert box.length() == pytest.approx(8.0)
    assert join([bottom, top], closed=False).length() == pytest.approx(7.0)
    assert join([bottom], closed=False).length() == pytest.approx(3.0)
    for bad in ([], [box]):
        with pytest.raises(ValueError, match="open paths"):
            join(bad, closed=True)


def test_rectangle_and_rounded() -> None:
    box = rectangle((5.0, 1.0), 10.0, 3.0, 30.0)
    assert len(box.xy) == 4
    assert box.area() == pytest.approx(30.0)
    assert box.centroid() == pytest.approx((5.0, 1.0))
    own = box.turned(-30.0, (5.0, 1.0)).moved(-5.0, -1.0)
    assert own.second_moments() == pytest.approx((10 * 3**3 / 12, 3 * 10**3 / 12, 0.0), abs=1e-9)  # b h³/12
    soft = rounded((0, 0), 10.0, 4.0, 1.5)
    assert len(soft.xy) == 8
    assert soft.area() == pytest.approx(40.0 - (4 - np.pi) * 1.5**2, rel=1e-13)
    assert soft.length() == pytest.approx(2 * (7.0 + 1.0) + 3 * np.pi, rel=1e-13)
    assert soft.bounds() == pytest.approx((-5.0, -2.0, 5.0, 2.0))
    full = rounded((0, 0), 10.0, 4.0, 2.0)
    assert full.area() == pytest.approx(24.0 + 4 * np.pi, rel=1e-13)
    assert full.segments().chord.min() > 1.0
    with pytest.raises(ValueError, match="radius"):
        rounded((0, 0), 10.0, 4.0, 2.1)
    with pytest.raises(ValueError, match="width"):
        rectangle((0, 0), -1.0, 4.0)


def test_obround_is_all_points_near_a_line() -> None:
    slot = obround((3.0, -2.0), 12.0, 5.0, 40.0)
    ends = np.array([(-3.5, 0.0), (3.5, 0.0)]) @ [
        [np.cos(np.radians(40)), np.sin(np.radians(40))],
        [-np.sin(np.radians(40)), np.cos(np.radians(40))],
    ]
    near = shapely.LineString(ends + np.array((3.0, -2.0))).buffer(2.5, quad_segs=200)
    assert shapely.Polygon(slot.flattened(1e-5)).symmetric_difference(near).area < 1e-2
    assert slot.area() == pytest.approx(7.0 * 5.0 + np.pi * 2.5**2, rel=1e-13)
    with pytest.raises(ValueError, match="longer"):
        obround((0, 0), 5.0, 5.0)


@given(st.floats(5.0, 60.0), st.floats(0.5, 8.0), st.floats(-180.0, 180.0), st.floats(5.0, 300.0))
@settings(deadline=None, max_examples=40)
def test_arc_slot_is_all_points_near_an_arc(radius: float, width: float, begin: float, sweep: float) -> None:
    gap = 2 * radius * np.sin(np.radians(min(360.0 - sweep, 180.0)) / 2)
    if gap < 1.1 * width:
        return  # its ends would meet
    slot = arc_slot((1.0, 2.0), radius, width, begin, begin + sweep)
    t = np.radians(np.linspace(begin, begin + sweep, 2000))
    middle = np.column_stack((1.0 + radius * np.cos(t), 2.0 + radius * np.sin(t)))
    near = shapely.LineString(middle).buffer(width / 2, quad_segs=100)
    polygon = shapely.Polygon(slot.flattened(1e-4))
    assert polygon.is_valid
    assert polygon.symmetric_difference(near).area < 2e-3 * slot.length()
    # area of the band and two half discs
    assert slot.area() == pytest.approx(np.radians(sweep) * radius * width + np.pi * width**2 / 4, rel=1e-9)


def test_arc_slot_limits() -> None:
    for bad in ((2.0, 5.0, 0.0, 90.0), (20.0, 5.0, 90.0, 90.0), (20.0, 5.0, 0.0, 360.0), (20.0, 0.0, 0.0, 90.0)):
        with pytest.raises(ValueError, match=r"arc slot|width"):
            arc_slot((0.0, 0.0), *bad)


@pytest.mark.parametrize(("a", "b"), [(5.05, 5.0), (5.0, 5.05), (4.0, 4.0), (10.0, 3.0), (1.6, 1.5)])
def test_ellipse_meets_the_true_one_in_tangent_arcs(a: float, b: float) -> None:
    hole = ellipse((7.0, -3.0), a, b, 25.0, STANDARD)
    local = hole.moved(-7.0, 3.0).turned(-25.0).flattened(1e-6)
    t = np.linspace(0.0, 2 * np.pi, 20_001)
    true = shapely.LinearRing(np.column_stack((a * np.cos(t), b * np.sin(t))))
    drawn = shapely.LinearRing(local)
    shapely.prepare([true, drawn])
    for ring, other in ((true, drawn), (drawn, true)):
        corners = shapely.points(shapely.get_coordinates(other))
        assert shapely.dwithin(ring, corners, STANDARD.chordal_mm).all()
    begin, end = hole.segments().directions()
    turn = np.roll(begin, -1) - end
    assert np.degrees(np.abs((turn + np.pi) % (2 * np.pi) - np.pi)).max() <= STANDARD.kink_deg
    assert hole.segments().chord.min() >= STANDARD.least_edge_mm
    assert hole.area() == pytest.approx(np.pi * a * b, rel=2e-3)
    assert hole.centroid() == pytest.approx((7.0, -3.0), abs=1e-6)
    assert hole.area() > 0


def test_ellipse_too_slender() -> None:
    with pytest.raises(MakeError, match="too sharply"):
        ellipse((0.0, 0.0), 10.0, 0.1, 0.0, STANDARD)
    with pytest.raises(ValueError, match="b must be"):
        ellipse((0.0, 0.0), 10.0, 0.0, 0.0, STANDARD)
