"""A hub from above and in section, against projections and slices of its mesh by another library."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
import trimesh
from known_hubs import FULL, PLAIN
from test_line_drawing import area_of

from geomgen.cache import Cache
from geomgen.printing.hub_looks import hub_looks
from geomgen.printing.solid import mesh_of
from geomgen.root.hub_spec import HubSpec


@pytest.mark.parametrize("spec", [PLAIN, FULL, replace(FULL, clockwise=True)], ids=["level", "coned", "clockwise"])
def test_both_views(spec: HubSpec, cache: Cache) -> None:
    mesh = mesh_of(spec, cache)
    looks = hub_looks(spec, mesh, cache)
    solid = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    cut = shapely.union_all(solid.section([0, 1, 0], [0, 1e-3, 0]).to_2D()[0].polygons_full)
    section = area_of(looks.cut)
    assert section.area == pytest.approx(cut.area, rel=1e-6)
    assert section.bounds[1] == pytest.approx(0.0, abs=1e-6) and section.bounds[2] == pytest.approx(solid.bounds[1, 0])
    flat = mesh.corners()[..., :2]  # x right and y up is what is seen from above
    shadow = shapely.union_all(shapely.polygons(flat[solid.face_normals[:, 2] > 1e-6]), grid_size=1e-4)
    assert area_of(looks.above.outline).symmetric_difference(shadow).area < 1e-3 * shadow.area
