"""Flat rings pressed at their inner rim: the floor under a collar's face."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


def ring_plate_mpa(
    force_n: Values, outer: Values, inner: Values, pressed: Values, thickness: Values, poisson: float = 0.35
) -> FloatArray:
    """Greatest bending stress of a flat ring that lies on its outer rim and is pressed along a circle.

    force_n   : all round the circle [N]
    outer     : diameter of the circle it lies on [mm]
    inner     : diameter of its hole: stress is greatest there, round the hole [mm]
    pressed   : diameter of the circle that is pressed, from `inner` to `outer` [mm]
    thickness : [mm]
    poisson   : [-]
    source    : thin plate, closed form, Roark's ring with outer edge laid on and inner edge free
    """
    a, b, at = array(outer) / 2.0, array(inner) / 2.0, array(pressed) / 2.0
    by_length = array(force_n) / (2.0 * np.pi * at)
    lifted = at / a * ((1.0 + poisson) / 2.0 * np.log(a / at) + (1.0 - poisson) / 4.0 * (1.0 - (at / a) ** 2))
    turned = 0.5 * (1.0 - poisson**2) * (a / b - b / a)
    moment = by_length * a**2 / b * (1.0 - poisson**2) * lifted / turned
    return 6.0 * moment / array(thickness) ** 2


def ring_shear_mpa(force_n: Values, circle: Values, thickness: Values) -> FloatArray:
    """Greatest shear through a plate that is pressed along a circle.

    force_n   : all round [N]
    circle    : its diameter [mm]
    thickness : of the plate [mm]
    source    : closed form, 1.5 F / (pi D t)
    """
    return 1.5 * array(force_n) / (np.pi * array(circle) * thickness)


def face_pressure_mpa(force_n: Values, outer: Values, inner: Values) -> FloatArray:
    """Pressure of a ring's face.

    force_n      : [N]
    outer, inner : diameters of what touches [mm]
    source       : closed form
    """
    return array(force_n) / (np.pi / 4.0 * (array(outer) ** 2 - array(inner) ** 2))
