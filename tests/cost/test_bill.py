"""What one design takes and costs, counted and added up by hand: spares, a joint, the jig, prints, bought things."""

from __future__ import annotations

import csv
import io

import numpy as np
import pytest

from geomgen.cost.bill import Due, bill, total
from geomgen.craft import Craft
from geomgen.design.library import example_path
from geomgen.design.reader import read_text
from geomgen.figures import spelled
from geomgen.model.part import Flat, Length
from geomgen.model.role import Role
from geomgen.render.text import page_text
from geomgen.stock.need import Need
from geomgen.views.cut_list import bill_sections, cut_list_page, due_section
from geomgen.views.page import Page, Table

SPRUCE = """[stock.spruce_3x6]
kind = "length"
of = "spruce"
width = 3
height = 6
length = 500
spares = 1
price = 0.9
count = 4
"""
PLY = """[stock.ply_3]
kind = "sheet"
of = "birch ply"
thickness = 3
size = [800, 300]
spares = 5
price = 11
"""
EDITS = (
    ("[blade.ribs.root] ", '[blade.jig]\nfoot = 8\nclear = 14\nboard = "ply_3"\ngauge = "ply_3"\n[blade.ribs.root] '),
    (
        "[blade.channel.power] ",
        '[blade.spar.rear]\nstock = "spruce_3x6"\nchord = 0.62\nheight = "camber"\nfrom = 120\nto = 680\nfit = 0.1\n'
        'joint = { kind = "scarf" }\n[blade.channel.power] ',
    ),
    ("[glue]\n", '[money]\nof = "EUR"\n[glue]\n'),
    # one rib on each, which is 45 mm wide: the ribs' grain lies along it, and two are 50 mm and more side by side
    ("size  = [1000, 100]\n", "size  = [165, 45]\nspares = 1\nprice = 1.2\ncount = 30\n"),
    ("size = [600, 300]\n", "size = [600, 300]\nprice = 6.8\ncount = 3\n"),
    ("[stock.foam_sheet_2]\n", "[stock.foam_sheet_2]\nsize = [700, 450]\nspares = 1\nprice = 3.1\n"),
    ("[stock.carbon_tube_8]\n", f"{SPRUCE}{PLY}[stock.carbon_tube_8]\n"),
    ("inside  = 5\nlength  = 1000\n", "inside  = 5\nlength  = 1000\nprice = 4.2\n"),
    ('of      = "steel"\noutside = 3\n', 'of      = "steel"\noutside = 3\nlength = 1000\nprice = 2.5\n'),
    ('solid = "45 %" ', 'solid = "45 %"\ndensity = "1270 kg/m3"\nprice = 25\n#'),
    ("plus_minus = \"10 %\"\nfan  = \"small\"", "plus_minus = \"10 %\"\nprice = 12.5\nfan  = \"small\""),
    ('pack   = "main" ', 'pack   = "main"\nprice = 18\n#'),
    ("count  = 2\ncontrols", "count  = 2\nprice = 9.75\ncontrols"),
)  # fmt: skip
COUNTED = {  # how many it takes, of what unit, at hand, the price of one; blades: 2
    "ply_2": (2, "sheet", 3, 6.8),  # 4 ribs twice, 160 x 41 at most, 3 x 6 to a sheet; as many doublers on another
    "balsa_3": (27, "sheet", 30, 1.2),  # 9 ribs, of each 2 and a spare, one on a sheet
    "foam_sheet_2": (3, "sheet", 0, 3.1),  # 583 x 368 of 700 x 450: one on each, 2 and a spare
    "carbon_tube_8": (2, "length", 0, 4.2),  # 670 of 1000
    "spruce_3x6": (4, "length", 4, 0.9),  # three of 560 from 500: each one whole, and a rest, all rests from a fourth
    "steel_rod_3": (1, "length", 0, 2.5),  # 4 pins of 20
    "ply_3": (1, "sheet", 0, 11.0),  # board and gauges, which are on the bench: no spares
    "fitting fan": (2, "piece", 0, 12.5),
    "fitting battery": (1, "piece", 0, 18.0),
    "fitting speed_control": (2, "piece", 0, 9.75),
}


@pytest.fixture(scope="module")
def craft() -> Craft:
    """The starter with a price on everything, a jig, a rear spar from lengths that are too short, and spares."""
    return Craft(read_text(priced(), "mine.toml").design, exact=False)


def priced() -> str:
    text = example_path("starter").read_text(encoding="utf-8")
    for old, new in EDITS:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


@pytest.fixture(scope="module")
def lines(craft: Craft) -> dict[str, Due]:
    return {line.name: line for line in craft.bill}


def test_the_counts_rest_on_sizes_that_can_be_held_against_sheets(craft: Craft) -> None:
    """What the comments beside the counts say of the parts."""
    sizes: dict[str, list[tuple[float, float]]] = {}
    for part in craft.finished:
        if isinstance(part.shape, Flat):
            x0, y0, x1, y1 = part.shape.region.bounds()
            sizes.setdefault(part.stock, []).append((x1 - x0, y1 - y0))
    assert len(sizes["ply_2"]) == 8 and all(long < 161 and high < 42 for long, high in sizes["ply_2"])
    assert len(sizes["balsa_3"]) == 9 and all(82.5 < long < 165 and 25 < high < 41 for long, high in sizes["balsa_3"])
    assert [(round(long), round(high)) for long, high in sizes["foam_sheet_2"]] == [(582, 368)]
    board, *gauges = sorted(sizes["ply_3"], reverse=True)
    assert len(gauges) == 13 and board < (630.0, 120.0) and all(long < 151 and high < 36 for long, high in gauges)
    assert 120 + 3 + 3 * (36 + 3) < 300 and 5 * (151 + 3) < 800  # the board, and five gauges beside each other, thrice
    (rear,) = (part for part in craft.finished if part.stock == "spruce_3x6")
    assert isinstance(rear.shape, Length) and 560.0 < rear.shape.length_mm < 560.5
    rest = rear.shape.length_mm - (500.0 - 12 * 6.0)  # a scarf of 1 in 12 over 6 mm is lost
    assert 3 * rest + 2 * 1.0 < 500.0


def test_every_line_by_hand(lines: dict[str, Due]) -> None:
    assert lines.keys() == COUNTED.keys() | {"print_petg"}
    for name, (takes, unit, at_hand, price) in COUNTED.items():
        line = lines[name]
        assert (line.takes, line.unit, line.at_hand, line.price) == (takes, unit, at_hand, price), name
        assert line.to_buy == max(takes - at_hand, 0)
        assert line.costs == pytest.approx(takes * price)
        assert line.still_costs == pytest.approx(max(takes - at_hand, 0) * price)


def test_kilograms_of_print_by_its_meshes(lines: dict[str, Due]) -> None:
    """Volumes by the divergence theorem over the triangles that are written, 45 % of 1270 kg/m3; the coupon too."""
    craft, grams = Craft(read_text(priced(), "mine.toml").design), 0.0
    for part in craft.printed_parts:
        a, b, c = craft.meshes[part.key].corners().transpose(1, 0, 2)
        volume_mm3 = np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0
        blades = {"blade": 2}.get(part.assembly, 1)
        grams += blades * part.count * volume_mm3 * 0.45 * 1270e-6
    (line,) = (line for line in craft.bill if line.name == "print_petg")
    assert {part.role for part in craft.printed_parts} >= {Role.HUB, Role.COUPON, Role.TURNING_CAP, Role.FIXED_CAP}
    assert (line.unit, line.at_hand, line.price) == ("kg", 0.0, 25.0)
    assert 1.0 <= line.takes / (grams * 1e-3) < 1.004  # letters and countersinks are left in: nobody buys by them
    assert lines["print_petg"].takes == pytest.approx(line.takes, rel=0.01)  # the hub by closed sums
    assert 60 < grams < 160


def test_the_total_by_hand(craft: Craft, lines: dict[str, Due]) -> None:
    printed = 25.0 * lines["print_petg"].takes
    by_hand = 2 * 6.8 + 27 * 1.2 + 3 * 3.1 + 2 * 4.2 + 4 * 0.9 + 2.5 + 11.0 + 2 * 12.5 + 18.0 + 2 * 9.75
    assert by_hand == pytest.approx(143.3)
    assert total(craft.bill, to_buy=False) == (pytest.approx(by_hand + printed), 0)
    at_hand = 2 * 6.8 + 27 * 1.2 + 4 * 0.9  # ply, balsa and spruce are there
    assert total(craft.bill, to_buy=True) == (pytest.approx(by_hand - at_hand + printed), 0)


def test_the_table(craft: Craft, lines: dict[str, Due]) -> None:
    ((title, table, words),) = bill_sections(craft)
    assert title == "What it takes, and what it costs" and isinstance(table, Table)
    text = [" ".join(line.split()) for line in page_text(cut_list_page(craft)).splitlines()]
    assert "what material it takes at hand to buy one, EUR all, EUR still, EUR" in text
    assert "balsa_3 balsa 27 sheets 30 sheets 0 sheets 1.20 32.40 0.00" in text
    assert "spruce_3x6 spruce 4 lengths 4 lengths 0 lengths 0.90 3.60 0.00" in text
    assert "ply_2 birch ply 2 sheets 3 sheets 0 sheets 6.80 13.60 0.00" in text
    assert "carbon_tube_8 carbon tube 2 lengths 2 lengths 4.20 8.40 8.40" in text
    assert "fitting speed_control 2 pieces 2 pieces 9.75 19.50 19.50" in text
    grams = lines["print_petg"].takes * 1e3
    assert f"print_petg PETG, printed {grams:.0f} g {grams:.0f} g 25.00 {grams * 0.025:.2f} {grams * 0.025:.2f}" in text
    assert f"all {143.3 + grams * 0.025:.2f} {93.7 + grams * 0.025:.2f}" in text
    assert isinstance(words, str) and "joints and spares counted in" in words


# By hand-made needs


def need(name: str, kind: str, **given: object) -> Need:
    plain = {
        "bench": False,
        "pieces": 1,
        "sheets": None,
        "lengths": None,
        "used_share": None,
        "amount": 0.0,
        "unit": "mm",
    }
    return Need(name, "birch ply", kind, **{**plain, **given})  # type: ignore[arg-type]


def test_what_flies_and_the_bench_are_one_line(craft: Craft) -> None:
    """And off-cuts cost nothing."""
    needs = [need("ply_2", "sheet", sheets=2, offcuts=1), need("ply_2", "sheet", bench=True, sheets=3, offcuts=2)]
    (line,) = bill(needs, [], craft.design)
    assert (line.takes, line.offcuts, line.at_hand, line.to_buy) == (5.0, 3, 3.0, 2.0)
    assert (line.costs, line.still_costs) == (pytest.approx(34.0), pytest.approx(13.6))
    _, table, _ = due_section([line], "EUR")
    assert isinstance(table, Table)
    assert table.rows[0][2] == "5 sheets and 3 off-cuts"


def test_of_unknown_size_it_is_told_by_area_and_length(craft: Craft) -> None:
    """1.25 m2 and 2.5 m, and no price can be had; in a design in inches 13.45 ft2 and 8.20 ft: 0.3048 m to a foot."""
    sheet, rod = craft.design.stock["ply_2"], craft.design.stock["steel_rod_3"]
    loose = {"ply_2": sheet.model_copy(update={"size": None}), "rod": rod.model_copy(update={"length": None})}
    design = craft.design.model_copy(update={"stock": loose})
    lines = bill([need("ply_2", "sheet", amount=1.25e6), need("rod", "length", amount=2500.0)], [], design)
    assert [(line.takes, line.unit, line.price, line.costs) for line in lines] == [
        (1.25, "m2", None, None),
        (2.5, "m", None, None),
    ]
    assert total(lines, to_buy=False) == (0.0, 2)
    section = due_section(lines, "")
    _, table, _ = section
    assert isinstance(table, Table)
    assert [row[2] for row in spelled(table.rows, "mm")] == ["1.25 m2", "2.5 m"]
    told = page_text(Page((section,), "in"))
    assert f"{1.25 / 0.3048**2:.2f} ft2" in told and f"{2.5 / 0.3048:.1f} ft" in told


def test_what_has_no_price_is_said_of_the_sum(craft: Craft) -> None:
    lines = [Due("a", "", 2.0, "piece", 0.0, 3.5), Due("b", "", 1.0, "piece", 0.0, None)]
    assert total(lines, to_buy=True) == (7.0, 1)
    _, table, _ = due_section(lines, "")
    assert isinstance(table, Table)
    assert table.rows[-1][:2] == ("all", "without 1 that have no price")
    _, bare, words = due_section(lines[1:], "")
    assert isinstance(bare, Table) and len(bare.rows) == 1 and isinstance(words, str) and "price" not in words


def test_the_csv_beside_it_has_a_row_for_each_sheet(craft: Craft) -> None:
    from geomgen.render.data import csv_text
    from geomgen.views.cut_list import cut_sheet

    rows = list(csv.DictReader(io.StringIO(csv_text(cut_sheet(craft)))))
    taken = {name: count for name, (count, unit, *_) in COUNTED.items() if unit == "sheet"}
    assert {name: sum(row["stock"] == name for row in rows) for name in taken} == taken
    assert {row["holds"] for row in rows if row["stock"] == "ply_3"} == {"bench"}
