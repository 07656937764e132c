"""Screws against the tables they come from."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from geomgen.figures import spelled
from geomgen.materials.screws import INCH, METRIC, SCREWS

# ISO 273, fine / medium / coarse, as reproduced by a public page of the standard's table [mm]
CLEARANCE = {
    "M2": (2.2, 2.4, 2.6),
    "M2.5": (2.7, 2.9, 3.1),
    "M3": (3.2, 3.4, 3.6),
    "M4": (4.3, 4.5, 4.8),
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7.0),
    "M8": (8.4, 9.0, 10.0),
}
# ISO 4032: across flats, greatest height [mm], from second-hand copies of the table
NUTS = {
    "M2": (4, 1.6),
    "M2.5": (5, 2.0),
    "M3": (5.5, 2.4),
    "M4": (7, 3.2),
    "M5": (8, 4.7),
    "M6": (10, 5.2),
    "M8": (13, 6.8),
}


@pytest.mark.parametrize("size", CLEARANCE)
def test_clearance_holes(size: str) -> None:
    assert tuple(SCREWS[size].clearance(series) for series in ("fine", "medium", "coarse")) == CLEARANCE[size]
    assert (SCREWS[size].nut_across, SCREWS[size].nut_height) == NUTS[size]


def test_every_size_of_the_design_file_is_there() -> None:
    from typing import get_args

    from geomgen.design.schema.values import Screw

    assert set(SCREWS) == set(get_args(Screw))


def test_pilot_and_grip_are_common_practice() -> None:
    """0.75 to 0.85 of the diameter, 2 to 3 diameters of thread in plastic: guides for self-tapping screws."""
    for screw in SCREWS.values():
        assert 0.75 <= screw.pilot / screw.diameter <= 0.85 and 2 <= screw.grip / screw.diameter <= 3


@pytest.mark.parametrize(("size", "length", "grams"), [("M3", 10, 0.55), ("M4", 12, 1.3), ("M5", 20, 2.9)])
def test_masses(size: str, length: float, grams: float) -> None:
    """Countersunk steel screws as lists give them, from memory: within a fifth."""
    assert SCREWS[size].mass_g(length) == pytest.approx(grams, rel=0.2)


@pytest.mark.parametrize(("size", "grams"), [("M3", 0.38), ("M4", 0.81), ("M5", 1.23)])
def test_nut_masses(size: str, grams: float) -> None:
    """Hexagon nuts as lists give them, from memory: within a fifth; ours has the greatest height."""
    assert SCREWS[size].nut_g() == pytest.approx(grams, rel=0.2)


def test_lengths() -> None:
    assert [METRIC.at_least(x) for x in (3.0, 9.4, 12.0, 90.5)] == [5.0, 10.0, 12.0, 91.0]
    assert [METRIC.at_most(x) for x in (5.0, 11.9, 500.0)] == [5.0, 10.0, 80.0]
    assert METRIC.text(12.0) == "12"


# ---- in inches: written down again from the tables' fractions and number drills, apart from the code's decimals

# ASME B18.2.8 close, normal, loose [drill] and drills [in], as an open-source package's tables have them (read)
DRILLS = {
    "#1": 0.228, "#2": 0.221, "#3": 0.213, "#5": 0.2055, "#9": 0.196, "#13": 0.185, "#15": 0.18, "#18": 0.1695,
    "#23": 0.154, "#27": 0.144, "#30": 0.1285, "#31": 0.12, "#32": 0.116, "#36": 0.1065, "#37": 0.104, "#38": 0.1015,
    "#43": 0.089, "#46": 0.081, "#48": 0.076, "#51": 0.067, "B": 0.238,
}  # fmt: skip
INCH_CLEARANCE = {
    "#0-80": ("#51", "#48", "3/32"),
    "#1-72": ("#46", "#43", "#37"),
    "#2-56": ("3/32", "#38", "#32"),
    "#3-48": ("#36", "#32", "#30"),
    "#4-40": ("#31", "#30", "#27"),
    "#5-40": ("9/64", "5/32", "11/64"),
    "#6-32": ("#23", "#18", "#13"),
    "#8-32": ("#15", "#9", "#3"),
    "#10-24": ("#5", "#2", "B"),
    "#10-32": ("#5", "#2", "B"),
    "1/4-20": ("17/64", "9/32", "19/64"),
    "1/4-28": ("17/64", "9/32", "19/64"),
    "5/16-18": ("21/64", "11/32", "23/64"),
}
# ASME B18.6.3 machine screw nuts, across flats and greatest height [in], from memory
INCH_NUTS = {
    "#0-80": ("5/32", 0.050), "#1-72": ("5/32", 0.050), "#2-56": ("3/16", 0.066), "#3-48": ("3/16", 0.066),
    "#4-40": ("1/4", 0.098), "#5-40": ("5/16", 0.114), "#6-32": ("5/16", 0.114), "#8-32": ("11/32", 0.130),
    "#10-24": ("3/8", 0.130), "#10-32": ("3/8", 0.130), "1/4-20": ("7/16", 0.193), "1/4-28": ("7/16", 0.193),
    "5/16-18": ("9/16", 0.225),
}  # fmt: skip
MEASURES = ("diameter", "fine", "medium", "coarse", "head", "head_height", "washer", "nut_across", "nut_height")
STEEL_LB_IN3 = 7.85 / 453.59237 * 2.54**3  # 0.2836


def inches(text: str) -> float:
    return DRILLS.get(text) or float(Fraction(text))


@pytest.mark.parametrize("size", INCH_CLEARANCE)
def test_inch_sizes(size: str) -> None:
    screw, number = SCREWS[size], size.split("-")[0]
    diameter = 0.060 + 0.013 * int(number[1:]) if number[0] == "#" else float(Fraction(number))
    assert screw.diameter == pytest.approx(25.4 * diameter, rel=1e-12)
    for series, drill in zip(("fine", "medium", "coarse"), INCH_CLEARANCE[size], strict=True):
        assert screw.clearance(series) == pytest.approx(25.4 * inches(drill), abs=25.4 * 0.0003), series
    across, height = INCH_NUTS[size]
    assert screw.nut_across == pytest.approx(25.4 * inches(across)) and screw.nut_height == pytest.approx(25.4 * height)


@pytest.mark.parametrize("size", INCH_CLEARANCE)
def test_an_inch_head_is_a_cone_of_82_deg(size: str) -> None:
    """Its height is that of a cone from the sharp edge down to the thread, within 5 %."""
    screw = SCREWS[size]
    cone = (screw.head - screw.diameter) / 2 / np.tan(np.radians(82 / 2))
    assert screw.head_deg == 82.0 and cone < screw.head_height < 1.05 * cone
    assert spelled(screw.countersink()).endswith(" mm at 82 deg")
    assert spelled(SCREWS["M3"].countersink()) == "5.5 mm"


@pytest.mark.parametrize("sizes", [list(SCREWS)[:7], list(SCREWS)[7:]], ids=["metric", "inch"])
def test_sizes_rise_in_all_measures(sizes: list[str]) -> None:
    for before, after in pairwise(SCREWS[size] for size in sizes):
        for name in MEASURES:
            assert getattr(before, name) <= getattr(after, name), name


@pytest.mark.parametrize("size", SCREWS)
def test_every_size_goes_through_its_hole_and_not_through_its_washer(size: str) -> None:
    screw = SCREWS[size]
    assert screw.diameter < screw.fine < screw.medium < screw.coarse < screw.head
    assert screw.coarse < screw.washer and screw.pilot < screw.diameter < screw.nut_across


@pytest.mark.parametrize("size", ["M3", "#4-40"])
def test_a_countersink_as_thin_rings(size: str) -> None:
    """Its sides, 90 or 82 deg between them, run from the head's edge down to the hole: a sum of thin rings."""
    screw, steps = SCREWS[size], 100_000
    r = np.linspace(screw.medium / 2, screw.head / 2, steps)
    deep = (screw.head / 2 - r) / np.tan(np.radians((82 if size.startswith("#") else 90) / 2))
    assert screw.countersink_mm3() == pytest.approx(float(np.trapezoid(2 * np.pi * r * deep, r)), rel=1e-6)


def test_inch_masses_by_hand() -> None:
    """A #6-32 x 1/2 in: cone 0.279 to 0.138 over 0.083, shank 0.9 x 0.138 over 0.417 in, of steel; and its nut."""
    cone = np.pi * 0.083 / 3 * (0.1395**2 + 0.1395 * 0.069 + 0.069**2)
    shank = np.pi / 4 * (0.9 * 0.138) ** 2 * 0.417
    grams = (cone + shank) * STEEL_LB_IN3 * 453.59237
    assert SCREWS["#6-32"].mass_g(12.7) == pytest.approx(grams, rel=1e-9)
    assert grams == pytest.approx(1.03, abs=0.005)
    nut = 0.114 * (0.8660254 * 0.3125**2 - np.pi / 4 * (0.95 * 0.138) ** 2) * STEEL_LB_IN3 * 453.59237
    assert SCREWS["#6-32"].nut_g() == pytest.approx(nut, rel=1e-7)


def test_inch_lengths() -> None:
    quarter = 25.4 / 4
    assert INCH.at_least(0.1) == pytest.approx(25.4 / 8)
    assert [INCH.at_least(n * quarter) for n in (1, 2, 4, 12)] == pytest.approx([n * quarter for n in (1, 2, 4, 12)])
    assert INCH.at_least(6.36) == pytest.approx(25.4 * 5 / 16) and INCH.at_least(77.0) == pytest.approx(25.4 * 3.25)
    assert INCH.at_most(9.5) == pytest.approx(25.4 * 5 / 16) and INCH.at_most(9.525) == pytest.approx(9.525)
    shown = ["1/8 in", "5/16 in", "1/2 in", "1 in", "1 1/4 in", "3 1/4 in"]
    assert [INCH.text(25.4 * x) for x in (0.125, 0.3125, 0.5, 1.0, 1.25, 3.25)] == shown
    assert all(INCH.at_least(INCH.at_most(x)) == INCH.at_most(x) for x in INCH.sold_mm)
    screw = SCREWS["#4-40"]  # 5 mm of wood, a nut of 0.098 in and 1 mm: 8.49 mm, so 3/8 in
    assert INCH.text(screw.length_with_nut(5.0)) == "3/8 in"
