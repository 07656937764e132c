"""Screws in plastic, and clamps."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

THREAD_AT_MOST = 2.5  # diameters of thread in plastic that bear: from memory
PRELOAD_LEFT = 0.3  # of a screw's pull on plastic after a month: from memory
SHEARED_AT = 0.9  # of a screw's diameter, where a thread that it cut itself is sheared: from memory


def thread_that_bears(diameter: Values, length: Values) -> FloatArray:
    """Length of a self-cut thread in plastic that bears.

    diameter : of the screw [mm]
    length   : that the screw reaches in [mm]
    returns  : [mm]
    source   : 2.5 diameters at most, from memory
    """
    return np.minimum(array(length), THREAD_AT_MOST * array(diameter))


def thread_shear_mpa(pull_n: Values, diameter: Values, length: Values) -> FloatArray:
    """Shear of a thread that a screw cut itself in plastic.

    pull_n   : along the screw [N]
    diameter : of the screw [mm]
    length   : of thread that bears, see `thread_that_bears` [mm]
    source   : F / (pi .9 d L), common practice
    """
    return array(pull_n) / (np.pi * SHEARED_AT * array(diameter) * length)


def clamp_torque_nmm(preload_n: Values, friction: Values, diameter: Values) -> tuple[FloatArray, FloatArray]:
    """Twist that a clamp of two bolts holds: with rigid halves, and with halves that wrap the tube.

    preload_n : of each bolt [N]
    friction  : [-]
    diameter  : of the tube [mm]
    returns   : (least, greatest) [N mm]
    source    : 2 mu F D to pi mu F D, closed form; its force along the tube is twice that over D
    """
    once = array(preload_n) * friction * diameter
    return 2.0 * once, np.pi * once
