"""Line drawings of solids: what is hidden stays hidden, and what shows is what a projection of the solids shows."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely

from geomgen.plane.arcs import rectangle
from geomgen.plane.path import Circle, Path
from geomgen.plane.region import Region
from geomgen.printing.faces import prism
from geomgen.printing.line_drawing import CHORD_MM, LAMP, TONES, Shown, line_drawing
from geomgen.printing.mesh import Mesh, meshed
from geomgen.tolerances import STANDARD

AZIMUTH, HEIGHT = -54.0, 36.0
A, H = np.radians((AZIMUTH, HEIGHT))
TO_EYE = np.array([np.cos(A) * np.cos(H), np.sin(A) * np.cos(H), np.sin(H)])
RIGHT = np.array([-np.sin(A), np.cos(A), 0.0])
EYE = np.array([RIGHT, np.cross(TO_EYE, RIGHT), TO_EYE])


@cache
def brick() -> Any:
    return prism(Region(rectangle((0.0, 0.0), 40.0, 20.0)), 0.0, 10.0)


@cache
def tube() -> Any:
    return prism(Region(Circle((0.0, 0.0), 10.0), (Circle((0.0, 0.0), 6.0),)), 0.0, 8.0)


def area(loops: tuple[Path, ...]) -> float:
    return float(area_of(loops).area)


def area_of(loops: tuple[Path, ...]) -> shapely.Geometry:
    """What loops enclose, one inside another being a hole."""
    shape = shapely.Polygon()
    for loop in loops:
        shape = shape.symmetric_difference(shapely.Polygon(loop.xy))
    return shape


def shadow(solid) -> shapely.Geometry:
    return shadow_of(meshed(solid, STANDARD))


def shadow_of(mesh: Mesh) -> shapely.Geometry:
    """Every triangle that faces the eye, projected."""
    flat = (mesh.corners() @ EYE.T)[..., :2]
    a, b, c = flat.transpose(1, 0, 2)
    facing = (b - a)[:, 0] * (c - a)[:, 1] > (b - a)[:, 1] * (c - a)[:, 0]
    return shapely.union_all(shapely.polygons(flat[facing]), grid_size=1e-4)


def draw(*solids) -> list[Shown]:
    return line_drawing([(f"{k}", solid) for k, solid in enumerate(solids)], AZIMUTH, HEIGHT)


def test_a_brick_shows_three_faces_and_nine_edges() -> None:
    """Areas by hand: each face's own, times the cosine between it and the line of sight."""
    (shown,) = draw(brick())
    areas = {2: 40.0 * 20.0, 1: 40.0 * 10.0, 0: 20.0 * 10.0}
    assert len(shown.edges) == 9 and len(shown.faces) == 3 and len(shown.outline) == 1
    expected = {}
    for axis, size in areas.items():
        normal = np.eye(3)[axis] * np.sign(TO_EYE[axis])
        light = max(0.0, float(LAMP @ (EYE @ normal)) / np.linalg.norm(LAMP))
        expected[round(light * TONES) / TONES] = size * float(normal @ TO_EYE)
    assert {tone: area(loops) for tone, loops in shown.faces} == pytest.approx(expected, rel=1e-3)
    assert area(shown.outline) == pytest.approx(sum(expected.values()), rel=1e-3)


def test_a_hole_shows_what_is_behind_it() -> None:
    """A tube's outline has the hole in it that can be seen through; the rest of the bore is one of its faces."""
    (alone,) = draw(tube())
    inside = shapely.Point(0, 0).buffer(6.0, quad_segs=400)
    rings = [np.column_stack((inside.exterior.coords, np.full(1601, z))) for z in (8.0, 0.0)]
    upper, lower = (shapely.Polygon((ring @ EYE.T)[:, :2]) for ring in rings)
    assert len(alone.outline) == 2
    assert area_of(alone.outline).symmetric_difference(shadow(tube())).area < 0.01 * shadow(tube()).area
    through = upper.intersection(lower)
    assert min(abs(loop.area()) for loop in alone.outline) == pytest.approx(through.area, abs=CHORD_MM * through.length)


def test_what_stands_before_hides_what_is_behind() -> None:
    import cadquery as cq

    front = brick().moved(cq.Location(cq.Vector(*(60.0 * TO_EYE + 8.0 * RIGHT))))
    behind, before = draw(brick(), front)
    assert area(before.outline) == pytest.approx(shadow(front).area, rel=1e-3)
    left = shadow(brick()).difference(shadow(front))
    assert area_of(behind.outline).symmetric_difference(left).area < 1e-3 * left.area
    assert [area(body.outline) for body in draw(front, brick())] == pytest.approx(
        [area(before.outline), area(behind.outline)], rel=1e-4
    )
