"""Whether the floors make what geomgen makes: a floor that did less would make any ratio look bad, or good."""

from __future__ import annotations

import pathlib
import subprocess
import sys
from dataclasses import asdict, replace
from typing import Any

import cases
import numpy as np
import pytest
import rib_sets
import shapely
import trimesh
from floors import dxf, hub, nesting, patterns, reading, ribs
from floors import unroll as flat_floor
from floors import wake as wake_floor
from shapely import affinity

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read
from geomgen.design.schema import Place
from geomgen.hover.wake.influence import wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.hover.wake.vortex import filament_velocity
from geomgen.model.role import Role
from geomgen.nesting.mask import mask_of
from geomgen.plane.path import Path
from geomgen.printing.solid import mesh_of, properties
from geomgen.root.paired_search import paired
from geomgen.section.polar.forces import CappedLine
from geomgen.stock.laying import lay
from geomgen.tolerances import STANDARD
from geomgen.unroll.unroll import unroll

FLOORS = sorted(path.stem for path in (cases.HERE / "floors").glob("*.py"))


def leaves(value: Any) -> Any:
    """Tables of either side as plain dicts and tuples."""
    if hasattr(value, "model_fields_set"):
        return {name: leaves(getattr(value, name)) for name in type(value).model_fields}
    if isinstance(value, dict):
        return {name: leaves(item) for name, item in value.items()}
    if isinstance(value, Place):
        return value.mm, value.share, value.name
    return tuple(leaves(item) for item in value) if isinstance(value, tuple | list) else value


def test_floors_do_without_geomgen() -> None:
    code = f"import sys; from floors import {', '.join(FLOORS)}; print([m for m in sys.modules if 'geomgen' in m])"
    done = subprocess.run([sys.executable, "-c", code], cwd=cases.HERE, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_reading_gives_the_same_figures_with_each_option() -> None:
    path = example_path("lantern")
    floor = reading.read(path)
    assert tuple(name for name in floor if name) == read(path).options
    for name, design in floor.items():
        assert leaves(design) == leaves(read(path, name).design)


@pytest.mark.parametrize("count", [24, 1000])
def test_ribs_are_the_same_curves_in_as_many_arcs(blended: Craft, count: int) -> None:
    where = cases.places(blended.design, count)
    ours = cases.outlines(blended.design, where)
    assert not any(blank.outline.blunt for blank in ours)
    floor = ribs.outlines(cases.row(blended.design, np.array([place.r_mm for place in where])))
    paths = [Path(ring[:, :2], ring[:, 2], closed=True) for ring in floor]
    assert np.mean([len(blank.edge.xy) for blank in ours]) == pytest.approx(floor.shape[1], rel=0.05)
    for k in range(0, count, max(1, count // 24)):
        edge, path = ours[k].edge, paths[k]
        assert path.area() == pytest.approx(edge.area(), rel=1e-4)
        curve = np.vstack([piece.xy for piece in ours[k].outline.pieces])  # the curve that both stand for
        off = shapely.distance(shapely.LinearRing(path.flattened(1e-4)), shapely.points(curve))
        assert off.max() <= STANDARD.chordal_mm + 2e-4
        assert len(curve) > 200


def test_ribs_of_the_floor_are_those_that_were_asked_for(blended: Craft) -> None:
    """The check above can fail: ribs of another section are not taken for these."""
    where = cases.places(blended.design, 24)
    ours = cases.outlines(blended.design, where)
    row = cases.row(blended.design, np.array([place.r_mm for place in where]))
    ring = ribs.outlines(replace(row, digits=("4415", "2415")))[-1]
    assert Path(ring[:, :2], ring[:, 2], closed=True).area() != pytest.approx(ours[-1].edge.area(), rel=1e-2)


def test_sheets_of_the_floor_are_laid_the_same_cell_for_cell() -> None:
    """Of each rib as it lies, and none takes what another has; one that is told to lie on another is not let."""
    parts, design = rib_sets.ribs(60, 1), rib_sets.rib_design()
    told = cases.told(parts, lay(parts, design))
    sheets = cases.sheets_by_floor(told)
    assert len(told) == 60 and sum(int(sheet.sum()) for sheet in sheets) > 60 * 4000
    for each in told:
        shape = affinity.rotate(each.shape, each.turn, origin=(0, 0))
        ours, theirs = mask_of(shape, 1.5, 0.5).cells, nesting.cells(shape, 1.5, 0.5)
        assert (ours != theirs).mean() < 1e-3  # where a line runs through a corner of the outline, either may be
        assert not (theirs & ~ours).sum() > 2
    with pytest.raises(ValueError, match="two shapes"):
        cases.sheets_by_floor([*told, told[0]])


def test_dxf_is_the_same_to_the_byte(blended: Craft) -> None:
    for data in cases.cutting_files(blended.design, list(blended.finished_of(Role.RIB))):
        plain = cases.plain(data)
        assert len(plain["entities"]) > 20
        assert dxf.written(**plain) == data


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_hub_is_the_same_solid_and_as_fine_a_mesh(name: str, request: pytest.FixtureRequest) -> None:
    craft: Craft = request.getfixturevalue(name)
    spec = replace(craft.hub_spec, clockwise=False)
    cache = Cache()
    ours, facets = properties(spec, cache), mesh_of(spec, cache)
    solid = hub.built(asdict(spec))
    volume, centroid, inertia = hub.measured(solid)
    assert solid.isValid()
    assert volume == pytest.approx(ours.volume_mm3, rel=1e-6)
    assert centroid == pytest.approx(ours.centroid, abs=1e-4)
    assert inertia == pytest.approx(ours.inertia, rel=1e-5, abs=1.0)
    corners, triangles = hub.meshed(solid, STANDARD.mesh_mm, STANDARD.mesh_deg)
    mesh = trimesh.Trimesh(corners, triangles, process=False)
    assert mesh.is_watertight
    assert mesh.is_winding_consistent
    assert mesh.volume == pytest.approx(facets.volume(), rel=1e-5)
    assert len(triangles) == pytest.approx(len(facets.faces), rel=0.01)


def test_whole_make_writes_the_same_files(lantern: Craft, tmp_path: pathlib.Path) -> None:
    order, floor = tmp_path / "order.json", tmp_path / "floor"
    cases.make(tmp_path, tmp_path / "keep")
    made = tmp_path / "lantern" / "base"
    cases.write_order(lantern, made, order)
    cases.make_by_floors(order, floor)
    ours = sorted((made / "cut").glob("*.dxf"))
    assert len(ours) > 10
    for file in ours:
        assert (floor / file.name).read_bytes() == file.read_bytes()
    hubs = [trimesh.load(folder / "hub.stl") for folder in (floor, made / "print")]
    assert hubs[0].volume == pytest.approx(hubs[1].volume, rel=1e-4)
    rings = np.load(floor / "ribs.npy")
    areas = [Path(ring[:, :2], ring[:, 2], closed=True).area() for ring in rings]
    assert areas == pytest.approx([blank.edge.area() for blank in lantern.bare_ribs], rel=1e-4)
    skins = np.load(floor / "skins.npz")
    wanted = cases.unrolled(lantern)
    assert len(skins.files) == len(wanted) == len(lantern.skins)
    for name, ours_flat in zip(skins.files, wanted, strict=True):
        assert ours_flat.xy.shape[0] <= ours_flat.xy.shape[1]  # all that the floor knows
        np.testing.assert_allclose(skins[name], ours_flat.xy, rtol=0.0, atol=1e-6)


@pytest.mark.parametrize(("rows", "columns"), [(12, 40), (30, 80)])
def test_a_skin_is_the_same_pattern(rows: int, columns: int) -> None:
    grid = cases.skin(rows, columns)
    ours = unroll(grid)
    np.testing.assert_allclose(flat_floor.flat(grid), ours.xy, rtol=0.0, atol=1e-6)
    assert 1e-6 < ours.stretch[1] < 1e-4  # it does not lie flat of itself
    assert abs(flat_floor.flat(grid[1:]) - ours.xy[1:]).max() > 1.0  # another surface is not taken for it


def test_patterns_have_the_same_pitches() -> None:
    made = [(ask, found) for ask in cases.asks() if (found := paired(ask))]
    assert len(made) > 150
    for ask, found in made:
        there = patterns.pitches(cases.known(ask, found))
        wanted = np.asarray(ask.settings_deg)
        holds = ((wanted - there[:, :1]) % 360.0 <= there[:, 1:] - there[:, :1]).any(axis=1)
        ours = np.array(sorted((*found.inside, *found.outside))).reshape(-1, 2)
        assert np.allclose(there[~holds], ours, atol=1e-6)
        assert ((wanted[:, None] - there[:, 0]) % 360.0 <= there[:, 1] - there[:, 0]).any(axis=1).all()


def test_vortices_induce_the_same() -> None:
    for points, nodes, core in cases.vortices(cases.planform(3))[::7]:
        ours = filament_velocity(points, nodes, core)
        np.testing.assert_allclose(wake_floor.velocities(points, nodes, core), ours, rtol=1e-7, atol=1e-9)
        assert abs(wake_floor.velocities(points, 1.01 * nodes, core) - ours).max() > 1e-3


@pytest.mark.parametrize("pitch", [0.06, 0.14, 0.2])
def test_a_hover_point_has_the_same_thrust(pitch: float) -> None:
    table, polar = wake(cases.planform(2)), CappedLine(5.9)
    blade, point = table.blade, hover_point(table, pitch, polar, 1e6)
    matrices = np.array(table.at(point.wake_speed or 0.0))
    floor = wake_floor.thrust(2, blade.r, blade.dr, blade.chord, matrices, pitch, 5.9, (0.0113, 1.25))
    assert floor == pytest.approx(point.thrust, rel=1e-6)
