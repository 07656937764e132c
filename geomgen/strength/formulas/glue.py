"""Glue round a tube and glued scarfs: mean stress, what a scarf keeps."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

SCARF_READ = ((0.0, 0.25), (4.0, 0.65), (8.0, 0.75), (20.0, 0.95))  # slope, share: a butt; a maker's tests; typical
SCARF_AT_MOST = 0.9


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
