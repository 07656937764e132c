"""Faces glued on a core: foam board, skins on foam."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

WRINKLES_DESIGN, WRINKLES_IDEAL = 0.5, 0.825  # of (E_face E_core G_core)^(1/3): common practice, closed form


def sandwich_bending_nmm(face_mpa: Values, face: Values, apart: Values) -> FloatArray:
    """Bending stiffness of a sandwich by its width.

    face_mpa : modulus of the faces [MPa]
    face     : thickness of each [mm]
    apart    : between the middles of the faces [mm]
    returns  : [N mm2 by mm]
    source   : closed form, E t d2 / 2; thin equal faces
    """
    return array(face_mpa) * face * array(apart) ** 2 / 2.0


def sandwich_shear_n_mm(core_shear_mpa: Values, core: Values, apart: Values) -> FloatArray:
    """Shear stiffness of a sandwich by its width.

    core_shear_mpa : shear modulus of the core [MPa]
    core           : its thickness [mm]
    apart          : between the middles of the faces [mm]
    returns        : [N/mm]
    source         : closed form, G d2 / t
    """
    return array(core_shear_mpa) * array(apart) ** 2 / core


def three_point_sag(
    force_n: Values, length: Values, width: Values, bending_nmm: Values, shear_n_mm: Values
) -> FloatArray:
    """Sag of a strip of sandwich under a force in its middle.

    force_n     : [N]
    length      : between what it lies on [mm]
    width       : of the strip [mm]
    bending_nmm : stiffness by width [N mm2 by mm]
    shear_n_mm  : stiffness by width [N/mm]
    returns     : [mm]
    source      : closed form, P L3 / (48 D b) + P L / (4 S b)
    """
    bent = array(length) ** 3 / (48.0 * array(bending_nmm))
    return array(force_n) / width * (bent + array(length) / (4.0 * array(shear_n_mm)))


def face_mpa(moment_nmm: Values, width: Values, face: Values, apart: Values) -> FloatArray:
    """Stress of the faces of a bent sandwich.

    moment_nmm : [N mm]
    width      : [mm]
    face       : thickness of each [mm]
    apart      : between the middles of the faces [mm]
    source     : closed form, M / (t d b)
    """
    return array(moment_nmm) / (array(face) * apart * width)


def core_shear_mpa(force_n: Values, width: Values, apart: Values) -> FloatArray:
    """Shear of the core of a bent sandwich.

    force_n : across it [N]
    width   : [mm]
    apart   : between the middles of the faces [mm]
    source  : closed form, V / (d b)
    """
    return array(force_n) / (array(apart) * width)


def wrinkling_mpa(
    face_modulus_mpa: Values, core_modulus_mpa: Values, core_shear_mpa: Values, share: float = WRINKLES_DESIGN
) -> FloatArray:
    """Stress at which a pressed face wrinkles on its core.

    face_modulus_mpa : along the stress [MPa]
    core_modulus_mpa : through the thickness [MPa]
    core_shear_mpa   : shear modulus [MPa]
    share            : `WRINKLES_DESIGN`, or `WRINKLES_IDEAL` for one that is perfect [-]
    source           : closed form; the design share is common practice
    """
    return share * np.cbrt(array(face_modulus_mpa) * core_modulus_mpa * core_shear_mpa)
