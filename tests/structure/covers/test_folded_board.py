"""The board of a folded blade, against polygon and arc worked out by hand: what it is cut to, scored and rolled."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from skin_designs import sheets
from wing import HALVES, SIGN, FloatArray, Wing, crossing, is_rib, length, named, rib_lines, sides

from geomgen.craft import Craft
from geomgen.model.part import Flat
from geomgen.plane.path import Path
from geomgen.section.fold_difference import difference

Get = Callable[[str], Craft]
FOLDS = {"upper": (0.15, 0.4, 0.7), "lower": (0.12, 0.5)}
NOSE_MM, BOARD_MM = 7.0, 5.0
WING = Wing()


@dataclass(frozen=True)
class Half:
    """One surface by hand: where the nose's arc is left, score points and tail (n, 2) [mm], angle of the arc [rad]."""

    points: FloatArray
    arc: float

    @property
    def flats(self) -> FloatArray:
        return np.hypot(*np.diff(self.points, axis=0).T)

    @property
    def bends(self) -> FloatArray:
        """Angle at each score line [rad]."""
        heading = np.unwrap(np.arctan2(*np.diff(self.points, axis=0).T[::-1]))
        return np.diff(heading)


def half(chord: float, name: str) -> Half:
    """Circle through the nose, its middle a radius behind it along the mean line, which begins with the slope 2 m / p;
    tangent from the circle to the first score point, straight from there on. Score points lie on the section."""
    slope = np.arctan(2.0 * WING.m / WING.p)
    middle = NOSE_MM * np.array([np.cos(slope), np.sin(slope)])
    xy = WING.sides[name][0]
    xy = chord * xy[int(np.argmin(xy[:, 0])) :]
    scored = [(share * chord, np.interp(share * chord, *xy.T)) for share in FOLDS[name]]
    gap = np.array(scored[0]) - middle
    lean = np.arctan2(gap[1], gap[0]) + SIGN[name] * np.arccos(NOSE_MM / np.hypot(*gap))
    left = middle + NOSE_MM * np.array([np.cos(lean), np.sin(lean)])
    arc = np.pi - SIGN[name] * (lean - slope)
    return Half(np.array([left, *scored, xy[-1]]), float(arc))


def girths(chord: float, depth: float, radius: float) -> dict[str, FloatArray]:
    """Lengths from the nose, laid flat at a depth: end of the arc, score lines, tail [mm].

    Moved inwards, flats stay parallel and meet in a mitre: each loses depth × tan(half the bend) at each score line;
    the arc turns about the same middle on a smaller radius.
    """
    found = {}
    for name in HALVES:
        one = half(chord, name)
        mitre = -SIGN[name] * depth * np.tan(0.5 * one.bends)
        flats = one.flats - np.append(0.0, mitre) - np.append(mitre, 0.0)
        found[name] = one.arc * (radius - depth) + np.append(0.0, np.cumsum(flats))
    return found


def outline(chord: float) -> FloatArray:
    """(n, 2) points of the folded section [mm], anticlockwise from the upper tail."""
    slope = np.arctan(2.0 * WING.m / WING.p)
    middle = NOSE_MM * np.array([np.cos(slope), np.sin(slope)])
    upper, lower = half(chord, "upper"), half(chord, "lower")
    angle = slope + np.pi + np.linspace(-upper.arc, lower.arc, 301)
    arc = middle + NOSE_MM * np.column_stack([np.cos(angle), np.sin(angle)])
    return np.vstack([upper.points[:0:-1], arc, lower.points[1:]])


def flat_of(craft: Craft) -> Flat:
    (part,) = sheets(craft)
    assert isinstance(part.shape, Flat) and part.name == "folded skin"
    return part.shape


def turned(flat: Flat) -> Flat:
    """With the tip to the right."""
    x0, _, x1, _ = flat.region.bounds()
    if x1 > -x0:
        return flat
    texts = tuple(type(t)(t.text, (-t.at[0], t.at[1]), t.height_mm) for t in flat.texts)
    stays = None if flat.stays is None else flat.stays.mirrored_x()
    marks = tuple(mark.mirrored_x() for mark in flat.marks)
    return Flat(flat.region.mirrored_x(), 5.0, marks, texts, face=flat.face, stays=stays)


CASES = [("folded", 0.0), ("folded, clockwise", 0.0), ("folded, scored outside", BOARD_MM)]


@pytest.mark.parametrize(("name", "depth"), CASES)
def test_the_boards_width_is_the_perimeter_and_bends_are_where_it_is_scored(
    skin_craft: Get, name: str, depth: float
) -> None:
    """At the paper left whole: outside when it is scored inside, inside when scored outside."""
    flat = turned(flat_of(skin_craft(name)))
    edges = sides(flat.weighed.outer)
    for side, chord in (("left", 180.0), ("right", 150.0)):
        wanted = girths(chord, depth, NOSE_MM)
        upper, lower = wanted["upper"][-1], wanted["lower"][-1]
        assert length(edges[side]) == pytest.approx(upper + lower, abs=0.04)
        places = [*(upper - wanted["upper"][1:-1]), *(upper + wanted["lower"][1:-1])]
        folds = sorted((line for k in (1, 2, 3) for line in named(flat, f"fold {k}")), key=lambda line: line[0, 1])
        assert [crossing(edges[side], fold) for fold in folds] == pytest.approx(sorted(places), abs=0.04)
        (nose,) = named(flat, "nose")
        assert crossing(edges[side], nose) == pytest.approx(upper, abs=0.04)
        rolls = [upper - wanted["upper"][0], upper + wanted["lower"][0]]
        assert [crossing(edges[side], line) for line in named(flat, "roll")] == pytest.approx(rolls, abs=0.04)


def test_scored_outside_it_is_narrower_by_its_thickness_times_the_turn(skin_craft: Get) -> None:
    """Arc: by the angle in rad; folds: by twice the tangent of half the bend."""
    root = [length(sides(turned(flat_of(skin_craft(name))).weighed.outer)["left"]) for name, _ in (CASES[0], CASES[2])]
    halves = [half(180.0, name) for name in HALVES]
    turn = sum(one.arc + 2.0 * np.tan(0.5 * abs(one.bends)).sum() for one in halves)
    assert root[0] - root[1] == pytest.approx(BOARD_MM * turn, abs=0.03)
    assert turn > np.pi


@pytest.mark.parametrize("r", [120.0, 400.0, 700.0])
def test_area_and_thickness_are_the_folded_shapes_own(skin_craft: Get, r: float) -> None:
    """By a general geometry library, from the polygon worked out by hand; against what the wanted section has."""
    chord = float(WING.chord_at(np.array([r]))[0])
    blade = skin_craft("folded").blade
    wanted, made = blade.unfolded().station(r), blade.station(r)
    told = difference(wanted.section, made.section)
    smooth = shapely.Polygon(chord * np.vstack([WING.sides["upper"][0][::-10], WING.sides["lower"][0][10::10]]))
    by_hand = shapely.Polygon(outline(chord))
    assert told.area == pytest.approx(by_hand.area / smooth.area - 1.0, abs=2e-5)
    assert told.area < -0.01
    depths = []
    for shape in (by_hand, smooth):
        x = np.linspace(0.1, 0.9, 801) * chord
        cuts = shapely.intersection(shape, shapely.linestrings([[(a, -chord), (a, chord)] for a in x]))
        depths.append(shapely.length(cuts).max())
    assert chord * told.thickness == pytest.approx(depths[0] - depths[1], abs=2e-3)
    assert chord * told.greatest == pytest.approx(apart(by_hand, smooth), abs=0.01)
    surfaces = shapely.Polygon(np.vstack([made.section.upper.xy[::-1], made.section.lower.xy[1:]]) * chord)
    assert apart(by_hand, surfaces) < 0.02


def apart(one: shapely.Polygon, other: shapely.Polygon) -> float:
    """Greatest distance from a point of either outline to the other [mm]."""
    found = []
    for a, b in ((one, other), (other, one)):
        points = shapely.points(np.array(a.exterior.segmentize(0.5).coords))
        found.append(float(shapely.distance(b.exterior, points).max()))
    return max(found)


@pytest.mark.parametrize(
    ("name", "face", "tip"),
    [("folded", "inside", -1.0), ("folded, clockwise", "inside", 1.0), ("folded, scored outside", "outside", 1.0)],
)
def test_the_scored_face_is_drawn(skin_craft: Get, name: str, face: str, tip: float) -> None:
    """Outside, anticlockwise, upper tail below: tip to the right; the inside and the other hand each turn it over."""
    flat = flat_of(skin_craft(name))
    assert flat.face == face
    lines = sorted(rib_lines(flat), key=length)
    assert tip * (lines[0][:, 0].mean() - lines[-1][:, 0].mean()) > 500.0
    words = {text.text: text for text in flat.texts}
    assert face.upper() in words and words[face.upper()].turn_deg == 0.0
    noted = " ".join(sheets(skin_craft(name))[0].notes)
    other = {"inside": "outside", "outside": "inside"}[face]
    assert f"score the fold lines on the {face}" in noted and f"the paper {other} is left whole" in noted


def test_a_flap_lies_beyond_the_upper_tail_and_is_not_part_of_the_section(skin_craft: Get) -> None:
    """12 mm, square to the tail's line, which is drawn; what stays is the same as without a flap."""
    flat, plain = turned(flat_of(skin_craft("folded"))), turned(flat_of(skin_craft("folded, clockwise")))
    assert plain.stays is None
    assert flat.weighed.area() == pytest.approx(plain.region.area(), rel=1e-9)
    edge, outer = sides(flat.weighed.outer)["low"], sides(flat.region.outer)["low"]
    away = shapely.distance(shapely.LineString(edge), shapely.points(outer))
    assert away == pytest.approx(12.0, abs=0.02)
    assert outer[:, 1].max() < edge[:, 1].max()
    assert flat.region.area() - flat.weighed.area() == pytest.approx(12.0 * length(edge), rel=2e-3)
    along_edge = [mark for mark in flat.marks if not is_rib(mark) and same(mark, edge)]
    assert len(along_edge) == 1
    assert sides(flat.region.outer)["high"] == pytest.approx(sides(plain.region.outer)["high"], abs=1e-6)


def same(mark: Path, line: FloatArray) -> bool:
    one, other = shapely.LineString(mark.flattened(1e-3)), shapely.LineString(line)
    return bool(shapely.hausdorff_distance(one, other) < 0.01)


def test_a_board_shorter_than_the_blade_is_joined_apart_above_and_below(skin_craft: Get) -> None:
    """Boards of 420 by 400 mm under 580 by 384 mm: two, neither too large; joints 80 mm apart, the step on a flat."""
    craft = skin_craft("folded, short board")
    flat = turned(flat_of(craft))
    (part,) = sheets(craft)
    raw = flat_of(craft)
    x0, y0, x1, y1 = raw.region.bounds()
    joints = [shapely.LineString(line.flattened(0.01)) for line in raw.reference]
    cells = list(shapely.polygonize([shapely.unary_union([shapely.box(x0, y0, x1, y1).exterior, *joints])]).geoms)
    assert len(cells) == part.facts["sheets"] == 2
    for cell in cells:
        a, b, c, d = cell.bounds
        assert c - a <= 420.0 and d - b <= 400.0
    (joint,) = joints
    points = np.array(joint.coords) * (-1.0, 1.0)
    across = [p for p in points if not 0.0 < p[1] < 370.0]
    assert abs(across[0][0] - across[-1][0]) == pytest.approx(80.0, abs=1e-6)
    # the step lies between the lower roll line and the first lower fold
    roll, fold = named(flat, "roll")[1], sorted(named(flat, "fold 1"), key=lambda line: line[0, 1])[1]
    step = points[1:-1]
    assert np.all(step[:, 1] > np.interp(step[:, 0], *roll.T) + 3.0)
    assert np.all(step[:, 1] < np.interp(step[:, 0], *fold.T) - 3.0)
    assert any("above" in note and "below" in note for note in part.notes)
