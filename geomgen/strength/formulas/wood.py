"""Wood at an angle to its grain."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


def strength_at_mpa(along_mpa: Values, across_mpa: Values, angle_deg: Values) -> FloatArray:
    """Strength of wood at an angle to its grain.

    along_mpa, across_mpa : strengths [MPa]
    angle_deg             : between force and grain [deg]
    source                : Hankinson, closed form
    """
    turned = np.radians(angle_deg)
    mixed = array(along_mpa) * np.sin(turned) ** 2 + array(across_mpa) * np.cos(turned) ** 2
    return array(array(along_mpa) * across_mpa / mixed)
