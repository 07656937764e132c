"""Bridges in outside cuts, judged by what a disc leaves of the sheet when it runs along the reopened paths."""

from __future__ import annotations

import math

import ezdxf
import numpy as np
import pytest
import shapely
from reopened import flat_of, lines, on_sheet

from geomgen.craft import Craft
from geomgen.cutting.sheet_dxf import Cutting
from geomgen.cutting.tabs import tabbed
from geomgen.model.part import Flat
from geomgen.plane.arcs import ellipse, obround, rectangle, rounded
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.plane.region import Region
from geomgen.tolerances import STANDARD

KERF, WIDE = 0.2, 1.2
LOOPS: dict[str, Loop] = {
    "a rectangle": rectangle((0.0, 0.0), 70.0, 30.0),
    "a backward rectangle": rectangle((0.0, 0.0), 70.0, 30.0).reversed(),
    "a rounded plate": rounded((0.0, 0.0), 60.0, 40.0, 6.0, 12.0),
    "a disc": Circle((0.0, 0.0), 20.0),
    "a slot's shape": obround((0.0, 0.0), 60.0, 14.0),
    "an oval": ellipse((0.0, 0.0), 40.0, 9.0, 20.0, STANDARD),
    "a long strip": rectangle((0.0, 0.0), 280.0, 60.0),
    "a rectangle begun in a corner's middle": from_points([(0, 0), (20, 0), (40, 0), (40, 30), (0, 30)], closed=True),
}


def cut_away(data: bytes) -> shapely.Geometry:
    return shapely.union_all([each.line.buffer(KERF / 2, quad_segs=64) for each in lines(data, "outside cut")])


def bridged(loop: Loop, least: int) -> tuple[bytes, list[shapely.Geometry], shapely.Polygon]:
    """The file, what is left of the line that the beam's middle runs on, where bridges are narrowest; the outline."""
    data = on_sheet([(flat_of(Region(loop)), (300.0, 150.0), 0.0)], Cutting(KERF, WIDE, least))
    outline = shapely.Polygon(loop.moved(300.0, 150.0).flattened(1e-3))
    middle = outline.buffer(KERF / 2, quad_segs=64).exterior
    left = shapely.line_merge(middle.difference(cut_away(data)))
    pieces = [piece for piece in shapely.get_parts(left) if piece.length > 0.1]
    return data, pieces, outline


@pytest.mark.parametrize("least", [2, 3, 5])
@pytest.mark.parametrize("name", LOOPS)
def test_bridges_are_as_many_and_as_wide_as_asked(name: str, least: int) -> None:
    """Each is as wide in the material as asked: the beam's round ends are counted."""
    _, left, outline = bridged(LOOPS[name], least)
    assert len(left) == max(least, int(outline.length / 150.0))
    for piece in left:
        straight = math.dist(piece.coords[0], piece.coords[-1])
        assert straight == pytest.approx(WIDE, abs=0.03)


@pytest.mark.parametrize("name", LOOPS)
def test_the_sheet_stays_one_piece_and_each_bridge_holds(name: str) -> None:
    data, _, outline = bridged(LOOPS[name], 3)
    rest = shapely.box(0.0, 0.0, 600.0, 300.0).difference(cut_away(data))
    assert rest.geom_type == "Polygon"
    waist = rest.difference(outline.exterior.buffer(KERF))  # without bridges it would fall in two
    assert len([piece for piece in shapely.get_parts(waist) if piece.area > 1.0]) == 2


@pytest.mark.parametrize("name", LOOPS)
def test_bridges_are_even_straight_and_clear_of_corners(name: str) -> None:
    """None touches a corner, nor a round where a straight stretch is at hand; steps differ by a third at most."""
    loop = LOOPS[name]
    _, left, outline = bridged(loop, 4)
    ring = outline.exterior
    middles = np.sort([ring.project(piece.interpolate(0.5, normalized=True)) for piece in left])
    steps = np.append(np.diff(middles), middles[0] + ring.length - middles[-1])
    assert steps.max() < ring.length / len(left) * 1.34 and steps.min() > ring.length / len(left) * 0.66
    if isinstance(loop, Path):
        begin, end = loop.segments().directions()
        turn = np.abs(np.mod(begin - np.roll(end, 1) + np.pi, 2 * np.pi) - np.pi)
        corners = shapely.MultiPoint([*(loop.xy[turn > 0.2] + (300.0, 150.0)), (1e6, 0.0)])
        assert all(piece.distance(corners) > 0.5 for piece in left)
    if name in ("a rounded plate", "a slot's shape"):
        for piece in left:
            (x0, y0), (x1, y1) = piece.coords[0], piece.coords[-1]
            assert piece.length == pytest.approx(math.hypot(x1 - x0, y1 - y0), rel=1e-6)


def test_arcs_stay_arcs() -> None:
    """Of the file's bare vertices: all on the circle that the beam runs on, with bulges that give its radius."""
    import io

    data, _, _ = bridged(LOOPS["a disc"], 3)
    entities = [e for e in ezdxf.read(io.StringIO(data.decode("ascii"))).modelspace() if e.dxf.layer == "outside cut"]
    assert len(entities) == 3
    turned = 0.0
    for entity in entities:
        assert not entity.closed
        points = np.array(entity.get_points("xyb"))
        assert np.allclose(np.hypot(points[:, 0] - 300.0, points[:, 1] - 150.0), 20.0 + KERF / 2, atol=1e-5)
        turned += float(np.sum(4 * np.arctan(points[:-1, 2])))
    assert turned == pytest.approx(2 * math.pi - 3 * (WIDE + KERF) / (20.0 + KERF / 2), abs=1e-6)


def test_ribs_keep_their_bridges_off_notches_and_feet(lantern: Craft) -> None:
    ribs = [part.shape for part in lantern.flat_parts if part.role == "rib"][:4]
    for rib in ribs:
        assert isinstance(rib, Flat)
        outer = rib.region.outer
        assert isinstance(outer, Path)
        _, left, _ = bridged(outer, 2)
        begin, end = outer.segments().directions()
        turn = np.abs(np.mod(begin - np.roll(end, 1) + np.pi, 2 * np.pi) - np.pi)
        corners = shapely.MultiPoint(outer.xy[turn > 0.2] + (300.0, 150.0))
        assert len(left) == max(2, int((outer.length()) / 150.0))
        assert all(piece.distance(corners) > 0.5 for piece in left)


def test_the_pieces_join_up_but_for_the_gaps() -> None:
    loop = LOOPS["a rounded plate"]
    pieces = tabbed(loop, WIDE, 3, KERF)
    assert sum(piece.length() for piece in pieces) == pytest.approx(loop.length() - 3 * (WIDE + KERF), abs=1e-6)
    ends = [(piece.xy[-1], after.xy[0]) for piece, after in zip(pieces, (*pieces[1:], pieces[0]), strict=True)]
    assert [math.dist(*pair) for pair in ends] == pytest.approx([WIDE + KERF] * 3, abs=1e-6)


def test_what_is_too_small_has_fewer_or_none() -> None:
    (whole,) = tabbed(Circle((0.0, 0.0), 0.3), 1.0, 2, 0.2)
    assert whole.closed
    assert all(not piece.closed for piece in tabbed(rectangle((0.0, 0.0), 6.0, 0.5), 1.0, 4, 0.2))
    assert 1 <= len(tabbed(rectangle((0.0, 0.0), 6.0, 0.5), 1.0, 4, 0.2)) < 4


@pytest.mark.parametrize("wrong", [(0.0, 2, 0.1), (1.0, 0, 0.1), (1.0, 2, -0.1), (float("nan"), 2, 0.1)])
def test_wrong_figures_are_refused(wrong: tuple[float, int, float]) -> None:
    with pytest.raises(ValueError, match="bridges need"):
        tabbed(Circle((0.0, 0.0), 20.0), *wrong)
    with pytest.raises(ValueError, match="closed loop"):
        tabbed(from_points([(0, 0), (9, 0)], closed=False), 1.0, 2, 0.1)
