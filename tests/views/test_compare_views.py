"""The page, the CSV, the JSON and the picture of a comparison, each read back by something that didn't write it."""

from __future__ import annotations

import csv
import io
import json
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace

import pytest

from geomgen.judging.verdict import Weakest
from geomgen.model.groups import Group
from geomgen.render.data import csv_text
from geomgen.render.svg import svg
from geomgen.render.text import WIDEST, page_text
from geomgen.study.comparison import Comparison
from geomgen.views.compare import compare_page
from geomgen.views.compare_data import KEYS as HEAD
from geomgen.views.compare_data import compare_data, compare_sheet
from geomgen.views.compare_picture import STYLES, compare_picture, grouped, spread
from geomgen.views.drawing import Ring, Words

SVG = "{http://www.w3.org/2000/svg}"
KEYS = {
    "blade_mass_g", "craft_mass_g", "lift_mass_g", "cg_radius_mm", "cg_chordwise_mm", "static_moment_g_mm", "rpm",
    "tip_speed_m_s", "root_pull_n", "lift_coefficient", "air_density_kg_m3", "blade_kinds", "stocks", "cut_length_mm",
    "parts", "pieces", "bench_pieces", "glue_mass_g", "parts_with_notes", "rpm_by_mean_lift", "air_w", "minutes",
    "lift_left_percent", "to_buy", "money", "least_margin",
}  # fmt: skip
STOCK_KEYS = {
    "stock", "of", "kind", "bench", "pieces", "sheets", "lengths", "used_share", "area_mm2", "length_mm", "volume_mm3",
    "too_large", "offcuts",
}  # fmt: skip


# The page


def numbers(line: str) -> list[str]:
    return re.findall(r"[-+]?\d+\.\d\d(?!\d)", line)


def test_the_pages_differences_add_up_as_printed(options: Comparison) -> None:
    """Every column of every table of differences, in hundredths of a gram as printed, sums to its last row."""
    page = page_text(compare_page(options))
    for one in options.differences:
        block = page.split(f"{one.option} against {options.base}, ")[1].split("\n\n")[0]
        rows = [numbers(line)[:3] for line in block.split("\n")[3:] if not line.startswith((" ", "-"))]
        cents = [[round(float(number) * 100) for number in row] for row in rows]
        assert all(base + difference == option for base, option, difference in cents)
        *parts, total = cents
        assert [sum(column) for column in zip(*parts, strict=True)] == total
        assert total[2] == pytest.approx(100 * one.difference_g, abs=len(parts))
        assert total[0] == pytest.approx(100 * one.base_g, abs=len(parts))


def test_the_page_says_what_it_shows(options: Comparison) -> None:
    page = page_text(compare_page(options))
    for words in ("rpm that carries it", "static moment", "pull at the root", "length of cuts", "mean lift: T =",
                  "balsa_3 -> ply_2", "spar rear: gone", "1 sheet", "! Comparing", "! Spinning"):  # fmt: skip
        assert words in page, words
    assert max(map(len, page.split("\n"))) <= WIDEST and not re.search(r" $", page, re.MULTILINE)


def test_many_options_are_told_in_several_tables(options: Comparison) -> None:
    """Six options with long names: none lost, the base in each table, no line too wide."""
    names = ["base", *(f"an_option_with_a_rather_long_name_{k}" for k in range(6))]
    columns = tuple(replace(options.columns[0], name=name) for name in names)
    page = page_text(compare_page(replace(options, columns=columns, differences=())))
    heads = [line.split() for line in page.split("\n") if line.startswith("  ") and "base" in line.split()[:1]]
    assert len(heads) > 1 and all(head[0] == "base" for head in heads)
    assert [name for head in heads for name in head[1:]] == names[1:]
    assert max(map(len, page.split("What to have")[0].split("\n"))) <= WIDEST


def test_the_page_of_an_option_that_can_not_be_built(with_broken: Comparison) -> None:
    page = page_text(compare_page(with_broken))
    assert "holed: not buildable as it stands" in page and "leaves the section" in page
    assert "fewer against base" in page and "holed against" not in page


def test_inches_three_blades_clockwise(compared: Callable[..., Comparison]) -> None:
    """Lengths in inches, cuts and areas in feet, masses in oz: the same figures over 25.4, 304.8 and 28.349523125."""
    found = compared(
        "starter",
        '[option.fewer]\nblade.ribs.outer.every = "130 mm"\n',
        ("blades = 2", "blades = 3"),
        ('"anticlockwise"', '"clockwise"'),
    )
    page = page_text(compare_page(replace(found, units="in")))
    base = found.columns[0].figures
    assert base is not None and found.blades == 3
    row = {line[:28].strip(): line[28:].split() for line in page.split("\n") if line[:1].isalpha()}
    assert row["centre of gravity, out"][:2] == ["in", f"{base.cg_out_mm.typical / 25.4:.3f}"]
    assert row["length of cuts"][:2] == ["ft", f"{base.cut_mm / 304.8:.1f}"]
    assert row["static moment"][:2] == ["oz·in", f"{base.static_moment_g_mm.typical / 28.349523125 / 25.4:.2f}"]
    assert "centre of gravity" in picture(replace(found, units="in"))


def with_margins(found: Comparison, margins: list[float]) -> Comparison:
    """The same with made-up weakest links, of which the last option has none."""
    columns = []
    for column, margin in zip(found.columns, [*margins, None], strict=True):
        one = margin and Weakest(
            f"web of {column.name}", "sheared", "blade.ribs", 300.0, 3.0, margin, 2.0 * margin,
            ("blade.ribs.web", "2", "3"), 1.5 * margin, 40, int(margin < 1.0), 2,
        )  # fmt: skip
        assert column.figures is not None and column.verdict is not None
        figures, verdict = replace(column.figures, weakest=one), replace(column.verdict, weakest=one)
        columns.append(replace(column, figures=figures, verdict=verdict))
    return replace(found, columns=tuple(columns))


def test_the_weakest_link_stands_beside_the_mass(options: Comparison) -> None:
    """Margins by hand: 1.30, 0.84, 2.00, and an option whose loads aren't worked out."""
    found = with_margins(options, [1.3, 0.84, 2.0])
    names = [column.name for column in found.columns]
    page = page_text(compare_page(found))
    flat = " ".join(page.split())
    assert f"A margin is BELOW 1 in {names[1]}. Least: 0.84 at the factor of 3 in {names[1]}, web of" in flat
    table = page.split("Will each hold\n")[1].split("\n\n")[0]
    for column, margin in zip(found.columns[:3], ("1.30", "0.84", "2.00"), strict=True):
        assert column.figures is not None
        row = next(line for line in table.split("\n") if line.startswith(column.name))
        assert row.split()[1:4] == [f"{column.figures.blade_g.typical:.1f}", "3.0", margin]
        assert f"web of {column.name}: sheared; blade.ribs.web 2 to 3: " in " ".join(table.split())
    assert not any(line.startswith(names[3]) for line in table.split("\n"))
    (row,) = (line for line in page.split("\n") if line.startswith("least margin, at the factor asked"))
    assert row.split()[-4:] == ["1.30", "0.84", "2.00", "-"]
    assert "No margin that is known is below 1. Least: 1.30" in " ".join(
        page_text(compare_page(with_margins(options, [1.3, 1.4, 2.0]))).split()
    )
    told = compare_data(found)["options"]
    assert [one["figures"]["least_margin"] for one in told] == [1.3, 0.84, 2.0, None]
    assert told[1]["verdict"]["weakest"]["below"] == 1 and told[3]["verdict"]["weakest"] is None
    rows = list(csv.DictReader(io.StringIO(csv_text(compare_sheet(found)))))
    notes = {row["option"]: (row["typical"], row["note"]) for row in rows if row["item"] == "least margin"}
    assert notes[names[1]] == ("0.84", f"web of {names[1]}: sheared") and notes[names[3]] == ("", "")


# JSON


def test_json_has_stable_keys_and_the_figures(options: Comparison) -> None:
    told = json.loads(json.dumps(compare_data(options), allow_nan=False))
    assert set(told) == {"title", "base", "blades", "options", "differences", "formula", "warning"}
    for entry, column in zip(told["options"], options.columns, strict=True):
        assert set(entry) == {
            "option", "title", "construction", "buildable", "faults", "verdict", "warnings", "figures"
        }  # fmt: skip
        assert entry["verdict"]["lift_g"] == {
            end: entry["figures"]["lift_mass_g"][end] for end in ("low", "typical", "high")
        }
        assert entry["verdict"]["carrying_rpm"] == entry["figures"]["rpm"]
        assert [warning["path"] for warning in entry["warnings"]] == [warning.path for warning in column.warnings]
        assert set(entry["figures"]) == KEYS and column.figures is not None
        assert entry["figures"]["rpm"] == dict(zip(("low", "typical", "high"), column.figures.rpm, strict=True))
        assert all(set(need) == STOCK_KEYS for need in entry["figures"]["stocks"])
        assert entry["figures"]["blade_mass_g"]["likely_low"] == column.figures.blade_g.likely_low
    for entry in told["differences"]:
        assert set(entry) == {"option", "base", "base_g", "option_g", "difference_g", "kinds"}
        lines = [line for kind in entry["kinds"] for line in kind["lines"]]
        assert set(lines[0]) == {
            "name", "what", "on", "base_stock", "stock", "base_g", "option_g", "difference_g"
        }  # fmt: skip
        assert sum(line["difference_g"] for line in lines) == pytest.approx(entry["difference_g"], abs=1e-9)


def test_json_of_an_option_that_can_not_be_built(with_broken: Comparison) -> None:
    entry = compare_data(with_broken)["options"][1]
    assert entry["buildable"] is False and entry["figures"] is None and entry["faults"]


# CSV


def test_csv_read_back(options: Comparison, with_broken: Comparison) -> None:
    rows = list(csv.DictReader(io.StringIO(csv_text(compare_sheet(options)))))
    assert tuple(rows[0]) == HEAD and {row["table"] for row in rows} == {"figures", "kinds", "stocks", "lines"}
    for column in options.columns:
        mine = [row for row in rows if row["option"] == column.name]
        figures = {row["item"]: row for row in mine if row["table"] == "figures"}
        assert column.figures is not None
        assert float(figures["blade mass"]["high"]) == pytest.approx(column.figures.blade_g.high, abs=1e-6)
        assert figures["rpm by mean lift"]["unit"] == "1/min"
        kinds = sum(float(row["typical"]) for row in mine if row["table"] == "kinds")
        assert kinds == pytest.approx(column.figures.blade_g.typical, abs=1e-4)
        stocks = {row["item"]: row for row in mine if row["table"] == "stocks"}
        assert set(stocks) == {need.stock for need in column.figures.needs}
    for one in options.differences:
        lines = [row for row in rows if row["table"] == "lines" and row["option"] == one.option]
        assert sum(float(row["difference"]) for row in lines) == pytest.approx(one.difference_g, abs=1e-4)
    broken = list(csv.DictReader(io.StringIO(csv_text(compare_sheet(with_broken)))))
    assert any(row["table"] == "faults" and row["option"] == "holed" and "section" in row["note"] for row in broken)


# The picture


def picture(comparison: Comparison) -> str:
    return svg(compare_picture(comparison))


def texts(svg: str) -> list[str]:
    return ["".join(element.itertext()).strip() for element in ET.fromstring(svg).iter(f"{SVG}text")]


def test_picture_is_well_formed_and_the_same_every_time(options: Comparison) -> None:
    written = picture(options)
    assert written == picture(options)
    assert ET.fromstring(written).tag == f"{SVG}svg"
    assert not re.search(r"\d{4}-\d\d-\d\d|/home|/tmp", written)


def test_picture_tells_every_option_in_words_and_figures(options: Comparison) -> None:
    words = texts(picture(options))
    for column in options.columns:
        assert column.figures is not None
        assert column.name in words and f"{column.figures.blade_g.typical:.1f} g" in words
        assert f"{column.figures.rpm[1]:.0f}" in words
    for group, grams in grouped(options.columns[0].figures).items():  # type: ignore[arg-type]
        assert (group in words) == (grams > 0)


def test_bars_are_as_long_as_their_grams(options: Comparison) -> None:
    """Widths of the coloured boxes in the file, all in one scale, to the 0.01 mm that a corner is written to."""
    written = picture(options)

    def widths(group: Group) -> list[float]:
        boxes = re.findall(rf'<path class="{STYLES[group]}-fill paper"[^>]* d="([^"]*)"', written)
        xs = [[float(x) for x in re.findall(r"[ML]([-\d.]+) ", box)] for box in boxes]
        return [max(one) - min(one) for one in xs]

    scale = widths(Group.FITTINGS)[0] / 38.0  # a fan of 26 g and a light strip of 12 g
    for group in Group:
        grams = [grouped(column.figures)[group] for column in options.columns if column.figures is not None]
        assert widths(group) == pytest.approx([scale * one for one in grams if one > 0], abs=0.015, rel=2e-4)


def test_groups_hold_all_of_a_blade(shipped: Comparison) -> None:
    """No kind of part that the demo's options have is without a group."""
    for column in shipped.columns:
        if column.figures is not None:
            assert sum(grouped(column.figures).values()) == pytest.approx(column.figures.blade_g.typical)
            assert grouped(column.figures)[Group.OTHER] == 0.0, [kind.role for kind in column.figures.kinds]


def test_scales_are_in_the_unit_that_stands_above_them(options: Comparison) -> None:
    """Inches: dots stand where a straight line through two ticks of their scale puts their figure over 25.4."""
    drawing = compare_picture(replace(options, units="in"))
    words = [item for item in drawing.items if isinstance(item, Words)]
    start = next(item.at[0] for item in words if item.text == "out from the rotor axis, in")
    end = next(item.at[0] for item in words if item.text == "forward of the feather axis, in")
    foot = min(item.at[1] for item in words if item.anchor == "middle")
    ticks = [(item.at[0], float(item.text)) for item in words if item.at[1] == foot and start <= item.at[0] < end]
    dots = [item.center[0] for item in drawing.items if isinstance(item, Ring) and start <= item.center[0] < end]
    (x0, low), *_, (x1, high) = ticks
    figures = [column.figures.cg_out_mm.typical / 25.4 for column in options.columns if column.figures is not None]
    assert [low + (x - x0) * (high - low) / (x1 - x0) for x in dots] == pytest.approx(figures, rel=1e-6)


def test_odd_titles_are_text_and_nothing_else(options: Comparison) -> None:
    """Angle brackets and ampersands are no tags, and a letter without a font is the viewer's."""
    title = "Two for $5 <b>& more_$ 翼"
    assert title in texts(picture(replace(options, title=title)))


def test_picture_of_what_can_not_be_built(with_broken: Comparison) -> None:
    words = texts(picture(with_broken))
    assert "not buildable as it stands" in words and "holed" in words
    alone = replace(with_broken, columns=(with_broken.columns[1],), differences=())
    assert "holed" in texts(picture(alone))


def test_labels_stand_in_order_and_never_over_one_another() -> None:
    anchors, halves = [1.0, 2.0, 2.1, 2.2, 99.0], [3.0, 4.0, 5.0, 6.0, 4.0]
    middles = spread(anchors, halves, 0.0, 100.0)
    for k in range(4):
        assert middles[k + 1] - middles[k] >= halves[k] + halves[k + 1] - 1e-9
    assert middles[0] == 3.0 and middles[-1] == 96.0
