"""The coning that a blade would take if it were free to flap: lift against weight and centrifugal force."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from geomgen.hover.air import GRAVITY_M_S2

_HALVINGS = 60
_NOTHING = 1e-12  # of weight's and spin's moments


def coning_rad(r_m: ArrayLike, lift_n: ArrayLike, element_r_m: ArrayLike, element_kg: ArrayLike, rad_s: float) -> float:
    """The angle at which the moments of one blade about its root's flapping axis, on the rotor's axis, are in balance.

    r_m         : (n,) where lift acts, along the blade [m]
    lift_n      : (n,) across the blade, upwards; what its fans pull up is part of it [N]
    element_r_m : (k,) where its mass is, along the blade; what the fans weigh is part of it [m]
    element_kg  : (k,) [kg]
    rad_s       : rotor speed, > 0 [rad/s]
    returns     : above the plane of rotation; less than 0 where its weight is more than its lift; nan where no
                  centrifugal force holds against so much [rad]
    source      : sum(L r) - g sum(m r) cos b - w^2 sum(m r^2) sin b cos b = 0, the root at which the blade comes back
                  if it is moved (equilibrium); lift as given, though at another angle it would be a little different
    """
    lift = float(np.dot(np.asarray(lift_n, dtype=np.float64), np.asarray(r_m, dtype=np.float64)))
    at, mass = np.asarray(element_r_m, dtype=np.float64), np.asarray(element_kg, dtype=np.float64)
    weight, spin = GRAVITY_M_S2 * float(mass @ at), rad_s**2 * float(mass @ at**2)

    def up_nm(angle: float) -> float:
        return lift - weight * math.cos(angle) - spin * math.sin(angle) * math.cos(angle)

    low, high = _held(weight, spin)
    nothing = _NOTHING * (weight + spin)
    if up_nm(low) < -nothing or up_nm(high) > nothing:
        return math.nan
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if up_nm(middle) > 0.0 else (low, middle)
    return high


def _held(weight_nm: float, spin_nm: float) -> tuple[float, float]:
    """Between these angles a blade that is moved comes back: the moment falls with the angle [rad].

    Its slope, weight sin b - spin cos 2b, is nothing where 2 spin s^2 + weight s - spin is, s = sin b.
    """
    root = math.sqrt(weight_nm**2 + 8.0 * spin_nm**2)
    below, above = ((-weight_nm + sign * root) / (4.0 * spin_nm) for sign in (-1.0, 1.0))
    return math.asin(max(below, -1.0)), math.asin(above)
