"""Paths and circles against closed forms of geometry books, fine polygons and the rule of the LWPOLYLINE bulge."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from ezdxf.math import bulge_center, bulge_radius
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.plane.arcs import rounded
from geomgen.plane.path import Circle, Path, from_points, turning
from geomgen.plane.region import Region

QUARTER = np.sqrt(2.0) - 1.0  # bulge of a 90 deg arc, .41421356 in the LWPOLYLINE rule


def half_disc(r: float, turn: float = 1.0) -> Path:
    """Half disc on the x axis, anticlockwise for turn > 0, above the axis."""
    return Path(np.array([(r, 0.0), (-r, 0.0)]), np.array((turn, 0.0)), True)


def segment(r: float, half_angle: float) -> Path:
    """Circular segment, chord along x at height r cos(half_angle), round part up."""
    s, c = np.sin(half_angle), np.cos(half_angle)
    return Path(np.array([(r * s, r * c), (-r * s, r * c)]), np.array((np.tan(half_angle / 2), 0.0)), True)


def closed_paths() -> st.SearchStrategy[Path]:
    """Rings round the origin whose arcs bend in and out by less than lets them cross."""

    @st.composite
    def ring(draw: st.DrawFn) -> Path:
        n = draw(st.integers(3, 9))
        radii = np.array(draw(st.lists(st.floats(5.0, 60.0), min_size=n, max_size=n)))
        bulge = np.array(draw(st.lists(st.floats(-0.15, 0.15), min_size=n, max_size=n)))
        angle = 2.0 * np.pi * np.arange(n) / n
        return Path(np.column_stack((radii * np.cos(angle), radii * np.sin(angle))), bulge, True)

    return ring()


def test_bulge_of_a_quarter_circle() -> None:
    """LWPOLYLINE reference: bulge = tan(included angle / 4), + anticlockwise; r = c (1 + b²) / (4 |b|)."""
    quarter = Path(np.array([(3.0, 0.0), (0.0, 3.0)]), np.array((0.41421356, 0.0)), False)
    arcs = quarter.segments()
    assert np.degrees(arcs.angle[0]) == pytest.approx(90.0, abs=1e-6)
    chord = 3.0 * np.sqrt(2.0)
    assert arcs.radius()[0] == pytest.approx(chord * (1 + 0.41421356**2) / (4 * 0.41421356), rel=1e-12)
    assert arcs.center()[0] == pytest.approx((0.0, 0.0), abs=1e-7)
    assert quarter.length() == pytest.approx(1.5 * np.pi, rel=1e-8)
    begin, end = arcs.directions()
    assert np.degrees((begin[0], end[0])) == pytest.approx((90.0, 180.0), abs=1e-6)


@given(
    st.floats(-100, 100),
    st.floats(-100, 100),
    st.floats(0.01, 200),
    st.floats(0, 6.28),
    st.floats(0.001, 30) | st.floats(-30, -0.001),
)
def test_center_and_radius_agree_with_another_reader_of_bulges(
    x: float, y: float, chord: float, way: float, bulge: float
) -> None:
    end = (x + chord * np.cos(way), y + chord * np.sin(way))
    arc = Path(np.array([(x, y), end]), np.array((bulge, 0.0)), False).segments()
    radius = bulge_radius((x, y), end, bulge)
    assert arc.radius()[0] == pytest.approx(radius, rel=1e-9)
    center = bulge_center((x, y), end, bulge)
    assert arc.center()[0] == pytest.approx((center.x, center.y), abs=1e-8 * (radius + abs(x) + abs(y) + 1))


def test_half_disc_moments() -> None:
    """Half disc: area πr²/2, centroid 4r/3π, Ixx = Iyy = πr⁴/8 about the diameter's middle (any statics table)."""
    r = 7.0
    for path in (half_disc(r), half_disc(r).reversed()):
        assert abs(path.area()) == pytest.approx(np.pi * r**2 / 2, rel=1e-14)
        assert path.centroid() == pytest.approx((0.0, 4 * r / (3 * np.pi)), abs=1e-13)
        assert path.second_moments() == pytest.approx((np.pi * r**4 / 8, np.pi * r**4 / 8, 0.0), abs=1e-10)
    assert half_disc(r).area() > 0 > half_disc(r).reversed().area()


@pytest.mark.parametrize("half_angle", [1e-4, 0.02, 0.149, 0.151, 0.8, np.pi / 2, 2.5, 3.1])
def test_circular_segment(half_angle: float) -> None:
    """Segment of half angle a: area r²(a - sin a cos a), centroid 2r sin³a / 3(a - sin a cos a) (statics tables);
    small angles against the parabola's area 2/3 chord · height, to the square of the angle."""
    r, a = 9.0, half_angle
    path = segment(r, a)
    chord, height = 2 * r * np.sin(a), r * 2 * np.sin(a / 2) ** 2
    if a < 0.05:
        assert path.area() == pytest.approx(2 / 3 * chord * height, rel=a**2)
        assert path.centroid()[1] - r * np.cos(a) == pytest.approx(0.4 * height, rel=max(a**2, 1e-6))
    else:
        lens = a - np.sin(a) * np.cos(a)
        assert path.area() == pytest.approx(r**2 * lens, rel=1e-12)
        assert path.centroid() == pytest.approx((0.0, 2 * r * np.sin(a) ** 3 / (3 * lens)), abs=1e-10)
    assert path.length() == pytest.approx(2 * r * a + chord, rel=1e-12)


@pytest.mark.parametrize("half_angle", [0.05, 0.1499, 0.1501, 0.6, 2.0])
def test_segment_moments_by_quadrature(half_angle: float) -> None:
    """Second moments of a segment by Gauss quadrature over its height."""
    r = 5.0
    node, weight = np.polynomial.legendre.leggauss(60)
    low = r * np.cos(half_angle)
    # y = r cos t, so that the ends' square roots are smooth
    t = half_angle * 0.5 * (node + 1)
    y, dy, half_width = r * np.cos(t), r * np.sin(t) * half_angle * 0.5 * weight, r * np.sin(t)
    ixx, iyy = float(np.sum(2 * half_width * y**2 * dy)), float(np.sum(2 / 3 * half_width**3 * dy))
    path = segment(r, half_angle)
    assert path.second_moments() == pytest.approx((ixx, iyy, 0.0), rel=1e-10, abs=1e-10)
    moved = path.moved(0.0, -low)
    assert moved.second_moments()[0] == pytest.approx(
        float(np.sum(2 * half_width * (y - low) ** 2 * dy)), rel=1e-9, abs=1e-12
    )


def test_circle_is_the_same_as_two_half_arcs() -> None:
    circle = Circle((31.0, -4.5), 6.25)
    path = circle.as_path()
    assert path.area() == pytest.approx(np.pi * 6.25**2, rel=1e-14)
    assert path.length() == pytest.approx(2 * np.pi * 6.25, rel=1e-14)
    assert path.centroid() == pytest.approx((31.0, -4.5), rel=1e-13)
    assert path.second_moments() == pytest.approx(circle.second_moments(), rel=1e-13)
    # about its own centre π r⁴ / 4, moved by the parallel axis theorem
    assert circle.second_moments()[0] == pytest.approx(np.pi * 6.25**4 / 4 + np.pi * 6.25**2 * 4.5**2, rel=1e-14)
    assert path.bounds() == pytest.approx(circle.bounds(), rel=1e-14)


def test_bounds_reach_the_top_of_an_arc_but_not_of_one_that_stops_short() -> None:
    whole = Path(np.array([(1.0, 0.0), (0.0, 1.0)]), np.array((QUARTER, 0.0)), False)
    assert whole.bounds() == pytest.approx((0.0, 0.0, 1.0, 1.0), abs=1e-15)
    three_quarters = Path(np.array([(1.0, 0.0), (0.0, -1.0)]), np.array((np.tan(3 * np.pi / 8), 0.0)), False)
    assert three_quarters.bounds() == pytest.approx((-1.0, -1.0, 1.0, 1.0), abs=1e-15)
    clockwise = Path(np.array([(1.0, 0.0), (0.0, -1.0)]), np.array((-QUARTER, 0.0)), False)
    assert clockwise.bounds() == pytest.approx((0.0, -1.0, 1.0, 0.0), abs=1e-15)


@given(closed_paths(), st.sampled_from((0.5, 0.05, 0.002)))
@settings(deadline=None)
def test_flattening_stays_within_its_tolerance(path: Path, tol: float) -> None:
    points = path.flattened(tol)
    fine = shapely.LinearRing(path.flattened(1e-5))
    coarse = shapely.LinearRing(points)
    assert shapely.hausdorff_distance(coarse, fine, densify=0.05) <= tol + 2e-5
    assert shapely.distance(shapely.points(points), fine).max() <= 2e-5  # corners lie on the path
    for vertex in path.xy:
        assert np.hypot(*(points - vertex).T).min() < 1e-9


@given(closed_paths())
@settings(deadline=None, max_examples=40)
def test_area_and_centroid_agree_with_a_fine_polygon(path: Path) -> None:
    polygon = shapely.Polygon(path.flattened(1e-5))
    assert path.area() == pytest.approx(polygon.area, abs=2e-5 * path.length())
    assert path.centroid() == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-3)
    assert path.length() == pytest.approx(polygon.length, rel=1e-4)
    assert path.bounds() == pytest.approx(polygon.bounds, abs=2e-5)


@given(closed_paths(), st.floats(-180, 180), st.floats(-300, 300), st.floats(-300, 300), st.booleans())
@settings(deadline=None)
def test_rigid_motions_keep_area_length_and_principal_moments(
    path: Path, deg: float, dx: float, dy: float, mirror: bool
) -> None:
    moved = path.turned(deg, about=(3.0, -8.0)).moved(dx, dy)
    moved = moved.mirrored_x() if mirror else moved
    assert moved.area() == pytest.approx(-path.area() if mirror else path.area(), rel=1e-8)
    assert moved.length() == pytest.approx(path.length(), rel=1e-12)

    def principal(p: Path) -> list[float]:
        ixx, iyy, ixy = p.moved(*(-c for c in p.centroid())).second_moments()
        return np.linalg.eigvalsh(((ixx, ixy), (ixy, iyy))).tolist()

    assert principal(moved) == pytest.approx(principal(path), rel=1e-6)


@given(closed_paths())
def test_reversing_twice_is_the_same_path(path: Path) -> None:
    back = path.reversed()
    assert back.area() == pytest.approx(-path.area(), rel=1e-10)
    assert back.second_moments() == pytest.approx(path.second_moments(), rel=1e-9, abs=1e-6)
    assert np.array_equal(back.reversed().xy, path.xy)
    assert np.array_equal(back.reversed().bulge, path.bulge)
    opened = Path(path.xy, path.bulge, False)
    assert opened.reversed().length() == pytest.approx(opened.length(), rel=1e-12)
    assert opened.reversed().bounds() == pytest.approx(opened.bounds(), abs=1e-9)


def test_even_scaling_is_allowed_and_shearing_is_not() -> None:
    double = half_disc(2.0).transformed(np.diag((2.0, 2.0, 1.0)))
    assert double.area() == pytest.approx(8 * np.pi, rel=1e-14)
    assert Circle((1.0, 0.0), 2.0).transformed(np.diag((-3.0, 3.0, 1.0))) == Circle((-3.0, 0.0), 6.0)
    with pytest.raises(ValueError, match="sheared"):
        half_disc(2.0).transformed(np.diag((2.0, 1.0, 1.0)))
    with pytest.raises(ValueError, match="last row"):
        half_disc(2.0).transformed(np.ones((3, 3)))


def test_turning_goes_anticlockwise_about_a_point() -> None:
    m = turning(90.0, about=(1.0, 1.0))
    assert m @ (2.0, 1.0, 1.0) == pytest.approx((1.0, 2.0, 1.0))


def test_paths_are_frozen_and_checked() -> None:
    path = from_points([(0, 0), (1, 0), (1, 1)], closed=True)
    with pytest.raises(ValueError, match="read-only"):
        path.xy[0, 0] = 5.0
    for xy, bulge in (([(0, 0)], [0]), ([(0, 0), (1, 1)], [0]), ([(0, 0), (1, np.nan)], [0, 0])):
        with pytest.raises(ValueError, match="path"):
            Path(np.array(xy, dtype=float), np.array(bulge, dtype=float), True)
    for radius in (0.0, -1.0, np.nan, np.inf):
        with pytest.raises(ValueError, match="circle"):
            Circle((0.0, 0.0), radius)
    with pytest.raises(ValueError, match="tolerance"):
        path.flattened(0.0)


def test_region_takes_holes_away_whichever_way_they_run() -> None:
    """Ring: area π(R² - r²), Ixx = π(R⁴ - r⁴)/4; the holes' direction is of no matter."""
    outer, hole = Circle((0.0, 0.0), 10.0), Circle((0.0, 0.0), 4.0).as_path()
    for region in (Region(outer, (hole,)), Region(outer.as_path().reversed(), (hole.reversed(),))):
        assert region.area() == pytest.approx(np.pi * 84.0, rel=1e-13)
        assert region.centroid() == pytest.approx((0.0, 0.0), abs=1e-12)
        assert region.second_moments() == pytest.approx((np.pi * 9744 / 4, np.pi * 9744 / 4, 0.0), abs=1e-8)
        assert region.length() == pytest.approx(28 * np.pi, rel=1e-14)


def test_region_agrees_with_a_fine_polygon() -> None:
    region = Region(rounded((5, 2), 60, 20, 4, 15.0), (Circle((0, 0), 3), rounded((20, 5), 8, 5, 1, 40.0)))
    moved = region.mirrored_x().turned(33.0, about=(2, 1)).moved(-7.0, 60.0)
    polygon = moved.to_shapely(1e-6)
    assert polygon.is_valid
    assert len(polygon.interiors) == 2
    assert moved.area() == pytest.approx(polygon.area, rel=1e-6)
    assert moved.centroid() == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-5)
    assert region.area() == pytest.approx(60 * 20 - (4 - np.pi) * 16 - 9 * np.pi - (40 - (4 - np.pi)), rel=1e-12)
    with pytest.raises(ValueError, match="closed"):
        Region(from_points([(0, 0), (1, 0), (1, 1)], closed=False))


def test_open_path_closes_by_a_line_for_its_area() -> None:
    arc = Path(np.array([(2.0, 0.0), (-2.0, 0.0)]), np.array((1.0, 9.0)), False)  # the last bulge is ignored
    assert arc.area() == pytest.approx(2 * np.pi, rel=1e-14)
    ring = Path(np.array([(2.0, 0.0), (-2.0, 0.0), (2.0, 0.0)]), np.array((1.0, 1.0, 0.0)), False)
    assert ring.closed_by_line().area() == pytest.approx(4 * np.pi, rel=1e-14)
    assert len(ring.closed_by_line().xy) == 2
