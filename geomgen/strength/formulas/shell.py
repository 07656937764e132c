"""Thin round walls that buckle or ovalise under bending and thrust."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

KNOCK_DOWN = 0.901  # NASA SP-8007 for thrust, second hand; bending's .731 (from memory) isn't used, copies swap the two


def mean_radius(outside: Values, inside: Values) -> FloatArray:
    """Radius of a wall's middle.

    outside, inside : diameters [mm]
    source          : plane geometry
    """
    return (array(outside) + inside) / 4.0


def wall_thickness(outside: Values, inside: Values) -> FloatArray:
    """Thickness of a tube's wall.

    outside, inside : diameters [mm]
    source          : plane geometry
    """
    return (array(outside) - inside) / 2.0


def wall_knock_down(radius: Values, wall: Values) -> FloatArray:
    """Share of a perfect cylinder's buckling stress that a real one bears.

    radius : of the wall's middle [mm]
    wall   : thickness [mm]
    source : NASA SP-8007, 1 - c (1 - exp(-sqrt(r / t) / 16)); second hand for thrust, used for bending as well
    """
    return 1.0 - KNOCK_DOWN * (1.0 - np.exp(-np.sqrt(array(radius) / wall) / 16.0))


def wall_buckling_mpa(modulus_mpa: Values, radius: Values, wall: Values, poisson: float = 0.3) -> FloatArray:
    """Stress at which the wall of a tube alike in all directions buckles, knocked down.

    modulus_mpa : [MPa]
    radius      : of the wall's middle [mm]
    wall        : thickness [mm]
    poisson     : [-]
    source      : classical cylinder, E t / (r sqrt(3 (1 - nu2))), times `wall_knock_down`
    """
    perfect = array(modulus_mpa) * wall / (array(radius) * np.sqrt(3.0 * (1.0 - poisson**2)))
    return array(wall_knock_down(radius, wall) * perfect)


def wall_buckling_along_mpa(
    along_mpa: Values,
    across_mpa: Values,
    shear_mpa: Values,
    radius: Values,
    wall: Values,
    poisson: float = 0.3,
) -> FloatArray:
    """Stress at which the wall of a tube with its fibres along it buckles, knocked down.

    along_mpa, across_mpa : moduli along and round the tube [MPa]
    shear_mpa             : shear modulus [MPa]
    radius                : of the wall's middle [mm]
    wall                  : thickness [mm]
    poisson               : across for a pull along [-]
    source                : orthotropic cylinder, textbook, from memory; times `wall_knock_down`
    """
    moduli = np.sqrt(array(along_mpa) * across_mpa)
    other = poisson * array(across_mpa) / along_mpa
    perfect = array(wall) / radius * moduli / np.sqrt(3.0 * (1.0 - poisson * other))
    soft = np.sqrt(2.0 * array(shear_mpa) * (1.0 + np.sqrt(poisson * other)) / moduli)
    return array(wall_knock_down(radius, wall) * perfect * np.minimum(1.0, soft))


def ovalising_nmm(
    along_mpa: Values, across_mpa: Values, radius: Values, wall: Values, poisson: float = 0.3
) -> FloatArray:
    """Bending moment at which a long tube flattens until it gives way.

    along_mpa, across_mpa : moduli along and round the tube [MPa]
    radius                : of the wall's middle [mm]
    wall                  : thickness [mm]
    poisson               : across for a pull along [-]
    returns               : [N mm]
    source                : Brazier, closed form, for a tube of two moduli
    """
    other = poisson * array(across_mpa) / along_mpa
    moduli = np.sqrt(array(along_mpa) * across_mpa / (1.0 - poisson * other))
    return array(2.0 * np.sqrt(2.0) / 9.0 * np.pi * moduli * radius * array(wall) ** 2)
