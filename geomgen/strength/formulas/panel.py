"""Flat and slightly curved panels that buckle."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

SHEARED = 5.35  # sheared, long, edges laid on


def panel_buckling_mpa(
    modulus_mpa: Values, thickness: Values, width: Values, factor: float, poisson: float = 0.3
) -> FloatArray:
    """Stress at which a long flat panel alike in all directions buckles.

    modulus_mpa : [MPa]
    thickness   : [mm]
    width       : between the edges that hold it [mm]
    factor      : by how it is loaded and held, `SHEARED` or another of Timoshenko's [-]
    poisson     : [-]
    source      : Timoshenko, closed form, k pi2 E / (12 (1 - nu2)) (t / b)2
    """
    return factor * np.pi**2 * array(modulus_mpa) / (12.0 * (1.0 - poisson**2)) * (array(thickness) / width) ** 2


def curve_buckling_mpa(modulus_mpa: Values, thickness: Values, radius: Values) -> FloatArray:
    """What a panel's curve across the stress adds to the stress at which it buckles.

    modulus_mpa : along the stress [MPa]
    thickness   : [mm]
    radius      : of its curve; inf where it's flat [mm]
    source      : .3 E t / R, a cylinder knocked down; from memory
    """
    return 0.3 * array(modulus_mpa) * thickness / radius
