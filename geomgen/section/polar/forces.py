"""What a section does in the air, as theories ask for it; the simplest that answers; its mirror image."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple, Protocol

import numpy as np

from geomgen.arrays import FloatArray


class SectionForces(NamedTuple):
    """Coefficients of one section or many, shaped as the angles that were asked for.

    lift          : lift coefficient [-]
    slope_per_rad : its change with the angle [1/rad]
    drag          : drag coefficient [-]
    """

    lift: FloatArray
    slope_per_rad: FloatArray
    drag: FloatArray


class SectionPolar(Protocol):
    """Lift and drag of a blade's sections. Where sections change along the blade, it answers for one place each."""

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients, element by element.

        alpha_rad : (n,) angle of attack of each place along the blade, any finite one [rad]
        reynolds  : (n,) by the chord there [-]
        """
        ...


@dataclass(frozen=True)
class CappedLine:
    """Lift along a straight line up to a greatest one either way, drag as a parabola of the angle; no Reynolds number.

    slope_per_rad      : of lift below its greatest [1/rad]
    greatest_lift      : [-]; lift stays there beyond
    zero_lift_rad      : angle without lift [rad]
    drag_at_zero       : drag coefficient at angle 0 [-]
    drag_per_rad2      : what it grows with the square of the angle [1/rad2]
    source             : drag as NACA TN 626 takes it for NACA 0015 at Re 242 000: 0.0113 + 1.25 alpha^2
    """

    slope_per_rad: float
    greatest_lift: float = np.inf
    zero_lift_rad: float = 0.0
    drag_at_zero: float = 0.0113
    drag_per_rad2: float = 1.25

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients at angles [rad]."""
        line = self.slope_per_rad * (alpha_rad - self.zero_lift_rad)
        lift = np.clip(line, -self.greatest_lift, self.greatest_lift)
        drag = self.drag_at_zero + self.drag_per_rad2 * alpha_rad**2
        return SectionForces(lift, np.where(lift == line, self.slope_per_rad, 0.0), drag)


@dataclass(frozen=True)
class Mirrored:
    """A polar upside down."""

    polar: SectionPolar

    def at(self, alpha_rad: FloatArray, reynolds: FloatArray) -> SectionForces:
        """The coefficients at angles [rad]."""
        forces = self.polar.at(-alpha_rad, reynolds)
        return SectionForces(-forces.lift, forces.slope_per_rad, forces.drag)


def zero_lift_rad(polar: SectionPolar, reynolds: FloatArray, rounds: int = 4) -> FloatArray:
    """The angle without lift next to angle 0, by Newton's steps from there.

    reynolds : (n,) [-]
    returns  : (n,) [rad]
    """
    alpha = np.zeros_like(reynolds)
    for _ in range(rounds):
        forces = polar.at(alpha, reynolds)
        alpha = alpha - forces.lift / np.maximum(forces.slope_per_rad, 1.0)
    return alpha
