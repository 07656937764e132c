"""Every closed form against the check values of the project's own table, and over arrays."""

from __future__ import annotations

import ast
import inspect
import re
from pathlib import Path

import numpy as np
import pytest
from known_figures import ROWS, Row

from geomgen.strength import formulas
from geomgen.strength.formulas.cell import cell_gj_nmm2
from geomgen.strength.formulas.glue import SCARF_AT_MOST, scarf_cap
from geomgen.strength.formulas.pin import circle_pin_n
from geomgen.strength.formulas.screw import clamp_torque_nmm, thread_that_bears
from geomgen.strength.formulas.tube import tube_section
from geomgen.strength.formulas.wood import strength_at_mpa

FILES = [file for file in sorted(Path(formulas.__file__).parent.glob("*.py")) if file.name != "values.py"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.form.__name__} {row.what}")
def test_a_known_figure(row: Row) -> None:
    """The table's own figure, worked out there before this code was written; as exact as it is printed."""
    assert float(row.form(*row.arguments)) == pytest.approx(row.comes_to, rel=row.within)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.form.__name__} {row.what}")
def test_arrays_broadcast(row: Row) -> None:
    """Any argument may be an array: each value in it comes to what it comes to by itself."""
    for place, argument in enumerate(row.arguments):
        if not isinstance(argument, float):
            continue
        others = argument * np.array([[1.0, 0.99, 0.98], [0.97, 1.0, 0.995]])
        rest = list(row.arguments)
        alone = [[row.form(*rest[:place], one, *rest[place + 1 :]) for one in line] for line in others]
        assert row.form(*rest[:place], others, *rest[place + 1 :]) == pytest.approx(np.array(alone), rel=1e-12)


def test_tube_of_ten_and_eight() -> None:
    """10 x 8: I 289.8 mm4; EI 34.8 N m2 at 120 GPa, GJ 2.34 N m2 at 4.04 GPa (the table)."""
    section = tube_section(10.0, 8.0)
    assert section.second_mm4 == pytest.approx(289.8, abs=0.05)
    assert 120e3 * section.second_mm4 * 1e-6 == pytest.approx(34.8, abs=0.05)
    assert 4.04e3 * section.torsion_mm4 * 1e-6 == pytest.approx(2.34, abs=0.005)


def test_box_by_bredt() -> None:
    """Box 60 x 15, t 1.5, G 100: GJ 3.24 N m2; 1 N m turns it 17.7 deg/m (the table)."""
    gj = float(cell_gj_nmm2(900.0, np.array([60.0, 15.0, 60.0, 15.0]), 1.5, 100.0)) * 1e-6
    assert gj == pytest.approx(3.24, abs=0.005)
    assert np.degrees(1.0 / gj) == pytest.approx(17.7, abs=0.05)


def test_clamp() -> None:
    """F 500, mu .2, D 10: 2.0 to 3.1 N m (the table)."""
    least, greatest = clamp_torque_nmm(500.0, 0.2, 10.0)
    assert (least * 1e-3, greatest * 1e-3) == (pytest.approx(2.0), pytest.approx(3.14, abs=0.01))


def test_thread_past_two_and_a_half_diameters_is_not_counted() -> None:
    assert thread_that_bears(3.0, np.array([5.0, 7.5, 8.0])) == pytest.approx([5.0, 7.5, 7.5])


def test_pins_round_a_circle_hold_the_twist() -> None:
    """Sum of force times radius is the twist, whatever their number (equilibrium)."""
    pins = np.array([1.0, 2.0, 6.0])
    assert pins * circle_pin_n(700.0, 24.0, pins) * 12.0 == pytest.approx(700.0)


def test_strength_at_an_angle_lies_between() -> None:
    """Hankinson: its two ends, and at 45 deg twice the product over the sum."""
    angles = np.array([0.0, 45.0, 90.0])
    assert strength_at_mpa(31.8, 22.8, angles) == pytest.approx([31.8, 2 * 31.8 * 22.8 / 54.6, 22.8])


def test_no_scarf_counts_for_more_than_its_cap() -> None:
    slopes = np.linspace(0.0, 60.0, 200)
    assert np.all(np.diff(scarf_cap(slopes)) >= 0.0) and scarf_cap(slopes).max() == SCARF_AT_MOST


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_form_says_units_and_source(file: Path) -> None:
    """Each argument is described, numbers with a unit in brackets; each form has a source."""
    public = [
        node
        for node in ast.parse(file.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    ]
    for form in public:
        words = inspect.cleandoc(ast.get_docstring(form) or "")
        told = {}
        for line in re.findall(r"^([\w, ]+?) *: (.*(?:\n {2,}.*)*)", words, re.MULTILINE):
            told |= dict.fromkeys(line[0].split(", "), line[1])
        for argument in form.args.args:
            kind = ast.unparse(argument.annotation) if argument.annotation else ""
            assert argument.arg in told, f"{file.stem}.{form.name}: {argument.arg}"
            if kind in ("Values", "float"):
                assert re.search(r"\[[^\]]+\]", told[argument.arg]), f"{file.stem}.{form.name}: unit of {argument.arg}"
        assert "source" in told, f"{file.stem}.{form.name}: source"
