"""Slices of a hub's figures against those of its mesh, by another library; its moments against the exact solid's."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from subprocess import run

import numpy as np
import pytest
import shapely
import trimesh
from known_hubs import FULL, PLAIN

from geomgen.cache import Cache
from geomgen.design.schema import Print
from geomgen.model.part import Solid
from geomgen.printing.hub_slices import hub_slices
from geomgen.printing.laid import laid
from geomgen.printing.shell import whole
from geomgen.printing.solid import mesh_of, properties
from geomgen.root.hub_spec import HubSpec

HUBS = {"plain": PLAIN, "full": FULL, "drooping": replace(FULL, coning=-3.0, axis_height=24.0)}
HOW = Print(walls=3, top=4, bottom=4, infill=0.2)


@pytest.mark.parametrize("name", HUBS)
def test_against_slices_of_the_mesh(name: str, cache: Cache) -> None:
    """What only one of the two has is as wide as chords are off: 0.22 mm at 45 mm in 32 chords, less on average."""
    spec = HUBS[name]
    made = mesh_of(spec, cache)
    mesh = trimesh.Trimesh(made.vertices, made.faces, process=False)
    slices = hub_slices(spec, 0.5)
    assert len(slices) == pytest.approx(mesh.bounds[1, 2] / 0.5, abs=0.51)
    for k in range(1, len(slices), 9):
        there = mesh.section(plane_origin=[0, 0, 0.5 * (k + 0.5)], plane_normal=[0, 0, 1])
        flat, _ = there.to_2D(to_2D=np.eye(4))
        exact = shapely.union_all(flat.polygons_full)
        assert slices[k].area == pytest.approx(exact.area, rel=4e-3), k
        assert shapely.symmetric_difference(slices[k], exact).area < 0.1 * exact.length, k


@pytest.mark.parametrize("name", HUBS)
def test_volume_and_centroid_are_the_solids(name: str, cache: Cache) -> None:
    spec = HUBS[name]
    total, exact = whole(hub_slices(spec, 0.1), 0.1), properties(spec, cache)
    assert total[3, 3] == pytest.approx(exact.volume_mm3, rel=2e-3)
    assert total[:3, 3] / total[3, 3] == pytest.approx(exact.centroid, abs=0.03)


def test_a_clockwise_hub_is_the_mirror_image(tmp_path) -> None:
    def of(spec: HubSpec):
        return laid(Solid(spec), "petg", HOW, line_mm=0.45, layer_mm=0.5, cache=Cache(tmp_path))

    one, other = of(FULL), of(replace(FULL, clockwise=True))
    hand = np.array([1.0, -1.0, 1.0])
    assert one.bulk is not None and other.bulk is not None
    assert other.share == one.share
    assert other.bulk.centroid == pytest.approx(one.bulk.centroid * hand)
    assert other.bulk.inertia == pytest.approx(one.bulk.inertia * np.outer(hand, hand))


def test_a_hubs_floor_pulls_the_middle_down(cache: Cache) -> None:
    """At layers of 0.5 mm 8 of its 10 are solid, which is more than of the rest; 0.33 mm by a run."""
    made, exact = laid(Solid(FULL), "petg", HOW, line_mm=0.45, layer_mm=0.5, cache=cache), properties(FULL, cache)
    assert made.bulk is not None
    assert made.bulk.volume_mm3 == pytest.approx(made.share * exact.volume_mm3, rel=5e-3)
    assert made.bulk.centroid[2] == pytest.approx(exact.centroid[2] - 0.33, abs=0.1)
    assert made.bulk.centroid[:2] == pytest.approx([0.0, 0.0], abs=0.05)  # three arms alike


def test_no_kernel_is_loaded() -> None:
    """`check` weighs a hub by its figures."""
    words = (
        "import sys; from known_hubs import PLAIN; from geomgen.printing.hub_slices import hub_slices; "
        "from geomgen.printing.shell import plastic, shell_of; "
        "plastic(hub_slices(PLAIN, 2.0), shell_of(2.5, 2.0, 1, 1, 1, 0.2)); "
        "sys.exit(any(name.split('.')[0] in ('cadquery', 'OCP') for name in sys.modules))"
    )
    run([sys.executable, "-c", words], check=True, cwd=Path(__file__).parent)
