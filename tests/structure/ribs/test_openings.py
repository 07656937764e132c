"""Holes for spars and channels, lightening holes, and where ribs stand."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.craft import Craft
from geomgen.model.part import Flat
from geomgen.plane.arcs import rectangle
from geomgen.plane.path import Circle, Path
from geomgen.plane.region import Region
from geomgen.section.families import naca
from geomgen.structure.openings import askew_mm, round_hole, slot
from geomgen.structure.ribs.lighten import lightening_holes
from geomgen.tolerances import STANDARD

HERE = Station(400.0, 200.0, 6.0, naca("0015"), (50.0, 0.0))


def route(slope: tuple[float, float]) -> Route:
    """Through the feather axis at r 400, with a slope in (y, z) of the blade frame."""
    start = np.array([300.0, -100.0 * slope[0], -100.0 * slope[1]])
    return Route("blade.spar.x", start, np.array([500.0, 100.0 * slope[0], 100.0 * slope[1]]))


def test_square_on_it_is_a_circle() -> None:
    loop, note = round_hole(HERE, route((0.0, 0.0)), 8.1, 3.0, STANDARD)
    assert isinstance(loop, Circle) and note == ""
    assert loop.center == pytest.approx((50.0, 0.0)) and loop.radius == 4.05


@pytest.mark.parametrize("slope", [(0.1, 0.0), (0.0, -0.2), (0.08, 0.15)])
def test_askew_it_is_an_ellipse_that_lets_the_cylinder_through(slope: tuple[float, float]) -> None:
    """A cylinder cut by both faces passes; an ellipse is short of its true shadow by a tenth of the shift."""
    diameter, thickness = 8.0, 3.0
    loop, note = round_hole(HERE, route(slope), diameter, thickness, STANDARD)
    assert isinstance(loop, Path) and "ellipse" in note
    way = np.array([1.0, *slope]) / np.hypot(1.0, np.hypot(*slope))
    across = np.linalg.svd(way[None])[2][1:]
    turn = np.linspace(0, 2 * np.pi, 400)
    shell = diameter / 2 * (np.cos(turn)[:, None] * across[0] + np.sin(turn)[:, None] * across[1])
    hole = shapely.Polygon(loop.flattened(1e-4))
    short = 0.11 * thickness * float(np.hypot(*slope))
    gaps = []
    for face in (-thickness / 2, thickness / 2):
        hits = shell + ((face - shell[:, :1]) / way[0]) * way
        seen = HERE.from_blade(hits + np.array([400.0, 0.0, 0.0]))
        points = shapely.points(seen)
        assert shapely.contains(hole.buffer(short + 0.01), points).all()
        gaps.append(shapely.distance(hole.exterior, points).min())
    assert min(gaps) < 0.05
    # across the slope it is as wide as the cylinder; along it, longer by what geometry says
    box = shapely.minimum_rotated_rectangle(hole)
    sides = sorted(np.hypot(*np.diff(np.array(box.exterior.coords), axis=0)[:2].T))
    steep = float(np.hypot(*slope))
    assert sides[0] == pytest.approx(diameter, abs=0.02)
    longer = diameter * (np.sqrt(1 + steep**2) - 1) + thickness * steep
    assert sides[1] == pytest.approx(diameter + longer, abs=0.02)
    assert askew_mm(diameter, steep, thickness) == pytest.approx(longer)


def test_a_strip_keeps_its_direction_in_space() -> None:
    """The slot's long side taken back to the blade frame points straight up, whatever the station's angle."""
    for angle in (-8.0, 0.0, 6.0):
        here = Station(400.0, 200.0, angle, naca("0015"), (50.0, 0.0))
        loop, note = slot(here, route((0.0, 0.0)), (3.0, 6.0), 3.0, STANDARD)
        assert isinstance(loop, Path) and note == ""
        corners = here.to_blade(loop.xy)
        sides = np.diff(np.vstack([corners, corners[:1]]), axis=0)
        long = sides[np.argmax(np.hypot(sides[:, 1], sides[:, 2]))]
        assert abs(long[1]) < 1e-9 and abs(long[2]) == pytest.approx(6.0)


@pytest.mark.parametrize("slope", [(0.065, 0.0), (0.0, -0.1), (0.08, 0.05)])
def test_a_strip_met_askew_passes_through_both_faces(slope: tuple[float, float]) -> None:
    """The strip's box where it meets both faces of the rib: it lies in the slot, with little to spare."""
    size, thickness = (3.0, 6.0), 5.0
    loop, note = slot(HERE, route(slope), size, thickness, STANDARD)
    assert isinstance(loop, Path) and "askew" in note
    hole = shapely.Polygon(loop.xy)
    seen = []
    for face in (-thickness / 2, thickness / 2):
        for y, z in ((-1.5, -3.0), (1.5, -3.0), (1.5, 3.0), (-1.5, 3.0)):  # a section square to the feather axis
            seen.append([400.0 + face, y + face * slope[0], z + face * slope[1]])
    corners = HERE.from_blade(np.array(seen))
    assert shapely.contains(hole.buffer(1e-6), shapely.points(corners)).all()
    spare = hole.area - shapely.convex_hull(shapely.multipoints(corners)).area
    assert spare < 0.15 * hole.area


def test_lightening_holes_keep_their_web() -> None:
    region = Region(rectangle((50.0, 0.0), 100.0, 20.0), (Circle((30.0, 0.0), 4.0),))
    middle = np.array([[0.0, 0.0], [100.0, 0.0]])
    holes = lightening_holes(region, middle, 3.0, 8.0)
    assert len(holes) >= 3
    assert max(hole.radius for hole in holes) == pytest.approx(7.0)  # 20 mm deep, 3 mm of web above and below
    shapes = [shapely.Point(hole.center).buffer(hole.radius, 256) for hole in holes]
    edge = shapely.LineString([(0, -10), (100, -10), (100, 10), (0, 10), (0, -10)])
    others = [edge, shapely.Point(30, 0).buffer(4.0, 256)]
    for i, one in enumerate(shapes):
        assert min(one.distance(other) for other in [*others, *shapes[:i], *shapes[i + 1 :]]) >= 3.0 - 2e-3
    assert not lightening_holes(region, middle, 6.5, 8.0)


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_every_ribs_webs_as_another_library_measures_them(name: str, request: pytest.FixtureRequest) -> None:
    craft: Craft = request.getfixturevalue(name)
    web = craft.design.blade.construction.web
    for part in craft.ribs:
        assert isinstance(part.shape, Flat)
        holes = [shapely.Polygon(hole.flattened(1e-3)) for hole in part.shape.region.holes]
        edge = shapely.Polygon(part.shape.region.outer.flattened(1e-3))
        for i, hole in enumerate(holes):
            assert edge.contains(hole)
            assert hole.distance(edge.exterior) >= web - 0.01
            assert all(hole.distance(other) >= web - 0.01 for other in holes[i + 1 :])


def test_ribs_stand_in_equal_bays_and_where_a_fitting_needs_one(lantern: Craft) -> None:
    radii = [place.r_mm for place in lantern.rib_places]
    # 130 .. 200 in two bays, flush at the root (2 mm ply); 200 .. 782, where the tip's 18 mm begin, in ten, for nine
    # would be longer than 60; the fan at 96 %; flush at the frame's end (3 mm)
    wanted = [131.0, 165.0, 200.0, *(200.0 + 58.2 * i for i in range(1, 10)), 768.0, 780.5]
    assert radii == pytest.approx(wanted, abs=1e-6)
    assert [place.stock for place in lantern.rib_places] == ["ply_2"] * 3 + ["balsa_3"] * 9 + ["ply_2", "balsa_3"]
    assert lantern.rib_places[-2].fittings == ("fan",)
