"""Rectangles: bent, sheared, twisted."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

_ODD = np.arange(1.0, 30.0, 2.0)


def rectangle_second_mm4(width: Values, height: Values) -> FloatArray:
    """Second moment of a rectangle about its middle, bent over its height.

    width, height : [mm]
    source        : closed form, b h3 / 12
    """
    return array(width) * array(height) ** 3 / 12.0


def rectangle_bending_mpa(moment_nmm: Values, width: Values, height: Values) -> FloatArray:
    """Greatest stress of a bent rectangle.

    moment_nmm    : [N mm]
    width, height : height is the way it bends [mm]
    source        : closed form, 6 M / (b h2)
    """
    return 6.0 * array(moment_nmm) / (array(width) * array(height) ** 2)


def rectangle_shear_mpa(force_n: Values, width: Values, height: Values) -> FloatArray:
    """Greatest shear of a rectangle under a force over its height.

    force_n       : [N]
    width, height : [mm]
    source        : closed form, 1.5 V / (b h)
    """
    return 1.5 * array(force_n) / (array(width) * height)


def rectangle_torsion_mm4(one: Values, other: Values) -> FloatArray:
    """Torsion constant of a rectangle, its ends free to warp.

    one, other : sides, in either order [mm]
    source     : Saint-Venant's series, closed form; 15 terms, right to 1e-7
    """
    long, short = np.maximum(one, other)[..., None], np.minimum(one, other)[..., None]
    series = (np.tanh(_ODD * np.pi * long / (2.0 * short)) / _ODD**5).sum(axis=-1)
    long, short = long[..., 0], short[..., 0]
    return array(long * short**3 / 3.0 * (1.0 - 192.0 / np.pi**5 * short / long * series))
