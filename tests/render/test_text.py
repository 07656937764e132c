"""Pages as text: tables in columns, lists wrapped under themselves, figures in their quantity."""

from __future__ import annotations

import pytest

from geomgen.figures import fixed
from geomgen.render.text import page_text, table_text
from geomgen.views.page import Item, Page, Table, as_columns
from geomgen.views.quantity import Amount, Length, Mass, Number, Span


def test_columns_stand_in_line() -> None:
    rows = (("rib", 12, Number(3.5, 2)), ("spar main", 1, Number(24.25, 2)), ("together", "", Number(27.75, 2)))
    text = table_text(Table(as_columns("part", "n", "g"), rows, left=1, foot=1), "mm")
    assert text.split("\n") == [
        "part        n      g",
        "--------------------",
        "rib        12   3.50",
        "spar main   1  24.25",
        "--------------------",
        "together       27.75",
    ]


def test_a_table_without_head() -> None:
    assert table_text(Table(as_columns("", ""), (("a", "1"), ("bb", "22"))), "mm") == "a    1\nbb  22"


def test_words_behind_a_row_are_wrapped_beside_the_table() -> None:
    behind = ("few", "word " * 40, "")
    text = table_text(Table(as_columns("x", "r, mm"), tuple((k, Length(25.4)) for k in range(3)), 1, 0, behind), "in")
    lines = text.split("\n")
    assert lines[0] == "x  r, in" and lines[2] == "0  1.000   few" and lines[-1] == "2  1.000"
    assert all(line.startswith(" " * 11 + "word") and len(line) <= 110 for line in lines[4:-1])


def test_lists_stand_under_themselves() -> None:
    items = (Item("note", "note " * 30), Item("caution", "care " * 30), Item("step", "do", "7"), Item("takes", "[rib]"))
    lines = page_text(Page((("Title", *items), ("next",)))).split("\n")
    assert lines[0] == "Title" and lines[-2:] == ["", "next"] and lines[-4:-2] == [" 7. do", "    [rib]"]
    assert lines[1].startswith("  note") and lines[2].startswith("    note")
    assert lines[3].startswith("! care") and lines[4].startswith("  care")


def test_figures_in_their_quantity() -> None:
    assert Amount(35_200.0, "mm2").shown("mm") == "352.0 cm2" and Amount(645.16, "mm2").shown("ft") == "1.0 in2"
    assert Amount(2e6, "mm2", bought=True).shown("cm") == "2.00 m2" and Amount(746.0, "mm").shown("mm") == "746.0 mm"
    assert Number(0.5, 1, signed=True).shown("mm") == "+0.5"
    assert Span(Mass(9.0), Mass(11.0)).shown("mm") == "9.00 to 11.0"


@pytest.mark.parametrize(
    ("unit", "shown"), [("mm", "130.0"), ("cm", "13.00"), ("m", "0.1300"), ("in", "5.118"), ("ft", "0.4265")]
)
def test_lengths_in_the_designs_own_unit(unit: str, shown: str) -> None:
    assert Length(130.0).shown(unit) == shown


def test_no_minus_nought() -> None:
    assert fixed(-0.04, 1) == "0.0" and Length(-1e-9).shown("mm") == "0.0"
    assert fixed(-0.06, 1) == "-0.1"


def test_masses_have_the_digits_they_are_worth() -> None:
    assert [Mass(grams).shown("mm") for grams in (0.934, 9.994, 9.996, 24.06, 999.94, 1512.4)] == [
        "0.93", "9.99", "10.0", "24.1", "999.9", "1512",
    ]  # fmt: skip
