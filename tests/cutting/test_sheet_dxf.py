"""A sheet's cutting file, reopened: what lies where, in what order it is cut, what is written beside it."""

from __future__ import annotations

import io
import math
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
import shapely
from known_parts import HOLES, OUTER
from readers import by_ogr, header
from reopened import FINE, Line, flat_of, key, lines, lying, on_sheet

from geomgen.craft import Craft
from geomgen.cutting.order import Piece, in_order
from geomgen.cutting.sheet_dxf import Cutting, sheet_drawing
from geomgen.model.part import Flat, Text
from geomgen.plane.arcs import rectangle
from geomgen.plane.letters import strokes
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region
from geomgen.stock.sheets import Laid, Sheet

PLATE = flat_of(
    Region(OUTER.loop, tuple(hole.loop for hole in HOLES)),
    marks=(from_points([(20.0, 50.0), (40.0, 50.0)], closed=False),),
    texts=(Text("R3", (60.0, 48.0), 4.0),),
)
FRAME = flat_of(Region(rectangle((0.0, 0.0), 120.0, 90.0), (rectangle((0.0, 0.0), 100.0, 70.0),)))
DISC = flat_of(Region(Circle((0.0, 0.0), 15.0), (Circle((0.0, 0.0), 4.0),)))
PARTS = [
    (PLATE, (400.0, 30.0), 0.0),
    (FRAME, (90.0, 100.0), 90.0),
    (DISC, (90.0, 120.0), 0.0),
    (PLATE, (560.0, 240.0), 180.0),
    (DISC, (90.0, 80.0), 45.0),
    (PLATE, (250.0, 100.0), 30.0),
]
CUTTING = Cutting(0.2)
DATA = on_sheet(PARTS, CUTTING)


def all_cuts(data: bytes) -> list[Line]:
    return [each for each in lines(data) if each.layer in ("inside cut", "outside cut")]


def test_parts_lie_where_the_sheet_says() -> None:
    """Turned about their own origin and then moved; by shapely's turn and move, files without a kerf."""
    outlines = [each.polygon for each in lines(on_sheet(PARTS, Cutting()), "outside cut")]
    assert len(outlines) == len(PARTS)
    for flat, at, turn in PARTS:
        wanted = lying(shapely.Polygon(flat.region.outer.flattened(FINE)), at, turn)
        assert min(shapely.hausdorff_distance(wanted, outline) for outline in outlines) < 0.02
    inside = [each.polygon for each in lines(on_sheet(PARTS, Cutting()), "inside cut")]
    assert len(inside) == 3 * len(HOLES) + 1 + 2


def test_letters_turn_with_their_part() -> None:
    marks = [each.line for each in lines(DATA, "mark")]
    for flat, at, turn in PARTS:
        for text in flat.texts:
            for stroke in strokes(text.text, text.height_mm):
                middle = stroke.moved(-0.5 * _width(text.text, text.height_mm), -0.5 * text.height_mm)
                drawn = shapely.LineString(middle.moved(*text.at).flattened(FINE))
                wanted = lying(drawn, at, turn)
                assert min(shapely.hausdorff_distance(wanted, mark) for mark in marks) < 1e-3


def _width(text: str, height: float) -> float:
    return max(path.bounds()[2] for path in strokes(text, height))


def test_marks_come_first_nearest_next() -> None:
    order = [each.layer for each in lines(DATA) if each.layer != "reference"]
    count = order.count("mark")
    assert count > 9 and set(order[:count]) == {"mark"} and "mark" not in order[count:]
    left = list(lines(DATA, "mark"))
    at = np.zeros(2)
    while left:
        ends = [min(math.dist(at, each.start), math.dist(at, each.end)) for each in left]
        assert math.dist(at, left[0].start) == pytest.approx(min(ends), abs=1e-6)
        at = left.pop(0).end


def test_inside_cuts_come_before_their_outline_nearest_next() -> None:
    at, pending, outlines = lines(DATA, "mark")[-1].end, [], 0
    for cut in all_cuts(DATA):
        if cut.layer == "inside cut":
            pending.append(cut)
            continue
        outlines += 1
        assert all(cut.polygon.contains(each.line) for each in pending)
        mine = [each for each in lines(DATA, "inside cut") if cut.polygon.contains(each.line)]
        if not any(each.polygon.area > 5000.0 for each in mine):  # all parts but the frame, which has discs in it
            assert {each.line for each in mine} == {each.line for each in pending}
        for k, each in enumerate(pending):
            ways = [math.dist(at, other.start) for other in pending[k:]]
            assert ways[0] == min(ways)
            at = each.end
        at, pending = cut.end, []
    assert outlines == len(PARTS) and not pending


def test_what_lies_in_a_hole_is_cut_before_that_hole() -> None:
    cuts = all_cuts(DATA)
    (hole,) = [k for k, cut in enumerate(cuts) if cut.layer == "inside cut" and cut.polygon.area > 5000.0]
    within = [k for k, cut in enumerate(cuts) if k != hole and cuts[hole].polygon.contains(cut.line)]
    assert len(within) == 4 and max(within) < hole


def test_the_nearest_part_is_next() -> None:
    """Five like squares in a row, in any order in the sheet, are cut from the corner on."""
    square = flat_of(Region(rectangle((0.0, 0.0), 20.0, 20.0)))
    row = [(square, (x, 20.0), 0.0) for x in (140.0, 20.0, 260.0, 80.0, 200.0)]
    middles = [cut.polygon.centroid.x for cut in all_cuts(on_sheet(row, CUTTING))]
    assert middles == pytest.approx([20.0, 80.0, 140.0, 200.0, 260.0], abs=1e-3)


def test_a_part_within_a_part_within_a_part() -> None:
    rings = [
        Piece(
            Region(Circle((9.0, 9.0), r), (Circle((9.0, 9.0), r - 1.0),)),
            (),
            (Circle((9.0, 9.0), r - 1.0),),
            (Circle((9.0, 9.0), r),),
        )
        for r in (6.0, 8.0, 2.0, 4.0)
    ]
    radii = [loop.radius for _, loop in in_order(rings) if isinstance(loop, Circle)]
    assert radii == [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]


def test_open_pieces_follow_one_another_round_the_part() -> None:
    data = on_sheet([(PLATE, (40.0, 30.0), 0.0), (DISC, (300.0, 200.0), 0.0)], Cutting(0.2, 1.0, 4))
    outside = lines(data, "outside cut")
    assert not any(each.closed for each in outside)
    around = [each for each in outside if each.line.centroid.y < 120.0]
    assert around == outside[: len(around)] and len(around) >= 4
    gaps = [math.dist(one.end, two.start) for one, two in pairwise([*around, around[0]])]
    assert gaps == pytest.approx([1.2] * len(gaps), abs=1e-3)


def test_cut_paths_are_closed_but_for_bridges() -> None:
    assert all(cut.closed for cut in all_cuts(DATA))
    for each in all_cuts(DATA):
        assert each.polygon.is_valid


def test_the_sheet_its_rule_and_its_words() -> None:
    found = lines(DATA, "reference")
    boxes = [each.polygon for each in found if each.closed and each.polygon.area > 1e4]
    assert [box.bounds for box in boxes] == [(0.0, 0.0, 600.0, 300.0)]
    assert any(each.line.length == pytest.approx(100.0, abs=1e-6) for each in found)
    assert all(each.line.bounds[3] < 0.0 for each in found if not each.closed)
    assert header(DATA, "$INSUNITS") == "4" and header(DATA, "$ACADVER") == "AC1015"
    assert {each.layer for each in by_ogr(DATA)} == {"mark", "inside cut", "outside cut", "reference"}


def _words(sheet_parts: list[tuple[Flat, tuple[float, float], float]], cutting: Cutting, **asked: object) -> list[str]:
    """What the caption says, read off the drawing's call."""
    import geomgen.cutting.sheet_dxf as module

    said: list[str] = []
    before = module.caption
    flats = {(key(str(k)), 0): flat for k, (flat, _, _) in enumerate(sheet_parts)}
    laid = tuple(Laid(key(str(k)), 1, at, turn) for k, (_, at, turn) in enumerate(sheet_parts))
    sheet = Sheet("ply_2", 3, (600.0, 300.0), "flies", True, 3.0, 5.0, laid)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "caption", lambda lines, *at: (said.extend(lines), before(lines, *at))[1])
        sheet_drawing(sheet, flats, cutting, **asked)  # type: ignore[arg-type]
    return said


def test_what_is_said_of_it() -> None:
    small = flat_of(Region(OUTER.loop, (Circle((30.0, 30.0), 0.05), rectangle((60.0, 20.0), 4.0, 4.0))))
    said = _words(
        [(small, (100.0, 100.0), 0.0), (small, (300.0, 100.0), 0.0)], Cutting(0.2, 1.5), more=["Glue side up."]
    )
    assert said == [
        "ply_2 3",
        "600 x 300 mm, an off-cut",
        "a kerf of 0.20 mm is taken off: the middle of the beam runs on the lines",
        "gaps in outside cuts leave bridges of 1.5 mm",
        "inside corners that keep a radius of 0.10 mm, as the beam is round: 8",
        "places that stay uncut, as they are narrower than the beam: 2",
        "Glue side up.",
    ]  # fmt: skip
    plain = _words([(DISC, (100.0, 100.0), 0.0)], Cutting(), unit="in")
    assert plain == ["ply_2 3", "23.62 x 11.81 in, an off-cut", "drawn to size, no kerf taken off"]


def test_bytes_repeat() -> None:
    assert on_sheet(PARTS, CUTTING) == DATA
    assert on_sheet(PARTS, Cutting(0.2, 1.0)) != DATA


def test_a_sheet_with_nothing_on_it() -> None:
    assert {each.layer for each in lines(on_sheet([], CUTTING))} == {"reference"}


def test_two_copies_and_pieces_of_a_part() -> None:
    """A part of two pieces, each laid once, and the first a second time."""
    flats = {(key("skin"), 0): DISC, (key("skin"), 1): FRAME}
    places = ((0, 1, 40.0), (1, 1, 140.0), (0, 2, 260.0))
    laid = tuple(Laid(key("skin"), copy, (x, 100.0), 0.0, piece) for piece, copy, x in places)
    drawing = sheet_drawing(Sheet("foam", 1, (600.0, 300.0), "", False, 3.0, 5.0, laid), flats, CUTTING)
    boxes = [loop.bounds() for operation, loop in drawing.items if operation == "outside"]
    assert sorted(round(x1 - x0, 6) for x0, _, x1, _ in boxes) == [30.2, 30.2, 120.2]


def test_all_the_demos_ribs_in_a_minute_of_a_machine(lantern: Craft) -> None:
    """Every rib on one sheet: each outline whole, marks on its own part."""
    ribs = [part.shape for part in lantern.flat_parts if part.role == "rib"]
    parts = [(rib, (300.0 * (k % 2), 60.0 * k), 0.0) for k, rib in enumerate(ribs) if isinstance(rib, Flat)]
    data = on_sheet(parts, Cutting(0.18), size=(700.0, 60.0 * len(parts)))
    outlines = [each.polygon for each in lines(data, "outside cut")]
    assert len(outlines) == len(ribs)
    tree = shapely.STRtree(outlines)
    for mark in lines(data, "mark"):
        assert len(tree.query(mark.line, predicate="within")) == 1
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    assert not document.audit().has_errors


def test_open_marks_begin_at_their_nearer_end() -> None:
    mark = from_points([(50.0, 0.0), (10.0, 0.0)], closed=False)
    ((_, first),) = in_order([Piece(Region(Circle((0.0, 0.0), 99.0)), (mark,), (), (Circle((0.0, 0.0), 99.0),))])[:1]
    assert isinstance(first, Path) and first.xy[0].tolist() == [10.0, 0.0]
