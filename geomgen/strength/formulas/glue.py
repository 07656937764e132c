"""Glue round a tube and glued scarfs: mean stress, peaks, what a scarf keeps."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

SCARF_READ = ((0.0, 0.25), (4.0, 0.65), (8.0, 0.75), (20.0, 0.95))  # slope, share: a butt; a maker's tests; typical
SCARF_AT_MOST = 0.9
RIB_GLUE_PEAK = 2.0  # on the mean stress of a glued rib that turns on its tube: from memory


def ring_glue_pull_mpa(pull_n: Values, diameter: Values, length: Values) -> FloatArray:
    """Mean shear of glue round a tube that is pulled out.

    pull_n   : force along the tube [N]
    diameter : of the glued face [mm]
    length   : along the tube [mm]
    source   : closed form, F / (pi D L)
    """
    return array(pull_n) / (np.pi * array(diameter) * length)


def ring_glue_twist_mpa(torque_nmm: Values, diameter: Values, length: Values) -> FloatArray:
    """Mean shear of glue round a tube that is turned.

    torque_nmm : [N mm]
    diameter   : of the glued face [mm]
    length     : along the tube; a rib's thickness [mm]
    source     : closed form, 2 T / (pi D2 L)
    """
    return 2.0 * array(torque_nmm) / (np.pi * array(diameter) ** 2 * length)


def glue_lambda(shear_mpa: Values, glue: Values, one_n_mm: Values, other_n_mm: Values) -> FloatArray:
    """How fast the force passes from one glued body to the other.

    shear_mpa            : the glue's shear modulus [MPa]
    glue                 : its thickness [mm]
    one_n_mm, other_n_mm : E t of each body [N/mm]
    returns              : [1/mm]
    source               : Volkersen, closed form
    """
    return np.sqrt(array(shear_mpa) / glue * (1.0 / array(one_n_mm) + 1.0 / array(other_n_mm)))


def glue_peak(length: Values, lambda_1_mm: Values, one_n_mm: Values, other_n_mm: Values) -> FloatArray:
    """Greatest over mean shear of a glued lap while nothing yields.

    length               : of the lap along the force [mm]
    lambda_1_mm          : `glue_lambda` [1/mm]
    one_n_mm, other_n_mm : E t of each body [N/mm]
    returns              : [-]
    source               : Volkersen, closed form; a lap without peel
    """
    half = array(lambda_1_mm) * length / 2.0
    ratio = array(one_n_mm) / other_n_mm
    return half * (1.0 / np.tanh(half) + np.abs(1.0 - ratio) / (1.0 + ratio) * np.tanh(half))


def glue_reach(lambda_1_mm: Values) -> FloatArray:
    """Length of a lap past which more adds next to nothing while nothing yields.

    lambda_1_mm : `glue_lambda` [1/mm]
    returns     : [mm]
    source      : 4 / lambda, common practice
    """
    return 4.0 / array(lambda_1_mm)


def glue_gap_share(gap: Values) -> FloatArray:
    """Share of its strength that glue keeps at a thickness.

    gap    : thickness of the glue, half the play of a tube [mm]
    source : full from .05 to .2 mm, half past .5 or with none at all; straight lines between; from memory
    """
    return array(np.interp(gap, (0.0, 0.05, 0.2, 0.5), (0.5, 1.0, 1.0, 0.5)))


def scarf_shear_mpa(stress_mpa: Values, slope: Values) -> FloatArray:
    """Shear along a scarf's glue.

    stress_mpa : in the bar [MPa]
    slope      : n of 1 in n [-]
    source     : closed form, s n / (n2 + 1)
    """
    return array(stress_mpa) * slope / (array(slope) ** 2 + 1.0)


def scarf_normal_mpa(stress_mpa: Values, slope: Values) -> FloatArray:
    """Pull straight off a scarf's glue.

    stress_mpa : in the bar [MPa]
    slope      : n of 1 in n [-]
    source     : closed form, s / (n2 + 1)
    """
    return array(stress_mpa) / (array(slope) ** 2 + 1.0)


def scarf_share(strength_mpa: Values, shear_mpa: Values, across_mpa: Values, slope: Values) -> FloatArray:
    """Share of a bar's strength that a scarf reaches, 1 at most, by the sum of both stresses' squares.

    strength_mpa : of the bar, along [MPa]
    shear_mpa    : of glue or wood beside it, the less [MPa]
    across_mpa   : pulled straight off, of glue or wood beside it, the less [MPa]
    slope        : n of 1 in n [-]
    source       : closed form, quadratic interaction; see `scarf_cap`
    """
    shear = scarf_shear_mpa(strength_mpa, slope) / shear_mpa
    return np.minimum(1.0, 1.0 / np.hypot(shear, scarf_normal_mpa(strength_mpa, slope) / across_mpa))


def scarf_cap(slope: Values) -> FloatArray:
    """Share that a scarf isn't counted above, whatever the glue.

    slope  : n of 1 in n [-]
    source : a university's tests of scarfs, .65 at 4 and .95 at 20; butt .25; .75 at 8; straight lines between, never
             above .9
    """
    steps, shares = zip(*SCARF_READ, strict=True)
    return np.minimum(SCARF_AT_MOST, np.interp(slope, steps, shares))
