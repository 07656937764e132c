"""What is found of a hub is kept by content: a second run builds nothing, and no run builds a hub twice."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from subprocess import run

import numpy as np
import pytest
from known_hubs import PLAIN

from geomgen.cache import Cache
from geomgen.model.part import Flat
from geomgen.plane.path import Circle
from geomgen.plane.region import Region
from geomgen.printing import solid
from geomgen.printing.mesh import Mesh
from geomgen.printing.solid import mesh_of, properties
from geomgen.printing.solid_properties import SolidProperties
from geomgen.tolerances import STANDARD

SECOND = """
import sys
sys.path.insert(0, sys.argv[1])
from pathlib import Path
from known_hubs import PLAIN
from geomgen.cache import Cache
from geomgen.printing.solid import mesh_of, properties
cache = Cache(Path(sys.argv[2]))
print(repr(properties(PLAIN, cache).volume_mm3), len(mesh_of(PLAIN, cache).faces))
print(sorted({"cadquery", "OCP"} & set(sys.modules)))
"""


@pytest.fixture(scope="module")
def kept(tmp_path_factory) -> tuple[Path, SolidProperties, Mesh]:
    cache = Cache(tmp_path_factory.mktemp("store") / "solids")
    assert cache.folder is not None
    return cache.folder, properties(PLAIN, cache), mesh_of(PLAIN, cache)


def test_a_second_run_never_loads_the_kernel(kept) -> None:
    folder, made, mesh = kept
    here = str(Path(__file__).parent)
    said = run([sys.executable, "-c", SECOND, here, str(folder)], capture_output=True, text=True, check=True)
    assert said.stdout.split("\n")[:2] == [f"{made.volume_mm3!r} {len(mesh.faces)}", "[]"]


def test_what_is_kept_is_all_there(kept) -> None:
    folder, made, mesh = kept
    cache = Cache(folder)
    for new, old in ((properties(PLAIN, cache), made), (mesh_of(PLAIN, cache), mesh)):
        assert type(new) is type(old)
        for name, value in vars(old).items():
            assert type(vars(new)[name]) is type(value) and np.array_equal(vars(new)[name], value)


def test_a_hub_is_built_once_and_meshed_only_where_a_mesh_is_asked_for(monkeypatch) -> None:
    built, meshes, cache = [], [], Cache()
    hub_solid, meshed = solid.hub_solid, solid.meshed
    monkeypatch.setattr(solid, "hub_solid", lambda spec: built.append(spec) or hub_solid(spec))
    monkeypatch.setattr(solid, "meshed", lambda *all: meshes.append(all) or meshed(*all))
    for spec in (PLAIN, replace(PLAIN, clockwise=True)):
        properties(spec, cache)
    assert len(built) == 1 and not meshes
    mesh_of(PLAIN, cache)
    mesh_of(PLAIN, cache, replace(STANDARD, mesh_mm=0.05))
    assert len(built) == 1 and len(meshes) == 2


def test_flat_parts_need_no_kernel() -> None:
    code = (
        "import sys; from geomgen.model.part import Flat; from geomgen.plane.path import Circle;"
        "from geomgen.plane.region import Region; from geomgen.printing.solid import mesh_of, properties;"
        "flat = Flat(Region(Circle((0.0, 0.0), 9.0)), 2.0); properties(flat); mesh_of(flat);"
        "print(sorted({'cadquery', 'OCP'} & set(sys.modules)))"
    )
    assert run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    assert properties(Flat(Region(Circle((0.0, 0.0), 9.0)), 2.0)).volume_mm3 == pytest.approx(162.0 * np.pi)
