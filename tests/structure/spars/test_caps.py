"""Spar caps and webs, by hand on a plain blade and by shapely on one that tapers and twists."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from spar_blades import PLAIN_RIBS, cuts_in, half_depth, made, member

from geomgen.craft import Craft
from geomgen.mass.statement import weigh
from geomgen.model.part import Flat, Length
from geomgen.structure.spars.stacks import stacks
from geomgen.structure.spars.webs import bays

CAPS = """[blade.spar.main2]
kind = "caps"
stock = "spruce_6x2"
chord = 0.5
from = "root"
to = "90 %"
layers = ["90 %", "60 %"]
web = { stock = "balsa_1_5", side = "behind", to = "60 %" }
"""


@pytest.fixture(scope="module")
def plain(spar_craft: Callable[..., Craft]) -> Craft:
    return spar_craft(CAPS)


@pytest.fixture(scope="module")
def twisted(spar_craft: Callable[..., Craft]) -> Craft:
    return spar_craft(CAPS.replace("0.5\n", "[0.48, 0.44]\n").replace("behind", "ahead"), plain=False)


def test_notches_of_a_plain_blade(plain: Craft) -> None:
    """Depth by laminations there, 6.1 wide; the outer face's corners lie on the section's equation."""
    for blank in plain.bare_ribs:
        cuts = cuts_in(plain, "main2", blank)
        r = blank.place.r_mm
        assert len(cuts.notches) == (2 if r < 630 else 0)
        for notch, sign in zip(cuts.notches, (1.0, -1.0), strict=False):
            assert notch.width_mm == pytest.approx(6.1)
            assert notch.depth_mm == pytest.approx(4.0 if r < 420 else 2.0)
            assert notch.way[1] * sign < 0
            across = np.array([-notch.way[1], notch.way[0]]) * 3.0
            for corner in (notch.at + across, notch.at - across):
                assert sign * corner[1] == pytest.approx(half_depth(corner[0]), abs=3e-3)
            assert notch.at[0] == pytest.approx(90.0, abs=0.02)


def test_ribs_lose_the_strips_section(plain: Craft) -> None:
    """Area of a notched rib: the section's own equation, less two rectangles, less the sliver that stands over them."""
    blank = plain.bare_ribs[1]
    x = 180.0 * (1 - np.cos(np.linspace(0, np.pi, 4001))) / 2
    y = np.array([half_depth(value) for value in x])
    section = shapely.Polygon(np.vstack([np.column_stack([x, y]), np.column_stack([x, -y])[::-1]]))
    slope = np.arctan((half_depth(93.0) - half_depth(87.0)) / 6)
    for sign in (1.0, -1.0):
        way = np.array([-np.sin(slope), -np.cos(slope)])  # inwards above: down and, where the edge falls aft, forward
        way = way if slope > 0 else np.array([np.sin(slope), -np.cos(slope)])
        middle, along = np.array([90.0, (half_depth(93.0) + half_depth(87.0)) / 2]), np.array([-way[1], way[0]])
        box = np.array(
            [middle + a * along + b * way for a, b in ((-3.05, -1.0), (3.05, -1.0), (3.05, 4.0), (-3.05, 4.0))]
        )
        section = section.difference(shapely.Polygon(box * [1.0, sign]))
    assert abs(blank.edge.area()) == pytest.approx(section.area, abs=0.3)


def test_strips_lie_inside_and_touch(twisted: Craft) -> None:
    """Each strip's rectangle lies in the rib's edge as it was, and both its outer corners touch it."""
    seen = 0
    for blank in twisted.bare_ribs:
        cuts = cuts_in(twisted, "main2", blank)
        edge = shapely.Polygon(np.vstack([piece.xy for piece in blank.outline.pieces]))
        for notch in cuts.notches:
            at, way = np.array(notch.at), np.array(notch.way)
            across = 3.0 * np.array([way[1], -way[0]])
            strip = np.array([at - across, at + across, at + across + 4 * way, at - across + 4 * way])
            assert shapely.Polygon(strip).difference(edge).area < 1e-3
            assert edge.exterior.distance(shapely.Point(strip[0])) < 3e-3
            assert edge.exterior.distance(shapely.Point(strip[1])) < 3e-3
            seen += 1
    assert seen == 20  # ten ribs stand between the root and 630 mm


def test_laminations_of_a_plain_blade(plain: Craft) -> None:
    """Straight lengths 120 to 630 and to 420 mm, one and three mm under the outer face."""
    parts = made(plain)
    outer = (half_depth(93.0) + half_depth(87.0)) / 2
    for side, sign in (("upper", 1.0), ("lower", -1.0)):
        for layer, end in ((1, 630.0), (2, 420.0)):
            part = parts[f"spar main2 {side} {layer}"]
            assert isinstance(part.shape, Length)
            assert part.shape.length_mm == pytest.approx(end - 120.0, abs=1e-6)
            out, forward, up = part.spread[:, 0] @ part.spread[:, 1:]
            assert out == pytest.approx((120 + end) / 2)
            assert up == pytest.approx(sign * (outer - 2 * layer + 1), abs=0.05)
            assert forward == pytest.approx(45.0 - 90.0, abs=0.5)
            straight = np.sum(part.spread[:, 0] * part.spread[:, 1] ** 2)
            assert straight == pytest.approx((end**3 - 120.0**3) / (3 * (end - 120.0)))


def test_webs_of_a_plain_blade(plain: Craft) -> None:
    """One in each bay to 420 mm, as wide as the bay less 0.2 mm, as high as the section where its far face is."""
    parts = made(plain)
    found = {name: part for name, part in parts.items() if part.role == "web"}
    assert list(found) == ["web main2 W01", "web main2 W02"]  # the third bay's middle is at r 440
    slope = np.arctan((half_depth(93.0) - half_depth(87.0)) / 6)
    behind = 90.0 + 3.0 * np.cos(slope)
    for part, inner, outer in zip(found.values(), PLAIN_RIBS, PLAIN_RIBS[1:], strict=False):
        flat = part.shape
        assert isinstance(flat, Flat)
        x0, y0, x1, y1 = flat.region.bounds()
        assert x1 - x0 == pytest.approx(outer - inner - 3.0 - 0.2)
        assert y1 - y0 == pytest.approx(2 * half_depth(behind + 1.5), abs=0.02)
        assert flat.region.area() == pytest.approx((x1 - x0) * (y1 - y0))
        assert flat.grain == 90.0
        assert part.spread[:, 0] @ part.spread[:, 2] == pytest.approx(45.0 - behind - 0.75, abs=0.03)


def test_mass_by_hand(plain: Craft) -> None:
    parts = made(plain)
    lines = {line.name: line for line in weigh(list(parts.values()), plain.design, {}).lines}
    assert lines["spar main2 upper 1"].set_g[1] == pytest.approx(6 * 2 * 510 * 420e-6)
    high = 2 * half_depth(90 + 3 + 1.5)
    assert lines["web main2 W01"].set_g[1] == pytest.approx((180 - 121.5 - 3.2) * high * 1.5 * 160e-6, rel=2e-3)


def test_webs_touch_both_caps_and_stay_inside(twisted: Craft) -> None:
    spar = member(twisted, "main2")
    made_bays = bays(spar)
    assert len(made_bays) == 6
    for bay in made_bays:
        for at, web in (bay.inner, bay.outer):
            edge = shapely.Polygon(np.vstack([piece.xy for piece in at.outline.pieces]))
            upright = shapely.Polygon(web.corners())
            assert upright.difference(edge).area < 1e-3
            both = stacks(spar, at, 2)
            assert both is not None
            for stack in both:
                strip = shapely.Polygon(stack.corners())
                assert strip.distance(upright) < 1e-9
                assert strip.intersection(upright).area < 1e-9
                assert strip.centroid.x > upright.centroid.x  # it stands ahead of them


def test_webs_lie_in_their_bays(twisted: Craft) -> None:
    """In space a web's four corners lie at its bay's ends."""
    parts = made(twisted)
    ribs = [(place.r_mm, place.thickness_mm) for place in twisted.rib_places]
    webs = [part for part in parts.values() if part.role == "web"]
    assert webs
    for part in webs:
        number = int(part.name[-2:])
        (inner, a), (outer, b) = ribs[number - 1 : number + 1]
        assert isinstance(part.shape, Flat)
        flat = part.shape.region.outer.flattened(1.0)
        placed = np.column_stack([flat, np.zeros(len(flat)), np.ones(len(flat))]) @ part.places[0].T
        assert placed[:, 0].min() == pytest.approx(inner + a / 2 + 0.1, abs=0.05)
        assert placed[:, 0].max() == pytest.approx(outer - b / 2 - 0.1, abs=0.05)


def test_flat_spread_is_exact(twisted: Craft) -> None:
    """Sums of share, place and out times forward against the midpoint rule on triangles, exact for squares."""
    part = made(twisted)["web main2 W03"]
    assert isinstance(part.shape, Flat)
    polygon = part.shape.region.to_shapely(0.01)
    sums = np.zeros(3)
    total = 0.0
    for triangle in shapely.get_parts(shapely.constrained_delaunay_triangles(polygon)):
        corners = np.array(triangle.exterior.coords)
        for middle in (corners[:3] + corners[1:4]) / 2:
            out, forward, _, _ = part.places[0] @ [*middle, 0.0, 1.0]
            sums += triangle.area / 3 * np.array([out, forward, out * forward])
        total += triangle.area
    share, out, forward, _ = part.spread.T
    assert sums / total == pytest.approx([share @ out, share @ forward, share @ (out * forward)])
