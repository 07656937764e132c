"""The four-digit family: "4412" is 4 % of camber at 40 % of the chord, 12 % thick.

The equations and constants of the report named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

import re

from geomgen.section.family import Family, Refused, thickness_in
from geomgen.section.laid_off import laid_off
from geomgen.section.mean_line import STRAIGHT, MeanLine
from geomgen.section.section import Section
from geomgen.section.thickness import usual


def mean_line(camber: float, position: float) -> MeanLine:
    """Two parabolas that meet at the greatest height.

    camber   : greatest height m [chord]
    position : where it is, p [chord], 0 < p < 1
    source   : NACA Report 460 (Jacobs, Ward, Pinkerton 1933), mean-line equations:
               y = m/p² (2px - x²) ahead of p, y = m/(1 - p)² ((1 - 2p) + 2px - x²) behind it
    """
    if camber == 0.0:
        return STRAIGHT
    m, p = camber, position
    fore, aft = m / p**2, m / (1.0 - p) ** 2
    return MeanLine(p, (0.0, 2.0 * p * fore, -fore), ((1.0 - 2.0 * p) * aft, 2.0 * p * aft, -aft))


def mean_named(digits: str) -> MeanLine:
    """The mean line that the two digits before the thickness name; raises `Refused`."""
    camber, position = map(int, digits)
    if (camber == 0) != (position == 0):
        wrong = "camber without a place for it" if camber else "a place for the camber, but no camber"
        raise Refused(wrong, "both of the first two digits are 0, or neither")
    return mean_line(camber / 100.0, position / 10.0)


def _section(digits: re.Match[str], closed: bool) -> Section:
    form = usual(thickness_in(digits), closed)
    return laid_off(f"naca {digits[0]}", mean_named(digits["mean"]), form)


FAMILY = Family(
    name="four-digit",
    written='four digits ("4412")',
    reads=re.compile(r"(?P<mean>[0-9]{2})(?P<thickness>[0-9]{2})"),
    section=_section,
    examples=("0006", "0012", "0024", "2212", "2412", "4415", "6409"),
    refused={"4400": "thickness", "4012": "without a place", "0412": "no camber"},
)
