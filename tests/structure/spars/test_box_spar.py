"""Box spars: plates by hand on a plain blade; a folded board's pattern keeps every length of the box in space."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
import pytest
import shapely
from spar_blades import cuts_in, half_depth, made, member

from geomgen.craft import Craft
from geomgen.model.part import Flat
from geomgen.structure.spars.box_patterns import LAP_MM
from geomgen.structure.spars.cuts import Notch, outside_notches
from geomgen.structure.spars.hollow import hollow

BOX = """[blade.spar.box]
kind = "box"
stock = "balsa_1_5"
chord = 0.5
width = 20
from = "root"
to = "60 %"
"""
FOLDED = BOX.replace("balsa_1_5", "board_3").replace("chord = 0.5", "chord = [0.5, 0.55]")


def by_hand(middle: float, width: float, web: float) -> tuple[float, float]:
    """Slope of the lower edge's chord [rad], and height of the box over it, from the section's equation."""
    x = np.array([middle - width / 2, middle + width / 2])
    y = -np.array([half_depth(v) for v in x])
    slope = float(np.arctan2(y[1] - y[0], x[1] - x[0]))
    along, up = np.array([np.cos(slope), np.sin(slope)]), np.array([-np.sin(slope), np.cos(slope)])
    foot = np.array([middle, y.mean()])
    top = np.array([[v, half_depth(v)] for v in np.linspace(middle - 15, middle + 15, 3001)]) - foot
    over = np.abs(top @ along) <= width / 2 + 0.05
    edge = shapely.LineString(top)
    height = float((top[over] @ up).min())
    corner = height * up + (width / 2 + 0.05) * along
    while edge.distance(shapely.Point(corner)) < web:  # down until the corner aft is clear of the edge
        height -= 1e-3
        corner = height * up + (width / 2 + 0.05) * along
    return slope, height


def test_plates_of_a_plain_box(spar_craft: Callable[..., Craft]) -> None:
    parts = made(spar_craft(BOX))
    slope, height = by_hand(90.0, 20.0, 2.0)
    assert slope > 0.02
    for side in ("ahead", "behind"):
        shape = parts[f"spar box {side}"].shape
        assert isinstance(shape, Flat)
        assert shape.region.area() == pytest.approx(300.0 * height, rel=2e-3)
    for side in ("bottom", "top"):
        shape = parts[f"spar box {side}"].shape
        assert isinstance(shape, Flat)
        assert shape.region.area() == pytest.approx(300.0 * 17.0)
    out, forward, up = parts["spar box bottom"].spread[:, 0] @ parts["spar box bottom"].spread[:, 1:]
    y = -(half_depth(80.0) + half_depth(100.0)) / 2
    assert out == pytest.approx(270.0)
    assert forward == pytest.approx(45.0 - 90.0 + 0.75 * np.sin(slope), abs=0.05)
    assert up == pytest.approx(y + 0.75 * np.cos(slope), abs=0.02)


def test_ribs_keep_a_bridge(spar_craft: Callable[..., Craft]) -> None:
    """Over its notch a rib is as deep as the construction's web, and hardly deeper where it is least."""
    craft = spar_craft(BOX, plain=False)
    seen = 0
    for blank in craft.bare_ribs:
        cuts = cuts_in(craft, "box", blank)
        for notch in cuts.notches:
            xy = np.vstack([curve.xy for curve in blank.outline.upper.curves])
            gap = shapely.LineString(xy).distance(shapely.Polygon(notch.corners()))
            assert 2.0 - 0.01 <= gap <= 2.1
            seen += 1
    assert seen == 7


def test_folded_pattern_keeps_lengths(spar_craft: Callable[..., Craft]) -> None:
    """Corner to corner round the box at each rib, and along its last corner on both boards: flat as in space."""
    craft = spar_craft(FOLDED, plain=False)
    part = made(craft)["spar box"]
    assert isinstance(part.shape, Flat)
    flat = part.shape
    assert part.shape.face == "inside"
    r = [120.0, *(place.r_mm for place in craft.rib_places if 120 < place.r_mm < 420), 420.0]
    corners = []
    for at in craft.layout.inside(r, ""):
        box = at and hollow(member(craft, "box"), at)
        assert at and box
        corners.append(at.station.to_blade(box.corners()))
    space = np.array(corners)
    stays = flat.stays
    assert stays is not None
    n = len(r)
    outline = stays.outer.flattened(1.0)
    aft_free, top_free = outline[:n], outline[n + 3 : 2 * n + 3][::-1]
    folds = [mark.xy for mark in flat.marks[:4]]  # bottom aft, bottom ahead, top ahead, lap
    rows = [aft_free, folds[0], folds[1], folds[2], top_free]
    order = [2, 1, 0, 3, 2]
    for (one, other), (a, b) in zip(itertools.pairwise(rows), itertools.pairwise(order), strict=True):
        assert np.hypot(*(one - other).T) == pytest.approx(np.linalg.norm(space[:, a] - space[:, b], axis=1), abs=1e-6)
    for row, corner in zip(rows, order, strict=True):
        drawn = np.hypot(*np.diff(row, axis=0).T)
        assert drawn == pytest.approx(np.linalg.norm(np.diff(space[:, corner], axis=0), axis=1), abs=0.02)
    lap = flat.region.area() - stays.area()
    assert lap == pytest.approx(LAP_MM * 300.0, rel=2e-3)


def test_what_lies_in_the_hollow_needs_no_hole(spar_craft: Callable[..., Craft]) -> None:
    """A box round the main tube doesn't run into it, and the tube's hole falls within the box's notch."""
    craft = spar_craft(FOLDED.replace("[0.5, 0.55]", "0.25"))
    assert "spar box" in made(craft)
    blank = craft.bare_ribs[1]
    cuts = [cuts_in(craft, name, blank) for name in craft.layout.spars]
    openings = [opening for cut in cuts for opening in cut.openings]
    notches: list[Notch] = [notch for cut in cuts for notch in cut.notches]
    assert [opening.path for opening in openings] == ["blade.spar.main"]
    assert outside_notches(openings, notches) == ()
    assert outside_notches(openings, []) == tuple(openings)
