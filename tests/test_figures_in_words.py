"""Figures in words against factors fixed by definition: NIST SP 811, from memory where not said otherwise.

1 in = 25.4 mm, 1 ft = 304.8 mm, 1 lb = 453.59237 g, 1 oz = 1/16 lb, 1 lbf = 4.4482216152605 N; degF = 1.8 degC + 32.
"""

from __future__ import annotations

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geomgen import units
from geomgen.errors import Fault
from geomgen.figures import (
    at_least,
    at_most,
    bare,
    bound,
    figure,
    g,
    mm,
    name_in,
    newton,
    spelled,
    unit_of,
)
from geomgen.units import LENGTH, MASS, TEMPERATURE

LENGTHS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}

SAID = [  # what is written, in mm, in inches
    (mm(12.34, 1), "12.3 mm", "0.486 in"),
    (mm(3.0), "3 mm", "0.1181 in"),
    (mm(25.4 * 5 / 64), "1.98438 mm", "0.078125 in"),  # as a maker in inches wrote it
    (mm((230.0, 240.0, 300.0)), "230, 240 and 300 mm", "9.055, 9.449 and 11.81 in"),
    (mm((110.0, 20.0), 0, " x "), "110 x 20 mm", "4.33 x 0.79 in"),
    (mm(1 / 3, significant=3), "0.333 mm", "0.0131 in"),
    (mm(-0.001, 1), "0.0 mm", "0.000 in"),
    (g(120.0, 1), "120.0 g", "4.23 oz"),
    (g((931.2, 902.0, 960.0), 0, "{} {u} ({} to {})"), "931 g (902 to 960)", "2.05 lb (1.99 to 2.12)"),
    (g(453.59237, 0), "454 g", "1.00 lb"),
    (g(453.0, 0), "453 g", "16.0 oz"),
    (newton(4.4482216152605, 1), "4.4 N", "1.00 lbf"),
    (figure("m/s", 60.0, 0), "60 m/s", "197 ft/s"),
    (figure("kg/m3", 160.0), "160 kg/m3", "9.988 lb/ft3"),
    (figure("kg/m3", 16.018463373960142), "16.0185 kg/m3", "1 lb/ft3"),
    (figure("g/m2", 180.0, 0), "180 g/m2", "0.59 oz/ft2"),
    (figure("degC", 20.0), "20 degC", "68 degF"),
    (at_least(12.34, 1), "12.4 mm", "0.486 in"),
    (at_most(12.36, 1), "12.3 mm", "0.486 in"),
    (at_least(12.0, 1), "12 mm", "0.473 in"),
    (at_most(25.4, 1), "25.4 mm", "1 in"),
    (at_least(25.4 * 5 / 64), "1.9844 mm", "0.078125 in"),
    (unit_of("g"), "g", "oz"),
]


@pytest.mark.parametrize(("written", "metric", "imperial"), SAID)
def test_a_figure_is_spelled_in_either_system(written: str, metric: str, imperial: str) -> None:
    assert spelled(f"so {written}.") == f"so {metric}."
    assert spelled(f"so {written}.", "in") == f"so {imperial}."


@pytest.mark.parametrize("unit", LENGTHS)
@pytest.mark.parametrize("value", [0.052, 0.3, 7.9, 12.34, 99.96, 128.0001, 25.4, 1219.2])
@pytest.mark.parametrize("digits", [0, 1, None])
def test_a_bound_passes_as_written_in_any_unit(value: float, unit: str, digits: int | None) -> None:
    for said, ahead in ((at_least, 1.0), (at_most, -1.0)):
        number, name = spelled(said(value, digits), unit).split()
        off = ahead * (float(number) * LENGTHS[name] - value)
        last = 1e-4 * value if digits is None else 10.0**-digits
        assert name == unit and -1e-9 * value <= off <= 1.01 * last, (said(value), number)


@given(st.floats(-1e4, 1e4), st.sampled_from(("mm", "g", "degC")), st.sampled_from(tuple(LENGTHS)))
def test_what_is_told_reads_back(value: float, kind: str, unit: str) -> None:
    """As a maker would write it into the file."""
    told = spelled(figure(kind, value), unit)
    read = units.read(told, next(each for each in (LENGTH, MASS, TEMPERATURE) if each.house == kind))
    assert read == pytest.approx(value, rel=6e-4, abs=0.1 if kind == "degC" else 1e-12), told


def test_a_bound_of_another_kind_passes_too() -> None:
    assert float(spelled(bound("g", 1234.56, up=True), "in").split()[0]) * 453.59237 >= 1234.56
    assert spelled(bound("degC", 60.0, up=False), "in") == "140 degF"
    assert [spelled(bound("", 0.25, up=True), unit) for unit in ("mm", "in")] == ["0.25", "0.25"]


def test_texts_are_spelled_at_any_depth_and_left_alone_without_marks() -> None:
    fault = Fault("hub.wall", mm(2), f"leaves {mm(0.5, 2)}")
    assert str(fault) == "hub.wall = 2 mm: leaves 0.50 mm"
    assert spelled({"faults": [(fault, 1)]}, "in")["faults"][0][0].wrong == "leaves 0.0197 in"
    plain = ("as it is", [1.0, Fault("", "", "nothing")])
    assert spelled(plain, "in") is plain
    assert spelled(json.loads(json.dumps(fault.wrong, ensure_ascii=False)), "cm") == "leaves 0.050 cm"


FORGED = ("", "mm", "mm|6g|x|{}", "mm|6g|1.0|{0.real}", "mm|6g|1.0|{}{}", "mm|6g 1f|1.0|{}", "mm|6g|1.0.0|{}", "||||||")


@pytest.mark.parametrize("inside", FORGED)
def test_what_a_file_writes_is_no_mark(inside: str) -> None:
    """Characters of private use in a title or a name are never read as a figure."""
    assert spelled(f"a \ue000{inside}\ue002 b".replace("|", "\ue001"), "in") == "a  b"


def test_tables_have_one_unit_to_a_column() -> None:
    assert [bare("g", 867.0, 1, unit) for unit in ("mm", "in")] == ["867.0", "30.58"]
    assert bare("g mm", 28.349523125 * 25.4, 0, "in") == "1.00" and name_in("g mm", "in") == "oz·in"
    assert [name_in("mm2", unit) for unit in LENGTHS] == ["mm2", "cm2", "m2", "in2", "ft2"]
    assert name_in("rpm", "in") == "rpm" and math.isclose(float(bare("mm2", 645.16, 1, "in")), 1.0)
