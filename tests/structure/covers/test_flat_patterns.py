"""Flat patterns as drawn, against lengths on the skin's own surface: published equations, own numbers, closed forms."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from skin_designs import PIECES, Made, neutral, shape, sheets
from wing import FloatArray, Sheet, Wing, in_flat, in_space, length, misfit, named, rib_lines, sides, trapezoid

from geomgen.craft import Craft
from geomgen.model.part import Flat

Get = Callable[[str], Made]
CURVED = [name for name in PIECES if name != "level"]


def tip_right(made: Made) -> Flat:
    """The pattern with its tip to the right, as of an anticlockwise craft."""
    flat = made.flat
    if made.craft.design.rotor.turn == "anticlockwise":
        return flat
    stays = None if flat.stays is None else flat.stays.mirrored_x()
    marks = tuple(mark.mirrored_x() for mark in flat.marks)
    return replace(flat, region=flat.region.mirrored_x(), marks=marks, stays=stays)


@pytest.mark.parametrize("name", PIECES)
def test_each_rib_line_is_as_long_as_the_way_round_at_neutral_depth(piece: Get, name: str) -> None:
    """Perimeter less depth times the angle turned through; a line for each rib."""
    made = piece(name)
    lines = rib_lines(tip_right(made))
    assert len(lines) == len(made.ribs)
    for line, r in zip(lines, made.ribs, strict=True):
        assert length(line) == pytest.approx(made.sheet.girth(made.wing, r), rel=2e-4, abs=0.05)


@pytest.mark.parametrize("name", PIECES)
def test_edges_are_as_long_as_the_pieces_own_edges(piece: Get, name: str) -> None:
    """All four: root and tip as rib lines are, the long ones as the lines in space where the piece ends."""
    made = piece(name)
    drawn = sides(tip_right(made).weighed.outer)
    radii = np.linspace(120.0, 700.0, 117)
    edge = np.array([made.sheet.row(made.wing, float(r), np.array([0.0, 1.0]))[0] for r in radii])
    for side, column in (("low", 0), ("high", -1)):
        wanted = np.linalg.norm(np.diff(edge[:, column], axis=0), axis=1).sum()
        assert length(drawn[side]) == pytest.approx(wanted, rel=2e-4)
    for side, r in (("left", 120.0), ("right", 700.0)):
        assert length(drawn[side]) == pytest.approx(made.sheet.girth(made.wing, r), rel=2e-4, abs=0.05)


@pytest.mark.parametrize("name", PIECES)
def test_rib_lines_rulings_and_diagonals_keep_their_lengths(piece: Get, name: str) -> None:
    """Each whole line, and each cell's diagonals and those of blocks as long as the blade: 0.02 % or 0.05 mm."""
    made = piece(name)
    space = in_space(made.wing, made.sheet, made.ribs)
    assert misfit(space, in_flat(rib_lines(tip_right(made)), space.lengths)) < 1.0


@pytest.mark.parametrize("name", [name for name in CURVED if "nose box" not in name])
def test_a_trapezoid_of_the_same_ends_and_area_is_found_out(piece: Get, name: str) -> None:
    made = piece(name)
    space = in_space(made.wing, made.sheet, made.ribs)
    area = np.mean(space.lengths[[0, -1], -1]) * space.columns.sum(axis=0).mean()
    assert misfit(space, trapezoid(space, float(area))) > 3.0


def test_a_blade_alike_all_along_gives_a_rectangle(piece: Get) -> None:
    """Girth by span; ribs straight across at their places."""
    made = piece("level")
    girth = made.sheet.girth(made.wing, 400.0)
    x0, y0, x1, y1 = made.flat.region.bounds()
    assert (x0, y0, x1) == pytest.approx((0.0, 0.0, 580.0), abs=1e-6)
    assert y1 == pytest.approx(girth, rel=1e-4)
    assert made.flat.region.area() + 259.0 == pytest.approx(580.0 * y1, abs=10.0)  # less the wires' opening
    for line, r in zip(rib_lines(made.flat), made.ribs, strict=True):
        assert line[:, 0] == pytest.approx(r - 120.0, abs=1e-6)


def developed(wing: Wing, r: list[float], shares: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Rows of a general cone laid flat about its apex (k, n, 2), and lengths along them (k, n).

    Chord straight to nothing at the apex on the feather axis, no twist: each ruling runs into the apex. Flat, a point
    at the distance d from it lies at that distance, its angle the integral of the way square to the ruling over d; all
    rows are one, scaled about the apex.
    """
    apex_r = wing.root + wing.chord[0] * (wing.tip - wing.root) / (wing.chord[0] - wing.chord[1])
    dense, run = Sheet(depth=0.0).row(wing, wing.root, np.linspace(0.0, 1.0, 20001))
    d = np.linalg.norm(dense - (apex_r, 0.0, 0.0), axis=1)
    step = np.linalg.norm(np.diff(dense, axis=0), axis=1)
    across = np.sqrt(np.maximum(step**2 - np.diff(d) ** 2, 0.0))
    angle = np.append(0.0, np.cumsum(across / (0.5 * (d[1:] + d[:-1]))))
    s = Sheet(depth=0.0).row(wing, wing.root, shares)[1]
    d, angle = np.interp(s, run, d), np.interp(s, run, angle)
    root = np.column_stack([-d * np.cos(angle), d * np.sin(angle)])  # the apex at the origin, the root to its left
    scale = np.array([(apex_r - at) / (apex_r - wing.root) for at in r])
    return scale[:, None, None] * root, scale[:, None] * s


def apart(a: FloatArray, b: FloatArray) -> float:
    """Greatest distance of points after the best turn and move, no mirror."""
    x, y = ((p - p.reshape(-1, 2).mean(axis=0)).reshape(-1, 2) @ (1.0, 1.0j) for p in (a, b))
    turn = y @ x.conj()
    return float(abs(y - x * turn / abs(turn)).max())


def test_a_blade_tapered_to_one_point_is_a_general_cone(piece: Get) -> None:
    """Laid flat at the outer face of a sheet whose neutral depth is 0. A trapezoid is off by millimetres."""
    made = piece("cone")
    shares = np.linspace(0.0, 1.0, 101)
    wanted, lengths = developed(made.wing, made.ribs, shares)
    lines = rib_lines(made.flat)
    assert apart(wanted, in_flat(lines, lengths)) < 0.03
    assert made.part.facts["mismatch_mm"] < 1e-6
    space = in_space(made.wing, made.sheet, made.ribs)
    shape = trapezoid(space, made.flat.region.area())
    wide = np.array([np.column_stack([row[[0, -1], 0], row[[0, -1], 1]]) for row in shape])
    assert apart(wanted, in_flat(list(wide), lengths)) > 2.0
    bow = [np.ptp(line[:, 0]) for line in lines]
    assert min(bow) > 1.0  # none of them straight


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_neutral_depth_moves_the_girth_by_the_angle_turned_through(
    craft_of: Callable[..., Craft], piece: Get, share: float
) -> None:
    """2 mm of foam: half of it by default; a sheet whose neutral depth is at a face."""
    made = piece("level")
    edits = (*shape((180, 180), (0, 0)), neutral(share))
    flat = sheets(craft_of("starter", *edits))[0].shape
    assert isinstance(flat, Flat)
    turned = sum(float(side[3][-1]) for side in made.wing.sides.values())
    # half a turn and the wedge at the tail, of the thickness equation's slope at x = 1
    wedge = 2.0 * np.arctan(5 * 0.15 * (0.29690 / 2 - 0.12600 - 2 * 0.35160 + 3 * 0.28430 - 4 * 0.10150))
    assert turned == pytest.approx(np.pi - wedge, abs=5e-3)
    change = length(rib_lines(flat)[0]) - length(rib_lines(made.flat)[0])
    assert change == pytest.approx((0.5 - share) * 2.0 * turned, abs=0.01)


# Which way round


def outward(made: Made) -> float:
    """Whether the drawing is of the face outside (+1) or inside (-1), by the cross product of two ways over the upper
    surface, in space and in the flat. In a clockwise craft space is the mirror image."""
    wing, flat = made.wing, made.flat
    ribs = rib_lines(flat)
    first, last = (ribs[0], ribs[-1]) if length(ribs[0]) > length(ribs[-1]) else (ribs[-1], ribs[0])
    rows = [made.sheet.row(wing, made.ribs[k], np.linspace(0.0, 1.0, 9)) for k in (0, -1)]
    # which end of a rib's line is the upper tail: the nose line parts it into unequal lengths
    (nose,) = named(flat, "nose")
    upper = made.sheet.ends(wing, made.ribs[0], "upper")[1]
    at_nose = np.interp(np.mean(first[:, 0]), *nose.T) - first[0, 1]
    lower = length(first) - upper
    assert abs(upper - lower) > 1.0
    flip = abs(at_nose - upper) > abs(at_nose - lower)
    tail, ahead = (first[-1], first[len(first) // 2]) if flip else (first[0], first[len(first) // 2])
    out = (last[-1] if flip else last[0]) - tail
    forward = ahead - tail
    hand = np.sign(out[0] * forward[1] - out[1] * forward[0])
    space = rows[1][0][0] - rows[0][0][0], rows[0][0][4] - rows[0][0][0]
    towards = np.cross(*space) * hand  # to whom the flat's anticlockwise is the space's
    if made.craft.design.rotor.turn == "clockwise":
        towards = -towards  # a mirror turns every turn round
    return float(np.sign(towards[2]))


@pytest.mark.parametrize("name", ["wrap", "wrap, clockwise"])
def test_the_outside_is_drawn_with_its_letters_upright(piece: Get, name: str) -> None:
    made = piece(name)
    assert made.flat.face == "outside" and outward(made) == 1.0
    words = [text.text for text in made.flat.texts]
    assert "OUTSIDE" in words and "skin all" in words
    assert all(text.turn_deg == 0.0 for text in made.flat.texts)


def test_a_clockwise_pattern_is_the_mirror_image_and_its_tip_lies_to_the_left(piece: Get) -> None:
    here, there = piece("wrap").flat, piece("wrap, clockwise").flat
    assert there.region.outer.mirrored_x().flattened(0.01) == pytest.approx(here.region.outer.flattened(0.01), abs=1e-9)
    for flat, way in ((here, 1.0), (there, -1.0)):
        lines = sorted(rib_lines(flat), key=length, reverse=True)
        assert way * (lines[-1][:, 0].mean() - lines[0][:, 0].mean()) > 500.0
        tip = next(text for text in flat.texts if text.text == "TIP")
        heads = [m.xy for m in flat.marks if len(m.xy) == 3 and np.ptp(m.xy[:, 0]) < 5.0 and np.ptp(m.xy[:, 1]) < 5.0]
        head = min(heads, key=lambda xy: np.hypot(*(xy[1] - tip.at)))
        assert way * (head[1, 0] - head[[0, 2], 0].mean()) > 0.5  # the arrow's point


def test_ribs_are_named_from_the_root_beside_their_lines(piece: Get) -> None:
    for name in ("wrap", "wrap, clockwise", "panel below"):
        made = piece(name)
        lines = sorted(rib_lines(made.flat), key=length, reverse=True)
        for line, place in zip(lines, made.craft.rib_places, strict=True):
            at = [text.at for text in made.flat.texts if text.text == place.name]
            assert len(at) == 2
            for x, y in at:
                beside = abs(x - np.interp(y, line[:, 1], line[:, 0]))
                assert 3.0 < beside < 8.0
