"""Flat and slightly curved panels of sheet that buckle between ribs."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

LAID_ON = 4.0  # pressed, long, all edges laid on and free to turn
ONE_EDGE_FREE = 0.425  # pressed, long, one long edge free
SHEARED = 5.35  # sheared, long, edges laid on


def panel_buckling_mpa(
    modulus_mpa: Values, thickness: Values, width: Values, factor: float = LAID_ON, poisson: float = 0.3
) -> FloatArray:
    """Stress at which a long flat panel alike in all directions buckles.

    modulus_mpa : [MPa]
    thickness   : [mm]
    width       : between the edges that hold it [mm]
    factor      : `LAID_ON`, `ONE_EDGE_FREE` or, for shear, `SHEARED` [-]
    poisson     : [-]
    source      : Timoshenko, closed form, k pi2 E / (12 (1 - nu2)) (t / b)2
    """
    return factor * np.pi**2 * array(modulus_mpa) / (12.0 * (1.0 - poisson**2)) * (array(thickness) / width) ** 2


def sheet_buckling_mpa(
    along_mpa: Values,
    across_mpa: Values,
    shear_mpa: Values,
    thickness: Values,
    width: Values,
    poisson: float = 0.3,
) -> FloatArray:
    """Stress along a long flat panel of wood or ply at which it buckles, its edges laid on.

    along_mpa, across_mpa : moduli along the stress and across it, bent flat; of a ply take the lower of what its
                            stretched and its bent moduli give [MPa]
    shear_mpa             : shear modulus [MPa]
    thickness             : [mm]
    width                 : between the edges that hold it, across the stress [mm]
    poisson               : across for a pull along; the thin plate's 1 - nu nu' is left out, as for wood [-]
    source                : closed form, 2 pi2 / (b2 t) (sqrt(D1 D2) + D3), D3 = nu D2 + 2 G t3 / 12
    """
    cube = array(thickness) ** 3 / 12.0
    d_along, d_across = along_mpa * cube, across_mpa * cube
    d_twist = poisson * d_across + 2.0 * shear_mpa * cube
    return 2.0 * np.pi**2 / (array(width) ** 2 * thickness) * (np.sqrt(d_along * d_across) + d_twist)


def curve_buckling_mpa(modulus_mpa: Values, thickness: Values, radius: Values) -> FloatArray:
    """What a panel's curve across the stress adds to the stress at which it buckles.

    modulus_mpa : along the stress [MPa]
    thickness   : [mm]
    radius      : of its curve; inf where it's flat [mm]
    source      : .3 E t / R, a cylinder knocked down; from memory
    """
    return 0.3 * array(modulus_mpa) * thickness / radius
