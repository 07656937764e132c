"""A ducted fan's jet by momentum: thrust and air power at the speed that the fan itself goes through the air.

The jet leaves at the air's own pressure. What the intake drags back is in the thrust already. The duct's outside has
its own drag: nacelle.py.
"""

from __future__ import annotations

import math

_STEPS = 60
_CLOSE = 1e-15


def jet_speed_m_s(thrust_n: float, speed_m_s: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Speed of the jet, as the fan sees it, for a given thrust.

    thrust_n     : [N]; below zero the fan brakes, at most as much as it does with a jet half as fast as the air
    speed_m_s    : of the fan through the air [m/s], >= 0
    exit_area_m2 : [m2]
    returns      : [m/s]
    source       : momentum, T = rho A Ve (Ve - V), solved for Ve
    """
    return speed_m_s / 2 + math.sqrt(max(0.0, speed_m_s**2 / 4 + thrust_n / (density_kg_m3 * exit_area_m2)))


def air_power_w(thrust_n: float, speed_m_s: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Power that the air takes up for a given thrust; below zero for a fan that brakes.

    returns : [W], the useful part T V and what stays in the jet
    source  : kinetic energy, P = 1/2 T (Ve + V)
    """
    jet = jet_speed_m_s(thrust_n, speed_m_s, density_kg_m3, exit_area_m2)
    return thrust_n * (jet + speed_m_s) / 2


def jet_speed_at_power_m_s(power_w: float, speed_m_s: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Speed of the jet for a given power in the air.

    power_w : [W]; at zero or less the jet is no faster than the air: such a fan neither drives nor brakes
    returns : [m/s]
    source  : 1/2 rho A Ve (Ve^2 - V^2) = P, by Newton's steps from above, where the cubic is convex
    """
    if power_w <= 0.0:
        return speed_m_s
    cube = 2 * power_w / (density_kg_m3 * exit_area_m2)
    jet = speed_m_s + math.cbrt(cube)
    for _ in range(_STEPS):
        step = (jet * (jet**2 - speed_m_s**2) - cube) / (3 * jet**2 - speed_m_s**2)
        jet -= step
        if abs(step) <= _CLOSE * jet:
            break
    return jet


def thrust_at_power_n(power_w: float, speed_m_s: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Thrust for a given power in the air, at a speed [N]; none at zero power or less."""
    jet = jet_speed_at_power_m_s(power_w, speed_m_s, density_kg_m3, exit_area_m2)
    return density_kg_m3 * exit_area_m2 * jet * (jet - speed_m_s)


def static_thrust_n(power_w: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Thrust at rest [N]: (4 rho A P^2)^(1/3)."""
    return math.cbrt(4 * density_kg_m3 * exit_area_m2 * power_w**2)


def static_power_w(thrust_n: float, density_kg_m3: float, exit_area_m2: float) -> float:
    """Power in the air for a thrust at rest [W], thrust >= 0."""
    return thrust_n * math.sqrt(thrust_n / (density_kg_m3 * exit_area_m2)) / 2


def annulus_m2(inside_mm: float, centre_mm: float) -> float:
    """Area between a duct's inside and the body in its middle [m2]; diameters [mm]."""
    return math.pi / 4 * (inside_mm**2 - centre_mm**2) * 1e-6
