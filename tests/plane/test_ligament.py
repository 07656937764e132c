"""Least ligaments and clearances, against hand-made cases and brute force over fine polygons."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
import shapely
from curves import four_digit
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.plane.arcs import arc_slot, ellipse, join, obround, rectangle, rounded, smooth_arcs
from geomgen.plane.clearance import clearance
from geomgen.plane.ligament import Ligament, least_ligaments, ligaments_of
from geomgen.plane.path import Circle, Loop, Path
from geomgen.plane.region import Region
from geomgen.tolerances import STANDARD


def rib(chord: float = 210.0) -> Path:
    upper, lower = smooth_arcs(four_digit("4415", chord, 161), STANDARD)
    return join([lower, upper.reversed()], closed=True)


HOLES: tuple[Loop, ...] = (
    Circle((52.0, 8.0), 5.0),
    Circle((95.0, 9.0), 4.5),
    rectangle((120.0, 9.0), 10.0, 3.0, 5.0),
    ellipse((150.0, 7.0), 3.1, 3.0, 20.0, STANDARD),
    obround((30.0, 8.0), 9.0, 5.0, 12.0),
    arc_slot((75.0, -5.0), 14.0, 3.0, 60.0, 120.0),
)


def of_pair(found: list[Ligament], hole: int, other: int | None) -> Ligament:
    return next(ligament for ligament in found if (ligament.hole, ligament.other) == (hole, other))


def test_hand_made_distances() -> None:
    plate = rectangle((50.0, 20.0), 100.0, 40.0)
    holes = (Circle((10.0, 20.0), 4.0), Circle((20.0, 20.0), 3.0), rectangle((60.0, 38.0), 8.0, 2.0))
    found = least_ligaments(Region(plate, holes))
    assert [ligament.gap_mm for ligament in found] == sorted(ligament.gap_mm for ligament in found)
    assert len(found) == 3 + 3
    edge = of_pair(found, 0, None)
    assert edge.gap_mm == pytest.approx(6.0, abs=1e-12)
    assert edge.at == (pytest.approx((6.0, 20.0)), pytest.approx((0.0, 20.0)))
    between = of_pair(found, 0, 1)
    assert between.gap_mm == pytest.approx(3.0, abs=1e-12)
    assert between.at == (pytest.approx((14.0, 20.0)), pytest.approx((17.0, 20.0)))
    assert of_pair(found, 2, None).gap_mm == pytest.approx(1.0, abs=1e-9)
    assert of_pair(found, 1, 2).gap_mm == pytest.approx(np.hypot(36.0, 17.0) - 3.0, abs=1e-9)


def test_agrees_with_brute_force_over_fine_polygons() -> None:
    outline = rib()
    found = least_ligaments(Region(outline, HOLES))
    rings = [shapely.LinearRing(loop.flattened(1e-5)) for loop in (outline, *HOLES)]
    pairs = [(j, None) for j in range(len(HOLES))] + list(combinations(range(len(HOLES)), 2))
    assert {(ligament.hole, ligament.other) for ligament in found} == set(pairs)
    for ligament in found:
        one, two = rings[ligament.hole + 1], rings[0 if ligament.other is None else ligament.other + 1]
        assert ligament.gap_mm == pytest.approx(shapely.distance(one, two), abs=1e-3)
        on_one, on_two = (shapely.Point(p) for p in ligament.at)
        assert one.distance(on_one) < 1e-3
        assert two.distance(on_two) < 1e-3
        assert on_one.distance(on_two) == pytest.approx(ligament.gap_mm, abs=1e-3)


def test_round_outline() -> None:
    """A slot in a disc: the farthest corner of the slot counts, not its distance from the centre's nearest side."""
    disc = Circle((1.0, 2.0), 50.0)
    found = least_ligaments(Region(disc, (arc_slot((1.0, 2.0), 40.0, 6.0, 10.0, 80.0), Circle((11.0, 2.0), 5.0))))
    assert of_pair(found, 0, None).gap_mm == pytest.approx(7.0, abs=1e-3)
    assert of_pair(found, 1, None).gap_mm == pytest.approx(35.0, abs=1e-9)
    assert of_pair(found, 0, 1).gap_mm == pytest.approx(37.0 - 10.0 * np.cos(np.radians(10.0)) - 5.0, abs=0.2)


def test_what_crosses_or_leaves_has_a_gap_below_zero() -> None:
    plate = rectangle((50.0, 20.0), 100.0, 40.0)
    holes = (
        Circle((2.0, 20.0), 5.0),  # 3 mm over the edge
        Circle((-10.0, 20.0), 4.0),  # outside, its far side 14 mm out
        rectangle((50.0, 39.0), 10.0, 6.0),  # 2 mm over the edge
        rectangle((50.0, 60.0), 10.0, 6.0),  # outside, 23 mm out
        Circle((80.0, 20.0), 5.0),
        Circle((88.0, 20.0), 4.0),  # 1 mm into the one before
        rectangle((20.0, 10.0), 8.0, 8.0),
        rectangle((20.0, 10.0), 2.0, 2.0),  # within the one before
        Circle((20.0, 10.0), 0.5),  # within both
    )
    found = least_ligaments(Region(plate, holes))
    expected = {(0, None): -3.0, (1, None): -14.0, (2, None): -2.0, (3, None): -23.0, (4, 5): -1.0, (7, 8): -1.5}
    for (hole, other), gap in expected.items():
        assert of_pair(found, hole, other).gap_mm == pytest.approx(gap, abs=1e-3), (hole, other)
    assert of_pair(found, 6, 7).gap_mm <= 0.0
    assert found[0].gap_mm == pytest.approx(-23.0, abs=1e-3)


def test_an_arc_that_bulges_over_the_edge_between_its_ends() -> None:
    plate = rectangle((0.0, 0.0), 100.0, 40.0)
    slot = obround((0.0, 17.0), 8.0, 7.0, 90.0)  # the round end's top at y = 21, its vertices inside
    assert of_pair(least_ligaments(Region(plate, (slot,))), 0, None).gap_mm == pytest.approx(-1.0, abs=1e-3)


def test_many_regions_are_the_same_as_one_at_a_time() -> None:
    regions = [Region(rib(chord), HOLES[:k]) for chord, k in ((210.0, 6), (205.0, 0), (200.0, 1), (190.0, 4))]
    together = ligaments_of(regions)
    assert [len(found) for found in together] == [21, 0, 1, 10]
    assert together == [least_ligaments(region) for region in regions]
    assert ligaments_of([]) == []


@given(st.floats(-60, 60), st.floats(-60, 60), st.floats(0.0, 360.0), st.integers(0, 5), st.integers(0, 5))
@settings(deadline=None, max_examples=50)
def test_gap_of_any_two_holes(x: float, y: float, deg: float, i: int, j: int) -> None:
    middle = HOLES[i].centroid()
    one = HOLES[i].moved(-middle[0], -middle[1])
    two = HOLES[j].moved(-HOLES[j].centroid()[0], -HOLES[j].centroid()[1]).turned(deg).moved(x, y)
    found = of_pair(least_ligaments(Region(rectangle((0, 0), 400.0, 400.0), (one, two))), 0, 1)
    a, b = (shapely.Polygon(loop.flattened(1e-4)) for loop in (one, two))
    if a.distance(b) > 0:
        assert found.gap_mm == pytest.approx(a.distance(b), abs=1e-3)
    else:
        assert found.gap_mm <= 1e-3


def test_clearance_is_signed_and_exact() -> None:
    region = Region(rectangle((0.0, 0.0), 40.0, 20.0), (Circle((5.0, 0.0), 4.0),))
    points = [(-10.0, 0.0), (5.0, 0.0), (25.0, 0.0), (-19.0, 0.0), (10.0, 0.0), (23.0, 14.0)]
    assert clearance(region, points) == pytest.approx([10.0, -4.0, -5.0, 1.0, 1.0, -5.0], abs=1e-12)
    assert clearance(Circle((0.0, 0.0), 3.0), [(1.0, 0.0), (0.0, 0.0), (0.0, 5.0)]) == pytest.approx([2.0, 3.0, -2.0])


def test_clearance_agrees_with_shapely_in_a_rib() -> None:
    region = Region(rib(), HOLES)
    points = np.random.default_rng(3).uniform((-5.0, -10.0), (215.0, 30.0), (400, 2))
    polygon = region.to_shapely(1e-5)
    away = shapely.distance(shapely.points(points), polygon.boundary)
    signed = np.where(shapely.contains(polygon, shapely.points(points)), away, -away)
    assert clearance(region, points) == pytest.approx(signed, abs=2e-5)


def test_many_ribs_at_once() -> None:
    """Every pair of every rib is there: 10 holes with the outline and with one another, 55."""
    region = Region(rib(), (*(Circle((50.0 + 9 * k, 9.0), 2.0) for k in range(7)), *HOLES[2:5]))
    regions = [region.moved(0.01 * k, 0.0) for k in range(200)]
    found = ligaments_of(regions)
    assert {len(ligaments) for ligaments in found} == {55}


def test_rounded_pocket_in_a_rounded_plate() -> None:
    plate, pocket = rounded((0, 0), 80.0, 50.0, 10.0), rounded((28.0, 13.0), 20.0, 20.0, 3.0)
    gap = least_ligaments(Region(plate, (pocket,)))[0].gap_mm
    corner = np.hypot(35.0 - 30.0, 20.0 - 15.0)  # between the middles of the two corner arcs
    assert gap == pytest.approx(min(2.0, 10.0 - 3.0 - corner), abs=1e-3)
