"""Screws, washers, set screws and clamps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

THREAD_AT_MOST = 2.5  # diameters of thread in plastic that bear: from memory
PRELOAD_LEFT = 0.3  # of a screw's pull on plastic after a month: from memory
SHEARED_AT = 0.9  # of a screw's diameter, where a thread that it cut itself is sheared: from memory


@dataclass(frozen=True)
class SetScrew:
    """What a cup point holds on steel when it is fully tightened; half of it is a low figure.

    holds_n   : along the shaft or round it [N]
    torque_nm : that it is tightened with [N m]
    """

    holds_n: float
    torque_nm: float


SET_SCREWS: Mapping[int, SetScrew] = {3: SetScrew(222.0, 0.34), 4: SetScrew(667.0, 1.47), 5: SetScrew(890.0, 2.26)}
FLAT_POINT = 0.92  # of a cup point's. Both from a maker's chart, approximate; none of it on carbon or plastic


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
    return array(pull_n) / _thread_mm2(diameter, length)


def thread_strip_n(shear_mpa: Values, diameter: Values, length: Values) -> FloatArray:
    """Pull at which a thread that a screw cut itself in plastic is stripped.

    shear_mpa : strength of thread [MPa]
    diameter  : of the screw [mm]
    length    : of thread that bears, see `thread_that_bears` [mm]
    returns   : [N]
    source    : tau pi .9 d L, common practice
    """
    return shear_mpa * _thread_mm2(diameter, length)


def boss_mpa(pull_n: Values, outside: Values, hole: Values) -> FloatArray:
    """Stress across the layers of an upright printed boss that a screw pulls at.

    pull_n  : along the screw [N]
    outside : diameter of the boss [mm]
    hole    : diameter of the hole [mm]
    source  : closed form, F / (pi / 4 (Db2 - d2))
    """
    return array(pull_n) / (np.pi / 4.0 * (array(outside) ** 2 - array(hole) ** 2))


def washer_pressure_mpa(force_n: Values, outside: Values, hole: Values) -> FloatArray:
    """Pressure under a washer.

    force_n : of the screw [N]
    outside : diameter of the washer [mm]
    hole    : diameter of the hole beneath it [mm]
    source  : closed form, F / (pi / 4 (Dw2 - dh2))
    """
    return boss_mpa(force_n, outside, hole)


def washer_bending_mpa(pressure_mpa: Values, overhang: Values, thickness: Values) -> FloatArray:
    """Bending stress of a washer past the screw's head.

    pressure_mpa : under it [MPa]
    overhang     : past the head [mm]
    thickness    : of the washer [mm]
    source       : a strip held at the head, 3 p c2 / t2; common practice; a high figure, for a ring is stiffer
    """
    return 3.0 * array(pressure_mpa) * array(overhang) ** 2 / array(thickness) ** 2


def washer_overhang(stress_mpa: Values, pressure_mpa: Values, thickness: Values) -> FloatArray:
    """Overhang past the head at which a washer reaches a stress.

    stress_mpa   : [MPa]
    pressure_mpa : under it [MPa]
    thickness    : of the washer [mm]
    returns      : [mm]
    source       : as `washer_bending_mpa`
    """
    return array(thickness) * np.sqrt(array(stress_mpa) / (3.0 * array(pressure_mpa)))


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


def clamp_pinch_n(preload_n: Values) -> FloatArray:
    """Force that pinches the tube in a clamp of two bolts.

    preload_n : of each bolt [N]
    source    : equilibrium
    """
    return 2.0 * array(preload_n)


def screw_pull_mpa(pull_n: Values, diameter: Values, pitch: Values) -> FloatArray:
    """Stress of a metric screw that is pulled.

    pull_n   : [N]
    diameter : of the thread [mm]
    pitch    : of the thread [mm]
    source   : ISO 898-1, stress area pi / 4 (d - .9382 p)2
    """
    return array(pull_n) / (np.pi / 4.0 * (array(diameter) - 0.9382 * array(pitch)) ** 2)


def _thread_mm2(diameter: Values, length: Values) -> FloatArray:
    """Face at which a self-cut thread is sheared [mm2]."""
    return np.pi * SHEARED_AT * array(diameter) * length
