"""The reflexed five-digit family: "23112" is "23012" with its tail turned up, so that the pitching moment is nought.

The equations and constants of the report named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

import re

import numpy as np

from geomgen.section.families.five_digit import lift_and_place
from geomgen.section.family import Family, thickness_in
from geomgen.section.laid_off import laid_off
from geomgen.section.mean_line import MeanLine
from geomgen.section.section import Section
from geomgen.section.thickness import usual

# Position digit -> (r, k1, k2/k1) of the reflexed ones. k1 as printed. r and k2/k1 are solved from the report's own two
# conditions, greatest height at a twentieth of the chord times the digit and no moment about the quarter chord: the
# printed figures in `PRINTED` leave a moment of up to 0.0013. The lines differ by less than 0.0003 of the chord.
REFLEXED = {
    2: (0.130750, 51.990, 0.0009157),
    3: (0.216015, 15.793, 0.0062134),
    4: (0.317919, 6.520, 0.0301952),
    5: (0.440830, 3.191, 0.1348777),
}
PRINTED = {
    2: (0.1300, 51.990, 0.000764),
    3: (0.2170, 15.793, 0.00677),
    4: (0.3180, 6.520, 0.0303),
    5: (0.4410, 3.191, 0.1355),
}


def mean_line(lift: float, position: int, constants: dict[int, tuple[float, float, float]] = REFLEXED) -> MeanLine:
    """Two cubics, the rear one turned up so that the moment about the quarter chord is nought.

    lift      : design lift coefficient [-]
    position  : second digit, 2 to 5
    constants : r, k1 and k2/k1 by position
    source    : NACA Report 537, equations of the reflexed mean lines:
                y = k1/6 ((x - r)³ - k (1 - r)³ x - r³ x + r³) ahead of r, with k = k2/k1,
                y = k1/6 (k (x - r)³ - k (1 - r)³ x - r³ x + r³) behind it; k1 goes with the lift
    """
    r, k1, k = constants[position]
    scale = k1 * lift / 0.3 / 6.0
    cube = np.array([-(r**3), 3.0 * r * r, -3.0 * r, 1.0])
    line = np.array([r**3, -k * (1.0 - r) ** 3 - r**3, 0.0, 0.0])
    return MeanLine(r, tuple((scale * (cube + line)).tolist()), tuple((scale * (k * cube + line)).tolist()))


def mean_named(digits: str) -> MeanLine:
    """The mean line that the three digits before the thickness name; raises `Refused`."""
    return mean_line(*lift_and_place(digits, REFLEXED, "reflexed"))


def _section(digits: re.Match[str], closed: bool) -> Section:
    form = usual(thickness_in(digits), closed)
    return laid_off(f"naca {digits[0]}", mean_named(digits["mean"]), form)


FAMILY = Family(
    name="reflexed five-digit",
    written='reflexed ("23112")',
    reads=re.compile(r"(?P<mean>[0-9]{2}1)(?P<thickness>[0-9]{2})"),
    section=_section,
    examples=("22112", "23112", "24112", "25118"),
    refused={"23100": "thickness", "21112": "no reflexed mean line", "03112": "lift"},
)
