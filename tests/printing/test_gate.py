"""The mesh gate refuses what can't be printed."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.errors import MakeError
from geomgen.printing.mesh import Mesh, bodies, gate, leaking_edges, merged, mirrored
from geomgen.tolerances import STANDARD

CORNERS = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)
SIDES = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
TRIANGLES = np.array([t for a, b, c, d in SIDES for t in ((a, b, c), (a, c, d))])
CUBE = Mesh(CORNERS, TRIANGLES)


def refused(mesh: Mesh, exact: float = 1.0) -> str:
    with pytest.raises(MakeError) as caught:
        gate(mesh, exact, STANDARD, "cube")
    assert "no file" in str(caught.value) and "cube" in str(caught.value)
    return str(caught.value)


def test_a_whole_cube_passes() -> None:
    assert gate(CUBE, 1.0, STANDARD, "cube") is CUBE
    assert CUBE.volume() == pytest.approx(1.0) and mirrored(CUBE).volume() == pytest.approx(1.0)


def test_a_missing_triangle() -> None:
    assert "3 edges" in refused(Mesh(CORNERS, TRIANGLES[:-1]))


def test_a_triangle_twice() -> None:
    assert "3 edges" in refused(Mesh(CORNERS, np.vstack((TRIANGLES, TRIANGLES[:1]))))


def test_a_triangle_inside_out() -> None:
    turned = TRIANGLES.copy()
    turned[0] = turned[0, ::-1]
    assert "3 edges" in refused(Mesh(CORNERS, turned))


def test_inside_out() -> None:
    assert "mm3" in refused(Mesh(CORNERS, TRIANGLES[:, ::-1]))


def test_two_bodies() -> None:
    both = Mesh(np.vstack((CORNERS, CORNERS + 3.0)), np.vstack((TRIANGLES, TRIANGLES + 8)))
    assert bodies(both) == 2 and leaking_edges(both) == 0
    assert "2 bodies" in refused(both, exact=2.0)


def test_a_volume_that_misses() -> None:
    assert gate(CUBE, 1.0019, STANDARD, "cube")
    assert "the exact solid" in refused(CUBE, exact=1.0021)


def test_corners_in_one_place_become_one() -> None:
    """Also where noise lies on both sides of the grid's own line."""
    noise = 1e-9 * np.random.default_rng(1).standard_normal((36, 3))
    loose = CORNERS[TRIANGLES].reshape(-1, 3) * 0.5 + 5e-6 + noise
    mesh = merged(loose, np.arange(36).reshape(-1, 3))
    assert len(mesh.vertices) == 8 and leaking_edges(mesh) == 0


def test_many_bodies_in_a_row_are_counted() -> None:
    """Long chains of triangles need many rounds of the count."""
    n = 500
    strip = np.array([(i, i + 1, i + 2) for i in range(n)])
    assert bodies(Mesh(np.zeros((2 * n + 4, 3)), np.vstack((strip, strip[::-1] + n + 2)))) == 2
