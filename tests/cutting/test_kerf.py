"""The kerf taken off, judged by what a disc that runs along the paths of the reopened file leaves."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from reopened import FINE, flat_of, kept, lying, on_sheet

from geomgen.craft import Craft
from geomgen.cutting.kerf import kerf_taken_off, sharp_inside
from geomgen.cutting.sheet_dxf import Cutting
from geomgen.model.part import Flat
from geomgen.plane.arcs import obround, rectangle, rounded
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region

AT, TURN = (200.0, 120.0), 23.0
PLATE = rounded((0.0, 0.0), 80.0, 40.0, 3.0)


def triangle(x: float, y: float, side: float, radius: float) -> Path:
    """An upright triangle of equal sides with round corners; written here by hand.

    source : the round touches a side at radius / tan 30 deg from the sharp corner, and turns by 120 deg
    """
    turns = np.radians([210.0, 330.0, 90.0])
    sharp = np.array([(x, y)]) + side / math.sqrt(3.0) * np.column_stack((np.cos(turns), np.sin(turns)))
    along = (np.roll(sharp, -1, axis=0) - sharp) / side
    off = radius / math.tan(math.radians(30.0))
    xy = np.stack((sharp - off * np.roll(along, 1, axis=0), sharp + off * along), axis=1).reshape(-1, 2)
    return Path(xy, np.tile((math.tan(math.radians(30.0)), 0.0), 3), True)


ROUND_HOLES = {
    "a circle": Circle((-20.0, 3.0), 5.05),
    "a slot": obround((-18.0, 0.0), 18.0, 3.2, 12.0),
    "a slot of two half circles each": Circle((-20.0, 3.0), 4.0).as_path().reversed(),
    "a truss triangle": triangle(10.0, 0.0, 24.0, 1.0),
    "a backward triangle": triangle(10.0, 0.0, 24.0, 0.2).reversed(),
}


def nominal(region: Region) -> shapely.Polygon:
    outer, *holes = [shapely.Polygon(loop.flattened(FINE)) for loop in region.loops()]
    return lying(outer.difference(shapely.union_all(holes)), AT, TURN)


def off(data: bytes, region: Region, kerf: float) -> float:
    """Greatest distance between the edges that are cut and those that are drawn [mm]."""
    edges = [shapely.segmentize(each.boundary, 0.2) for each in (kept(data, kerf), nominal(region))]
    return float(shapely.hausdorff_distance(*edges))


@pytest.mark.parametrize("kerf", [0.08, 0.18, 0.4])
@pytest.mark.parametrize("name", ROUND_HOLES)
def test_round_holes_and_a_plate_come_out_as_drawn(name: str, kerf: float) -> None:
    region = Region(PLATE, (ROUND_HOLES[name],))
    data = on_sheet([(flat_of(region), AT, TURN)], Cutting(kerf))
    if kerf / 2 <= 0.2:  # the triangle's own round corner
        assert off(data, region, kerf) < 0.01
    assert kept(data, kerf).area == pytest.approx(nominal(region).area, rel=1e-4)


def test_a_file_without_a_kerf_is_to_size_and_comes_out_small() -> None:
    region = Region(PLATE, (ROUND_HOLES["a circle"],))
    data = on_sheet([(flat_of(region), AT, TURN)], Cutting())
    assert kept(data, 1e-6).area == pytest.approx(nominal(region).area, rel=2e-5)
    assert off(data, region, 0.2) == pytest.approx(0.1, abs=0.005)


@pytest.mark.parametrize("kerf", [0.15, 0.25])
def test_every_part_of_the_demo_that_is_cut_from_sheets(lantern: Craft, kerf: float) -> None:
    """Areas to 1e-4; edges within 0.01 mm, but for corners that a round beam can't cut sharp.

    source : a disc of radius r in a square corner leaves (√2 - 1) r along its diagonal
    """
    some = {part.role: part for part in lantern.flat_parts}.values()  # the last of each role
    ribs = [part for part in lantern.flat_parts if part.role == "rib"][:2]
    for part in (*some, *ribs):
        assert isinstance(part.shape, Flat)
        region = part.shape.region
        data = on_sheet([(part.shape, AT, TURN)], Cutting(kerf))
        left, drawn = kept(data, kerf), nominal(region)
        assert left.geom_type == "Polygon"
        assert left.area == pytest.approx(drawn.area, rel=1e-4), part.name
        corners = lying(shapely.MultiPoint([*sharp_inside(region, kerf / 2), (1e6, 0.0)]), AT, TURN)
        for one, two in ((left.boundary, drawn.boundary), (drawn.boundary, left.boundary)):
            points = shapely.points(shapely.get_coordinates(shapely.segmentize(one, 0.2)))
            away = shapely.distance(points, two)
            assert away.max() < 0.01 + (math.sqrt(2.0) - 1.0) * kerf / 2, part.name
            assert away[shapely.distance(points, corners) > kerf].max() < 0.01, part.name


def test_what_is_cut_never_reaches_into_the_part() -> None:
    """A rib's foot: sharp corners both ways. Nothing of the drawn shape is lost, arcs about its corners or not."""
    foot = from_points([(0, 0), (60, 0), (60, 20), (40, 20), (40, 30), (30, 30), (30, 20), (0, 20)], closed=True)
    region = Region(foot)
    data = on_sheet([(flat_of(region), AT, TURN)], Cutting(0.3))
    lost = nominal(region).difference(kept(data, 0.3))
    assert lost.area < 0.3 * 1e-3 * foot.length()
    extra = kept(data, 0.3).difference(nominal(region).buffer(0.001))
    corners = [place for place in shapely.get_parts(extra) if place.area > 1e-4]
    assert len(corners) == 2  # where the foot stands on the plate
    assert sum(place.area for place in corners) == pytest.approx(2 * (1 - math.pi / 4) * 0.15**2, rel=0.15)


def test_corners_that_keep_a_radius() -> None:
    notched = from_points([(0, 0), (20, 0), (20, 10), (12, 10), (12, 4), (9, 4), (9, 10), (0, 10)], closed=True)
    hole = rectangle((4.0, 5.0), 2.0, 3.0)
    found = sharp_inside(Region(notched, (hole, Circle((16.0, 4.0), 1.0))))
    wanted = {(12.0, 4.0), (9.0, 4.0), (3.0, 3.5), (5.0, 3.5), (5.0, 6.5), (3.0, 6.5)}
    assert {(round(x, 6), round(y, 6)) for x, y in found} == wanted
    backward = sharp_inside(Region(notched.reversed(), (hole.reversed(),)))
    assert {(round(x, 6), round(y, 6)) for x, y in backward} == wanted
    assert sharp_inside(Region(PLATE, (ROUND_HOLES["a truss triangle"],))) == ()


def test_round_corners_sharper_than_the_beam_count() -> None:
    region = Region(PLATE, (triangle(10.0, 0.0, 24.0, 0.1), Circle((-20.0, 0.0), 0.05)))
    assert sharp_inside(region, 0.09) == ()
    assert len(sharp_inside(region, 0.11)) == 3
    assert sharp_inside(region) == ()


def test_holes_too_small_are_told_and_left() -> None:
    holes = (Circle((5.0, 5.0), 0.09), Circle((20.0, 5.0), 0.11), obround((-20.0, 0.0), 6.0, 0.15, 0.0))
    beam = kerf_taken_off(Region(PLATE, holes), 0.2)
    assert len(beam.region.holes) == 1
    assert {(round(x, 9), round(y, 9)) for x, y in beam.missed} == {(-20.0, 0.0), (5.0, 5.0)}


def test_a_notch_and_a_neck_too_narrow_are_told() -> None:
    outer = from_points([(0, 0), (30, 0), (30, 12), (10.1, 12), (10.1, 6), (9.9, 6), (9.9, 12), (0, 12)], closed=True)
    neck = [
        (16, 2),
        (20, 2),
        (20, 3.9),
        (22, 3.9),
        (22, 2),
        (26, 2),
        (26, 6),
        (22, 6),
        (22, 4.1),
        (20, 4.1),
        (20, 6),
        (16, 6),
    ]
    beam = kerf_taken_off(Region(outer, (from_points(neck, closed=True),)), 0.25)
    assert len(beam.region.holes) == 2
    (x0, y0), (x1, y1) = sorted(beam.missed)
    assert abs(x0 - 10.0) < 0.1 and 6.0 < y0 < 12.0
    assert 20.0 < x1 < 22.0 and abs(y1 - 4.0) < 0.1
    assert kerf_taken_off(Region(outer, (from_points(neck, closed=True),)), 0.19).missed == ()


def test_a_pocket_behind_a_mouth_too_narrow_is_told_and_not_cut() -> None:
    room = [
        (0, 0),
        (10, 0),
        (10, 10),
        (5.1, 10),
        (5.1, 8),
        (8, 8),
        (8, 2),
        (2, 2),
        (2, 8),
        (4.9, 8),
        (4.9, 10),
        (0, 10),
    ]
    beam = kerf_taken_off(Region(from_points(room, closed=True)), 0.3)
    assert beam.region.holes == () and abs(beam.region.outer.area()) == pytest.approx(10.3**2, rel=2e-3)
    assert len(beam.missed) == 1


def test_a_kerf_of_none_and_a_wrong_one() -> None:
    region = Region(PLATE)
    assert kerf_taken_off(region, 0.0).region is region
    for wrong in (-0.1, float("nan")):
        with pytest.raises(ValueError, match="kerf"):
            kerf_taken_off(region, wrong)
