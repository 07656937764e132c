"""Sheets and lengths of each stock, against packings made by hand, bounds that no packing beats, and brute force."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.craft import Craft
from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.model.joint import Key
from geomgen.model.part import Area, Flat, Length, Part, Pocket, Shape, Shaped, Solid
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.stock.laying import lay
from geomgen.stock.need import SAW_MM, SCARF, Need
from geomgen.stock.need import needs as counted
from geomgen.stock.packing import lengths_needed

SHEET = (100.0, 60.0)


# Pieces from lengths


@pytest.mark.parametrize(
    ("pieces", "lengths"),
    [
        ([], 0),
        ([1000.0], 1),
        ([500.0, 500.0], 2),  # no room for the cut
        ([499.5, 499.5], 1),  # 1 mm of it
        ([600.0, 600.0, 398.0, 398.0], 2),
        ([700.0, 500.0, 300.0, 290.0, 200.0], 3),  # 700 + 290, 500 + 300, 200: longest first, with a cut each
        ([1200.0], 2),
        ([1200.0, 700.0], 3),  # 1000, and a rest of 300 with its overlap of 100: no room beside it for 700 and a cut
        ([1200.0, 699.0], 2),
    ],
)
def test_lengths_sawn_by_hand(pieces: list[float], lengths: int) -> None:
    assert lengths_needed(pieces, 1000.0, 1.0, 100.0) == lengths


@settings(max_examples=60, deadline=None)
@given(st.lists(st.floats(10, 1000), min_size=1, max_size=5))
def test_lengths_between_their_bounds(pieces: list[float]) -> None:
    """Never under the sum nor under brute force; first-fit decreasing stays within 11/9 of the least + 6/9 (Dósa)."""
    ours = lengths_needed(pieces, 1000.0, 1.0, 0.0)
    assert ours >= math.ceil((sum(pieces) - 1e-6) / 1000.0)
    least = min(
        len(set(groups))
        for groups in itertools.product(range(len(pieces)), repeat=len(pieces))
        if all(
            sum(p + 1.0 for p, g in zip(pieces, groups, strict=True) if g == n) <= 1001.0 + 1e-6 for n in set(groups)
        )
    )
    assert least <= ours <= 11 / 9 * least + 6 / 9


# Needs of a craft


def rectangle(long: float, wide: float) -> Region:
    return Region(from_points([(0, 0), (long, 0), (long, wide), (0, wide)], closed=True))


def part(name: str, stock: str, shape: Shape, assembly: str = "blade", count: int = 1) -> Part:
    spread = np.array([[1.0, 0, 0, 0]])
    return Part(name, "rib", stock, "blade.ribs.x", shape, assembly, count, spread, mark=(name,))


def flat(name: str, size: tuple[float, float], grain: float | None = None, **more: object) -> Part:
    return part(name, "board", Flat(rectangle(*size), 3.0, grain=grain), **more)  # type: ignore[arg-type]


@pytest.fixture
def design(lantern: Craft) -> Design:
    """The demo, two blades, with a sheet, a strip, and a sheet of unknown size besides."""
    stocks = {
        "board": SheetStock.model_construct(kind="sheet", of="balsa", thickness=3.0, size=(100.0, 60.0), grain="long"),
        "loose": SheetStock.model_construct(kind="sheet", of="balsa", thickness=3.0, size=None, grain=None),
        "strip": LengthStock.model_construct(
            kind="length", of="spruce", outside=None, width=3.0, height=6.0, length=1000.0
        ),
    }
    laser = lantern.design.laser.model_copy(update={"gap": 3.0, "edge": 0.0, "bed": None})
    return lantern.design.model_copy(update={"stock": lantern.design.stock | stocks, "laser": laser})


def needs(parts: Sequence[Part], design: Design, volumes: Mapping[Key, float] | None = None) -> tuple[Need, ...]:
    """Counted as they are laid."""
    return counted(parts, design, lay(parts, design), volumes)


def only(found: tuple[Need, ...]) -> Need:
    assert len(found) == 1
    return found[0]


def test_every_blade_counts_and_the_share_is_of_whole_sheets(design: Design) -> None:
    need = only(needs([flat("R1", (48.5, 28.5), count=2)], design))
    assert (need.pieces, need.sheets, need.lengths, need.unit) == (4, 1, None, "mm2")
    assert need.amount == pytest.approx(4 * 48.5 * 28.5)
    assert need.used_share == pytest.approx(4 * 48.5 * 28.5 / 6000)
    need = only(needs([flat("plate", (48.5, 28.5), assembly="hub", count=2)], design))
    assert need.pieces == 2


def test_grain_forbids_the_quarter_turn(design: Design) -> None:
    """Of 60 x 17, five stand across a sheet of 100 x 60, with their gaps; along it lie three, one above the other."""
    for grain, sheets in {None: 1, 0.0: 2, 180.0: 2, 90.0: 1}.items():
        assert only(needs([flat("R1", (60, 17), grain, assembly="hub", count=5)], design)).sheets == sheets, grain


def test_across_and_no_grain_of_the_stock(design: Design) -> None:
    def sheets(grain: str | None, part_grain: float) -> int | None:
        board = design.stock["board"].model_copy(update={"grain": grain})
        own = design.model_copy(update={"stock": design.stock | {"board": board}})
        return only(needs([flat("R1", (60, 17.0), part_grain, assembly="hub", count=5)], own)).sheets

    assert sheets("across", 0.0) == 1 and sheets("across", 90.0) == 2
    assert sheets(None, 0.0) == sheets(None, 90.0) == 1


def test_askew_grain_turns_the_box(design: Design) -> None:
    """A square of side 50 with its grain at 45 deg takes a box of 50 sqrt 2 each way: 70.7 goes on no 60 mm sheet."""
    need = only(needs([flat("web", (50, 50), 45.0, assembly="hub")], design))
    assert need.too_large == ("web",) and need.sheets == 1


def test_too_large_is_named_and_counted_by_area(design: Design) -> None:
    need = only(needs([flat("panel", (300, 50), assembly="hub"), flat("R1", (90, 50), assembly="hub")], design))
    assert need.too_large == ("panel",)
    assert need.sheets == 1 + math.ceil(300 * 50 / 6000)


def test_a_skin_joined_from_sheets_takes_as_many_as_its_layout_says(design: Design) -> None:
    """95 x 150 of sheets 60 wide: three side by side, on each of two blades; by area it would be five in all."""
    whole = flat("skin", (95, 150), 0.0)
    assert isinstance(whole.shape, Flat)
    joints = tuple(from_points([(0, y), (95, y)], closed=False) for y in (50.0, 100.0))
    skin = replace(whole, facts={"sheets": 3.0}, shape=replace(whole.shape, reference=joints))
    need = only(needs([skin], design))
    assert need.sheets == 6 and need.too_large == ()
    assert only(needs([flat("skin", (95, 150), 0.0)], design)).sheets == 5


def test_undrawn_areas_and_sheets_of_unknown_size(design: Design) -> None:
    assert only(needs([part("skin", "board", Area(6000.0))], design)).sheets == 2
    assert only(needs([part("skin", "board", Area(6001.0))], design)).sheets == 3
    need = only(needs([part("skin", "loose", Area(6000.0))], design))
    assert (need.sheets, need.used_share, need.amount) == (None, None, 12000.0)


def test_lengths_of_two_blades_with_a_joint(design: Design) -> None:
    need = only(needs([part("spar", "strip", Length(499.5))], design))
    assert (need.lengths, need.pieces, need.amount, need.unit, need.too_large) == (1, 2, 999.0, "mm", ())
    assert SAW_MM == 1.0
    rest = 1000.0 - SCARF * 6.0  # what a second length adds, its scarf of 1 in 12 over 6 mm taken off
    assert only(needs([part("spar", "strip", Length(1000.0 + rest), assembly="hub")], design)).lengths == 2
    long = only(needs([part("spar", "strip", Shaped(1001.0 + rest, 5.0), assembly="hub")], design))
    assert long.lengths == 3 and long.too_large == ("spar",)


def test_volumes_and_the_bench(design: Design) -> None:
    solid = part("hub", "print_petg", Solid(None), assembly="hub")
    plate = part("cap", "print_petg", Flat(rectangle(10, 20), 3.0))
    need = only(needs([solid, plate], design, {solid.key: 1000.0}))
    assert need.unit == "mm3" and need.amount == pytest.approx(450 + 2 * 10 * 20 * 3 * 0.45)  # the demo prints 45 %
    assert only(needs([solid], design)).amount == 0.0
    blind = replace(plate, shape=replace(plate.shape, pockets=(Pocket(Circle((5.0, 5.0), 2.0), 1.5),)))
    assert only(needs([blind], design)).amount == pytest.approx(2 * (10 * 20 * 3 - np.pi * 4 * 1.5) * 0.45)
    craft, bench = needs([flat("jig", (90, 50), assembly="bench"), flat("R1", (90, 50))], design)
    assert (craft.bench, craft.pieces, bench.bench, bench.pieces) == (False, 2, True, 1)


def test_the_demo_against_its_areas(lantern: Craft) -> None:
    """Every stock that a part names is there once; sheets lie between the area's bound and one for each piece."""
    found = needs(lantern.parts, lantern.design)
    named = {(p.stock, p.assembly == "bench") for p in lantern.parts if p.stock}
    assert sorted(named) == sorted((need.stock, need.bench) for need in found)
    for need in found:
        stock = lantern.design.stock[need.stock]
        if isinstance(stock, SheetStock) and stock.size and need.sheets is not None:
            assert need.amount / (stock.size[0] * stock.size[1]) <= need.sheets <= max(need.pieces, 1)


def test_a_wide_kerf_widens_the_gap(design: Design) -> None:
    parts = [flat("R1", (48.5, 28.5), assembly="hub", count=4)]
    assert only(needs(parts, design)).sheets == 1
    wide = design.model_copy(update={"laser": design.laser.model_copy(update={"kerf": {"board": 3.1}})})
    assert only(needs(parts, wide)).sheets == 2
