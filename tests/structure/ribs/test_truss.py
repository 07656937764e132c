"""Truss-lightened ribs of the demo, measured by shapely on fine polygons and by the exact ligaments of the plane."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.craft import Craft
from geomgen.plane.arcs import rectangle
from geomgen.plane.ligament import least_ligaments
from geomgen.plane.path import Circle, Path
from geomgen.plane.region import Region
from geomgen.plane.splice import crossings, notched
from geomgen.structure.ribs.lighten import lightening_holes
from geomgen.structure.ribs.truss import truss_holes

OVER_MM = 0.2  # a member may be that much wider than asked, where a hole's side is straightened


def polygon(path: Path) -> shapely.Polygon:
    return shapely.Polygon(path.flattened(1e-4))


def new_ligaments(region: Region, holes: tuple[Path, ...]) -> list[float]:
    """Wood from each of the holes to edge, other holes and one another [mm]."""
    found = least_ligaments(Region(region.outer, (*region.holes, *holes)))
    first = len(region.holes)
    return [one.gap_mm for one in found if one.hole >= first or (one.other is not None and one.other >= first)]


def check(region: Region, holes: tuple[Path, ...], web: float, least: float, fillet: float) -> None:
    """What holds of every truss: whole closed holes with room for the least circle, corners round, webs kept."""
    solid = region.to_shapely(1e-4)
    shapes = [polygon(hole) for hole in holes]
    for hole, shape in zip(holes, shapes, strict=True):
        assert hole.closed and hole.area() > 0.0 and shape.is_valid and solid.contains(shape)
        assert shapely.maximum_inscribed_circle(shape, 1e-4).length >= least / 2 - 1e-3
        ring = hole.segments()
        arc = ring.bulge != 0.0
        assert ring.radius()[arc] == pytest.approx(fillet, abs=1e-6) and (ring.bulge[arc] > 0.0).all()
        begin, end = ring.directions()
        kinks = np.abs(np.angle(np.exp(1j * (np.roll(begin, -1) - end))))
        assert fillet == 0.0 or np.degrees(kinks.max()) < 8.0
    assert all(one.distance(two) >= web - 1e-3 for one, two in combinations(shapes, 2))
    assert min(new_ligaments(region, holes), default=web) >= web - 1e-3


@pytest.fixture(scope="module")
def large(lantern: Craft) -> tuple[Region, np.ndarray]:
    """The demo's first rib three times as large: chord 575 mm, with its spars and channel."""
    blank = lantern.bare_ribs[0]
    return blank.region.transformed(np.diag([3.0, 3.0, 1.0])), 3.0 * blank.outline.middle()


@pytest.mark.parametrize("web", [1.5, 2.5])
def test_every_rib_of_the_demo(lantern: Craft, web: float) -> None:
    for blank in lantern.bare_ribs:
        holes = truss_holes(blank.region, blank.outline.middle(), web, 4.0, 1.0)
        assert len(holes) >= 5
        check(blank.region, holes, web, 4.0, 1.0)
        assert min(new_ligaments(blank.region, holes)) < web + 0.05  # nor is wood left for nothing
        x = [hole.centroid()[0] for hole in holes]
        assert x == sorted(x)


@settings(deadline=None, max_examples=25)
@given(
    st.floats(0.8, 8.0),
    st.floats(2.0, 20.0),
    st.sampled_from((0.0, 0.05, 0.7, 2.5)),
    st.integers(0, 13),
    st.sampled_from((1.0, 3.0)),
)
def test_any_web_and_least_hole(
    lantern: Craft, web: float, least: float, fillet: float, rib: int, scale: float
) -> None:
    blank = lantern.bare_ribs[rib]
    region = blank.region.transformed(np.diag([scale, scale, 1.0]))
    check(region, truss_holes(region, scale * blank.outline.middle(), web, least, fillet), web, least, fillet)


def test_more_wood_goes_than_by_circles(lantern: Craft, large: tuple[Region, np.ndarray]) -> None:
    blank = lantern.bare_ribs[0]
    for region, middle, web, least in (
        (blank.region, blank.outline.middle(), 2.0, 4.0),
        (*large, 4.0, 10.0),
        (Region(large[0].outer), large[1], 5.0, 10.0),
    ):
        truss = sum(hole.area() for hole in truss_holes(region, middle, web, least))
        circles = sum(hole.area() for hole in lightening_holes(region, middle, web, least))
        assert truss > 1.1 * circles


def test_diagonals_go_up_and_down_at_one_width_and_a_steady_slope(large: tuple[Region, np.ndarray]) -> None:
    """Between neighbours lies one diagonal: their distance is its width, and their shortest line is square to it."""
    region, middle = Region(large[0].outer), large[1]
    holes = [polygon(hole) for hole in truss_holes(region, middle, 5.0, 10.0, 2.0)]
    assert len(holes) >= 8
    slopes = []
    for one, two in pairwise(holes):
        assert 5.0 <= one.distance(two) <= 5.0 + OVER_MM
        (x0, y0), (x1, y1) = shapely.shortest_line(one, two).coords
        slopes.append(np.degrees(np.arctan2(x1 - x0, y0 - y1)))
    assert all(40.0 < min(s, 180.0 - s) < 65.0 for s in slopes)
    up = [s < 90.0 for s in slopes]
    assert all(a != b for a, b in pairwise(up))
    above = [hole.centroid.y > np.interp(hole.centroid.x, *middle.T) for hole in holes]
    assert all(a != b for a, b in pairwise(above))


@pytest.mark.parametrize("length", [60.0, 75.0, 100.0, 133.0])
def test_in_a_plain_plate_the_zigzag_is_symmetrical(length: float) -> None:
    """Between two round holes: all the wood is in flanges, posts and strips, the same from its other end."""
    web, depth, span = 2.0, 20.0, length
    plate = rectangle((0.0, 0.0), span + 30.0, depth)
    posts = (Circle((-0.5 * span - 3.0, 0.0), 3.0), Circle((0.5 * span + 3.0, 0.0), 3.0))
    line = np.array([[-0.5 * span - 8.0, 0.0], [0.5 * span + 8.0, 0.0]])
    holes = truss_holes(Region(plate, posts), line, web, 4.0, 0.0)
    whole = shapely.union_all([polygon(hole) for hole in holes])
    n = len(holes) - 1
    turned = shapely.affinity.scale(whole, -1.0, 1.0 if n % 2 == 0 else -1.0, origin=(0.0, 0.0))
    assert shapely.symmetric_difference(whole, turned).area < 0.002 * whole.area
    run, rise = (span - web) / n, depth - web  # node to node, in the middles of posts and flanges
    assert 45.0 <= np.degrees(np.arctan2(rise, run)) <= 60.0
    ups = [[(-0.5 * span + 0.5 * web + k * run, (-1.0) ** k * 0.5 * rise) for k in (i, i + 1)] for i in range(n)]
    strips = shapely.union_all([shapely.LineString(ends).buffer(0.5 * web, cap_style="square") for ends in ups])
    inner = shapely.box(-0.5 * span + web, -0.5 * depth + web, 0.5 * span - web, 0.5 * depth - web)
    wanted = shapely.difference(inner, strips)
    upside = shapely.affinity.scale(wanted, 1.0, -1.0, origin=(0.0, 0.0))
    off = min(shapely.symmetric_difference(whole, one).area for one in (wanted, upside))
    assert off < 0.04 * whole.length  # each side 0.022 mm within


def test_a_notch_has_a_post_behind_it(lantern: Craft) -> None:
    blank = lantern.bare_ribs[0]
    edge = blank.edge
    for at, up in ((70.0, True), (70.0, False), (130.0, True)):
        y = crossings(edge, (at, 0.0), (0.0, 1.0))[-1 if up else 0].xy[1]
        edge = notched(edge, (at, y), (0.0, -1.0 if up else 1.0), 6.0, 2.0)
    region = Region(edge)
    holes = truss_holes(region, blank.outline.middle(), 2.0, 4.0, 1.0)
    assert len(holes) >= 8
    check(region, holes, 2.0, 4.0, 1.0)
    for at in (70.0, 130.0):
        assert not any(polygon(hole).intersects(shapely.box(at - 5.0, -30.0, at + 5.0, 30.0)) for hole in holes)
    assert all(len(hole.xy) <= 16 for hole in holes)


def test_where_nothing_can_be_cut(lantern: Craft) -> None:
    blank = lantern.bare_ribs[0]
    assert truss_holes(blank.region, blank.outline.middle(), 16.0, 4.0) == ()
    assert truss_holes(blank.region, blank.outline.middle(), 2.0, 40.0) == ()
    with pytest.raises(ValueError, match="> 0 mm"):
        truss_holes(blank.region, blank.outline.middle(), 0.0, 4.0)
