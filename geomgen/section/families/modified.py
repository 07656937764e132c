"""The modified families: "0012-64" has a nose of radius 6 and is thickest at 40 % of the chord; over any mean line.

The equations and constants of the report named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

import re

import numpy as np

from geomgen.section.families import five_digit, four_digit, reflexed
from geomgen.section.family import Family, Refused, thickness_in
from geomgen.section.laid_off import laid_off
from geomgen.section.mean_line import MeanLine
from geomgen.section.section import Section
from geomgen.section.thickness import HalfThickness

# Position of the greatest thickness, in tenths -> slope at the tail of the 20 % thick section.
TAIL_SLOPE = {2: 0.200, 3: 0.234, 4: 0.315, 5: 0.465, 6: 0.700}


def half_thickness(thickness: float, index: int, position: int, closed: bool = False) -> HalfThickness:
    """The form with digits for the nose and for the place of the greatest thickness.

    thickness : greatest thickness t [chord]
    index     : digit of the nose, 0 to 9: 6 is the usual nose radius 1.1019 t², 0 is sharp; the radius goes with the
                square of the digit up to 8; 9 is three times the usual radius
    position  : place of the greatest thickness in tenths of the chord, 2 to 6
    closed    : end in a point: d0 = 0 instead of the published 0.002, the other conditions as published
    source    : NACA Report 492 (Stack, von Doenhoff 1934), at t = 0.2:
                ±y = a0√x + a1x + a2x² + a3x³ ahead of the greatest thickness, a0 from the nose radius,
                ±y = d0 + d1(1-x) + d2(1-x)² + d3(1-x)³ behind it, d1 from its table of tail slopes;
                the rest from y = 0.1 and y' = 0 on both sides and equal curvature where they meet
    """
    m = position / 10.0
    d0, d1 = 0.0 if closed else 0.002, TAIL_SLOPE[position]
    rest = 1.0 - m
    d2 = (3.0 * (0.1 - d0) - 2.0 * d1 * rest) / rest**2
    d3 = (-2.0 * (0.1 - d0) + d1 * rest) / rest**3
    a0 = 0.29690 * (np.sqrt(3.0) if index == 9 else index / 6.0)
    powers = np.array([[m, m**2, m**3], [1.0, 2.0 * m, 3.0 * m**2], [0.0, 2.0, 6.0 * m]])
    root = a0 * np.array([m**0.5, 0.5 * m**-0.5, -0.25 * m**-1.5])
    a1, a2, a3 = np.linalg.solve(powers, np.array([0.1, 0.0, 2.0 * d2 + 6.0 * d3 * rest]) - root)
    scale = 5.0 * thickness
    fore = scale * np.array([0.0, a0, a1, 0.0, a2, 0.0, a3])
    tail = np.array([d0 + d1 + d2 + d3, -d1 - 2.0 * d2 - 3.0 * d3, d2 + 3.0 * d3, -d3])
    aft = np.zeros(7)
    aft[::2] = scale * tail
    return HalfThickness(m, tuple(fore.tolist()), tuple(aft.tolist()), closed)


def _mean_named(digits: str) -> MeanLine:
    """The mean line that the digits before the thickness name, of the family that has as many."""
    if len(digits) == 2:
        return four_digit.mean_named(digits)
    return reflexed.mean_named(digits) if digits[2] == "1" else five_digit.mean_named(digits)


def _section(digits: re.Match[str], closed: bool) -> Section:
    thickness, index, place = thickness_in(digits), int(digits["index"]), int(digits["place"])
    if place not in TAIL_SLOPE:
        wrong = f"no form was published with the greatest thickness at {place}0 % of the chord"
        raise Refused(wrong, "a last digit of 2 to 6")
    form = half_thickness(thickness, index, place, closed)
    return laid_off(f"naca {digits[0]}", _mean_named(digits["mean"]), form)


FAMILY = Family(
    name="modified",
    written='or any of them with two more for the nose ("0012-64")',
    reads=re.compile(r"(?P<mean>[0-9]{2,3})(?P<thickness>[0-9]{2})-(?P<index>[0-9])(?P<place>[0-9])"),
    section=_section,
    examples=("0012-64", "2412-34", "0012-04", "23012-64", "23112-45"),
    refused={
        "0012-67": "70 % of the chord",
        "0012-61": "10 % of the chord",
        "4012-64": "without a place",
        "0000-64": "thickness",
    },
)
