"""One rotor in hover at one pitch, as any of the theories gives it; lengths by R, speeds by Omega R."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.arrays import BoolArray, FloatArray
from geomgen.hover.panels import Panels
from geomgen.section.polar.forces import SectionForces

STALL_SLOPE_PER_RAD = 2.0  # a third of a thin section's; beyond stall lift grows again as a plate's, never as steeply
STALLED_SHARE = 0.03  # of a blade, each piece of it counted by r squared, as what lifts does
SOLVED = 1e-5  # of the residual; on a rotor that lifts, less than a thousandth of circulation and wake speed


@dataclass(frozen=True, eq=False)
class Loads:
    """What each panel of a blade does, root first.

    r, dr      : (n,) radius, width [R]
    alpha_rad  : (n,) angle of attack [rad]
    reynolds   : (n,) by the chord [-]
    forces     : (n,) coefficients of the sections [-]
    inflow     : (n,) speed of the air downwards where forces act [Omega R]
    lift, drag : (n,) of one blade for each unit of length, across and along the local stream [rho (Omega R)^2 R]
    """

    r: FloatArray
    dr: FloatArray
    alpha_rad: FloatArray
    reynolds: FloatArray
    forces: SectionForces
    inflow: FloatArray
    lift: FloatArray
    drag: FloatArray

    @property
    def past_stall(self) -> BoolArray:
        """(n,) where lift no longer grows with the angle."""
        return self.forces.slope_per_rad < STALL_SLOPE_PER_RAD


@dataclass(frozen=True, eq=False)
class HoverPoint:
    """Coefficients of a rotor in hover: thrust / (rho pi R^2 (Omega R)^2), torque and power with R or Omega R more.

    theory     : whose figures these are
    thrust     : [-]
    induced    : torque of lift, leant back by the inflow [-]
    profile    : torque of the sections' drag [-]
    loads      : along the blade
    residual   : the most by which the solution misses its own equations, by Omega R and R [-]
    wake_speed : u0 of the lifting line [Omega R]; None in other theories
    """

    theory: str
    thrust: float
    induced: float
    profile: float
    loads: Loads
    residual: float
    wake_speed: float | None = None

    @property
    def torque(self) -> float:
        """Torque, and power, coefficient [-]."""
        return self.induced + self.profile

    @property
    def induced_factor(self) -> float:
        """Induced power over that of even inflow, kappa [-]; infinite without thrust."""
        ideal = abs(self.thrust) ** 1.5 / math.sqrt(2.0)
        return self.induced / ideal if ideal else math.inf

    @property
    def figure_of_merit(self) -> float:
        """Power of even inflow over all power [-]."""
        return abs(self.thrust) ** 1.5 / math.sqrt(2.0) / self.torque if self.torque else 0.0

    @property
    def solved(self) -> bool:
        """Whether the equations are met."""
        return self.residual < SOLVED

    @property
    def stalled(self) -> bool:
        """Whether so much of the blade is past its stall that it tells, or nothing fits: no solution is exact then.

        A few panels at the root, which hardly lift, don't tell.
        """
        loads = self.loads
        weight = loads.r**2 * loads.dr
        return bool(weight @ loads.past_stall > STALLED_SHARE * weight.sum()) or not self.solved


def reynolds_numbers(blade: Panels, speed: FloatArray, reynolds_at_tip: float) -> FloatArray:
    """(n,) Reynolds numbers at speeds [Omega R]; reynolds_at_tip is Omega R R / nu, of a chord of R at the tip."""
    return reynolds_at_tip * blade.chord * speed
