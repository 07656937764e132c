"""What a degree of pitch does to a rotor's lift: blade element and momentum theory in closed form."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.hover.air import GRAVITY_M_S2
from geomgen.hover.mean_lift import MeanLift

SECTION_SLOPE_PER_RAD = 5.9  # lift coefficient over angle, of sections of 12 to 15 % at low speed; common practice


@dataclass(frozen=True)
class LiftPerPitch:
    """How lift goes with pitch at a constant rpm.

    thrust_coefficient  : thrust / (rho pi R^2 (Omega R)^2) [-]
    share_per_deg       : of the rotor's lift, for each deg of pitch of all its blades [1/deg]
    blade_share_per_deg : of one blade's lift, for each deg between it and another: both work in the air that all
                          blades move [1/deg]
    """

    thrust_coefficient: float
    share_per_deg: float
    blade_share_per_deg: float


def thrust_slope_per_rad(solidity: float, thrust_coefficient: float, section: float = SECTION_SLOPE_PER_RAD) -> float:
    """Change of a rotor's thrust coefficient with the pitch of its blades, at a constant rpm.

    solidity           : blade area over disc area [-]
    thrust_coefficient : > 0 [-]
    section            : slope of the section's lift coefficient [1/rad]
    returns            : [1/rad]
    source             : C_T = sigma a / 2 (theta / 3 - sqrt(C_T / 2) / 2), even inflow, pitch at 75 % of the radius,
                         differentiated; textbook, from memory. No loss at tip or root: measured slopes differ by 13 %
    """
    inflow = solidity * section / 16.0 * math.sqrt(2.0 / thrust_coefficient)
    return blade_slope_per_rad(solidity, section) / (1.0 + inflow)


def blade_slope_per_rad(solidity: float, section: float = SECTION_SLOPE_PER_RAD) -> float:
    """The same while the inflow stays as it is: for one blade against another; solidity that of all blades [1/rad]."""
    return solidity * section / 6.0


def lift_per_pitch(lift: MeanLift, *, radius_mm: float) -> LiftPerPitch:
    """The same for a rotor that carries a mass, as a share of what it carries.

    radius_mm : of the rotor [mm]
    """
    radius = radius_mm * 1e-3
    speed, disc = lift.rpm * math.pi / 30.0 * radius, math.pi * radius**2
    thrust = lift.mass_g * 1e-3 * GRAVITY_M_S2 / (lift.air_density_kg_m3 * disc * speed**2)
    rotor = thrust_slope_per_rad(lift.solidity, thrust)
    return LiftPerPitch(thrust, math.radians(rotor / thrust), math.radians(blade_slope_per_rad(lift.solidity) / thrust))
