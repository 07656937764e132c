"""Upright sheets: how they and the ribs are halved into one another, in space."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import shapely
from spar_blades import PLAIN_RIBS, cuts_in, half_depth, made

from geomgen.craft import Craft
from geomgen.marking.finish import in_hand
from geomgen.model.part import Flat, Part

SHEET = """[blade.spar.rear]
kind = "sheet"
stock = "balsa_1_5"
chord = [0.55, 0.6]
from = "root"
to = "tip"
"""
JOINED = ('size = [1000, 100]\ngrain = "long"\ndensity', 'size = [400, 100]\ngrain = "long"\ndensity')


@pytest.fixture(scope="module")
def twisted(spar_craft: Callable[..., Craft]) -> Craft:
    return spar_craft(SHEET, ('twist = "4 deg"', 'twist = "9 deg"'), plain=False)


def upright_spans(polygon: shapely.Polygon, foot: np.ndarray, way: np.ndarray) -> list[tuple[float, float]]:
    """What of a line lies in a polygon, as distances along it from a point."""
    line = shapely.LineString([foot - 200 * way, foot + 200 * way])
    parts = shapely.get_parts(polygon.intersection(line))
    ends = [sorted(float((np.array(end) - foot) @ way) for end in part.coords) for part in parts]
    return sorted((low, high) for low, high in ends if high - low > 1e-6)


def test_slots_of_sheet_and_rib_meet(twisted: Craft) -> None:
    """On the line where their middle planes cross, the sheet fills exactly what the rib leaves, and both half of it."""
    part = made(twisted)["spar rear"]
    assert isinstance(part.shape, Flat)
    sheet = part.shape.region.to_shapely(0.001)
    route = twisted.layout.spars["rear"]
    matrix = part.places[0]
    for blank in twisted.bare_ribs:
        r = blank.place.r_mm
        point = route.at(r)
        flat = np.linalg.inv(matrix) @ [*point, 1.0]
        assert flat[2] == pytest.approx(0.0, abs=1e-9)  # the line lies in the sheet's plane
        up = matrix[:3, 1]
        assert up == pytest.approx([0.0, 0.0, 1.0])
        ((sheet_low, sheet_high),) = upright_spans(sheet, flat[:2], np.array([0.0, 1.0]))
        station = blank.station
        way = station.directions_from_blade(np.array([[0.0, 1.0]]))[0]
        at = station.from_blade(point[None])[0]
        ((rib_low, rib_high),) = upright_spans(shapely.Polygon(blank.edge.flattened(0.001)), at, way)
        whole = shapely.Polygon(np.vstack([piece.xy for piece in blank.outline.pieces]))
        ((low, high),) = upright_spans(whole, at, way)
        assert sheet_high == pytest.approx(rib_low, abs=1e-6)
        assert rib_high == pytest.approx(high, abs=0.02)  # the edge is drawn within 0.01 mm
        assert sheet_low == pytest.approx(low, abs=0.15)  # the sheet's thickness stays inside a sloping edge
        assert sheet_high - sheet_low == pytest.approx(rib_high - rib_low, abs=0.3)


def test_sheet_and_ribs_do_not_overlap(twisted: Craft) -> None:
    """A sheet 1.5 mm thick lies clear of each rib's wood by half the fit at both its sides."""
    part = made(twisted)["spar rear"]
    route = twisted.layout.spars["rear"]
    for blank in twisted.bare_ribs:
        rib = shapely.Polygon(blank.edge.flattened(0.001))
        station = blank.station
        at = station.from_blade(route.at(blank.place.r_mm)[None])[0]
        up = station.directions_from_blade(np.array([[0.0, 1.0]]))[0]
        aft = np.array([up[1], -up[0]])
        cuts = cuts_in(twisted, "rear", blank)
        (notch,) = cuts.notches
        assert np.array(notch.way) == pytest.approx(up)
        depth = notch.depth_mm + float((np.array(notch.at) - at) @ up)
        body = [
            at - 0.75 * aft - 9 * up,
            at + 0.75 * aft - 9 * up,
            at + 0.75 * aft + depth * up,
            at - 0.75 * aft + depth * up,
        ]
        gap = shapely.Polygon(body).intersection(rib).area
        assert gap < 1e-6
    assert part.count == 1


def test_plain_sheet_by_hand(spar_craft: Callable[..., Craft]) -> None:
    craft = spar_craft(SHEET.replace("[0.55, 0.6]", "0.5"))
    part = made(craft)["spar rear"]
    assert isinstance(part.shape, Flat)
    flat = part.shape.region
    deep = 2 * half_depth(90 + 0.75)
    x0, y0, x1, y1 = flat.bounds()
    assert (x1 - x0, y1 - y0) == pytest.approx((580.0, deep), abs=0.01)
    # six slots 3.1 mm wide to half the depth; those of the end ribs are open to the ends: 3.05 mm of them is there
    slots = (4 * 3.1 + 2 * 3.05) * deep / 2
    assert flat.area() == pytest.approx(580 * deep - slots, rel=1e-3)
    moment = 580 * deep * 410 - deep / 2 * (
        3.1 * sum(PLAIN_RIBS[1:-1]) + 3.05 * (120 + 3.05 / 2) + 3.05 * (700 - 3.05 / 2)
    )
    assert part.spread[:, 0] @ part.spread[:, 1] == pytest.approx(moment / (580 * deep - slots), abs=0.01)


def whole_and_pieces(spar_craft: Callable[..., Craft]) -> tuple[Part, list[Part]]:
    spar = SHEET + 'joint = { kind = "scarf", slope = 12 }\n'
    whole = made(spar_craft(spar, plain=False))["spar rear"]
    parts = made(spar_craft(spar, JOINED, plain=False))
    return whole, [part for name, part in parts.items() if name.startswith("spar rear")]


def test_pieces_of_a_joined_sheet(spar_craft: Callable[..., Craft]) -> None:
    """Two pieces overlap by the scarf, 12 times 1.5 mm; what stays of them is the whole sheet."""
    whole, pieces = whole_and_pieces(spar_craft)
    assert [part.name for part in pieces] == ["spar rear 1", "spar rear 2"]
    shapes = [part.shape for part in pieces]
    assert isinstance(whole.shape, Flat) and all(isinstance(shape, Flat) for shape in shapes)
    widths = [shape.region.bounds()[2] - shape.region.bounds()[0] for shape in shapes]
    x0, _, x1, _ = whole.shape.region.bounds()
    assert sum(widths) == pytest.approx(x1 - x0 + 18.0)
    assert max(widths) <= 400.0 + 1e-6
    assert sum(shape.weighed.area() for shape in shapes) == pytest.approx(whole.shape.region.area())
    assert "scarfed 1:12" in pieces[0].notes[0]
    share = [shape.weighed.area() / whole.shape.region.area() for shape in shapes]
    both = sum(s * (part.spread[:, 0] @ part.spread[:, 1:]) for s, part in zip(share, pieces, strict=True))
    assert both == pytest.approx(whole.spread[:, 0] @ whole.spread[:, 1:])


def test_clockwise_sheet_is_the_mirror_image(spar_craft: Callable[..., Craft]) -> None:
    """Both are drawn alike; the one is mirrored as it is finished."""
    one = made(spar_craft(SHEET, plain=False))["spar rear"]
    drawn = made(spar_craft(SHEET, ('"anticlockwise"', '"clockwise"'), plain=False))["spar rear"]
    other = in_hand(drawn, clockwise=True)
    assert isinstance(one.shape, Flat) and isinstance(other.shape, Flat)
    placed = []
    for part, shape in ((one, one.shape), (other, other.shape)):
        flat = shape.region.outer.flattened(0.01)
        placed.append((np.column_stack([flat, np.zeros(len(flat)), np.ones(len(flat))]) @ part.places[0].T)[:, :3])
    assert np.sort(placed[0], axis=0) == pytest.approx(np.sort(placed[1], axis=0))
    assert shapely.equals_exact(
        shapely.normalize(other.shape.region.mirrored_x().to_shapely(0.01)),
        shapely.normalize(one.shape.region.to_shapely(0.01)),
        1e-9,
    )
