"""Tables in columns."""

from __future__ import annotations

import pytest

from geomgen.report.table import fixed, length, mass, table


def test_columns_stand_in_line() -> None:
    rows = [["rib", "12", "3.50"], ["spar main", "1", "24.25"], ["together", "", "27.75"]]
    text = table(["part", "n", "g"], rows, left=1, foot=1)
    assert text.split("\n") == [
        "part        n      g",
        "--------------------",
        "rib        12   3.50",
        "spar main   1  24.25",
        "--------------------",
        "together       27.75",
    ]


def test_a_table_without_head() -> None:
    assert table(["", ""], [["a", "1"], ["bb", "22"]]) == "a    1\nbb  22"


@pytest.mark.parametrize(
    ("unit", "shown"), [("mm", "130.0"), ("cm", "13.00"), ("m", "0.1300"), ("in", "5.118"), ("ft", "0.4265")]
)
def test_lengths_in_the_designs_own_unit(unit: str, shown: str) -> None:
    assert length(130.0, unit) == shown


def test_no_minus_nought() -> None:
    assert fixed(-0.04, 1) == "0.0" and length(-1e-9, "mm") == "0.0"
    assert fixed(-0.06, 1) == "-0.1"


def test_masses_have_the_digits_they_are_worth() -> None:
    assert [mass(grams) for grams in (0.934, 9.994, 9.996, 24.06, 999.94, 1512.4)] == [
        "0.93", "9.99", "10.0", "24.1", "999.9", "1512",
    ]  # fmt: skip
