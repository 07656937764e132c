"""Crossings, stretches put in, notches and tabs, against shapely's fine polygons and closed forms of the circle."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geomgen.plane.arcs import rectangle, rounded
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.splice import crossings, notched, replaced

FINE_MM = 1e-5
ANGLES = st.floats(0.0, 2.0 * np.pi)


@st.composite
def rings(draw: st.DrawFn) -> Path:
    """Outlines round the origin of lines and arcs that bend in and out by less than lets them cross."""
    n = draw(st.integers(4, 10))
    radii = np.array(draw(st.lists(st.floats(30.0, 60.0), min_size=n, max_size=n)))
    bulge = np.array(draw(st.lists(st.sampled_from((0.0, 1e-9, -0.1, 0.05, 0.15)), min_size=n, max_size=n)))
    angle = 2.0 * np.pi * np.arange(n) / n
    return Path(np.column_stack((radii * np.cos(angle), radii * np.sin(angle))), bulge, True)


def polygon(path: Path) -> shapely.Polygon:
    return shapely.Polygon(path.flattened(FINE_MM))


def strip(at: np.ndarray, way: np.ndarray, width: float, first: float, last: float) -> shapely.Polygon:
    left = 0.5 * width * np.array((-way[1], way[0]))
    a, b = at + first * way, at + last * way
    return shapely.Polygon([a + left, a - left, b - left, b + left])


def bows(path: Path) -> set[tuple[float, float, float]]:
    """Centre and radius of every circle a path's arcs lie on, to 1e-6 mm."""
    arcs = path.segments()
    real = np.abs(arcs.bulge) > 1e-6
    values = np.column_stack((arcs.center()[real], arcs.radius()[real]))
    return {tuple(row) for row in (np.round(values, 6) + 0.0).tolist()}


@given(rings(), ANGLES, st.tuples(st.floats(-25.0, 25.0), st.floats(-25.0, 25.0)))
def test_crossings_agree_with_shapely(path: Path, angle: float, point: tuple[float, float]) -> None:
    way = np.array((np.cos(angle), np.sin(angle)))
    found = crossings(path, point, 3.0 * way)
    along = np.array([crossing.along_mm for crossing in found])
    assert (np.diff(along) > 0.0).all()
    assert all(one.to_left != two.to_left for one, two in pairwise(found))
    line = shapely.LineString([np.array(point) - 200.0 * way, np.array(point) + 200.0 * way])
    within = shapely.intersection(polygon(path), line).length
    assert within == pytest.approx(float((along[1::2] - along[::2]).sum()), abs=0.1)  # grazed arcs: sqrt of 1e-5
    ring = path.segments()
    for crossing in found:
        xy = np.array(crossing.xy)
        assert np.hypot(*(np.array(point) + crossing.along_mm * way - xy)) < 1e-8
        on = ring.rows(np.array([crossing.segment])).points(np.array([crossing.share]))[0]
        assert np.hypot(*(on - xy)) < 1e-7


def test_crossings_of_a_circle_are_where_pythagoras_says() -> None:
    found = crossings(Circle((3.0, 4.0), 5.0).as_path(), (3.0, 7.0), (-1.0, 0.0))
    assert [crossing.along_mm for crossing in found] == pytest.approx([-4.0, 4.0], abs=1e-12)
    assert found[0].xy == pytest.approx((7.0, 7.0)) and found[1].xy == pytest.approx((-1.0, 7.0))
    assert [crossing.to_left for crossing in found] == [False, True]  # anticlockwise: in on the right, out to the left
    # the first lies at asin(3/5) of a half turn on the first half circle
    assert found[0].segment == 0 and found[0].share == pytest.approx(np.arcsin(0.6) / np.pi, abs=1e-12)


def test_a_crossing_at_a_vertex_counts_once_and_a_touch_not_at_all() -> None:
    diamond = from_points([(10.0, 0.0), (0.0, 10.0), (-10.0, 0.0), (0.0, -10.0)], closed=True)
    assert [c.along_mm for c in crossings(diamond, (0.0, 0.0), (1.0, 0.0))] == pytest.approx([-10.0, 10.0])
    disc = Circle((0.0, 0.0), 10.0).as_path()  # its two vertices lie on the line
    assert [c.along_mm for c in crossings(disc, (0.0, 0.0), (1.0, 0.0))] == pytest.approx([-10.0, 10.0])
    for shape in (diamond, disc):
        for way in ((1.0, 0.0), (-1.0, 0.0)):
            assert not crossings(shape, (0.0, 10.0), way)
            assert not crossings(shape, (0.0, 10.0 + 1e-6), way)
            assert len(crossings(shape, (0.0, 10.0 - 1e-6), way)) == 2
    step = from_points([(0, 0), (9, 0), (9, 5), (5, 5), (5, 9), (0, 9)], closed=True)  # an edge along the line
    assert len(crossings(step, (0.0, 5.0), (1.0, 0.0))) == len(crossings(step, (0.0, 5.0), (-1.0, 0.0))) == 2


@given(rings(), st.floats(0.0, 0.999), st.floats(0.05, 0.8), st.booleans())
def test_a_stretch_replaced_by_a_line(path: Path, begin: float, length: float, back: bool) -> None:
    """Area lost is that between stretch and chord; length is the old less the stretch plus the chord."""
    path = path.reversed() if back else path
    ring = path.segments()
    runs = ring.lengths()
    ends, total = np.cumsum(runs), runs.sum()

    def at(share: float) -> tuple[int, float, np.ndarray]:
        k = int(np.searchsorted(ends, (share % 1.0) * total, side="right"))
        part = float(((share % 1.0) * total - ends[k] + runs[k]) / runs[k])
        return k, part, ring.rows(np.array([k])).points(np.array([part]))[0]

    (_, _, start), (_, _, end) = at(begin), at(begin + length)
    chord = np.hypot(*(end - start))
    assume(chord > 0.1)
    made = replaced(path, start, end, from_points([start, end], closed=False))
    assert made.closed
    assert made.length() == pytest.approx(total * (1.0 - length) + chord, abs=1e-5)
    taken = replaced(path, end, start, from_points([end, start], closed=False))  # the other part
    assert made.area() + taken.area() == pytest.approx(path.area(), abs=1e-6 * total)
    assert bows(made) | bows(taken) == bows(path)


def test_an_insert_that_stops_short_is_joined_by_lines() -> None:
    disc = Circle((0.0, 0.0), 10.0).as_path()
    bridge = from_points([(-1.0, 12.0), (-1.0, 13.0)], closed=False)
    made = replaced(disc, (6.0, 8.0), (-6.0, 8.0), bridge)
    sector = shapely.Polygon([(0.0, 0.0), (6.0, 8.0), (-1.0, 12.0), (-1.0, 13.0), (-6.0, 8.0)]).area
    angle = 2.0 * np.pi - 2.0 * np.arctan2(6.0, 8.0)
    assert made.area() == pytest.approx(sector + 50.0 * angle, abs=1e-9)


def test_an_arc_put_in_keeps_its_bulge_and_a_near_end_is_taken_onto_the_path() -> None:
    disc = Circle((0.0, 0.0), 10.0).as_path()
    dent = Path(np.array([(6.0, 8.00005), (-6.0, 8.0)]), np.array((-1.0, 0.0)), False)
    made = replaced(disc, (6.0, 8.00005), (-6.0, 8.0), dent)
    angle = 2.0 * np.arctan2(6.0, 8.0)
    assert made.area() == pytest.approx(100.0 * np.pi - 50.0 * (angle - np.sin(angle)) - 18.0 * np.pi, abs=2e-3)
    assert (0.0, 0.0, 10.0) in bows(made)  # what is left of the disc is exactly as it was


def test_what_is_not_on_the_path_is_refused() -> None:
    disc = Circle((0.0, 0.0), 10.0).as_path()
    line = from_points([(6.0, 8.0), (-6.0, 8.0)], closed=False)
    with pytest.raises(ValueError, match=r"start 6, 8\.1 is .* mm off the path"):
        replaced(disc, (6.0, 8.1), (-6.0, 8.0), line)
    with pytest.raises(ValueError, match="end"):
        replaced(disc, (6.0, 8.0), (-6.0, 7.999), line)
    with pytest.raises(ValueError, match="open"):
        replaced(line, (6.0, 8.0), (-6.0, 8.0), line)


def test_at_one_place_nothing_is_taken_out() -> None:
    plate = rectangle((0.0, 0.0), 20.0, 10.0)
    for place in ((3.0, 5.0), (10.0, 5.0)):
        spike = from_points([place, (place[0], 8.0), (place[0] - 1.0, 8.0), place], closed=False)
        made = replaced(plate, place, place, spike)
        assert made.length() == pytest.approx(60.0 + 3.0 + 1.0 + np.sqrt(10.0), abs=1e-9)


@settings(deadline=None)
@given(rings(), ANGLES, st.floats(0.5, 8.0), st.floats(2.0, 12.0), st.booleans())
def test_notches_and_tabs_are_shapelys_difference_and_union(
    path: Path, angle: float, width: float, depth: float, tab: bool
) -> None:
    way = -np.array((np.cos(angle), np.sin(angle)))
    at = np.array(crossings(path, (0.0, 0.0), way)[0].xy)
    entries = [crossings(path, at + s * width * np.array((-way[1], way[0])), way) for s in (0.5, -0.5)]
    nearest = [min(abs(c.along_mm) for c in found if not c.to_left) for found in entries]
    assume(max(nearest) < depth - 0.5)
    whole = polygon(path)
    try:
        made = notched(path, at, way, width, -depth if tab else depth)
    except ValueError:  # only a tab that runs back into a bay of the edge may be refused
        reach = strip(at, way, width, -depth if tab else -40.0, 0.0)
        assert shapely.union(whole, reach).interiors or shapely.intersection(whole, reach).area > 1.0
        return
    assert made.closed and made.xy.shape[0] >= path.xy.shape[0] - 3
    box = strip(at, way, width, -depth, 15.0) if tab else strip(at, way, width, -60.0, depth)
    wanted = shapely.union(whole, box) if tab else shapely.difference(whole, box)
    assert shapely.is_valid(polygon(made))
    assert shapely.symmetric_difference(polygon(made), wanted).area < 2e-5 * path.length()
    assert bows(made) <= bows(path)


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 217.0])
def test_a_notch_in_a_circle_by_closed_form(turn: float) -> None:
    """A slot from the rim to 6 mm below its top: rectangle plus the cap of the circle over the slot's width."""
    disc = Circle((0.0, 0.0), 10.0).as_path()  # its first vertex lies at 0 deg, its other at 180
    out = np.array((np.cos(np.radians(turn)), np.sin(np.radians(turn))))
    half = np.arcsin(0.3)
    cap = 100.0 * half - 100.0 * np.sin(half) * np.cos(half)
    for depth in (6.0, -6.0):
        made = notched(disc, 10.0 * out, -out, 6.0, depth)
        body = 6.0 * (10.0 * np.cos(half) - 10.0 + depth) + cap
        assert made.area() == pytest.approx(100.0 * np.pi - body, abs=1e-9)
        sides = 2.0 * abs(10.0 * np.cos(half) - 10.0 + depth) + 6.0
        assert made.length() == pytest.approx(20.0 * np.pi - 20.0 * half + sides, abs=1e-9)
        assert bows(made) == {(0.0, 0.0, 10.0)}


def test_at_a_corner_on_a_first_vertex_and_across_arcs() -> None:
    plate = rounded((0.0, 0.0), 40.0, 20.0, 6.0)
    whole = polygon(plate)
    slant = np.array((-0.8, -0.6))
    for at, way in (
        (np.array((20.0, -4.0)), np.array((-1.0, 0.0))),  # the first vertex, line and arc
        (np.array((20.0, 0.0)), np.array((-1.0, 0.0))),  # all of an edge and two arcs
        (np.array((19.0, 9.0)), slant),  # off a corner, not on the edge
    ):
        for width in (3.0, 15.0) if at[1] == 0.0 else (3.0, 7.0):
            wanted = shapely.difference(whole, strip(at, way, width, -30.0, 5.0))
            made = notched(plate, at, way, width, 5.0)
            assert shapely.symmetric_difference(polygon(made), wanted).area < 1e-3
    square = rectangle((0.0, 0.0), 20.0, 20.0)
    corner = notched(square, (10.0, 10.0), np.array((-1.0, -1.0)), 4.0, 5.0)
    assert corner.area() == pytest.approx(400.0 - (4.0 * 5.0 - 4.0), abs=1e-9)  # less the triangle past the edge


def test_notches_one_after_another() -> None:
    plate = rectangle((0.0, 0.0), 40.0, 20.0)
    made = plate
    for x in (-10.0, 0.0, 10.0):
        made = notched(made, (x, 10.0), (0.0, -1.0), 3.0, 4.0)
        made = notched(made, (x, -10.0), (0.0, 1.0), 3.0, -2.0)
    assert made.area() == pytest.approx(800.0 - 3 * 12.0 + 3 * 6.0)
    assert len(made.xy) == 4 + 6 * 4


def test_notches_that_cannot_be_are_refused() -> None:
    plate = rectangle((0.0, 0.0), 40.0, 20.0)
    with pytest.raises(ValueError, match="another part"):
        notched(plate, (0.0, 10.0), (0.0, -1.0), 3.0, 20.5)  # through to the other edge
    with pytest.raises(ValueError, match="does not meet"):
        notched(plate, (19.0, 10.0), (0.0, -1.0), 3.0, 4.0)  # half of it beside the plate
    with pytest.raises(ValueError, match="mm in at a side"):
        notched(plate, (0.0, 16.0), (0.0, -1.0), 3.0, 4.0)  # its bottom outside
    with pytest.raises(ValueError, match="anticlockwise"):
        notched(plate.reversed(), (0.0, 10.0), (0.0, -1.0), 3.0, 4.0)
    with pytest.raises(ValueError, match="width"):
        notched(plate, (0.0, 10.0), (0.0, -1.0), 0.0, 4.0)
