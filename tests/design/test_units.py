"""Quantities as text. Exact figures: the international yard and pound of 1959, as in NIST SP 811, appendix B."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geomgen import units
from geomgen.units import ANGLE, AREAL, DENSITY, LENGTH, LINEAR, MASS, SHARE, SPEED, TEMPERATURE, Kind, UnitError

EXACT = [
    ("1 in", LENGTH, 25.4),
    ("1 ft", LENGTH, 304.8),
    ("3/32 in", LENGTH, 2.38125),
    ("1 1/4 in", LENGTH, 31.75),
    ("1-1/4 in", LENGTH, 31.75),
    ("-1 1/4 in", LENGTH, -31.75),
    ("- 3/4in", LENGTH, -19.05),
    ("12.5 cm", LENGTH, 125.0),
    (".5 m", LENGTH, 500.0),
    ("1e2 mm", LENGTH, 100.0),
    ("1 lb", MASS, 453.59237),
    ("1 oz", MASS, 28.349523125),
    ("1 1/2 kg", MASS, 1500.0),
    ("180 deg", ANGLE, 180.0),
    ("8°", ANGLE, 8.0),
    (f"{math.pi!r} rad", ANGLE, 180.0),
    ("1 kg/m2", AREAL, 1000.0),
    ("310 g/m²", AREAL, 310.0),
    ("1 oz/yd2", AREAL, 33.905747),  # NIST SP 811: 3.390 575 E-02 kg/m2
    ("1 oz/ft2", AREAL, 305.151727),  # NIST SP 811: 3.051 517 E-01 kg/m2
    ("1 g/cm3", DENSITY, 1000.0),
    ("160 kg/m³", DENSITY, 160.0),
    ("1 lb/ft3", DENSITY, 16.01846),  # NIST SP 811: 1.601 846 E+01
    ("1 kg/m", LINEAR, 1000.0),
    ("1 oz/ft", LINEAR, 93.010246),  # 28.349523125 g / 0.3048 m
    ("260 rpm", SPEED, 260.0),
    ("68 degF", TEMPERATURE, 20.0),
    ("-40 °F", TEMPERATURE, -40.0),
    ("2 °C", TEMPERATURE, 2.0),
    ("94 %", SHARE, 0.94),
    ("12.5%", SHARE, 0.125),
]


@pytest.mark.parametrize(("text", "kind", "value"), EXACT, ids=[row[0] for row in EXACT])
def test_text_is_read_by_exact_definitions(text: str, kind: Kind, value: float) -> None:
    assert units.read(text, kind) == pytest.approx(value, rel=3e-7 if kind in (AREAL, DENSITY, LINEAR) else 1e-15)


def test_a_percentage_is_the_nearest_number_to_its_share() -> None:
    assert [units.read(f"{n} %", SHARE) for n in range(101)] == [n / 100 for n in range(101)]


def test_a_bare_number_takes_the_unit_it_is_given_and_none_without() -> None:
    assert units.read(2, LENGTH, bare="in") == 50.8
    assert units.read("3/32", LENGTH, bare="in") == pytest.approx(2.38125, rel=1e-15)
    assert units.read(0.25, SHARE, bare="") == 0.25
    with pytest.raises(UnitError, match="has no unit"):
        units.read(2, LENGTH)
    with pytest.raises(UnitError, match="has no unit"):
        units.read("2", MASS)


@pytest.mark.parametrize(
    ("value", "kind", "word"),
    [
        ("4 deg", LENGTH, "is an angle, not a length"),
        ("4 furlong", LENGTH, 'a unit we don\'t know, "furlong"'),
        ("1,5 mm", LENGTH, 'write "1.5 mm"'),
        ("3/0 in", LENGTH, "divides by 0"),
        ("", LENGTH, "is not a length"),
        ("mm", LENGTH, "is not a length"),
        ("nan mm", LENGTH, "is not a length"),
        ("inf", LENGTH, "is not a length"),
        ("1e999 mm", LENGTH, "finite"),
        ("1" * 100_000 + "! mm", LENGTH, "too long"),
        ("1 2 mm", LENGTH, "is not a length"),
        ("1 1/4 1/2 in", LENGTH, "is not a length"),
        ("٣ mm", LENGTH, "is not a length"),
        (float("nan"), LENGTH, "finite"),
        (float("inf"), LENGTH, "finite"),
        (10**400, LENGTH, "finite"),
        (True, LENGTH, "is not a length"),
        (None, LENGTH, "is not a length"),
        ([1], LENGTH, "is not a length"),
    ],
)
def test_what_is_no_quantity_is_refused(value: object, kind: Kind, word: str) -> None:
    with pytest.raises(UnitError) as caught:
        units.read(value, kind, bare="mm")
    assert word in str(caught.value)


@given(st.integers(0, 400), st.integers(0, 63), st.sampled_from((2, 4, 8, 16, 32, 64)), st.sampled_from((" ", "-")))
def test_fractions_add_up(whole: int, over: int, under: int, join: str) -> None:
    assert units.read(f"{whole}{join}{over}/{under} in", LENGTH) == pytest.approx(
        (whole + over / under) * 25.4, rel=1e-14
    )


@given(
    st.floats(-1e4, 1e4), st.sampled_from([(kind, unit) for kind in (LENGTH, MASS, TEMPERATURE) for unit in kind.units])
)
def test_what_is_written_reads_back(value: float, pair: tuple[Kind, str]) -> None:
    kind, unit = pair
    there = units.in_unit(value, kind, unit)
    assert units.read(f"{there!r} {unit}", kind) == pytest.approx(value, rel=1e-12, abs=1e-10)


def test_values_are_shown_in_a_unit() -> None:
    assert units.shown(130, LENGTH, "in") == "5.118 in"
    assert units.shown(130, LENGTH) == "130 mm"
    assert units.shown(20, TEMPERATURE, "degF") == "68 degF"
    assert units.shown(0.5, SHARE, "") == "0.5"


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert math.isfinite(units.read(text, LENGTH, bare="mm"))
    except UnitError as error:
        assert error.wrong
