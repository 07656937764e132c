"""Panels of sheet between ribs that stand closer than the panel is wide, and what air does to them."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

WAVES = np.arange(1.0, 41.0)  # half waves along the stress that are tried


def short_panel_mpa(
    along_mpa: Values,
    across_mpa: Values,
    shear_mpa: Values,
    thickness: Values,
    length: Values,
    width: Values,
    poisson: float = 0.3,
) -> FloatArray:
    """Stress at which a flat panel buckles that is pressed along its length, all edges laid on and free to turn.

    along_mpa, across_mpa : moduli along the stress and across it, bent flat [MPa]
    shear_mpa             : shear modulus [MPa]
    thickness             : [mm]
    length                : along the stress, between ribs [mm]
    width                 : across it [mm]
    poisson               : across for a pull along; the thin plate's 1 - nu nu' is left out, as for wood [-]
    source                : closed form, pi2/t (D1 m2/a2 + 2 D3/b2 + D2 a2/(m2 b4)), the least of m = 1, 2 ...
    """
    cube = array(thickness) ** 3 / 12.0
    a, b, m = array(length)[..., None], array(width)[..., None], WAVES
    d_along, d_across = array(along_mpa * cube)[..., None], array(across_mpa * cube)[..., None]
    d_twist = array(poisson * across_mpa * cube + 2.0 * shear_mpa * cube)[..., None]
    each = d_along * m**2 / a**2 + 2.0 * d_twist / b**2 + d_across * a**2 / (m**2 * b**4)
    return array(np.pi**2 * each.min(axis=-1) / thickness)


def pressed_strip_nmm(pressure_mpa: Values, length: Values) -> FloatArray:
    """Bending of a sheet that air lifts between ribs, for each mm of its width, over the ribs and between them.

    pressure_mpa : [MPa]
    length       : between ribs [mm]
    returns      : [N mm by mm]
    source       : a long strip over many supports, p l2 / 10 at the one next to the last, textbook
    """
    return array(pressure_mpa) * array(length) ** 2 / 10.0


def film_pull_n_mm(stiffness_n_mm: Values, pressure_mpa: Values, length: Values) -> FloatArray:
    """Pull in a film that air lifts between ribs, slack before.

    stiffness_n_mm : E t of the film [N/mm]
    pressure_mpa   : [MPa]
    length         : between ribs [mm]
    returns        : [N/mm]
    source         : a flat strip that takes a parabola's shape, closed form, T3 = E t (p l)2 / 24
    """
    return np.cbrt(array(stiffness_n_mm) * (array(pressure_mpa) * length) ** 2 / 24.0)
