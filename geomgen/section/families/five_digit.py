"""The five-digit family: "23012" is designed for a lift of 2 × 0.15, camber highest at 3/20 of the chord, 12 % thick.

The equations and constants of the report named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

import re
from collections.abc import Collection

from geomgen.section.family import Family, Refused, thickness_in
from geomgen.section.laid_off import laid_off
from geomgen.section.mean_line import MeanLine
from geomgen.section.section import Section
from geomgen.section.thickness import usual

# Position digit -> (r, k1) of the simple five-digit mean lines at a design lift coefficient of 0.3.
SIMPLE = {1: (0.0580, 361.4), 2: (0.1260, 51.64), 3: (0.2025, 15.957), 4: (0.2900, 6.643), 5: (0.3910, 3.230)}


def mean_line(lift: float, position: int) -> MeanLine:
    """A cubic whose curvature fades to nothing at r, and a straight line behind it.

    lift     : design lift coefficient [-]
    position : second digit, 1 to 5: greatest height at a twentieth of the chord times it
    source   : NACA Report 537 (Jacobs, Pinkerton 1935), equations and constants r, k1 of the simple mean lines:
               y = k1/6 (x³ - 3rx² + r²(3 - r)x) ahead of r, y = k1 r³/6 (1 - x) behind it; k1 goes with the lift
    """
    r, k1 = SIMPLE[position]
    k = k1 * lift / 0.3 / 6.0
    return MeanLine(r, (0.0, k * r * r * (3.0 - r), -3.0 * k * r, k), (k * r**3, -k * r**3))


def mean_named(digits: str) -> MeanLine:
    """The mean line that the three digits before the thickness name; raises `Refused`."""
    if digits[2] != "0":
        raise Refused(f"its third digit is {digits[2]}", "0 for a simple mean line, 1 for a reflexed one")
    return mean_line(*lift_and_place(digits, SIMPLE, "simple"))


def lift_and_place(digits: str, published: Collection[int], kind: str) -> tuple[float, int]:
    """The lift designed for [-], and the digit of where the camber is highest; raises `Refused`.

    published : the digits of places for which there is a mean line of that kind
    """
    lift, position = 0.15 * int(digits[0]), int(digits[1])
    if lift == 0.0:
        raise Refused("its first digit, the lift it is designed for, is 0", "1 to 9")
    if position not in published:
        wrong = f"no {kind} mean line was published for a second digit of {position}"
        raise Refused(wrong, f"{min(published)} to {max(published)}")
    return lift, position


def _section(digits: re.Match[str], closed: bool) -> Section:
    form = usual(thickness_in(digits), closed)
    return laid_off(f"naca {digits[0]}", mean_named(digits["mean"]), form)


FAMILY = Family(
    name="five-digit",
    written='five ("23012")',
    reads=re.compile(r"(?P<mean>[0-9]{2}[02-9])(?P<thickness>[0-9]{2})"),
    section=_section,
    examples=("21012", "23012", "25018", "43012"),
    refused={"23000": "thickness", "23212": "third digit is 2", "26012": "second digit of 6", "03012": "lift"},
)
