"""The clockwise twin is the mirror image: equal areas, mirrored outlines, letters the right way round."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from geomgen.craft import Craft
from geomgen.cutting.colours import LAYERS
from geomgen.cutting.dxf import part_dxf
from geomgen.frames import applied, blade_to_rotor
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.plane.letters import strokes
from geomgen.plane.path import Path

FloatArray = NDArray[np.float64]


@pytest.fixture(scope="module")
def twin(craft_of: object) -> Craft:
    return craft_of("lantern", ('turn   = "anticlockwise"', 'turn   = "clockwise"'))  # type: ignore[operator]


def test_blade_one_lies_along_x_with_its_leading_edge_towards_y(lantern: Craft) -> None:
    station = lantern.blade.station(600.0)
    nose = station.to_blade(np.zeros((1, 2)))
    rotor = applied(blade_to_rotor(1, 2, lantern.design.pitch.set, lantern.design.rotor.coning), nose)[0]
    assert rotor[0] > 590 and rotor[1] > 30


def test_equal_areas_and_mirrored_outlines(lantern: Craft, twin: Craft) -> None:
    assert [part.name for part in lantern.flat_parts] == [part.name for part in twin.flat_parts]
    for here, there in zip(lantern.flat_parts, twin.flat_parts, strict=True):
        assert isinstance(here.shape, Flat) and isinstance(there.shape, Flat)
        a, b = here.shape.region, there.shape.region
        assert b.area() == pytest.approx(a.area(), rel=1e-12)
        assert b.centroid()[0] == pytest.approx(-a.centroid()[0], abs=1e-9)
        assert b.centroid()[1] == pytest.approx(a.centroid()[1], abs=1e-9)
        x0, y0, x1, y1 = a.bounds()
        assert b.bounds() == pytest.approx((-x1, y0, -x0, y1), abs=1e-9)


def box(lines: list[FloatArray]) -> FloatArray:
    points = np.vstack(lines)
    return np.array([points.min(axis=0), points.max(axis=0)])


def seated(lines: list[FloatArray]) -> list[FloatArray]:
    """The same lines with the lower left corner of their common box at the origin."""
    return [line - box(lines)[0] for line in lines]


def differs(one: list[FloatArray], other: list[FloatArray]) -> float:
    """Greatest distance between points of the same order, both in their boxes' corners [mm]."""
    pairs = list(zip(seated(one), seated(other), strict=True))
    return max(float(np.abs(a - b).max()) if a.shape == b.shape else np.inf for a, b in pairs)


def drawn(paths: Iterable[Path]) -> list[FloatArray]:
    """Points on strokes, arcs in 32 chords: a mirrored arc bends the other way even where its ends stand right."""
    lines = []
    for path in paths:
        points = [path.xy[:1]]
        for a, b, bulge in zip(path.xy[:-1], path.xy[1:], path.bulge[:-1], strict=True):
            # DXF reference: bulge = tan of a quarter of the arc's angle, its middle half the chord times it aside
            half, t = np.arctan(bulge) * 2.0, np.linspace(-1.0, 1.0, 33)[1:, None]
            across = np.array([b[1] - a[1], a[0] - b[0]])
            if abs(bulge) < 1e-9:
                points.append(0.5 * (a + b) + 0.5 * t * (b - a))
                continue
            radius = 0.5 / np.sin(half)  # of a chord of 1
            points.append(
                0.5 * (a + b)
                + radius * np.sin(half * t) * (b - a)
                + radius * (np.cos(half * t) - np.cos(half)) * across
            )
        lines.append(np.vstack(points))
    return lines


def test_a_mirrored_letter_would_be_seen() -> None:
    """The check of the next test on letters alone: R, drawn backwards, is no R; nor is an arc that bends backwards."""
    right = strokes("R", 4.0)
    assert differs(drawn(right), drawn(path.moved(3.0, -2.0) for path in right)) < 1e-9
    assert differs(drawn(right), drawn(path.mirrored_x() for path in right)) > 1.0
    unbent = [Path(path.xy, -path.bulge, path.closed) for path in right]
    assert differs(drawn(right), drawn(unbent)) > 0.5


def test_letters_are_not_mirrored(twin: Craft) -> None:
    """Each stroke in the cutting file of a clockwise part, its text's turn and place undone, is one of the letters."""
    colours, blades = twin.design.laser.colour.model_dump(), twin.design.rotor.blades
    words = set()
    for part in twin.flat_parts:
        assert isinstance(part.shape, Flat)
        marks = list(marked(part_dxf(part, colours, blades)))
        for text in part.shape.texts:
            standing = written(text)
            for path in standing:
                assert any(
                    path.xy.shape == mark.xy.shape
                    and np.allclose(path.xy, mark.xy, atol=1e-5)
                    and np.allclose(path.bulge[:-1], mark.bulge[:-1], atol=1e-6)
                    for mark in marks
                ), f"{part.name}: a stroke of {text.text} isn't in the file"
            c, s = np.cos(np.radians(text.turn_deg)), np.sin(np.radians(text.turn_deg))
            back = np.array(((c, -s), (s, c)))
            undone = [(line - text.at) @ back for line in drawn(standing)]
            letters = drawn(strokes(text.text, text.height_mm))
            assert differs(undone, letters) < 1e-6
            # the place is the middle of the capitals' box: figures and capitals fill it but for half a stroke's margin,
            # small letters don't, but stand half a capital below it on their base line, which is y = 0 of the strokes
            middle, base = box(undone).mean(axis=0), box(undone)[0, 1] - box(letters)[0, 1]
            assert middle[0] == pytest.approx(0.0, abs=0.25 * text.height_mm)
            assert base == pytest.approx(-0.5 * text.height_mm, abs=1e-6)
            if text.text == text.text.upper():
                assert middle[1] == pytest.approx(0.0, abs=0.25 * text.height_mm)
            words.add(text.text)
    assert {"R01", "R14", "ROOT SIDE", "FWD", "TURNS", "FIXED", "8", "UPPER SIDE", "JIG BOARD 1 OF 2"} <= words
    assert {"r 131", "GAUGE R14", "skin all", "OUTSIDE", "nose", "spar main"} <= words  # small letters among them


def test_labels_of_ribs_and_lines_stand_at_mirrored_places(lantern: Craft, twin: Craft) -> None:
    """What a label names lies beside it: on skin and jig board they move with it, where others go wherever is room."""
    beside = {"nose", "bevel", "spar main", "spar rear", *(f"R{i:02d}" for i in range(1, 15))}

    def labels(part: Part, hand: float) -> list[tuple[str, float, float]]:
        assert isinstance(part.shape, Flat)
        found = [(text.text, hand * text.at[0], text.at[1]) for text in part.shape.texts if text.text in beside]
        return sorted((name, round(x, 3), round(y, 3)) for name, x, y in found)

    seen = set()
    for here, there in zip(lantern.flat_parts, twin.flat_parts, strict=True):
        if here.role in ("skin", "jig board"):
            one, other = labels(here, -1.0), labels(there, 1.0)
            assert [name for name, *_ in one] == [name for name, *_ in other]
            assert np.allclose([place for _, *place in one], [place for _, *place in other], rtol=0.0, atol=0.01)
            seen |= {name for name, *_ in one}
    assert seen == beside


def marked(data: bytes) -> Iterable[Path]:
    """Open polylines of a cutting file's mark layer, from its bare group codes: 0 kind, 8 layer, 10, 20, 42 bulge."""
    lines = data.decode("ascii").splitlines()
    pairs = [(int(code), value.strip()) for code, value in zip(lines[::2], lines[1::2], strict=True)]
    start = pairs.index((2, "ENTITIES")) + 1
    heads = [i for i in range(start, len(pairs)) if pairs[i][0] == 0]
    for head, after in pairwise(heads):
        own = pairs[head:after]
        if own[0][1] != "LWPOLYLINE" or (8, LAYERS["mark"]) not in own:
            continue
        xy = [[float(value) for code, value in own if code == axis] for axis in (10, 20)]
        bulge: list[float] = []
        for code, value in own:
            if code == 10:
                bulge.append(0.0)
            elif code == 42:
                bulge[-1] = float(value)
        yield Path(np.column_stack(xy), np.array(bulge), False)


def test_a_clockwise_rib_points_its_nose_to_the_right(lantern: Craft, twin: Craft) -> None:
    for craft, label in ((lantern, "left"), (twin, "right")):
        rib = craft.finished_of(Role.RIB)[3].shape
        assert isinstance(rib, Flat) and rib.face == "root side"
        x0, _, x1, _ = rib.region.bounds()
        assert (abs(x0) < abs(x1)) == (label == "left")


def test_placed_parts_of_the_twin_are_the_mirror_image(lantern: Craft, twin: Craft) -> None:
    """A rib's corner taken through its place and the rotor's matrix: y changes sign, x and z don't."""
    for here, there in zip(lantern.finished_of(Role.RIB), twin.finished_of(Role.RIB), strict=True):
        assert isinstance(here.shape, Flat) and isinstance(there.shape, Flat)
        name, (x, y) = here.shape.corners[0]
        twin_corner = dict(there.shape.corners)[name]
        one = applied(blade_to_rotor(1, 2, 8.0, 2.0) @ here.places[0], [x, y, 0.0])
        other = applied(blade_to_rotor(1, 2, 8.0, 2.0, clockwise=True) @ there.places[0], [*twin_corner, 0.0])
        assert other == pytest.approx(one * [1.0, -1.0, 1.0], abs=1e-9)


def test_mass_is_the_same_and_its_centre_mirrored(lantern: Craft, twin: Craft) -> None:
    a, b = lantern.mass.craft, twin.mass.craft
    assert b.mass_g.typical == pytest.approx(a.mass_g.typical, rel=1e-9)
    assert b.cg_x_mm.typical == pytest.approx(a.cg_x_mm.typical, abs=1e-6)
    assert b.cg_y_mm.typical == pytest.approx(-a.cg_y_mm.typical, abs=1e-6)
    assert b.cg_z_mm.typical == pytest.approx(a.cg_z_mm.typical, abs=1e-2)  # engraved letters aren't mirrored


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
def test_azimuth_is_anticlockwise_seen_from_above_in_both_hands(craft_of: Callable[..., Craft], turn: str) -> None:
    """Seen from above, blade 1 to the right along +X, a quarter turn anticlockwise is +Y whichever way the rotor turns.

    150 g at 30 mm move the craft's centre by 150 g times 30 mm over its mass.
    """

    def centre(azimuth: float) -> tuple[float, float, float]:
        edits = (
            ('turn   = "anticlockwise"', f'turn   = "{turn}"'),
            (
                "at     = 0\nheight = 20",
                f'at     = 30\nazimuth = "{azimuth:g} deg"\nheight = 20',
            ),
        )
        craft = craft_of("starter", *edits).mass.craft
        return craft.cg_x_mm.typical, craft.cg_y_mm.typical, craft.mass_g.typical

    (x0, y0, mass), (x90, y90, _), (_, y270, _) = centre(0.0), centre(90.0), centre(270.0)
    moved = 150.0 * 30.0 / mass
    assert moved > 3.0
    assert y90 == pytest.approx(moved, abs=0.05) and y270 == pytest.approx(-moved, abs=0.05)
    assert (x0, x90) == pytest.approx((moved, 0.0), abs=0.05)
    assert y0 == pytest.approx(0.0, abs=0.05)
