"""Wood that splits along its grain beside a hole."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

NEAR = 0.15  # of a round hole's diameter that counts as wood above and below it


def hole_split_mpa(
    force_n: Values, moment_nmm: Values, height: Values, hole: Values, bridge: Values, thickness: Values
) -> FloatArray:
    """Pull across the grain at the sides of a round hole in a plate whose grain runs along it.

    force_n    : across the plate, beside the hole [N]
    moment_nmm : bending in its plane there [N mm]
    height     : of the plate [mm]
    hole       : diameter [mm]
    bridge     : least wood above or below the hole [mm]
    thickness  : of the plate [mm]
    source     : German annex to EN 1995-1-1 for holes in glued beams, from memory: F = V d/(4 h) (3 - (d/h)2) +
                 .008 M/h_r over half of l t, l = .353 d + .5 h
    """
    share = array(hole) / height
    pull = np.abs(array(force_n)) * share / 4.0 * (3.0 - share**2)
    pull = pull + 0.008 * np.abs(array(moment_nmm)) / (array(bridge) + NEAR * array(hole))
    return array(pull / (0.5 * (0.353 * array(hole) + 0.5 * array(height)) * thickness))
