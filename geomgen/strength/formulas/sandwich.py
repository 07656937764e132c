"""Faces glued on a core: foam board, skins on foam."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

WRINKLES = 0.5  # of (E_face E_core G_core)^(1/3): common practice


def core_shear_mpa(force_n: Values, width: Values, apart: Values) -> FloatArray:
    """Shear of the core of a bent sandwich.

    force_n : across it [N]
    width   : [mm]
    apart   : between the middles of the faces [mm]
    source  : closed form, V / (d b)
    """
    return array(force_n) / (array(apart) * width)


def wrinkling_mpa(
    face_modulus_mpa: Values, core_modulus_mpa: Values, core_shear_mpa: Values, share: float = WRINKLES
) -> FloatArray:
    """Stress at which a pressed face wrinkles on its core.

    face_modulus_mpa : along the stress [MPa]
    core_modulus_mpa : through the thickness [MPa]
    core_shear_mpa   : shear modulus [MPa]
    share            : of the closed form; .825 for a face that is perfect [-]
    source           : closed form; `WRINKLES` is common practice
    """
    return share * np.cbrt(array(face_modulus_mpa) * core_modulus_mpa * core_shear_mpa)
