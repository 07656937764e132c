"""Every rib of two designs, as readers that didn't write its DXF see it: area, centroid, holes, layers, flags."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from readers import by_ogr, entities, header

from geomgen.craft import Craft
from geomgen.cutting.colours import LAYERS
from geomgen.cutting.dxf import part_dxf
from geomgen.parts.part import Flat, Part


@pytest.fixture(scope="module", params=["lantern", "kite_day"])
def craft(request: pytest.FixtureRequest) -> Craft:
    return request.getfixturevalue(request.param)


def written(craft: Craft, part: Part) -> bytes:
    return part_dxf(part, craft.design.laser.colour.model_dump(), craft.design.rotor.blades)


def test_area_and_centroid(craft: Craft) -> None:
    """GDAL's reader cuts arcs into chords of 0.1 deg. Closed form: the region's own."""
    for part in craft.flat_parts:
        assert isinstance(part.shape, Flat)
        loops = [f for f in by_ogr(written(craft, part)) if f.layer in (LAYERS["inside"], LAYERS["outside"])]
        outer = [f.polygon for f in loops if f.layer == LAYERS["outside"]]
        assert len(outer) == 1
        seen = outer[0].difference(shapely.union_all([f.polygon for f in loops if f.layer == LAYERS["inside"]]))
        region = part.shape.region
        assert seen.area == pytest.approx(region.area(), rel=1e-4)
        assert (seen.centroid.x, seen.centroid.y) == pytest.approx(region.centroid(), abs=2e-4 * np.sqrt(region.area()))
        assert len(loops) == 1 + len(region.holes)


def test_outline_area_from_the_bare_group_codes(craft: Craft) -> None:
    """Shoelace plus circular segments, from codes 10, 20 and 42 (tan of a quarter of the angle: DXF reference)."""
    for part in craft.ribs:
        assert isinstance(part.shape, Flat)
        (outline,) = [e for e in entities(written(craft, part)) if e.layer == LAYERS["outside"]]
        x, y = np.array(outline.all(10)), np.array(outline.all(20))
        bulge, at = np.zeros(len(x)), -1
        for code, value in outline.pairs:  # a bulge of 0 may be left out
            at += code == 10
            if code == 42:
                bulge[at] = float(value)
        angle = 4 * np.arctan(bulge)
        chord = np.hypot(np.roll(x, -1) - x, np.roll(y, -1) - y)
        bent = np.abs(bulge) > 1e-12
        radius = chord[bent] / 2 / np.sin(angle[bent] / 2)
        segments = radius**2 / 2 * (angle[bent] - np.sin(angle[bent]))
        area = 0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) + np.sum(np.sign(bulge[bent]) * np.abs(segments))
        assert abs(area) == pytest.approx(abs(part.shape.region.outer.area()), rel=1e-5)


def test_holes_against_the_design(craft: Craft) -> None:
    """Round holes of spars and channels: diameters as the design says, places by straight lines between their ends."""
    design, sign = craft.design, 1.0 if craft.design.rotor.turn == "anticlockwise" else -1.0
    for part, blank in zip(craft.ribs, craft.blanks, strict=True):
        circles = [e for e in entities(written(craft, part)) if e.kind == "CIRCLE" and e.layer == LAYERS["inside"]]
        seen = [(e.all(10)[0], e.all(20)[0], 2 * e.all(40)[0]) for e in circles]
        chord = blank.station.chord_mm
        radius, root, tip = blank.place.r_mm, design.rotor.root, design.rotor.radius
        first, last = design.blade.along[0], design.blade.along[-1]
        share = (radius - root) / (tip - root)
        assert chord == pytest.approx(first.chord + share * (last.chord - first.chord))
        offset = (first.offset or 0.0) + share * ((last.offset or 0.0) - (first.offset or 0.0))
        spar = design.blade.spar[design.main_spar]
        if radius <= design.r(spar.to):
            # the feather axis itself: chord fraction and offset, to the design's own words
            x = sign * (design.blade.feather.chord * chord + offset)
            wide = design.stock[spar.stock].outside + spar.fit  # type: ignore[union-attr]
            y = blank.station.axis_mm[1]
            assert min(np.hypot(x - a, y - b) + abs(wide - d) for a, b, d in seen) < 1e-3
        for channel in design.blade.channel.values():
            if radius > design.r(channel.to) + 1e-6:
                continue
            near = min(seen, key=lambda c, wide=channel.diameter: abs(c[2] - wide))
            assert near[2] == pytest.approx(channel.diameter, abs=1e-3)


def test_units_layers_and_flags(craft: Craft) -> None:
    for part in craft.flat_parts:
        data = written(craft, part)
        assert header(data, "$INSUNITS") == "4" and header(data, "$ACADVER") == "AC1015"
        for entity in entities(data):
            assert entity.layer in LAYERS.values()
            if entity.layer in (LAYERS["inside"], LAYERS["outside"]):
                assert entity.kind in ("CIRCLE", "LWPOLYLINE")
                if entity.kind == "LWPOLYLINE":
                    assert int(entity.all(70)[0]) & 1 == 1
                    assert len(entity.all(10)) <= 60


def test_nothing_is_cut_twice(craft: Craft) -> None:
    """No doubled entity: each cut stands in the file once."""
    for part in craft.flat_parts:
        cuts = [(e.kind, e.pairs) for e in entities(written(craft, part)) if e.layer != LAYERS["mark"]]
        shapes = [tuple(p for p in pairs if p[0] not in (5, 330)) for _, pairs in cuts]
        assert len(set(shapes)) == len(shapes)
