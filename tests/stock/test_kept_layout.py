"""What of an earlier layout stays: forty ribs through layout.json and back, judged place by place, and by shapely."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import affinity

from geomgen.craft import Craft
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import MakeError
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.stock.laying import lay
from geomgen.stock.layout_file import layout_text, read_layout
from geomgen.stock.pieces import cuts_of
from geomgen.stock.sheets import Layout, Sheet
from geomgen.stock.stages import laid as laid_stage

COUNT = 40
SHEET = (180.0, 110.0)
Place = tuple[str, tuple[float, float], float]


def rib(number: int, chord: float | None = None, **given: Any) -> Part:
    """A rib like a flat lens, 60 to 99 mm long, with a round hole."""
    long = 59.0 + number if chord is None else chord
    x = np.linspace(0.0, 1.0, 9)
    y = 0.5 * x * (1.0 - x)
    outline = from_points(long * np.column_stack(([*x, *x[-2:0:-1]], [*y, *-0.4 * y[-2:0:-1]])), closed=True)
    hole = Circle((0.4 * long, 0.03 * long), given.pop("hole", 3.0))
    flat = Flat(Region(outline, (hole,)), 3.0, grain=given.pop("grain", 0.0))
    return part(f"R{number:02d}", (number,), flat, **given)


def part(name: str, mark: tuple[int, ...], flat: Flat, **given: Any) -> Part:
    role, assembly = given.pop("role", Role.RIB), given.pop("assembly", Assembly.HUB)
    count, stock, facts = given.pop("count", 1), given.pop("stock", "board"), given.pop("facts", {})
    assert not given
    spread = np.array([[1.0, 0, 0, 0]])
    return Part(name, role, stock, "blade.ribs.x", flat, assembly, count, spread, mark=mark, facts=facts)


def box(number: int, long: float, wide: float, **given: Any) -> Part:
    outline = from_points([(0, 0), (long, 0), (long, wide), (0, wide)], closed=True)
    return part(f"B{number}", (number,), Flat(Region(outline), 3.0), **given)


RIBS = [rib(number) for number in range(1, COUNT + 1)]


@pytest.fixture(scope="module")
def design(lantern: Craft) -> Design:
    """The demo with one kind of sheet that the laser cuts."""
    return stocked(lantern.design, size=SHEET)


@pytest.fixture(scope="module")
def long(lantern: Craft) -> Design:
    """The same with a sheet of 300 x 100."""
    return stocked(lantern.design)


def stocked(
    design: Design, *, laser: dict[str, Any] | None = None, turn: str = "anticlockwise", **stock: Any
) -> Design:
    given = {"kind": "sheet", "of": "balsa", "thickness": 3.0, "size": (300.0, 100.0), "grain": "long", **stock}
    board = SheetStock.model_construct(**given)
    shop = {
        "gap": 3.0,
        "edge": 2.0,
        "bed": None,
        "kerf": {"board": 0.2},
        "done": (),
        "in_holes": False,
        **(laser or {}),
    }
    return design.model_copy(
        update={
            "stock": {**design.stock, "board": board},
            "laser": design.laser.model_copy(update=shop),
            "rotor": design.rotor.model_copy(update={"turn": turn}),
        }
    )


def again(layout: Layout) -> Layout:
    """As the next run reads it."""
    return read_layout(layout_text(layout, {}), "layout.json")


def relaid(parts: Sequence[Part], design: Design, before: Layout) -> Layout:
    return lay(parts, design, again(before))


def places(layout: Layout) -> dict[tuple[Key, int, int], Place]:
    """Where everything lies; each thing lies in one place."""
    found = [(laid.which, (sheet.name, laid.at, laid.turn_deg)) for sheet in layout.sheets for laid in sheet.laid]
    assert len(dict(found)) == len(found)
    return dict(found)


def shapes_on(sheet: Sheet, parts: Sequence[Part]) -> list[shapely.Polygon]:
    flats = {(cut.part.key, cut.piece): cut.flat for part in parts for cut in cuts_of(part)}
    return [
        affinity.translate(
            affinity.rotate(flats[each.key, each.piece].region.to_shapely(0.01), each.turn_deg, origin=(0, 0)), *each.at
        )
        for each in sheet.laid
    ]


def assert_lies_well(layout: Layout, parts: Sequence[Part], design: Design) -> None:
    """Every copy is there; shapely finds the gap between any two, and the edge all round; no number is there twice."""
    wanted = {(part.key, copy) for part in parts for copy in range(1, part.count + 1)}
    there = {(laid.key, laid.copy) for sheet in layout.sheets for laid in sheet.laid if sheet.name not in done(design)}
    assert there <= wanted <= {(laid.key, laid.copy) for sheet in layout.sheets for laid in sheet.laid}
    assert len({sheet.name for sheet in layout.sheets}) == len(layout.sheets)
    for sheet in layout.sheets:
        if sheet.name in done(design):
            continue
        shapes = shapes_on(sheet, parts)
        for a, b in itertools.combinations(shapes, 2):
            assert a.distance(b) >= sheet.gap_mm - 0.02
        low, (long, wide) = sheet.edge_mm, sheet.size
        assert all(shapely.box(low, low, long - low, wide - low).buffer(1e-4).contains(shape) for shape in shapes)


def done(design: Design) -> tuple[str, ...]:
    return design.laser.done


def with_done(design: Design, *names: str, **more: Any) -> Design:
    return design.model_copy(update={"laser": design.laser.model_copy(update={"done": names, **more})})


@pytest.fixture(scope="module")
def first(design: Design) -> Layout:
    """Forty ribs on four sheets."""
    layout = lay(RIBS, design)
    assert len(layout.sheets) == 4
    assert_lies_well(layout, RIBS, design)
    return layout


# What isn't cut yet


def test_nothing_changed_and_nothing_moves(design: Design, first: Layout) -> None:
    second = relaid(RIBS, design, first)
    assert second.kept and second.sheets == first.sheets and not first.kept
    assert layout_text(second, {}) == layout_text(first, {})


@pytest.mark.parametrize("number", [1, 17, 40])
def test_one_rib_of_forty_changed(design: Design, first: Layout, number: int) -> None:
    parts = [rib(each, 70.5 if each == number else None) for each in range(1, COUNT + 1)]
    second = relaid(parts, design, first)
    old, new = places(first), places(second)
    mine = (parts[number - 1].key, 0, 1)
    assert {which: place for which, place in new.items() if which != mine} == {
        which: place for which, place in old.items() if which != mine
    }
    assert mine in new and not second.kept
    assert_lies_well(second, parts, design)


@pytest.mark.parametrize("fresh", [(101, 102, 103), (0, 101, -1)], ids=["last", "first and last"])
def test_three_ribs_added(design: Design, first: Layout, fresh: tuple[int, ...]) -> None:
    parts = sorted([*RIBS, *(rib(number, 80.0 + number % 7) for number in fresh)], key=lambda part: part.mark)
    second = relaid(parts, design, first)
    assert places(second).items() > places(first).items()
    assert len(places(second)) == COUNT + 3
    assert_lies_well(second, parts, design)


def test_three_ribs_added_in_the_middle_number_all_beyond_anew(design: Design, first: Layout) -> None:
    """As a craft counts its ribs outwards: the rib that was the 20th is the 23rd, and lies where it lay."""
    chords = [59.0 + number for number in range(1, COUNT + 1)]
    chords[19:19] = [65.5, 66.5, 67.5]
    parts = [rib(number, chord) for number, chord in enumerate(chords, start=1)]
    second = relaid(parts, design, first)
    old = {key.mark[0]: place for (key, _, _), place in places(first).items()}
    new = {chords[int(key.mark[0]) - 1]: place for (key, _, _), place in places(second).items()}
    assert {number: new[59.0 + number] for number in range(1, COUNT + 1)} == old
    assert_lies_well(second, parts, design)
    assert places(relaid(parts, design, second)) == places(second)


def test_a_rib_taken_away(design: Design, first: Layout) -> None:
    parts = RIBS[:10] + RIBS[11:]
    second = relaid(parts, design, first)
    gone = (RIBS[10].key, 0, 1)
    assert places(second) == {which: place for which, place in places(first).items() if which != gone}


def test_a_count_reduced_and_raised(design: Design) -> None:
    def of(count: int) -> list[Part]:
        return [rib(1, count=count), rib(2, count=3)]

    five = lay(of(5), design)
    three, seven = relaid(of(3), design, five), relaid(of(7), design, five)
    assert places(three) == {which: at for which, at in places(five).items() if which[2] <= 3}
    assert places(seven).items() > places(five).items()
    assert_lies_well(seven, of(7), design)


def test_room_that_a_shorter_rib_leaves_is_used(long: Design) -> None:
    """One sheet, full; a rib taken away makes room for one of its size, and no second sheet is begun."""
    full = [box(number, 45.0, 43.0) for number in range(12)]  # 6 x 2, with a gap of 3.2 and an edge of 2.1
    first = lay(full, long)
    assert len(first.sheets) == 1
    parts = [*full[:4], *full[5:], box(99, 44.0, 42.0)]
    second = relaid(parts, long, first)
    assert len(second.sheets) == 1
    assert_lies_well(second, parts, long)
    assert len(relaid([*full, box(99, 44.0, 42.0)], long, first).sheets) == 2


def test_other_holes_leave_a_rib_where_it_lies(design: Design, first: Layout) -> None:
    """Where it came to lie after others were taken away: laid from the start they would all lie otherwise."""
    fewer = [*RIBS[:9], *RIBS[15:]]
    first = relaid(fewer, design, first)
    assert places(first) != places(lay(fewer, design))
    parts = [rib(int(str(each.mark[0])), hole=4.0) for each in fewer]
    second = relaid(parts, design, first)
    assert places(second) == places(first)
    edges = [{laid.edges for sheet in layout.sheets for laid in sheet.laid} for layout in (first, second)]
    assert edges[0].isdisjoint(edges[1])
    assert relaid(parts, design, second).kept


@pytest.mark.parametrize("off", [False, True], ids=["in holes", "no more in holes"])
def test_a_hole_that_closes_round_what_lies_in_it(long: Design, off: bool) -> None:
    """A small board in the hole of a large one: the hole gets smaller, and one of the two moves."""
    within = with_done(long, in_holes=True)

    def frame(hole: float) -> Part:
        outline = from_points([(0, 0), (290, 0), (290, 90), (0, 90)], closed=True)
        return part("frame", (1,), Flat(Region(outline, (Circle((145.0, 45.0), hole),)), 3.0))

    parts = [frame(40.0), box(2, 30.0, 30.0)]
    first = lay(parts, within)
    assert len(first.sheets) == 1
    parts = [frame(20.0), box(2, 30.0, 30.0)]
    later = long if off else within
    second = relaid(parts, later, first)
    assert len(second.sheets) == 2
    assert_lies_well(second, parts, later)


@pytest.mark.parametrize(
    "shop", [{"gap": 4.0}, {"edge": 1.0}, {"kerf": {"board": 0.3}}, {"kerf": {}}], ids=["gap", "edge", "kerf", "none"]
)
def test_gap_edge_and_kerf_lay_the_stock_anew_but_not_what_is_cut(
    design: Design, first: Layout, shop: dict[str, Any]
) -> None:
    other = with_done(design, "board 2", **shop)
    second = relaid(RIBS, other, first)
    assert second.sheets[1] == first.sheets[1]
    gap, edge = other.laser.gap, other.laser.edge
    kerf = other.laser.kerf.get("board", 0.0)
    for sheet in second.sheets[:1] + second.sheets[2:]:
        assert (sheet.gap_mm, sheet.edge_mm) == pytest.approx((gap + kerf, edge + kerf / 2))
    assert_lies_well(second, RIBS, other)
    alone = [part for part in RIBS if part.key not in {laid.key for laid in first.sheets[1].laid}]
    fresh = lay(alone, with_done(other))
    assert [sheet.laid for sheet in second.sheets if sheet.number != 2] == [sheet.laid for sheet in fresh.sheets]


def test_a_parts_grain_changed(design: Design, first: Layout) -> None:
    parts = [rib(number, grain=90.0 if number == 7 else 0.0) for number in range(1, COUNT + 1)]
    second = relaid(parts, design, first)
    old, new = places(first), places(second)
    turned = (parts[6].key, 0, 1)
    assert {which for which in new if new[which] != old[which]} == {turned}
    assert new[turned][2] in (90.0, 270.0)
    assert_lies_well(second, parts, design)


def test_the_sheets_grain_changed_lays_all_anew(lantern: Craft, design: Design, first: Layout) -> None:
    """Grain across a sheet 110 mm wide: every rib stands across it."""
    across = stocked(lantern.design, size=SHEET, grain="across")
    second = relaid(RIBS, across, first)
    assert {place[2] for place in places(second).values()} <= {90.0, 270.0}
    assert_lies_well(second, RIBS, across)


def test_another_size_of_sheet_lays_all_anew(lantern: Craft, first: Layout) -> None:
    wider = stocked(lantern.design, size=(300.0, 120.0))
    second = relaid(RIBS, wider, first)
    assert {sheet.size for sheet in second.sheets} == {(300.0, 120.0)}
    assert [sheet.laid for sheet in second.sheets] == [sheet.laid for sheet in lay(RIBS, wider).sheets]


def test_turned_by_hand_stays_where_no_grain_forbids_it(lantern: Craft) -> None:
    free = stocked(lantern.design, grain=None)
    parts = [box(1, 50.0, 20.0)]
    (sheet,) = lay(parts, free).sheets
    by_hand = replace(sheet, laid=(replace(sheet.laid[0], at=(150.0, 40.0), turn_deg=-30.0),))
    second = relaid(parts, free, Layout((by_hand,)))
    assert second.sheets == (by_hand,)
    grained = stocked(lantern.design, grain="long")
    parts = [replace(parts[0], shape=replace(parts[0].shape, grain=0.0))]  # type: ignore[type-var]
    assert places(relaid(parts, grained, Layout((by_hand,)))) != places(second)
    half_round = replace(sheet, laid=(replace(sheet.laid[0], at=(150.0, 40.0), turn_deg=-180.0),))
    assert relaid(parts, grained, Layout((half_round,))).sheets == (half_round,)


def test_a_part_that_stands_twice_is_laid_once(design: Design) -> None:
    parts = [rib(1), rib(2)]
    (sheet,) = lay(parts, design).sheets
    twice = replace(sheet, laid=(*sheet.laid, replace(sheet.laid[0], at=(150.0, 60.0))))
    assert relaid(parts, design, Layout((twice,))).sheets == (sheet,)
    other = replace(sheet, number=2, laid=sheet.laid[:1])
    assert relaid(parts, design, Layout((sheet, other))).sheets == (sheet,)


# What is cut


def test_a_done_sheet_never_moves_and_what_changed_is_told(design: Design, first: Layout) -> None:
    cut = with_done(design, "board 1")
    on_it = [laid.key.mark[0] for laid in first.sheets[0].laid]
    changed = on_it[1:3]
    parts = [rib(n, 64.5 if n in changed else None) for n in range(1, COUNT + 1)]
    second = relaid(parts, cut, first)
    assert second.sheets[0] == first.sheets[0]
    assert {(sheet, key.mark[0], copy) for sheet, key, copy in second.anew} == {("board 1", n, 1) for n in changed}
    elsewhere = {laid.key.mark[0]: sheet.name for sheet in second.sheets[1:] for laid in sheet.laid}
    assert set(changed) <= set(elsewhere) and not set(on_it) - set(changed) & set(elsewhere)
    assert [sheet.laid[: len(old.laid)] for sheet, old in zip(second.sheets[1:], first.sheets[1:], strict=False)] == [
        old.laid for old in first.sheets[1:]
    ]
    third = relaid(parts, cut, second)
    assert third.sheets == second.sheets and third.anew == second.anew and third.kept


def test_another_hole_on_a_done_sheet_is_told(design: Design, first: Layout) -> None:
    key = first.sheets[0].laid[0].key
    parts = [rib(n, hole=4.0 if n == key.mark[0] else 3.0) for n in range(1, COUNT + 1)]
    second = relaid(parts, with_done(design, "board 1"), first)
    assert second.anew == (("board 1", key, 1),)
    assert relaid(parts, design, first).anew == ()


def test_nothing_new_is_laid_on_a_done_sheet(design: Design) -> None:
    first = lay([rib(1)], design)
    second = relaid([rib(1), rib(2)], with_done(design, "board 1"), first)
    assert second.sheets[0] == first.sheets[0]
    assert [laid.key.mark for laid in second.sheets[1].laid] == [(2,)]
    assert len(relaid([rib(1), rib(2)], design, first).sheets) == 1


def test_a_done_sheet_stays_when_all_its_parts_are_gone(design: Design, first: Layout) -> None:
    cut = with_done(design, "board 2")
    there = {laid.key for laid in first.sheets[1].laid}
    parts = [part for part in RIBS if part.key not in there]
    second = relaid(parts, cut, first)
    assert second.sheets == first.sheets
    nothing = relaid([], cut, first)
    assert nothing.sheets == first.sheets[1:2]
    assert relaid([], design, first).sheets == ()


def test_a_number_is_not_given_again_while_its_sheet_is_there(design: Design, first: Layout) -> None:
    """Sheet 1 falls away, sheet 2 is cut: the next new one takes number 1, the one after it 3, never 2."""
    there = {laid.key for laid in first.sheets[0].laid}
    kept = [part for part in RIBS if part.key not in there]
    without = relaid(kept, with_done(design, "board 2"), first)
    assert [sheet.number for sheet in without.sheets] == [sheet.number for sheet in first.sheets][1:]
    more = [*kept, *(box(n, 170.0, 100.0) for n in (201, 202))]
    second = relaid(more, with_done(design, "board 2"), without)
    last = first.sheets[-1].number
    assert [sheet.number for sheet in second.sheets] == [1, *range(2, last + 1), last + 1]
    assert [sheet for sheet in second.sheets if sheet in without.sheets] == list(without.sheets)


def test_what_is_numbered_anew_was_cut_under_its_old_number(design: Design) -> None:
    """Its letters say so: nothing cut is taken for another part, though it has its outline."""
    first = lay([rib(1), rib(2)], design)
    parts = [rib(1), rib(2, 75.5), rib(3, 61.0)]  # the second one is the third now
    second = relaid(parts, with_done(design, "board 1"), first)
    assert second.anew == (("board 1", parts[1].key, 1),)
    assert {laid.key.mark[0] for laid in second.sheets[1].laid} == {2, 3}


# Sheets of other kinds


def test_offcuts_are_used_first_never_twice_and_kept(lantern: Craft) -> None:
    two = stocked(lantern.design, offcuts=((110.0, 50.0), (110.0, 50.0), (30.0, 30.0)))
    parts = [box(n, 100.0, 40.0) for n in range(4)]
    first = lay(parts, two)
    assert sorted((sheet.offcut, sheet.size, len(sheet.laid)) for sheet in first.sheets) == [
        (False, (300.0, 100.0), 2),
        (True, (110.0, 50.0), 1),
        (True, (110.0, 50.0), 1),
    ]
    assert relaid(parts, two, first).kept
    assert_lies_well(first, parts, two)
    one = stocked(lantern.design, offcuts=((110.0, 50.0),))
    second = relaid(parts, one, first)
    assert [sheet.offcut for sheet in second.sheets].count(True) == 1
    assert places(second).items() >= {which: at for which, at in places(first).items() if at[0] != "board 3"}.items()
    assert_lies_well(second, parts, one)
    assert not any(sheet.offcut for sheet in relaid(parts, stocked(lantern.design), first).sheets)


def test_an_offcut_that_is_cut_is_used_up(lantern: Craft) -> None:
    one = stocked(lantern.design, offcuts=((110.0, 50.0),), laser={"done": ("board 1",)})
    first = lay([box(1, 100.0, 40.0)], with_done(one))
    second = relaid([box(1, 99.0, 40.0), box(2, 100.0, 40.0)], one, first)
    assert [sheet.offcut for sheet in second.sheets] == [True, False]
    assert second.sheets[0] == first.sheets[0]


def test_an_offcut_of_one_use_is_not_anothers(lantern: Craft) -> None:
    """What flies and what stays on the bench share no sheet, and no off-cut."""
    one = stocked(lantern.design, offcuts=((110.0, 50.0),))
    parts = [box(1, 100.0, 40.0), box(2, 100.0, 40.0, assembly=Assembly.BENCH), box(3, 100.0, 40.0, role=Role.DOUBLER)]
    first = lay(parts, one)
    assert sorted((sheet.apart, sheet.offcut) for sheet in first.sheets) == [
        ("bench", False),
        ("doublers", False),
        ("flies", True),
    ]
    assert relaid(parts, one, first).kept
    assert relaid(parts[1:], one, first).sheets == first.sheets[1:]


def test_a_skin_of_several_pieces_stays_piece_by_piece(long: Design) -> None:
    """140 x 180 of three boards, joined at y 60 and 120; a rib beside it changes."""
    outline = from_points([(0, 0), (140, 0), (130, 180), (0, 180)], closed=True)
    joints = tuple(from_points([(0, y), (140 - y / 18, y)], closed=False) for y in (60.0, 120.0))
    flat = Flat(Region(outline), 3.0, reference=joints, grain=0.0)
    skin = part("skin", (0,), flat, role=Role.SKIN, facts={"sheets": 3.0})
    parts = [skin, rib(1), rib(2)]
    first = lay(parts, long)
    assert sorted(which[1] for which in places(first)) == [0, 0, 0, 1, 2]
    pieces = [shape for sheet in first.sheets for shape in shapes_on(sheet, parts)]
    assert sum(shape.area for shape in pieces) == pytest.approx(sum(p.shape.region.area() for p in parts), rel=1e-4)
    changed = [skin, rib(1), rib(2, 90.5)]
    second = relaid(changed, long, first)
    assert {which for which, place in places(second).items() if places(first)[which] != place} <= {(RIBS[1].key, 0, 1)}
    assert_lies_well(second, changed, long)
    assert relaid(changed, long, second).kept


# The craft's other hand


def clockwise(parts: Sequence[Part], design: Design, before: Layout | None) -> Layout:
    """As the stage lays it, through the file."""
    found = laid_stage(design, parts, before=None if before is None else again(before))
    assert isinstance(found, Layout)
    return found


@pytest.mark.parametrize(("bed", "grain"), [(None, "long"), (None, "across"), (115.11, "long")])
def test_a_clockwise_craft_is_laid_as_the_mirror_image_and_kept(lantern: Craft, bed: float | None, grain: str) -> None:
    """Sheets turned over about their length: y becomes the width less y; 4 1/3 in, so that no place has few decimals.

    A part whose x becomes -x and that was turned by a lies as its mirror image when it is turned by 180 deg less a.
    """
    long, wide = 37.0 / 3.0 * 25.4, 13.0 / 3.0 * 25.4
    parts = RIBS[:20]
    shop: dict[str, Any] = {"size": (long, wide), "grain": grain, "laser": {"bed": bed and (bed, wide)}}
    one, other = stocked(lantern.design, **shop), stocked(lantern.design, turn="clockwise", **shop)
    plain, mirrored = clockwise(parts, one, None), clockwise(parts, other, None)
    for a, b in zip(plain.sheets, mirrored.sheets, strict=True):
        assert a.across == b.across and len(a.across) == (2 if bed else 0)
        for p, q in zip(a.laid, b.laid, strict=True):
            assert q.which == p.which and q.at == pytest.approx((p.at[0], wide - p.at[1]), abs=2e-6)
            assert q.turn_deg == (180.0 - p.turn_deg) % 360.0
    flipped = [replace(part, shape=part.shape.mirrored_x()) for part in parts if isinstance(part.shape, Flat)]
    assert_lies_well(mirrored, flipped, other)
    second = clockwise(parts, other, mirrored)
    assert second.sheets == mirrored.sheets and second.kept
    changed = [rib(n, 70.5 if n == 7 else None) for n in range(1, 21)]
    third = clockwise(changed, other, mirrored)
    assert {which for which, place in places(third).items() if places(mirrored)[which] != place} <= {
        (RIBS[6].key, 0, 1)
    }
    assert_lies_well(
        third, [replace(p, shape=p.shape.mirrored_x()) for p in changed if isinstance(p.shape, Flat)], other
    )


def test_a_clockwise_crafts_done_sheet_stays(lantern: Craft) -> None:
    other = stocked(lantern.design, turn="clockwise")
    first = clockwise(RIBS, other, None)
    parts = [rib(n, 64.5) for n in range(1, COUNT + 1)]
    second = clockwise(parts, with_done(other, "board 2"), first)
    assert second.sheets[1] == first.sheets[1] and len(second.anew) == len(first.sheets[1].laid)


# Places moved by hand


def moved(layout: Layout, number: int, **given: Any) -> Layout:
    """A layout whose n-th place on its first sheet somebody wrote anew."""
    sheet = layout.sheets[0]
    laid = tuple(replace(each, **given) if k == number else each for k, each in enumerate(sheet.laid))
    return replace(layout, sheets=(replace(sheet, laid=laid), *layout.sheets[1:]))


def faults_of(parts: Sequence[Part], design: Design, before: Layout) -> list[str]:
    with pytest.raises(MakeError) as refused:
        laid_stage(design, parts, before=again(before))
    return [str(fault) for fault in refused.value.faults]


@pytest.mark.parametrize("turn", ["anticlockwise", "clockwise"])
def test_what_is_moved_onto_another_part_is_told(lantern: Craft, turn: str) -> None:
    design = stocked(lantern.design, turn=turn)
    parts = [box(1, 50.0, 20.0), box(2, 50.0, 20.0)]
    first = laid_stage(design, parts, before=None)
    here = first.sheets[0].laid[0]
    y = here.at[1] + (1.0 if turn == "anticlockwise" else -1.0)  # away from the edge that it was begun at
    (told,) = faults_of(parts, design, moved(first, 1, at=(here.at[0] + 1.0, y), turn_deg=here.turn_deg))
    assert told == (
        "layout.json, sheet board 1: B1, copy 1 and B2, copy 1 lie on one another, 3.2 mm needed; "
        "move them apart, or start over with --lay-anew"
    )


def test_what_is_moved_too_near_is_told(long: Design) -> None:
    """20 mm wide, 20 + 2.7 mm further up: 2.7 mm between the two, 3.2 needed; 3.195 is within 0.01 mm of it."""
    parts = [box(1, 50.0, 20.0), box(2, 50.0, 20.0)]
    first = lay(parts, long)
    flat = moved(moved(first, 0, at=(10.0, 10.0), turn_deg=0.0), 1, at=(10.0, 32.7), turn_deg=0.0)
    (told,) = faults_of(parts, long, flat)
    assert "B1, copy 1 and B2, copy 1 lie 2.70 mm apart, 3.2 mm needed" in told
    near = moved(flat, 1, at=(10.0, 33.195))
    kept = laid_stage(long, parts, before=again(near))
    assert kept.sheets == near.sheets


@pytest.mark.parametrize(
    ("at", "words"),
    [
        ((255.0, 10.0), "B1, copy 1 lies over its edge by 5.00 mm, 2.1 mm needed"),
        ((10.0, -3.0), "B1, copy 1 lies over its edge by 3.00 mm, 2.1 mm needed"),
        ((249.0, 10.0), "B1, copy 1 lies 1.00 mm from its edge, 2.1 mm needed"),
    ],
)
def test_what_hangs_over_the_sheet_is_told(long: Design, at: tuple[float, float], words: str) -> None:
    parts = [box(1, 50.0, 20.0)]
    (told,) = faults_of(parts, long, moved(lay(parts, long), 0, at=at, turn_deg=0.0))
    assert told == f"layout.json, sheet board 1: {words}; move it, or start over with --lay-anew"


def test_what_lies_across_the_line_of_a_cut_is_told(lantern: Craft) -> None:
    design = stocked(lantern.design, laser={"bed": (150.0, 110.0)})
    parts = [box(1, 50.0, 20.0)]
    (told,) = faults_of(parts, design, moved(lay(parts, design), 0, at=(120.0, 10.0), turn_deg=0.0))
    assert "B1, copy 1 lies on the line at 150.0 mm that the sheet is cut across along" in told


def test_what_is_cut_already_is_not_judged(long: Design) -> None:
    parts = [box(1, 50.0, 20.0), box(2, 50.0, 20.0)]
    heap = moved(lay(parts, long), 1, at=(3.0, 3.0), turn_deg=0.0)
    assert laid_stage(with_done(long, "board 1"), parts, before=again(heap)).sheets == heap.sheets
