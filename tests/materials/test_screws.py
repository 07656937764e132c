"""Screws against the tables they come from."""

from __future__ import annotations

import pytest

from geomgen.materials.screws import SCREWS, length_as_sold

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
    assert [length_as_sold(x) for x in (3.0, 9.4, 12.0, 90.5)] == [5.0, 10.0, 12.0, 91.0]
