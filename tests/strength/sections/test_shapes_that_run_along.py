"""Shapes against an independent library of finite elements, meshes, and closed forms."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from sectionproperties.analysis import Section
from sectionproperties.pre import Geometry

from geomgen.strength.sections.shapes import Shape, full_mm4, solid, tube, wall


def meshed(shape: shapely.Polygon, mesh_mm2: float) -> Section:
    geometry = Geometry(shape)
    geometry.create_mesh([mesh_mm2])
    section = Section(geometry)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return section


def same(shape: Shape, section: Section, rel: float) -> None:
    """Area, centre and second moments. The library's ixx is of height, its iyy of width."""
    assert shape.area_mm2 == pytest.approx(section.get_area(), rel=rel)
    assert shape.centre == pytest.approx(section.get_c(), abs=rel * np.sqrt(shape.area_mm2))
    height, width, product = section.get_ic()
    scale = max(height, width)
    assert shape.second == pytest.approx(np.array([[width, product], [product, height]]), abs=rel * scale)


def test_a_tube_by_the_references_of_ten_by_eight() -> None:
    """I 289.8 mm4 and J twice that; its rim lies on its outside."""
    shape = tube(np.array([3.0, -2.0]), 10.0, 8.0)
    assert shape.second == pytest.approx(289.8 * np.eye(2), abs=0.1)
    assert shape.torsion_mm4 == pytest.approx(2 * 289.8, abs=0.2)
    assert np.hypot(*(shape.rim - [3.0, -2.0]).T) == pytest.approx(5.0)


@pytest.mark.parametrize("back", [False, True])
def test_a_strip_that_lies_askew(back: bool) -> None:
    box = shapely.affinity.rotate(shapely.box(0.0, 0.0, 6.0, 3.0), 30.0, origin=(0, 0))
    ring = np.array(box.exterior.coords)[:-1]
    shape, section = solid(ring[::-1] if back else ring), meshed(box, 0.5)
    same(shape, section, 1e-6)
    assert shape.torsion_mm4 == pytest.approx(section.get_j(), rel=0.005)


def test_a_shape_without_hollows_against_the_library() -> None:
    """An ellipse, for which the torsion constant is exact, and a planed nose, for which it is within a tenth."""
    ellipse = shapely.affinity.scale(shapely.Point(0, 0).buffer(1.0, quad_segs=16), 20.0, 3.0)
    shape, section = solid(np.array(ellipse.exterior.coords)[:-1]), meshed(ellipse, 2.0)
    same(shape, section, 1e-6)
    assert shape.torsion_mm4 == pytest.approx(np.pi * 20.0**3 * 3.0**3 / (20.0**2 + 3.0**2), rel=0.01)
    assert shape.torsion_mm4 == pytest.approx(section.get_j(), rel=0.01)
    nose = shapely.Polygon([(8, 7), (5, 6.5), (2, 4.5), (0.5, 2.2), (0, 0), (0.7, -2), (2.5, -3.5), (8, -4.5)])
    shape = solid(np.array(nose.exterior.coords)[:-1])
    assert shape.torsion_mm4 == pytest.approx(meshed(nose, 1.0).get_j(), rel=0.1)


def test_a_wall_against_the_library() -> None:
    """A quarter of a thin ring, open; its middle line drawn out by half its thickness to either side."""
    turn = np.linspace(0.0, np.pi / 2, 13)
    line = 50.0 * np.column_stack([np.cos(turn), np.sin(turn)])
    shape = wall(line, 2.0)
    section = meshed(shapely.LineString(line).buffer(1.0, cap_style="flat", join_style="mitre"), 2.0)
    same(shape, section, 5e-4)
    assert shape.torsion_mm4 == pytest.approx(section.get_j(), rel=0.02)
    assert shape.thin_mm == pytest.approx((2.0, 50.0 * np.pi / 2), rel=2e-3)
    away = np.hypot(*shape.rim.T)
    assert (away.min(), away.max()) == pytest.approx((49.0, 51.0), abs=0.1)


def test_a_wall_all_round_is_a_box() -> None:
    box = np.array([[0.0, 0.0], [20.0, 0.0], [20.0, 12.0], [0.0, 12.0]])
    hollow = shapely.box(-1, -1, 21, 13) - shapely.box(1, 1, 19, 11)
    same(wall(box, 2.0, closed=True), meshed(hollow, 1.0), 0.012)  # corners by their middle lines


def test_a_full_shape_twice_as_large_twists_sixteen_times_less() -> None:
    once, twice = (solid(k * np.array([[0, 0], [9, 0], [5, 4]])) for k in (1.0, 2.0))
    assert twice.torsion_mm4 == pytest.approx(16.0 * once.torsion_mm4)
    assert full_mm4(once.area_mm2, once.second) == pytest.approx(once.torsion_mm4)
