"""Feet in the board: where ribs stand by their placing matrices, held by shapely; pieces, joints, hands."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from cut_outlines import PLY, cut_board, cut_gauges, cut_ribs, jigged, read_back, soles

from geomgen.bench.feet import footing
from geomgen.craft import Craft
from geomgen.cutting.colours import LAYERS
from geomgen.errors import MakeError
from geomgen.frames import applied
from geomgen.marking.lettering import written
from geomgen.model.layout import rib_key
from geomgen.model.part import Flat, Part
from geomgen.plane.splice import notched
from geomgen.structure.ribs.blank import Blank

LAYER = LAYERS["outside"], LAYERS["inside"]


def built(craft_of: Callable[..., Craft], name: str, side: str = "lower") -> Craft:
    return jigged(craft_of(name), side=side)


def placed(part: Part, xy: np.ndarray) -> np.ndarray:
    """(n, 3) points of a part's mid-plane in the blade frame [mm]."""
    return applied(part.places[0], np.column_stack([xy, np.zeros(len(xy))]))


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
@pytest.mark.parametrize("side", ["lower", "upper"])
def test_every_tab_stands_in_a_slot_of_the_board(craft_of: Callable[..., Craft], name: str, side: str) -> None:
    craft = built(craft_of, name, side)
    made, up = craft.bare_ribs, 1.0 if side == "lower" else -1.0
    plane = footing(craft.design, made)
    assert plane is not None
    board = cut_board(craft)
    slots = [shapely.Polygon(placed(piece, slot)[:, :2]) for piece in board for slot in read_back(piece, LAYER).slots]
    assert len(slots) == 2 * len(made)
    thickness = board[0].shape.thickness_mm  # type: ignore[union-attr]
    free = list(slots)
    for part in cut_ribs(craft, plane):
        cut = read_back(part, LAYER)
        stand = placed(part, soles(cut, 2.0))
        np.testing.assert_allclose(stand[:, 2], plane.z_mm, atol=2e-6)
        tabs = placed(part, cut.corners)
        tabs = tabs[np.abs(tabs[:, 2] - (plane.z_mm - up * thickness)) < 2e-6]  # flush with the board's far face
        assert len(tabs) == 4, part.name
        half = part.shape.thickness_mm / 2  # type: ignore[union-attr]
        for pair in np.split(tabs[np.argsort(tabs[:, 1])], 2):
            tab = shapely.box(part.r_mm - half, pair[0, 1], part.r_mm + half, pair[1, 1])
            (slot,) = [each for each in free if each.contains(tab)]
            free.remove(slot)
            x0, y0, x1, y1 = slot.bounds
            assert (x1 - x0, y1 - y0) == pytest.approx((2 * half + 0.1, 10 - 2 * 2 + 0.1), abs=1e-5)
            assert slot.exterior.distance(tab) == pytest.approx(0.05, abs=1e-5)  # alike on all sides
    assert not free
    for piece in board:  # soles stand on the face that is drawn, tabs end at the other
        faces = applied(piece.places[0], [(0.0, 0.0, thickness / 2), (0.0, 0.0, -thickness / 2)])
        assert faces[:, 2] == pytest.approx([plane.z_mm, plane.z_mm - up * thickness])
    bare = [placed(part, read_back(part, LAYER).outline)[:, 2] for part in cut_ribs(craft, None)]
    lowest = min((up * z).min() for z in bare)
    assert lowest - up * plane.z_mm == pytest.approx(12.0, abs=3e-3)  # jig.clear where it is left out


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_pieces_go_on_the_sheet_and_meet_between_ribs(craft_of: Callable[..., Craft], name: str) -> None:
    craft = built(craft_of, name)
    board = cut_board(craft)
    sheet, bed = craft.design.stock[PLY[name]], craft.design.laser.bed
    assert len(board) > 1
    ends = [shapely.Polygon(placed(piece, read_back(piece, LAYER).corners)[:, :2]).bounds for piece in board]
    for (_, low, end, high), (start, *_) in pairwise(ends):
        assert end == pytest.approx(start, abs=1e-5)
        for blank in craft.bare_ribs:
            assert abs(blank.place.r_mm - end) > blank.place.thickness_mm / 2 + 5
        assert low < 0.0 < high
    for x0, y0, x1, y1 in ends:
        for size in (sheet.size, bed):  # type: ignore[union-attr]
            assert size is None or (x1 - x0 <= max(size) and y1 - y0 <= min(size))
    for piece in board:
        assert piece.assembly == "bench" and piece.role == "jig board"
        assert isinstance(piece.shape, Flat)
        solid = piece.shape.region.to_shapely(0.01)
        words = [text.text for text in piece.shape.texts]
        x0, _, x1, _ = ends[board.index(piece)]
        names = [blank.place.name for blank in craft.bare_ribs if x0 < blank.place.r_mm < x1]
        assert [word for word in words if word.startswith("R") and word != "ROOT"] == names
        boxes = []
        for text in piece.shape.texts:
            strokes = shapely.union_all([shapely.LineString(path.flattened(0.01)) for path in written(text)])
            assert solid.contains(strokes), text
            boxes.append(shapely.box(*strokes.bounds))
        assert len(shapely.STRtree(boxes).query(boxes, predicate="intersects")[0]) == len(boxes), words
        assert abs(piece.shape.texts[0].turn_deg) in (0.0, 90.0)
    assert sum(text.text == "A" for piece in board for text in piece.shape.texts) == 4  # two on either side of a joint


def test_drawn_face_shows_the_rotors_hand(craft_of: Callable[..., Craft]) -> None:
    """Seen from above with the tip to the right, an anticlockwise rotor's leading edge looks up the page.

    Rear feet stand far behind the feather axis. From below, or in a clockwise rotor, it is the other way round.
    """
    hands = {("lantern", "lower"): 1, ("kite_day", "lower"): -1, ("lantern", "upper"): -1, ("kite_day", "upper"): 1}
    for (name, side), hand in hands.items():
        craft = built(craft_of, name, side)
        board = cut_board(craft)[0]
        middles = np.array([slot.mean(axis=0) for slot in read_back(board, LAYER).slots])
        out, (_, rear) = np.sign(middles[0, 0]), middles[np.argmax(np.abs(middles[:, 1]))]
        assert np.sign(-rear) * out == hand, (name, side)
        assert isinstance(board.shape, Flat)
        at = {text.text: text.at for text in board.shape.texts}
        assert np.sign(at["R02"][0] - at["R01"][0]) == out  # and letters run the same way


@pytest.mark.parametrize("name", ["lantern", "kite_day"])
def test_feet_come_off_along_the_marks(craft_of: Callable[..., Craft], name: str) -> None:
    craft = built(craft_of, name)
    for part, bare in zip(
        cut_ribs(craft, footing(craft.design, craft.bare_ribs)),
        cut_ribs(craft, None),
        strict=True,
    ):
        flat, plain = part.shape, bare.shape
        assert isinstance(flat, Flat) and isinstance(plain, Flat) and flat.stays is not None
        assert flat.weighed.area() == pytest.approx(plain.region.area(), rel=1e-12)
        whole, stays = flat.region.to_shapely(0.001), flat.stays.to_shapely(0.001)
        feet = shapely.difference(whole, stays.buffer(0.003))
        assert feet.geom_type == "MultiPolygon" and len(feet.geoms) == 2
        assert shapely.difference(stays, whole).area < 0.05
        lines = flat.marks[-2:]
        for line in lines:
            cut = shapely.LineString(line.flattened(0.001))
            assert shapely.hausdorff_distance(cut, shapely.intersection(stays.exterior, cut.buffer(0.01))) < 0.02
            assert 10.0 <= cut.length < 10.7  # a foot's width, more where the edge slopes
        saw = shapely.union_all([shapely.LineString(line.flattened(0.001)).buffer(0.01) for line in lines])
        apart = shapely.difference(whole, saw)
        assert len(apart.geoms) == 3  # cut along the marks, a rib and two feet


def notch(blank: Blank, share: float, width: float) -> Blank:
    """A rib with a notch in its lower edge at a share of its chord."""
    x = blank.outline.nose_mm + share * (blank.outline.tail_mm - blank.outline.nose_mm)
    at = x, float(blank.outline.lower.y(np.array([x]))[0])
    return replace(blank, edge=notched(blank.edge, at, (0.0, 1.0), width, 4.0))


def test_feet_stand_clear_of_notches(craft_of: Callable[..., Craft]) -> None:
    craft = built(craft_of, "lantern")
    blank = notch(notch(craft.bare_ribs[4], 0.225, 6.0), 0.70, 40.0)
    plane = footing(craft.design, [blank])
    assert plane is not None
    assert (
        len(plane.stands[rib_key(blank.place)].notes) == 2
    )  # both moved: the rear one is no longer where it usually is
    grown, cut, before = (
        shapely.Polygon(path.flattened(0.001))
        for path in (plane.stands[rib_key(blank.place)].edge, blank.edge, craft.bare_ribs[4].edge)
    )
    notches = [part for part in shapely.difference(before, cut).geoms if part.area > 5.0]
    feet = [part for part in shapely.difference(grown, before.buffer(0.01)).geoms if part.area > 5.0]
    assert len(notches) == len(feet) == 2
    assert all(foot.distance(each) > 1.4 for foot in feet for each in notches)


def test_a_rib_without_room_is_named(craft_of: Callable[..., Craft]) -> None:
    craft = built(craft_of, "lantern")
    blank = craft.bare_ribs[5]
    for share in (0.15, 0.30, 0.42):
        blank = notch(blank, share, 16.0)
    with pytest.raises(MakeError) as caught:
        footing(craft.design, [craft.bare_ribs[0], blank])
    (fault,) = caught.value.faults
    assert fault.path == "blade.jig.foot"
    assert blank.place.name in fault.wrong and "front" in fault.wrong and "rear" not in fault.wrong


def test_a_foot_too_narrow_for_its_tab_is_refused(craft_of: Callable[..., Craft]) -> None:
    craft = jigged(craft_of("lantern"), foot=5.0)
    with pytest.raises(MakeError, match="at least 7 mm"):
        footing(craft.design, craft.bare_ribs)


def test_without_a_board_feet_have_no_tabs_and_without_feet_gauges_have_their_own_plane(
    craft_of: Callable[..., Craft],
) -> None:
    craft = jigged(craft_of("lantern"), foot=8.0, board=None)
    plane = footing(craft.design, craft.bare_ribs)
    assert plane is not None and cut_board(craft) == []
    part = cut_ribs(craft, plane)[3]
    corners = placed(part, read_back(part, LAYER).corners)
    assert corners[:, 2].min() == pytest.approx(plane.z_mm, abs=1e-6)
    craft = jigged(craft_of("lantern"), foot=None, clear=9.0)
    assert footing(craft.design, craft.bare_ribs) is None
    tops = []
    for gauge in cut_gauges(craft, None):
        at = placed(gauge, read_back(gauge, LAYER).outline)
        tops.append(at[at[:, 2] > at[:, 2].min() + 1e-6][:, 2].min() - at[:, 2].min())
    assert min(tops) == pytest.approx(9.0, abs=5e-3)
    craft = jigged(craft_of("lantern"), foot=None, clear=4.0)
    with pytest.raises(MakeError, match=r"blade\.jig\.clear = 4 mm.*4\.0 mm deep.*at least 5 mm"):
        cut_gauges(craft, None)
