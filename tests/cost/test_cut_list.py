"""The cut list: lengths of cuts by closed forms, minutes by hand, areas by shapely; its tables as text and CSV."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
import shapely

from geomgen.cost.cut_list import SheetLine, cut_list
from geomgen.craft import Craft
from geomgen.design.schema import Design, SheetStock
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region
from geomgen.render.data import csv_text
from geomgen.render.text import page_text
from geomgen.stock.laying import lay
from geomgen.stock.sheets import Laid, Layout, Sheet
from geomgen.stock.tool import Tool
from geomgen.views.cut_list import cut_sheet, sheet_sections
from geomgen.views.make import sheets_to_cut
from geomgen.views.page import Page

SPEEDS = (
    "[glue]\n",
    '[laser]\nspeed = { ply_2 = "12 mm/s", balsa_3 = "1.2 m/min" }\nkerf = { balsa_3 = 0.15 }\n[glue]\n',
)


def board(name: str, long: float, wide: float, *holes: tuple[float, float, float], **given: Any) -> Part:
    outline = from_points([(0, 0), (long, 0), (long, wide), (0, wide)], closed=True)
    flat = Flat(Region(outline, tuple(Circle((x, y), r) for x, y, r in holes)), 3.0)
    role, stock, count = given.get("role", Role.RIB), given.get("stock", "board"), given.get("count", 1)
    return Part(name, role, stock, "hub.x", flat, Assembly.HUB, count, np.array([[1.0, 0, 0, 0]]), mark=(name,))


PLATE = board("plate", 80.0, 50.0, (20.0, 20.0, 5.0), (60.0, 30.0, 10.0), count=2)
STRIP = board("strip", 100.0, 10.0)
FOAM = board("foam", 40.0, 30.0, stock="foam")
PARTS = (STRIP, PLATE, FOAM)
PLATE_MM = 2 * (80 + 50) + 2 * math.pi * (5 + 10)
PLATE_MM2 = 80 * 50 - math.pi * (5**2 + 10**2)


@pytest.fixture(scope="module")
def design(lantern: Craft) -> Design:
    """The demo with a sheet for the laser, and one for the knife."""
    plain = {"kind": "sheet", "thickness": 3.0, "size": (300.0, 100.0), "grain": None}
    stocks = {
        "board": SheetStock.model_construct(of="balsa", **plain),
        "foam": SheetStock.model_construct(of="extruded polystyrene", **plain),
    }
    shop = {"gap": 3.0, "edge": 2.0, "bed": None, "kerf": {}, "speed": {"board": 8.0, "foam": 8.0}, "done": ()}
    laser = lantern.design.laser.model_copy(update=shop)
    return lantern.design.model_copy(update={"stock": {**lantern.design.stock, **stocks}, "laser": laser})


@pytest.fixture(scope="module")
def lines(design: Design) -> tuple[SheetLine, ...]:
    return cut_list(lay(PARTS, design), PARTS, design)


def test_lengths_areas_and_minutes_by_hand(lines: tuple[SheetLine, ...]) -> None:
    wood, foam = lines
    assert (wood.pieces, wood.parts) == (3, ((STRIP.key, 0, 1, 1), (PLATE.key, 0, 1, 2)))
    assert wood.cut_mm == pytest.approx(2 * (100 + 10) + 2 * PLATE_MM, abs=1e-9)
    assert wood.in_parts_mm2 == pytest.approx(100 * 10 + 2 * PLATE_MM2, abs=1e-9)
    assert wood.used_share == pytest.approx(wood.in_parts_mm2 / 30_000)
    assert wood.minutes == pytest.approx((220 + 2 * PLATE_MM) / 8.0 / 60.0)
    assert (wood.cut_by, wood.done) == (Tool.LASER, False)
    assert foam.cut_by is Tool.KNIFE and foam.minutes is None  # nobody cuts by hand at 8 mm/s
    assert foam.cut_mm == pytest.approx(140.0)


def test_the_length_used_ends_at_the_farthest_part(design: Design) -> None:
    """A strip turned upright about its corner, moved to x 150: it ends there; and again as far as it keeps from the
    edge, never beyond the sheet."""
    laid = Laid(STRIP.key, 1, (150.0, 0.0), 90.0)
    sheet = Sheet("board", 1, (300.0, 100.0), "flies", False, 3.0, 2.0, (laid,))

    def used(*more: Laid) -> float:
        (line,) = cut_list(Layout((replace(sheet, laid=(laid, *more)),)), PARTS, design)
        return line.used_mm

    assert used() == pytest.approx(150.0 + 2.0)
    assert used(replace(laid, copy=2, at=(180.0, 0.0), turn_deg=0.0)) == pytest.approx(282.0)
    assert used(replace(laid, copy=2, at=(199.0, 0.0), turn_deg=0.0)) == 300.0


def test_no_speed_no_minutes_and_what_is_cut_already(design: Design) -> None:
    laser = design.laser.model_copy(update={"speed": {}, "done": ("board 1",)})
    wood, foam = cut_list(lay(PARTS, design), PARTS, design.model_copy(update={"laser": laser}))
    assert (wood.minutes, wood.done, foam.done) == (None, True, False)


def test_what_is_no_part_any_more_counts_as_a_piece_that_was_cut(design: Design) -> None:
    layout = lay(PARTS, design)
    wood = cut_list(layout, (PLATE, FOAM), design)[0]
    assert (wood.pieces, wood.parts) == (3, ((PLATE.key, 0, 1, 2),))
    assert wood.cut_mm == pytest.approx(2 * PLATE_MM)


# Of a craft


@pytest.fixture(scope="module")
def craft(craft_of: Any) -> Craft:
    """The starter with speeds."""
    found: Craft = craft_of("starter", SPEEDS)
    return found


def told(craft: Craft) -> str:
    """The tables of sheets as text; that of money would have the hub's solid built."""
    return page_text(Page(tuple(sheet_sections(craft)), craft.design.units or "mm"))


def test_a_crafts_sheets_against_shapely(craft: Craft) -> None:
    """Lengths and areas of what shapely makes of the parts' outlines, in chords within 0.001 mm."""
    shapes = {
        part.key: part.shape.region.to_shapely(0.001) for part in craft.flat_parts if isinstance(part.shape, Flat)
    }
    assert [line.sheet.name for line in craft.cut_list] == ["ply_2 1", "ply_2 2", "balsa_3 1"]
    for line, speed in zip(craft.cut_list, (12.0, 12.0, 20.0), strict=True):
        there = [shapes[laid.key] for laid in line.sheet.laid]
        assert line.cut_mm == pytest.approx(sum(shape.length for shape in there), rel=1e-4)
        assert line.in_parts_mm2 == pytest.approx(shapely.area(there).sum(), rel=1e-3)
        assert line.minutes == pytest.approx(line.cut_mm / speed / 60.0)


def test_the_table_and_its_sums(craft: Craft) -> None:
    ply, more, balsa = craft.cut_list
    text = [" ".join(line.split()) for line in told(craft).splitlines()]
    assert "sheet cut by size parts used length used, mm cuts min" in text
    for line, holds, size in ((ply, "", "600 x 300"), (more, "doublers ", "600 x 300"), (balsa, "", "1000 x 100")):
        metres, share = f"{line.cut_mm / 1e3:.2f} m", f"{100 * line.used_share:.0f} %"
        row = f"{line.sheet.name} laser {holds}{size} mm {line.pieces} {share} {line.used_mm:.0f} {metres}"
        assert f"{row} {line.minutes:.1f}" in text
    area = 100 * (ply.in_parts_mm2 + more.in_parts_mm2 + balsa.in_parts_mm2) / (2 * 600 * 300 + 1000 * 100)
    assert ply.minutes is not None and more.minutes is not None and balsa.minutes is not None
    metres, minutes = sum(line.cut_mm for line in craft.cut_list) / 1e3, ply.minutes + more.minutes + balsa.minutes
    assert f"all {ply.pieces + more.pieces + balsa.pieces} {area:.0f} % {metres:.2f} m {minutes:.1f}" in text
    assert "ply_2 1: 2 rib R01, 2 rib R02, 2 rib R03, 2 rib R12" in text
    assert "Minutes: those cuts at your speed, without marks and ways between." in told(craft)


def test_the_csv(craft: Craft) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(cut_sheet(craft)))))
    for row, line in zip(rows, craft.cut_list, strict=True):
        assert (row["sheet"], row["stock"], row["cut_by"]) == (line.sheet.name, line.sheet.stock, "laser")
        assert (row["done"], row["offcut"], row["holds"]) == (
            "no", "no", "doublers" if line.sheet.name == "ply_2 2" else "flies",
        )  # fmt: skip
        assert (float(row["length_mm"]), float(row["width_mm"])) == line.sheet.size
        assert int(row["pieces"]) == line.pieces
        assert float(row["cut_mm"]) == pytest.approx(line.cut_mm, abs=1e-5)
        assert float(row["minutes"]) == pytest.approx(line.minutes, abs=1e-5)
        assert float(row["used_share"]) == pytest.approx(line.used_share, abs=1e-5)
    assert rows[0]["parts"] == "2 rib R01, 2 rib R02, 2 rib R03, 2 rib R12"


def test_without_speeds_there_is_no_column_of_minutes(craft_of: Any) -> None:
    craft: Craft = craft_of("starter")
    text = told(craft)
    assert "Minutes" not in text and " min" not in text.splitlines()[1]
    rows = list(csv.DictReader(io.StringIO(csv_text(cut_sheet(craft)))))
    assert {row["minutes"] for row in rows} == {""}


def test_a_sum_of_minutes_says_what_it_leaves_out(craft: Craft, craft_of: Any) -> None:
    """Ply with a speed, balsa without."""
    some: Craft = craft_of("starter", ("[glue]\n", '[laser]\nspeed = { ply_2 = "12 mm/s" }\n[glue]\n'))
    left_out = "Sheets whose speed isn't stated have none, and count none in the sum."
    for each, says in ((some, True), (craft, False)):
        assert (left_out in " ".join(told(each).split())) is says
        (words,) = sheets_to_cut(each)[0]
        assert ("min of cuts on the laser where a speed is stated" in str(words)) is says


def test_a_sheet_of_a_design_in_inches(kite_day: Craft) -> None:
    """Sizes in the page are in its own system, 25.4 mm to an inch; those of the CSV are in mm, as their heads say."""
    text = told(kite_day)
    rows = list(csv.DictReader(io.StringIO(csv_text(cut_sheet(kite_day), "in"))))
    assert " mm" not in text and "length used, in" in text
    for row, line in zip(rows, kite_day.cut_list, strict=True):
        assert float(row["length_mm"]) == pytest.approx(line.sheet.size[0])
        long, wide = (side / 25.4 for side in line.sheet.size)
        assert f"{long:g} x {wide:g} in" in text
