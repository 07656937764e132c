"""Bars: bending, and rectangles that are twisted."""

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


def bending_mpa(moment_nmm: Values, second_mm4: Values, out: Values) -> FloatArray:
    """Stress of a bent bar at a distance from its neutral line.

    moment_nmm : [N mm]
    second_mm4 : [mm4]
    out        : distance from the neutral line [mm]
    source     : closed form
    """
    return array(moment_nmm) * out / second_mm4


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


def rectangle_twist_mpa(torque_nmm: Values, one: Values, other: Values) -> FloatArray:
    """Greatest shear of a twisted rectangle, in the middle of its long sides.

    torque_nmm : [N mm]
    one, other : sides, in either order [mm]
    source     : Saint-Venant's series, closed form; 15 terms, right to 1e-6
    """
    long, short = np.maximum(one, other)[..., None], np.minimum(one, other)[..., None]
    # 1 / cosh, written so that a thin rectangle doesn't overflow
    decay = np.exp(-_ODD * np.pi * long / (2.0 * short))
    series = (2.0 * decay / (1.0 + decay**2) / _ODD**2).sum(axis=-1)
    peak = short[..., 0] * (1.0 - 8.0 / np.pi**2 * series)
    return array(array(torque_nmm) / rectangle_torsion_mm4(one, other) * peak)
