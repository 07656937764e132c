"""Plates and faces pressed all round: under a collar, a washer, a bolt."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


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
