"""Binary STL read back by two readers that didn't write it."""

from __future__ import annotations

import io
import struct
import sys
from pathlib import Path
from subprocess import run

import meshio
import numpy as np
import pytest
import trimesh
from known_hubs import FULL

from geomgen.cache import Cache
from geomgen.printing.solid import mesh_of, properties
from geomgen.printing.stl import stl_bytes


@pytest.fixture(scope="module")
def hub(cache: Cache):
    mesh = mesh_of(FULL, cache)
    return mesh, stl_bytes(mesh)


def test_size_and_header(hub) -> None:
    mesh, data = hub
    assert not data.startswith(b"solid")
    assert struct.unpack_from("<I", data, 80) == (len(mesh.faces),)
    assert len(data) == 84 + 50 * len(mesh.faces)


def test_a_second_library_agrees_on_the_volume(hub, cache: Cache, tmp_path: Path) -> None:
    """meshio's reader; the volume is summed here from its corners, tetrahedron by tetrahedron."""
    mesh, data = hub
    (tmp_path / "hub.stl").write_bytes(data)
    read = meshio.read(tmp_path / "hub.stl")
    a, b, c = read.points[read.get_cells_type("triangle")].astype(float).transpose(1, 0, 2)
    volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
    assert volume == pytest.approx(mesh.volume(), rel=1e-5)
    assert volume == pytest.approx(properties(FULL, cache).volume_mm3, rel=2e-3)


def test_another_reader_finds_it_whole(hub) -> None:
    """Corners are put together again from the file's single-precision figures alone."""
    mesh, data = hub
    read = trimesh.load_mesh(io.BytesIO(data), file_type="stl")
    assert read.is_watertight and read.is_winding_consistent and read.body_count == 1
    assert read.volume == pytest.approx(mesh.volume(), rel=1e-5)
    assert read.bounds[0, 2] == 0.0


def test_normals_point_out(hub) -> None:
    _, data = hub
    record = np.dtype([("n", "<f4", 3), ("v", "<f4", (3, 3)), ("a", "<u2")])
    rows = np.frombuffer(data, record, offset=84)
    a, b, c = rows["v"].astype(float).transpose(1, 0, 2)
    cross = np.cross(b - a, c - a)
    area = np.linalg.norm(cross, axis=1)
    big = area > 1e-3
    assert np.abs(np.linalg.norm(rows["n"], axis=1)[big] - 1).max() < 1e-5
    assert (np.einsum("ij,ij->i", cross, rows["n"])[big] > 0.98 * area[big]).all()


def test_same_bytes_from_another_process(hub) -> None:
    """Built anew, nothing kept."""
    _, data = hub
    code = (
        "import sys, hashlib; sys.path.insert(0, sys.argv[1]); from known_hubs import FULL;"
        "from geomgen.printing.solid import mesh_of; from geomgen.printing.stl import stl_bytes;"
        "print(hashlib.sha256(stl_bytes(mesh_of(FULL))).hexdigest())"
    )
    import hashlib

    said = run([sys.executable, "-c", code, str(Path(__file__).parent)], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == hashlib.sha256(data).hexdigest()
