"""Quantities as text. Exact figures: the international yard and pound of 1959, as in NIST SP 811, appendix B."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geomgen import units
from geomgen.units import (
    ANGLE,
    AREA,
    AREAL,
    BY_WIDTH,
    CHARGE,
    DENSITY,
    FORCE,
    INERTIA,
    LENGTH,
    LINEAR,
    MASS,
    MOMENT,
    POWER,
    RESISTANCE,
    SHARE,
    SPEED,
    STRESS,
    TEMPERATURE,
    TIME,
    VOLTAGE,
    Kind,
    UnitError,
)

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
    ("1 lbf", FORCE, 4.4482216152605),  # NIST SP 811: 4.448 222 E+00 N
    ("1 kgf", FORCE, 9.80665),
    ("173 gf", FORCE, 1.69655045),
    ("0.5 kW", POWER, 500.0),
    ("1 hp", POWER, 745.69987158227022),  # NIST SP 811: 7.456 999 E+02 W, of 550 ft lbf/s
    ("2200 mAh", CHARGE, 2.2),
    ("8 mohm", RESISTANCE, 0.008),
    ("8 mΩ", RESISTANCE, 0.008),
    ("11.1 V", VOLTAGE, 11.1),
    ("16 cm2", AREA, 1600.0),
    ("16 cm²", AREA, 1600.0),
    ("1 in2", AREA, 645.16),
    ("12 g cm2", INERTIA, 12.0),
    ("12 g·cm²", INERTIA, 12.0),
    ("1e-6 kg m2", INERTIA, 10.0),
    ("1 oz in2", INERTIA, 182.89978339325),  # NIST SP 811: 1.828 998 E-05 kg m2
    ("60 g mm", MOMENT, 60.0),
    ("60 g·mm", MOMENT, 60.0),
    ("60 g*mm", MOMENT, 60.0),
    ("6 g cm", MOMENT, 60.0),
    ("0.06 g m", MOMENT, 60.0),
    ("0.06 kg mm", MOMENT, 60.0),
    ("1 oz in", MOMENT, 720.077887375),  # NIST SP 811: 1 oz is 28.349 52 g, 1 in 25.4 mm
    ("1 oz·ft", MOMENT, 8640.9346485),
    ("1200 MPa", STRESS, 1200.0),
    ("1.2 GPa", STRESS, 1200.0),
    ("250 kPa", STRESS, 0.25),
    ("40 N/mm2", STRESS, 40.0),
    ("40 N/mm²", STRESS, 40.0),
    ("1 psi", STRESS, 0.00689475729316836),  # NIST SP 811: 6.894 757 E+03 Pa
    ("1 ksi", STRESS, 6.89475729316836),
    ("1.5 N/mm", BY_WIDTH, 1.5),
    ("15 N/cm", BY_WIDTH, 1.5),
    ("120 N/m", BY_WIDTH, 0.12),
    ("1 lbf/in", BY_WIDTH, 0.175126835246476),  # NIST SP 811: 1.751 268 E+02 N/m
    ("3 s", TIME, 3.0),
    ("3 seconds", TIME, 3.0),
    ("1/2 min", TIME, 30.0),
    ("800 ms", TIME, 0.8),
    ("68 degF", TEMPERATURE, 20.0),
    ("-40 °F", TEMPERATURE, -40.0),
    ("2 °C", TEMPERATURE, 2.0),
    ("94 %", SHARE, 0.94),
    ("12.5%", SHARE, 0.125),
]


# in several parts, worked out by hand from 1 in = 25.4 mm and 1 lb = 453.59237 g, 12 in a foot and 16 oz a pound
JOINED = [
    ("2 ft 4 in", LENGTH, 711.2),
    ("2ft4in", LENGTH, 711.2),
    ("2 ft, 4 in", LENGTH, 711.2),
    ("2 ft-4 in", LENGTH, 711.2),
    ("2 feet 4 inches", LENGTH, 711.2),
    ("2'4\"", LENGTH, 711.2),
    ("2' 4\"", LENGTH, 711.2),
    ("2'-4\"", LENGTH, 711.2),
    ("2' - 4\"", LENGTH, 711.2),
    ("2'4''", LENGTH, 711.2),
    ("2′ 4″", LENGTH, 711.2),
    ("5'", LENGTH, 1524.0),
    ('3/4"', LENGTH, 19.05),
    ("1 ft 3 1/2 in", LENGTH, 393.7),
    ("1 ft 3-1/2 in", LENGTH, 393.7),
    ("1'-3 1/2\"", LENGTH, 393.7),
    ("1 1/2 ft 3/8 in", LENGTH, 466.725),
    ("2.5 ft 0.5 in", LENGTH, 774.7),
    ("0 ft 4 in", LENGTH, 101.6),
    ("-2 ft 4 in", LENGTH, -711.2),
    ("\u22122'-4\"", LENGTH, -711.2),
    ("12 oz", MASS, 340.1942775),
    ("1/2 lb", MASS, 226.796185),
    ("2 lb 12 oz", MASS, 1247.3790175),
    ("2lb12oz", MASS, 1247.3790175),
    ("2 lbs, 12 oz", MASS, 1247.3790175),
    ("2 lb-12 oz", MASS, 1247.3790175),
    ("1 1/2 lb 3 3/4 oz", MASS, 786.69926671875),
]


@pytest.mark.parametrize(("text", "kind", "value"), EXACT + JOINED, ids=[row[0] for row in EXACT + JOINED])
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


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("4 in 2 ft", LENGTH, ("in before ft", "the larger unit first", 'write "2 ft 4 in"')),
        ("3 1/2\" 1'", LENGTH, ("in before ft", 'write "1 ft 3 1/2 in"')),
        ("12 oz 2 lb", MASS, ("oz before lb", 'write "2 lb 12 oz"')),
        ("2 lb 4 in", MASS, ("puts lb and in together", "one unit, or lb and oz")),
        ("2 lb 4 in", LENGTH, ("puts lb and in together", "one unit, or ft and in")),
        ("2 ft 4 in", MASS, ("is a length, not a mass",)),
        ("2 lb 4 oz", ANGLE, ("is a mass, not an angle",)),
        ("2 ft 4", LENGTH, ("no unit at its last number", 'write "2 ft 4 in"')),
        ("2'4", LENGTH, ("no unit at its last number", 'write "2 ft 4 in"')),
        ("2 ft 3 ft", LENGTH, ("puts ft and ft together",)),
        ("1 m 20 cm", LENGTH, ("puts m and cm together", "one unit")),
        ("3 deg 30 deg", ANGLE, ("puts deg and deg together", "one unit")),
        ("2 ft 4 furlong", LENGTH, ('a unit we don\'t know, "furlong"',)),
        ("2 ft 1/0 in", LENGTH, ("divides by 0",)),
        ("2 ft -4 in", LENGTH, ("is not a length",)),  # less, or joined by a hyphen?
        ("--2 ft 4 in", LENGTH, ("is not a length",)),
        ("2 ft 4 in -", LENGTH, ("is not a length",)),
    ],
)
def test_parts_that_do_not_go_together_are_refused(text: str, kind: Kind, words: tuple[str, ...]) -> None:
    with pytest.raises(UnitError) as caught:
        units.read(text, kind, bare="mm" if kind is LENGTH else None)
    for word in words:
        assert word in str(caught.value)


@given(
    st.integers(0, 300), st.integers(0, 15), st.integers(0, 63), st.sampled_from((2, 4, 8, 16, 32, 64)),
    st.sampled_from((" ", "", "-", " - ", ", ")), st.sampled_from(("", "-")),
)  # fmt: skip
def test_parts_add_up(large: int, small: int, over: int, under: int, join: str, sign: str) -> None:
    times = -1 if sign else 1
    parts = (small + over / under) + 12 * large, (small + over / under) + 16 * large
    feet = f"{sign}{large} ft{join}{small} {over}/{under} in"
    assert units.read(feet, LENGTH) == pytest.approx(times * parts[0] * 25.4, rel=1e-14)
    pounds = f"{sign}{large} lb{join}{small} {over}/{under} oz"
    assert units.read(pounds, MASS) == pytest.approx(times * parts[1] * 453.59237 / 16, rel=1e-14)


@given(st.text("0123456789./-+ ,'\"inftozlbe", max_size=80))
def test_anything_like_parts_is_read_or_refused(text: str) -> None:
    try:
        assert math.isfinite(units.read(text, LENGTH, bare="mm"))
    except UnitError as error:
        assert error.wrong


@given(st.integers(0, 400), st.integers(0, 63), st.sampled_from((2, 4, 8, 16, 32, 64)), st.sampled_from((" ", "-")))
def test_fractions_add_up(whole: int, over: int, under: int, join: str) -> None:
    assert units.read(f"{whole}{join}{over}/{under} in", LENGTH) == pytest.approx(
        (whole + over / under) * 25.4, rel=1e-14
    )


@given(st.text(max_size=20))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        assert math.isfinite(units.read(text, LENGTH, bare="mm"))
    except UnitError as error:
        assert error.wrong
