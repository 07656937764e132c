"""Past stall every section is a plate: lift, drag and moment over a whole turn, and how a section goes over to them."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray

BLEND_RAD = float(np.radians(5.0))  # over which a section goes over from stall to a plate; common practice
SOURCE = "past stall a plate's forces, in the shape of SAND80-2114 (NACA 0015), good to 15 %"

_KNOWN = np.array(  # angle [deg], lift, drag of NACA 0015 at Re 160 000: Sheldahl and Klimas, SAND80-2114, 1981
    [
        (30, 0.855, 0.57),
        (35, 0.98, 0.745),
        (40, 1.035, 0.92),
        (45, 1.05, 1.075),
        (50, 1.02, 1.215),
        (60, 0.875, 1.47),
        (70, 0.63, 1.665),
        (80, 0.365, 1.78),
        (90, 0.09, 1.80),
        (100, -0.185, 1.75),
        (110, -0.45, 1.635),
        (120, -0.67, 1.465),
        (130, -0.85, 1.225),
        (140, -0.98, 0.925),
        (150, -0.77, 0.575),
        (160, -0.635, 0.32),
        (170, -0.85, 0.14),
        (175, -0.66, 0.055),
        (180, 0.0, 0.025),
    ]
)


def plate(alpha_rad: FloatArray) -> FloatArray:
    """(3, m) lift, drag and moment coefficient about a quarter of the chord, nose up, at angles from -pi to pi [rad].

    source : SAND80-2114 from 30 deg; below, lift with sin 2a and drag with sin² a from there. Moment from the plate's
             centre of pressure after Rayleigh (1876): 3 cos a/(4 (4 + pi sin a)) ahead of mid chord; from memory
    """
    size, sign = np.abs(alpha_rad), np.sign(alpha_rad)
    first = np.radians(_KNOWN[0, 0])
    lift = np.interp(size, np.radians(_KNOWN[:, 0]), _KNOWN[:, 1])
    drag = np.interp(size, np.radians(_KNOWN[:, 0]), _KNOWN[:, 2])
    small = size < first
    lift = np.where(small, _KNOWN[0, 1] * np.sin(2.0 * size) / np.sin(2.0 * first), lift)
    drag = np.where(small, _KNOWN[0, 2] * (np.sin(size) / np.sin(first)) ** 2, drag)
    across = lift * np.cos(size) + drag * np.sin(size)
    ahead = 0.75 * np.cos(size) / (4.0 + np.pi * np.sin(size))
    return np.stack([sign * lift, drag, -sign * across * (0.25 - ahead)])


def blended(alpha_rad: FloatArray, attached: FloatArray, stall_rad: tuple[float, float]) -> FloatArray:
    """(3, m) a section's own lift, drag and moment between its stalls, a plate's beyond, smoothly over 5 deg.

    attached  : (3, m) the section's own
    stall_rad : angles at which it begins to go over, below and above [rad]
    """
    past = np.maximum(alpha_rad - stall_rad[1], stall_rad[0] - alpha_rad)
    share = np.clip(past / BLEND_RAD, 0.0, 1.0)
    share = share * share * (3.0 - 2.0 * share)
    flat = plate(alpha_rad)
    flat[1] = np.maximum(flat[1], share * attached[1])
    return np.asarray((1.0 - share) * attached + share * flat)
