"""Moved loops against closed forms (Steiner's), and against the area that discs sweep along the loop, by shapely.

shapely's own buffer of a whole polygon is no judge: it leaves out what is small beside the distance (up to a hundredth
of it), so each short chord is swept alone, and the sweeps are put together.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from geomgen.craft import Craft
from geomgen.plane import offset as module
from geomgen.plane.arcs import ellipse, obround, rectangle, rounded
from geomgen.plane.offset import offset, offsets
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.tolerances import STANDARD

FINE = 2e-5  # chords of the judge's loops [mm]
OFF = 0.002  # greatest distance allowed [mm]
POINT = 2 * (0.06 - 0.1 * math.sqrt(0.05) - 0.045 * math.asin(0.2 / 0.3))  # beside a neck of 0.4, moved by 0.3 [mm2]
SPECK = 1e-3  # a piece smaller than this isn't looked for [mm2]


def swept(loop: Loop, by: float, fine: float = FINE) -> shapely.Geometry:
    """What a disc of radius |by| covers as it runs round the loop, put to what that encloses or taken off."""
    flat = shapely.Polygon(loop.flattened(fine))
    xy = np.array(flat.exterior.coords)
    lines = shapely.linestrings(np.stack((xy[:-1], xy[1:]), axis=1))
    band = shapely.union_all(shapely.buffer(lines, abs(by), quad_segs=64))
    return flat.union(band) if by > 0 else flat.difference(band)


def enclosed(loops: tuple[Loop, ...], like: Loop, fine: float = FINE) -> shapely.Geometry:
    """What the moved loops enclose: those that run the other way are holes."""
    side = math.copysign(1.0, like.area())
    flats = [(loop.area() * side > 0.0, shapely.Polygon(loop.flattened(fine))) for loop in loops]
    assert all(flat.is_valid for _, flat in flats)
    solid, holes = ([flat for is_solid, flat in flats if is_solid is wanted] for wanted in (True, False))
    return shapely.union_all(solid).difference(shapely.union_all(holes))


def distance(one: shapely.Geometry, two: shapely.Geometry) -> float:
    """Greatest distance between two borders, whatever is a speck left out [mm]."""
    big = [shapely.union_all([p for p in shapely.get_parts(each) if p.area > SPECK]) for each in (one, two)]
    if all(each.is_empty for each in big):
        return 0.0
    lines = [shapely.segmentize(each.boundary, 0.5) for each in big]
    return float(shapely.hausdorff_distance(*lines))


def holds(loop: Loop, by: float, fine: float = FINE) -> tuple[Loop, ...]:
    found = offsets(loop, by)
    assert distance(enclosed(found, loop, fine), swept(loop, by, fine)) < OFF
    return found


@pytest.mark.parametrize("by", [0.09, -0.09, 1.5, -1.5])
def test_circles_stay_circles(by: float) -> None:
    assert offset(Circle((3.0, 4.0), 2.0), by) == Circle((3.0, 4.0), 2.0 + by)


def test_nothing_is_left_of_what_is_too_small() -> None:
    assert offset(Circle((0.0, 0.0), 0.1), -0.1) is None
    assert offset(rectangle((0.0, 0.0), 10.0, 0.3), -0.15) is None
    assert offset(rectangle((0.0, 0.0), 10.0, 0.3), -0.2) is None
    assert offset(obround((1.0, 2.0), 10.0, 3.0, 20.0), -1.5) is None
    assert offset(Circle((1.0, 1.0), 2.0).as_path(), -2.5) is None


@pytest.mark.parametrize("by", [0.05, 0.5, -0.05, -0.5])
@pytest.mark.parametrize("backwards", [False, True])
@pytest.mark.parametrize(
    "loop",
    [
        rounded((5.0, 1.0), 12.0, 7.0, 0.8, 30.0),
        obround((0.0, 0.0), 9.0, 4.0, 10.0),
        ellipse((0.0, 0.0), 9.0, 5.0, 33.0, STANDARD),
        Circle((1.0, 1.0), 2.0).as_path(),
    ],
)
def test_area_and_length_of_smooth_convex_loops(loop: Path, backwards: bool, by: float) -> None:
    """source : Steiner's formula, area + length by + π by², length + 2 π by."""
    moved = offset(loop.reversed() if backwards else loop, by)
    assert isinstance(moved, Path) and len(moved.xy) == len(loop.xy)
    assert abs(moved.area()) == pytest.approx(loop.area() + loop.length() * by + math.pi * by**2, rel=1e-6)
    assert moved.length() == pytest.approx(loop.length() + 2 * math.pi * by, rel=1e-6)
    assert math.copysign(1.0, moved.area()) == (-1.0 if backwards else 1.0)
    assert set(np.flatnonzero(moved.bulge == 0.0)) == set(
        np.flatnonzero((loop.reversed() if backwards else loop).bulge == 0.0)
    )


def test_sharp_corners_get_an_arc_outside_and_stay_sharp_inside() -> None:
    """source : a square of side a moved outward is a² + 4 a d + π d², inward (a - 2 d)²."""
    square = from_points([(0, 0), (8, 0), (8, 8), (0, 8)], closed=True)
    out, inward = offset(square, 0.25), offset(square, -0.25)
    assert isinstance(out, Path) and isinstance(inward, Path)
    assert out.area() == pytest.approx(64 + 8 + math.pi / 16, abs=1e-9)
    assert len(out.xy) == 8 and np.count_nonzero(out.bulge) == 4
    assert inward.area() == pytest.approx(7.5**2, abs=1e-9) and len(inward.xy) == 4


def test_a_notch() -> None:
    """source : by hand; 3 wide and 6 deep, moved out by 0.1 it is 2.8 wide, its corners at the bottom sharp."""
    plate = [(0, 0), (20, 0), (20, 10), (12, 10), (12, 4), (9, 4), (9, 10), (0, 10)]
    out = offset(from_points(plate, closed=True), 0.1)
    assert isinstance(out, Path)
    grown = 200 + 60 * 0.1 + math.pi * 0.01  # the plate without its notch
    above = 2 * (0.1 * 0.1 - math.pi * 0.01 / 4)  # the notch's mouth, widened by its two round corners
    assert out.area() == pytest.approx(grown - 2.8 * (6 + 0.1 - 0.1) - above, abs=1e-9)
    assert any(np.allclose(corner, (9.1, 4.1), atol=1e-9) for corner in out.xy)


def test_tiny_lines_that_vanish() -> None:
    """Steps of 0.01 and 0.02 mm at an inner corner, the loop moved by more than that."""
    steps = [(0, 0), (20, 0), (20, 10), (10, 10), (10, 4.02), (9.99, 4.01), (9.97, 4.0), (0, 4.0)]
    (found,) = holds(from_points(steps, closed=True), 0.5)
    assert isinstance(found, Path) and np.count_nonzero(found.bulge) == 5


def test_a_loop_that_falls_apart() -> None:
    """Two squares joined by a neck of 0.4: moved in by 0.3 they are two, each with a point towards the neck.

    source : the point is what two discs of 0.3 about the neck's corners leave free, 2 ∫ 0.3 - √(0.09 - t²) dt to 0.2
    """
    neck = [(0, 0), (4, 0), (4, 1.8), (6, 1.8), (6, 0), (9, 0), (9, 4), (6, 4), (6, 2.2), (4, 2.2), (4, 4), (0, 4)]
    loop = from_points(neck, closed=True)
    found = holds(loop, -0.3)
    assert [each.area() for each in found] == pytest.approx([3.4 * 3.4 + POINT, 2.4 * 3.4 + POINT], abs=1e-9)
    with pytest.raises(ValueError, match="falls into 2"):
        offset(loop, -0.3)


def test_a_mouth_that_closes_leaves_a_loop_within() -> None:
    room = [
        (0, 0),
        (10, 0),
        (10, 10),
        (5.2, 10),
        (5.2, 8),
        (8, 8),
        (8, 2),
        (2, 2),
        (2, 8),
        (4.8, 8),
        (4.8, 10),
        (0, 10),
    ]
    outer, within = holds(from_points(room, closed=True), 0.3)
    assert outer.area() > 0.0 > within.area()
    assert within.area() == pytest.approx(-(5.4**2) - POINT, abs=1e-9)


def test_wrong_loops_are_refused() -> None:
    with pytest.raises(ValueError, match="closed"):
        offset(from_points([(0, 0), (1, 0), (1, 1)], closed=False), 0.1)
    with pytest.raises(ValueError, match="crosses itself"):
        offset(from_points([(0, 0), (5, 5), (5, 0), (0, 5)], closed=True), 0.1)


def test_loops_of_straight_lines_where_arcs_cannot_be_joined(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the joining finds, nothing or the wrong thing, what comes out is right."""
    loop = rounded((0.0, 0.0), 12.0, 7.0, 1.0)
    for wrong in (None, [], [loop]):
        monkeypatch.setattr(module, "_joined", lambda _, wrong=wrong: wrong)
        for by in (0.2, -0.2):
            (found,) = holds(loop, by)
            assert isinstance(found, Path) and not found.bulge.any()


@pytest.mark.parametrize("by", [0.09, -0.12])
def test_every_loop_of_the_demo(lantern: Craft, by: float) -> None:
    regions = [part.shape.region for part in lantern.flat_parts]  # type: ignore[union-attr]
    loops = [loop for region in regions for loop in region.loops() if isinstance(loop, Path)]
    assert len(loops) > 50
    for loop in loops:
        found = holds(loop, by, 5e-4)
        assert not loop.bulge.any() or any(each.bulge.any() for each in found if isinstance(each, Path))


@st.composite
def loops(draw: st.DrawFn) -> Path:
    """Lines and arcs round about the origin, some of them tiny."""
    count = draw(st.integers(3, 9))
    size = st.floats(0.5, 8.0)
    turns = np.sort(draw(st.lists(st.floats(0.0, 6.28), min_size=count, max_size=count, unique=True)))
    radii = np.array(draw(st.lists(size, min_size=count, max_size=count)))
    xy = np.column_stack((radii * np.cos(turns), radii * np.sin(turns)))
    bulge = np.array(
        draw(st.lists(st.sampled_from([0.0, 0.0, 0.1, -0.1, 0.4, -0.4, 1.0]), min_size=count, max_size=count))
    )
    if draw(st.booleans()):
        xy = np.insert(xy, 1, xy[0] + np.array((draw(st.sampled_from([0.01, -0.02, 0.05])), 0.01)), axis=0)
        bulge = np.insert(bulge, 0, draw(st.sampled_from([0.0, 0.4, -0.4])))
    loop = Path(xy, bulge, True)
    flat = shapely.Polygon(loop.flattened(FINE))
    assume(flat.is_valid and flat.area > 0.5)
    return loop if draw(st.booleans()) else loop.reversed()


@settings(max_examples=60)
@given(loop=loops(), by=st.sampled_from([0.05, 0.1, 0.3, 1.0, -0.05, -0.1, -0.3, -1.0]))
def test_random_loops(loop: Path, by: float) -> None:
    holds(loop, by, 1e-4)
