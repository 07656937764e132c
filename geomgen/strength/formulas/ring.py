"""A tube's wall crushed across: a ring pressed by what bears on it."""

from __future__ import annotations

from enum import Enum

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.shell import mean_radius, wall_thickness
from geomgen.strength.formulas.values import Values, array


class Pressed(Enum):
    """How a tube is pressed across. Its value is c of the stress c F r / (L t2), six times a ring's coefficient of F r.

    Two lines: Roark, 6 / pi. One line and shear flow that carries the force off: Roark, 6 x .2387. A snug half-round
    bed, pressure as a half cosine and shear flow behind: 6 x .04736, the ring solved in the tests. Thin rings; at a
    mean radius of 4.5 walls the inside fibre is a tenth worse. A bed with play is a line.
    """

    BETWEEN_TWO_LINES = 1.910
    ON_A_LINE = 1.432
    IN_A_SNUG_BED = 0.284


def crushing_mpa(force_n: Values, length: Values, outside: Values, inside: Values, how: Pressed) -> FloatArray:
    """Stress round a tube's wall where something bears on it; hold it against tension across the fibres.

    force_n         : force across the tube [N]
    length          : along the tube that it spreads over [mm]
    outside, inside : diameters [mm]
    how             : what it bears on [-]
    source          : thin ring, closed form: Roark, and solved in the tests
    """
    wall = wall_thickness(outside, inside)
    return how.value * array(force_n) * mean_radius(outside, inside) / (length * wall**2)
