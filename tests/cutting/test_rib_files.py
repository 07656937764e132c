"""Every rib of two designs, as readers that didn't write its DXF see it: area, centroid, holes, layers, flags."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from readers import Entity, by_ogr, entities, header
from straight_lines import FAN, RIBS, STRIP_END, TUBE_END, Words, angle

from geomgen.craft import Craft
from geomgen.cutting.colours import LAYERS
from geomgen.cutting.dxf import part_dxf
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role


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
    for part in craft.finished_of(Role.RIB):
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


def circles(cuts: list[Entity]) -> list[tuple[tuple[float, float], float]]:
    """Middle and diameter of each whole circle."""
    return [((e.all(10)[0], e.all(20)[0]), 2 * e.all(40)[0]) for e in cuts if e.kind == "CIRCLE"]


CLOCKWISE = ('turn   = "anticlockwise"', 'turn   = "clockwise"')
BENT = (
    CLOCKWISE,
    ('twist = "5 deg", section = "naca 4415"', 'twist = "5 deg", offset = 0, section = "naca 4415"'),
    ('twist = "0 deg", section = "naca 4414"', 'twist = "0 deg", offset = 4, section = "naca 4414"'),
    ('chord  = 0.62\nheight = "camber"', 'chord  = [0.62, 0.58]\nheight = ["camber", "5 mm"]'),
    ("chord    = [0.38, 0.42]", "chord    = [0.39, 0.43]"),
    ('chord  = 0.25\nheight = "camber"\nmass   = "26 g"', 'chord  = 0.275\nheight = "camber"\nmass   = "26 g"'),
)
BENT_WORDS = Words(4.0, (0.62, 0.58), (None, 5.0), (0.39, 0.43), 0.275)


@pytest.mark.parametrize(
    ("edits", "words"), [((), Words()), ((CLOCKWISE,), Words()), (BENT, BENT_WORDS)], ids=["demo", "clockwise", "bent"]
)
def test_holes_against_the_design(
    craft_of: Callable[..., Craft], edits: tuple[tuple[str, str], ...], words: Words
) -> None:
    """Middles of the holes of spars, channel and the fan's screws, from the bare group codes, against the design file's
    words by hand."""
    craft = craft_of("lantern", *edits)
    sign = 1.0 if not edits else -1.0  # a clockwise rib is drawn mirrored
    ribs = craft.finished_of(Role.RIB)
    assert len(ribs) == len(RIBS)
    for r, part in zip(RIBS, ribs, strict=True):
        cuts = [e for e in entities(written(craft, part)) if e.layer == LAYERS["inside"]]
        # stock 8 with 0.1 of fit on the axis to the tip, a channel of 9 to the fan, a strip 3 x 6 with 0.1 to 92 %
        for wide, reach, place in ((8.1, TUBE_END, words.axis), (9.0, FAN, words.channel)):
            middles = np.array([middle for middle, width in circles(cuts) if abs(width - wide) < 1e-6]).reshape(-1, 2)
            off = np.hypot(*(middles * (sign, 1.0) - place(r)).T)  # a lightening hole may happen to be as wide
            assert np.count_nonzero(off < 0.001) == (r <= reach), f"{part.name}: {off} mm from {place(r)}"
        # ISO 273, medium: 2.4 mm for M2
        screws = sorted((sign * x, y) for (x, y), width in circles(cuts) if abs(width - 2.4) < 1e-6)
        assert np.shape(screws) == np.shape(words.screws(r))
        assert np.allclose(screws, words.screws(r), rtol=0.0, atol=0.001)
        slots = [
            np.column_stack((e.all(10), e.all(20))) * (sign, 1.0)
            for e in cuts
            if len(e.all(10)) == 4 and not any(e.all(42))
        ]
        assert len(slots) == (r <= STRIP_END)
        for corners in slots:
            assert corners.mean(axis=0) == pytest.approx(words.strip(r), abs=0.001)
            across, along = sorted((corners[1] - corners[0], corners[2] - corners[1]), key=lambda side: np.hypot(*side))
            # it runs askew by less than 0.06 along the chord, so through 3 mm of wood its slot is 0.2 mm longer at most
            assert 3.1 - 1e-6 <= np.hypot(*across) < 3.3 and 6.1 - 1e-6 <= np.hypot(*along) < 6.2
            # the strip keeps its direction in space while the ribs twist, leading edge (at the left) up
            assert across[1] / across[0] == pytest.approx(np.tan(angle(r)), abs=1e-4)
            assert along @ across == pytest.approx(0.0, abs=1e-3)


def test_widths_and_the_axis_along_the_chord(craft: Craft) -> None:
    """The main spar's hole in both designs, in the one in inches with its offset: its width, and how far aft it is."""
    design, sign = craft.design, 1.0 if craft.design.rotor.turn == "anticlockwise" else -1.0
    root, tip = design.rotor.root, design.rotor.radius
    first, last = design.blade.along[0], design.blade.along[-1]
    spar = design.blade.spar[design.main_spar]
    wide = design.stock[spar.stock].outside + spar.fit  # type: ignore[union-attr]
    for part in craft.finished_of(Role.RIB):
        assert part.r_mm is not None
        share = (part.r_mm - root) / (tip - root)
        chord = first.chord + share * (last.chord - first.chord)
        offset = (first.offset or 0.0) + share * ((last.offset or 0.0) - (first.offset or 0.0))
        cuts = [e for e in entities(written(craft, part)) if e.layer == LAYERS["inside"]]
        off = [
            sign * x - design.blade.feather.chord * chord - offset
            for (x, _), w in circles(cuts)
            if abs(w - wide) < 1e-5
        ]
        assert np.count_nonzero(np.abs(off) < 1e-3) == (part.r_mm <= design.r(spar.to))


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
