"""The hub's size as it is told, against the extents of its file to print, read by another library."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import trimesh
from known_hubs import FULL, PLAIN

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.figures import spelled
from geomgen.printing.solid import mesh_of
from geomgen.printing.stl import stl_bytes
from geomgen.root.hub_size import hub_diameter, hub_extents
from geomgen.root.hub_spec import HubSpec
from geomgen.views.page import Figure
from geomgen.views.part_figures import printing

SEGMENTS_MM = 0.02  # the mesh's chords lie within this of its round edges
HUBS = {
    "flat": PLAIN,
    "coned, clockwise": replace(FULL, clockwise=True),
    "drooping": replace(FULL, coning=-3.0, axis_height=25.0),
    "arms above the rim": replace(PLAIN, blades=4, coning=9.0),
}


def as_printed(spec: HubSpec, cache: Cache) -> trimesh.Trimesh:
    mesh = trimesh.load(io.BytesIO(stl_bytes(mesh_of(spec, cache))), file_type="stl")
    assert isinstance(mesh, trimesh.Trimesh)
    return mesh


@pytest.mark.parametrize("which", HUBS)
def test_size_from_figures_is_that_of_the_file(which: str, cache: Cache) -> None:
    spec = HUBS[which]
    mesh = as_printed(spec, cache)
    assert hub_extents(spec) == pytest.approx(mesh.extents.tolist(), abs=SEGMENTS_MM)
    across = 2.0 * np.hypot(*mesh.vertices[:, :2].T).max()
    assert hub_diameter(spec) == pytest.approx(across, abs=SEGMENTS_MM)


@pytest.mark.parametrize(("name", "mm"), [("lantern", 1.0), ("kite_day", 25.4)])
def test_the_page_says_the_size_of_the_file(name: str, mm: float, craft_of: Callable[..., Craft], cache: Cache) -> None:
    craft = craft_of(name)
    chapter = printing(craft)
    told = next(each.words for each in chapter.sections[1] if isinstance(each, Figure) and each.picture == "hub_sizes")
    (found,) = re.findall(r"([\d.]+) x ([\d.]+) x ([\d.]+) (?:mm|in) over all", spelled(told, craft.design.units))
    sizes, shown = [float(size) for size in found], 0.0005 if mm > 1.0 else 0.05
    (hub,) = craft.hub.parts
    assert np.abs(np.array(sizes) - as_printed(hub.shape.spec, cache).extents / mm).max() < shown + SEGMENTS_MM / mm


def test_the_note_on_a_small_bed_says_the_same(craft_of: Callable[..., Craft], cache: Cache) -> None:
    craft = craft_of("lantern", ("bed  = [256, 256]", "bed  = [200, 190]"))
    (hub,) = craft.hub.parts
    told = next(note for note in spelled(hub.notes) if note.startswith("the hub is"))
    sizes = [float(size) for size in re.findall(r"(\d+) x (\d+) mm: it", told)[0]]
    assert sizes == pytest.approx(as_printed(hub.shape.spec, cache).extents[:2].tolist(), abs=0.5)
