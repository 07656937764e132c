"""A plate with a stiff boss in it that is pushed square to the plate."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


def boss_plate_mpa(force_n: Values, outer: Values, boss: Values, thickness: Values) -> FloatArray:
    """Greatest bending stress of a flat plate, held all round, round a stiff boss that is pushed square to it.

    force_n   : on the boss [N]
    outer     : diameter of the circle where the plate is held so that it can't turn [mm]
    boss      : its diameter: stress is greatest round it [mm]
    thickness : of the plate [mm]
    source    : thin plate, closed form: neither rim turns; M = F / (4 pi) (2 q2 ln q / (q2 - 1) - 1), q outer over boss
    """
    q = array(outer) / boss
    moment = array(force_n) / (4.0 * np.pi) * (2.0 * q**2 * np.log(q) / (q**2 - 1.0) - 1.0)
    return 6.0 * moment / array(thickness) ** 2


def round_wall_reach(radius: Values, thickness: Values) -> FloatArray:
    """How far from what pushes at a round wall its bending reaches.

    radius    : of the wall's middle [mm]
    thickness : of the wall [mm]
    returns   : [mm]
    source    : thin shells, sqrt(R t), the length over which bending dies out; common practice
    """
    return np.sqrt(array(radius) * thickness)
