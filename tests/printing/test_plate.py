"""Flat parts to print: closed forms against their mesh in another library, and letters that are really there."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

from geomgen.model.part import Flat, Text
from geomgen.plane.arcs import arc_slot, rounded
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.printing.plate import DEPTH_MM, WIDTH_MM
from geomgen.printing.solid import mesh_of as made_mesh
from geomgen.printing.solid import properties

DISC = Region(
    Circle((0.0, 0.0), 40.0),
    (Circle((0.0, 0.0), 5.0), arc_slot((0.0, 0.0), 20.0, 9.0, -30.0, 10.0), Circle((-15.0, 4.0), 1.6)),
)
MARK = Circle((-15.0, 4.0), 5.0).as_path()
BARE = Flat(DISC, 4.0)
WRITTEN = Flat(DISC, 4.0, marks=(MARK,), texts=(Text("8", (0.0, 30.0), 5.0), Text("F", (0.0, -30.0), 5.0, 20.0)))


def mesh_of(flat: Flat) -> trimesh.Trimesh:
    made = made_mesh(flat)
    return trimesh.Trimesh(made.vertices, made.faces, process=False)


def test_a_bare_disc() -> None:
    """Volume by hand: discs and an arc slot (length of its middle times its width, and a full round end)."""
    slot = 20.0 * np.radians(40.0) * 9.0 + np.pi * 4.5**2
    area = np.pi * (40.0**2 - 5.0**2 - 1.6**2) - slot
    made = properties(BARE)
    assert made.volume_mm3 == pytest.approx(4.0 * area, rel=1e-12)
    mesh = made_mesh(BARE)
    assert mesh.volume() == pytest.approx(4.0 * area, rel=2e-3)
    assert mesh.vertices[:, 2].min() == -2.0 and mesh.vertices[:, 2].max() == 2.0


@pytest.mark.parametrize("flat", [BARE, WRITTEN, Flat(Region(rounded((30.0, -5.0), 50.0, 12.0, 3.0, 25.0)), 3.0)])
def test_closed_forms_against_the_mesh(flat: Flat) -> None:
    made, mesh = properties(flat), mesh_of(flat)
    assert mesh.is_watertight and mesh.is_winding_consistent and mesh.body_count == 1
    assert made.volume_mm3 == pytest.approx(mesh.volume, rel=2e-3)
    assert made.centroid == pytest.approx(mesh.center_mass, abs=0.02)
    assert made.inertia == pytest.approx(mesh.moment_inertia, rel=5e-3, abs=1e-3 * np.trace(made.inertia))


def test_inertia_of_a_disc() -> None:
    """m r²/2 about its axis, m (3 r² + h²)/12 across it: textbook."""
    made = properties(Flat(Region(Circle((7.0, 3.0), 20.0)), 6.0))
    mass = np.pi * 20.0**2 * 6.0
    across = mass * (3 * 20.0**2 + 6.0**2) / 12
    assert made.inertia == pytest.approx(np.diag([across, across, mass * 20.0**2 / 2]), rel=1e-12, abs=1e-6)
    assert made.centroid == pytest.approx([7.0, 3.0, 0.0], abs=1e-12)


def test_letters_are_sunk_into_the_drawn_face_only() -> None:
    """Slices just above and below a groove's floor, and the groove's own length times its width."""
    bare, written = mesh_of(BARE), mesh_of(WRITTEN)

    def area(mesh: trimesh.Trimesh, z: float) -> float:
        return float(mesh.section(plane_origin=[0, 0, z], plane_normal=[0, 0, 1]).to_2D()[0].area)

    assert area(written, 2.0 - DEPTH_MM - 0.01) == pytest.approx(area(bare, 0.0), rel=1e-6)
    taken = area(bare, 0.0) - area(written, 1.99)
    ring = 2 * np.pi * 5.0 * WIDTH_MM
    assert taken > ring and written.volume < bare.volume - DEPTH_MM * ring
    assert written.contains([[-10.0, 4.0, 1.9], [-10.0, 4.0, 1.5]]).tolist() == [False, True]


def test_letters_read_as_drawn_from_above() -> None:
    """An F has its bars on the right of its stem, seen on the drawn face from above, and more ink in its upper half."""
    flat = Flat(Region(rounded((0.0, 0.0), 30.0, 30.0, 1.0)), 3.0, texts=(Text("F", (0.0, 0.0), 10.0),))
    made = made_mesh(flat)
    floor = np.isclose(made.vertices[:, 2], 1.5 - DEPTH_MM)
    rows = made.faces[floor[made.faces].all(axis=1)]
    a, b, c = made.vertices[rows][..., :2].transpose(1, 0, 2)
    ink = 0.5 * np.abs((b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0])
    x, y = (ink @ ((a + b + c) / 3)) / ink.sum()
    left, right = made.vertices[floor, 0].min(), made.vertices[floor, 0].max()
    assert x < (left + right) / 2 and y > 0.5
