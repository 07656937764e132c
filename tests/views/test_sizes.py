"""Sizes drawn on pictures of hub and caps: those of the mesh to print, read by another library, and legible."""

from __future__ import annotations

import io
import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import pytest
import shapely
import trimesh

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.plane.path import from_points
from geomgen.plane.region import Region
from geomgen.printing.hub_looks import hub_looks
from geomgen.printing.solid import mesh_of
from geomgen.printing.stl import stl_bytes
from geomgen.views.cap_sizes import cap_sizes
from geomgen.views.drawing import Drawn, Line, Ring, Shape, Words
from geomgen.views.flat_part import bare_part, flat_part
from geomgen.views.hub_sizes import hub_sizes

UNITS = {"mm": (1.0, 0.0501), "in": (25.4, 0.000501)}  # and half of the last figure shown
EXAMPLES = [("lantern", "mm"), ("lantern", "in"), ("kite_day", "in"), ("kite_day", "mm")]
MESH_MM = 0.02  # how far the mesh's chords lie off its round edges


def read(shape: object, cache: Cache) -> trimesh.Trimesh:
    found = trimesh.load(io.BytesIO(stl_bytes(mesh_of(shape, cache))), file_type="stl")  # type: ignore[arg-type]
    assert isinstance(found, trimesh.Trimesh)
    return found


def figures(items: Sequence[Drawn]) -> dict[str, float]:
    """What stands before or behind each size, and the size as it is written."""
    found = {}
    for item in items:
        if isinstance(item, Words) and (size := re.fullmatch(r"(.*?)\s?(?:Ø )?([\d.]+) (?:mm|in)(.*)", item.text)):
            found[size[1] or size[3].strip() or "size"] = float(size[2])
    return found


def word_box(words: Words) -> shapely.Polygon:
    """About where words stand, by 0.55 of the size for each letter."""
    (x, y), wide = words.at, 0.55 * words.size * len(words.text)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor] * wide
    return shapely.box(left, y, left + wide, y + 0.75 * words.size)


def legible(sizes: Sequence[Drawn], others: Sequence[Drawn]) -> None:
    """No words touch other words, nor anything that is drawn."""
    boxes = {item.text: word_box(item) for item in sizes if isinstance(item, Words)}
    for (one, a), (other, b) in itertools.combinations(boxes.items(), 2):
        assert not a.intersects(b), (one, other)
    drawn: list[shapely.Geometry] = []
    for item in (*sizes, *others):
        match item:
            case Line(points=points):
                drawn.append(shapely.LineString(np.asarray(points)))
            case Ring(center=center, radius=radius):
                drawn.append(shapely.Point(center).buffer(radius, quad_segs=90).exterior)
            case Shape(loops=loops):
                drawn += [shapely.LineString(loop.flattened(0.05)) for loop in loops]
    for text, box in boxes.items():
        assert not any(box.intersects(each) for each in drawn), text


def arrowheads(items: Sequence[Drawn]) -> list[np.ndarray]:
    return [item.loops[0].flattened(0.1) for item in items if isinstance(item, Shape) and item.style == "faint-fill"]


@pytest.mark.parametrize(("name", "unit"), EXAMPLES)
def test_the_hubs_sizes_are_those_of_its_file(
    name: str, unit: str, craft_of: Callable[..., Craft], cache: Cache
) -> None:
    spec = craft_of(name).hub_spec
    drawing = hub_sizes(spec, hub_looks(spec, mesh_of(spec, cache), cache), unit, "hub")
    told, mesh, (mm, shown) = figures(drawing.items), read(spec, cache), UNITS[unit]
    near = shown + MESH_MM / mm
    out = np.hypot(*mesh.vertices[:, :2].T)
    assert told["over all"] == pytest.approx(2 * out.max() / mm, abs=near)
    assert told["height"] == pytest.approx(mesh.extents[2] / mm, abs=near)
    floor = mesh.vertices[np.isclose(mesh.vertices[:, 2], 0.0, atol=1e-3)]
    out = np.hypot(*floor[:, :2].T)
    assert told["cup"] == pytest.approx(2 * out.max() / mm, abs=near)
    assert told["bore"] == pytest.approx(2 * out.min() / mm, abs=near)
    for key, value in {"axis": spec.axis_height, "socket": spec.socket, "bay": 2 * spec.bay_radius}.items():
        assert told[key] == pytest.approx(value / mm, abs=shown)
    holes = mesh.section([0, 0, 1], [0, 0, spec.floor / 2]).to_2D()[0].polygons_full[0].interiors
    middles, wide = (
        np.array([ring.centroid.coords[0] for ring in holes]),
        [np.sqrt(shapely.area(shapely.Polygon(ring)) * 4 / np.pi) for ring in holes],
    )
    bore = np.argmin(np.hypot(*(middles - middles.mean(axis=0)).T))
    bolts = np.delete(np.arange(len(holes)), bore)
    assert told["bolt circle"] == pytest.approx(2 * np.hypot(*(middles[bolts] - middles[bore]).T).mean() / mm, abs=near)
    assert told[f"{len(bolts)} bolt holes"] == pytest.approx(np.mean(np.array(wide)[bolts]) / mm, abs=near)
    legible(
        [item for item in drawing.items if not isinstance(item, Shape) or item.style == "faint-fill"], drawing.items
    )
    x0, y0, x1, y1 = drawing.box
    assert all(shapely.box(x0, y0, x1, y1).contains(word_box(w)) for w in drawing.items if isinstance(w, Words))


@pytest.mark.parametrize(("name", "unit"), EXAMPLES)
@pytest.mark.parametrize("role", [Role.TURNING_CAP, Role.FIXED_CAP])
def test_a_caps_sizes_are_those_of_its_file(
    role: Role, name: str, unit: str, craft_of: Callable[..., Craft], cache: Cache
) -> None:
    craft = craft_of(name)
    (cap,) = craft.finished_of(role)
    assert isinstance(cap.shape, Flat)
    told, mesh, (mm, shown) = figures(cap_sizes(cap, unit)), read(cap.shape, cache), UNITS[unit]
    sizes = [item.text for item in cap_sizes(cap, unit) if isinstance(item, Words) and item.text[0] in "Ø0123456789"]
    *over_all, thick = (float(text.removeprefix("Ø ").split()[0]) for text in sizes)  # one where it is round, or two
    assert over_all == pytest.approx(mesh.extents[: len(over_all)] / mm, abs=shown + MESH_MM / mm)
    assert thick == pytest.approx(mesh.extents[2] / mm, abs=shown + 1e-6)
    out = np.hypot(*mesh.vertices[:, :2].T)
    assert told["spar"] == pytest.approx(2 * out.min() / mm, abs=shown + MESH_MM / mm)
    there = np.abs(out - craft.pattern.circle_mm) < craft.pattern.hole_mm / 2 + 1e-3
    near, far = out[there].min(), out[there].max()  # the pins' holes, across their circle
    assert told["index circle"] == pytest.approx((near + far) / mm, abs=shown + MESH_MM / mm)
    drawing = flat_part(cap, unit)
    legible(cap_sizes(cap, unit), [item for item in drawing.items if not isinstance(item, Words)])
    for picture in (drawing, bare_part(cap, unit)):
        page = shapely.box(*picture.box)
        assert all(page.contains(word_box(words)) for words in picture.items if isinstance(words, Words))


def test_a_cap_that_isnt_round_has_length_and_height(lantern: Craft) -> None:
    """50 x 30, off the axis; figures from what is drawn."""
    (cap,) = lantern.finished_of(Role.FIXED_CAP)
    outline = from_points([(-20, -10), (30, -10), (30, 15), (5, 20), (-20, 15)], closed=True)
    plate = replace(cap, shape=Flat(Region(outline), 4.0), facts={"index_circle_mm": 9.0})
    texts = [item.text for item in cap_sizes(plate, "mm") if isinstance(item, Words)]
    assert texts == ["50.0 mm", "30.0 mm", "4.0 mm", "index circle Ø 18.0 mm"]
    legible(cap_sizes(plate, "mm"), flat_part(plate, "mm").items[:1])


def test_arrowheads_are_slim_triangles_that_end_at_what_they_measure(lantern: Craft) -> None:
    (cap,) = lantern.finished_of(Role.TURNING_CAP)
    assert isinstance(cap.shape, Flat)
    x0, _, x1, _ = cap.shape.region.bounds()
    heads, texts = arrowheads(cap_sizes(cap, "mm")), [w.text for w in cap_sizes(cap, "mm") if isinstance(w, Words)]
    leaders = sum(text.startswith(("index", "spar")) for text in texts)
    assert len(heads) == 2 * (len(texts) - leaders) + leaders
    assert all(len(np.unique(head, axis=0)) == 3 for head in heads)
    tips = np.array([head[0] for head in heads])
    assert np.isclose(tips[:, 0], x0).any() and np.isclose(tips[:, 0], x1).any()


def test_parts_that_are_no_caps_have_none(lantern: Craft) -> None:
    rib: Part = lantern.finished_of(Role.RIB)[0]
    assert cap_sizes(rib, "mm") == []
