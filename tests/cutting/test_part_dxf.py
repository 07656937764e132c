"""A part's cutting file, reopened by readers that did not write it."""

from __future__ import annotations

import hashlib
import io
import itertools
import math
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import ezdxf
import numpy as np
import pytest
from known_parts import COLOURS, HOLES, OUTER, known_part, net_area_and_centroid
from readers import by_ogr, by_trimesh, entities, header, trimesh_rings

from geomgen.cutting.dxf import part_dxf
from geomgen.errors import DesignError
from geomgen.model.part import Flat, Length, Part, Text
from geomgen.plane.letters import strokes
from geomgen.plane.region import Region

DATA = part_dxf(known_part(), COLOURS, blades=2)
CUTS = ("inside cut", "outside cut")


def test_version_and_units() -> None:
    assert header(DATA, "$ACADVER") == "AC1015"  # R2000
    assert header(DATA, "$INSUNITS") == "4"  # millimetres
    assert header(DATA, "$MEASUREMENT") == "1"  # metric
    assert by_trimesh(DATA).units == "millimeters"


def test_layers_and_colours() -> None:
    """Read by OGR from the layer table through the style it gives each entity, and from the bare group codes."""
    assert {e.layer for e in entities(DATA)} == {"inside cut", "outside cut", "mark", "reference"}
    assert {f.layer for f in by_ogr(DATA)} == {"inside cut", "outside cut", "mark", "reference"}
    text = DATA.decode()
    for layer, colour in (("inside cut", 1), ("outside cut", 5), ("mark", 3), ("reference", 8)):
        entry = text[text.index(f"AcDbLayerTableRecord\n  2\n{layer}\n") :]
        assert int(entry.split("\n 62\n")[1].split("\n")[0]) == colour
        record = entry.split("\n  0\n")[0]
        assert ("\n290\n0\n" in record) == (layer == "reference")  # a layer that isn't to be plotted


def test_area_and_centroid_against_closed_form_as_ogr_reads_them() -> None:
    """Chords of 0.1 deg take 5e-7 off a circle; the tolerance is 1e-5."""
    cut = [f for f in by_ogr(DATA) if f.layer in CUTS]
    inside, outside = cut[:-1], cut[-1]
    area = outside.polygon.area - sum(f.polygon.area for f in inside)
    wanted, (x, y) = net_area_and_centroid()
    assert area == pytest.approx(wanted, rel=1e-5)
    for i, value in enumerate((x, y)):
        first = [f.polygon.area * (f.polygon.centroid.x, f.polygon.centroid.y)[i] for f in cut]
        assert (first[-1] - sum(first[:-1])) / area == pytest.approx(value, abs=1e-3)


def test_every_loop_as_trimesh_reads_it() -> None:
    """In closed form from trimesh's own arcs, so that its chords don't count."""
    rings = trimesh_rings(by_trimesh(DATA))
    for known in (OUTER, *HOLES):
        x0, y0, x1, y1 = known.loop.bounds()
        middle = 0.5 * (x0 + x1), 0.5 * (y0 + y1)
        near = min(rings, key=lambda ring: math.dist(ring[1:], middle) + abs(ring[0] - known.area))
        assert near[0] == pytest.approx(known.area, rel=1e-6)
        assert near[1:] == pytest.approx(middle, abs=1e-5)


def test_hole_places_and_sizes() -> None:
    inside = [f for f in by_ogr(DATA) if f.layer == "inside cut"]
    assert len(inside) == len(HOLES)
    for found, known in zip(inside, HOLES, strict=True):
        assert found.polygon.area == pytest.approx(known.area, rel=1e-5)
        assert (found.polygon.centroid.x, found.polygon.centroid.y) == pytest.approx(known.centroid, abs=1e-4)
        assert found.polygon.bounds == pytest.approx(known.loop.bounds(), abs=1e-4)


def test_circles_are_circles_and_paths_keep_their_arcs() -> None:
    holes = [e for e in entities(DATA) if e.layer == "inside cut"]
    assert [e.kind for e in holes] == ["CIRCLE", "CIRCLE", "LWPOLYLINE", "LWPOLYLINE"]
    assert [f.kind for f in by_ogr(DATA) if f.layer == "inside cut"] == ["Circle", "Circle", "Polyline", "Polyline"]
    assert (holes[0].all(10), holes[0].all(20), holes[0].all(40)) == ([30.0], [30.0], [5.05])
    assert holes[2].all(42) == [1.0, 1.0]
    assert {e.kind for e in entities(DATA)} == {"CIRCLE", "LWPOLYLINE"}  # no splines, no text, no loose lines


def test_closed_flags() -> None:
    """Cuts are closed; marks, letters and the reference line are not; and no closed path repeats its first point."""
    for entity in entities(DATA):
        if entity.kind == "LWPOLYLINE":
            assert bool(int(entity.all(70)[0]) & 1) == (entity.layer in CUTS)
            points = list(zip(entity.all(10), entity.all(20), strict=True))
            assert len(points) == int(entity.all(90)[0]) >= 2
            assert entity.layer not in CUTS or points[0] != points[-1]
    for feature in by_ogr(DATA):
        closed = feature.shape.geom_type == "Polygon" or feature.shape.is_closed
        assert closed or feature.layer not in CUTS


def test_inside_cuts_come_before_the_outside_cut() -> None:
    layers = [f.layer for f in by_ogr(DATA)]
    assert layers.count("outside cut") == 1
    runs = [layer for layer, _ in itertools.groupby(layers)]
    assert runs == ["mark", "inside cut", "outside cut", "reference"]


def test_the_reference_line_is_100_mm_and_clear_of_the_part() -> None:
    reference = [f.shape for f in by_ogr(DATA) if f.layer == "reference"]
    lines = [s for s in reference if len(s.coords) == 2 and s.length == pytest.approx(100.0, abs=1e-9)]
    assert len(lines) == 1
    assert lines[0].bounds[3] < OUTER.loop.bounds()[1] - 5.0


def test_letters_stand_where_asked_on_the_mark_layer() -> None:
    """Bounds of the letters against their own: middle of the capitals' box at `at`, 4 mm high."""
    marks = [f.shape for f in by_ogr(DATA) if f.layer == "mark"][1:]
    assert len(marks) == len(strokes("R3 r 200", 4.0))
    low, high = min(s.bounds[1] for s in marks), max(s.bounds[3] for s in marks)
    assert (low, high) == pytest.approx((46.0, 50.0), abs=0.05)
    left, right = min(s.bounds[0] for s in marks), max(s.bounds[2] for s in marks)
    assert 0.5 * (left + right) == pytest.approx(60.0, abs=0.6)


def mirrored(part: Part) -> Part:
    flat = part.shape
    assert isinstance(flat, Flat)
    region = Region(flat.region.outer.mirrored_x(), tuple(hole.mirrored_x() for hole in flat.region.holes))
    texts = tuple(replace(text, at=(-text.at[0], text.at[1])) for text in flat.texts)
    return replace(part, shape=replace(flat, region=region, texts=texts))


def test_a_clockwise_twin_has_mirrored_outlines_and_unmirrored_letters() -> None:
    twin = by_ogr(part_dxf(mirrored(known_part()), COLOURS, blades=2))
    for one, other in zip(by_ogr(DATA), twin, strict=True):
        if one.layer in CUTS:
            assert other.polygon.area == pytest.approx(one.polygon.area, rel=1e-9)
            assert other.polygon.centroid.x == pytest.approx(-one.polygon.centroid.x, abs=1e-6)
            assert other.polygon.centroid.y == pytest.approx(one.polygon.centroid.y, abs=1e-6)
    letters, twins = ([f.shape for f in read if f.layer == "mark"][1:] for read in (by_ogr(DATA), twin))
    for one, other in zip(letters, twins, strict=True):
        shifted = np.array(one.coords) - (120.0, 0.0)  # from x = 60 to x = -60, and nothing else
        assert np.array(other.coords) == pytest.approx(shifted, abs=2e-6)


def test_two_runs_give_the_same_bytes() -> None:
    """In one process, and in a fresh one with another hash seed."""
    assert part_dxf(known_part(), COLOURS, blades=2) == DATA
    script = (
        "import sys, hashlib; sys.path[:0] = sys.argv[1:]\n"
        "from known_parts import *; from geomgen.cutting.dxf import part_dxf\n"
        "print(hashlib.sha256(part_dxf(known_part(), COLOURS, blades=2)).hexdigest())"
    )
    here = Path(__file__).parent
    told = subprocess.run(
        [sys.executable, "-c", script, str(here), str(here.parents[1])],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONHASHSEED": "7"},
    )
    assert told.stdout.strip() == hashlib.sha256(DATA).hexdigest()


def test_no_clock_and_the_writer_is_left_as_it_was() -> None:
    assert ezdxf.options.write_fixed_meta_data_for_testing is False
    assert {header(DATA, name) for name in ("$TDCREATE", "$TDUPDATE")} == {header(DATA, "$TDCREATE")}
    assert int(float(header(DATA, "$TDCREATE"))) == 2451545  # Julian day of 2000-01-01, fixed


def test_the_writers_own_audit_finds_nothing() -> None:
    audit = ezdxf.read(io.StringIO(DATA.decode())).audit()
    assert not audit.errors and not audit.fixes


def test_an_unknown_colour_is_a_fault_that_names_its_key() -> None:
    with pytest.raises(DesignError) as caught:
        part_dxf(known_part(), {**COLOURS, "mark": "mauve", "inside": "puce"}, blades=2)
    assert [(f.path, f.value) for f in caught.value.faults] == [
        ("laser.colour.mark", "mauve"),
        ("laser.colour.inside", "puce"),
    ]
    assert "red" in caught.value.faults[0].allowed


def test_only_flat_parts_are_cut() -> None:
    with pytest.raises(TypeError):
        part_dxf(replace(known_part(), shape=Length(100.0)), COLOURS, blades=2)


def test_text_at_an_angle() -> None:
    flat = known_part().shape
    assert isinstance(flat, Flat)
    upright = replace(flat, texts=(Text("III", (60.0, 30.0), 4.0, 90.0),), marks=())
    marks = [f.shape for f in by_ogr(part_dxf(replace(known_part(), shape=upright), COLOURS, 2)) if f.layer == "mark"]
    assert max(s.bounds[2] for s in marks) - min(s.bounds[0] for s in marks) == pytest.approx(4.0, abs=0.05)
    assert 0.5 * (max(s.bounds[2] for s in marks) + min(s.bounds[0] for s in marks)) == pytest.approx(60.0, abs=0.05)


def test_ezdxf_is_imported_late() -> None:
    script = "import sys, geomgen.cutting.dxf, geomgen.marking.lettering; print('ezdxf' in sys.modules)"
    root = str(Path(__file__).parents[2])
    told = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True, cwd=root)
    assert told.stdout.strip() == "False"
