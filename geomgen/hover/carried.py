"""The rpm at which a rotor carries a weight at a given pitch, and the power that its blades ask for there."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.hover.point import HoverPoint
from geomgen.hover.wake.influence import Wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import SectionPolar

STANDARD_SOUND_M_S = 340.294  # at sea level; U.S. Standard Atmosphere 1976
_FIRST_LIFT = 0.5  # lift coefficient of the first guess
_CLOSE, _ROUNDS = 1e-4, 10  # of the tip's speed, as a share
_LONGEST_STEP = math.log(3.0)


class Why(Enum):
    """Why a rotor doesn't carry its weight at a pitch."""

    NO_LIFT = "no lift: the tips would have to be faster than sound"
    PAST_STALL = "part of the blade is past its stall, where no figure is exact"
    UNSOLVED = "no rpm was found at which thrust and weight agree"


@dataclass(frozen=True, eq=False)
class Task:
    """What a rotor is to carry, and in what air.

    weight_n            : [N]
    radius_m            : along the blade [m]
    air_density         : [kg/m3]
    kinematic_viscosity : of the air [m2/s]
    ground              : factor on every induced speed, from `ground` [-]
    coning_rad          : angle of the blades above the rotor's plane: speed falls with its cosine and so does what of
                          the lift points up [rad]
    sound_m_s           : speed of sound [m/s]
    """

    weight_n: float
    radius_m: float
    air_density: float
    kinematic_viscosity: float
    ground: float = 1.0
    coning_rad: float = 0.0
    sound_m_s: float = STANDARD_SOUND_M_S

    def reynolds_at_tip(self, tip_speed_m_s: float) -> float:
        """Of a chord as long as the blade's radius, which is what `hover_point` asks for [-]."""
        return tip_speed_m_s * self.radius_m / self.kinematic_viscosity

    def force_n(self, tip_speed_m_s: float) -> float:
        """What a coefficient of 1 is [N]."""
        return self.air_density * math.pi * self.radius_m**2 * tip_speed_m_s**2

    def tip_speed_m_s(self, thrust: float) -> float:
        """At which a thrust coefficient > 0 carries the weight [m/s]."""
        return math.sqrt(self.weight_n / (self.force_n(1.0) * math.cos(self.coning_rad) * thrust))


@dataclass(frozen=True, eq=False)
class Carried:
    """A rotor that carries its weight.

    pitch_rad     : added to the blade's twist [rad]
    task          : what it carries
    tip_speed_m_s : [m/s]
    point         : its coefficients there; thrust within 12 % at this pitch, so rpm within 6 %
    """

    pitch_rad: float
    task: Task
    tip_speed_m_s: float
    point: HoverPoint

    @property
    def rad_s(self) -> float:
        """Rotor speed [rad/s]."""
        return self.tip_speed_m_s / (self.task.radius_m * math.cos(self.task.coning_rad))

    @property
    def rpm(self) -> float:
        """Rotor speed [1/min]."""
        return self.rad_s * 30.0 / math.pi

    @property
    def induced_w(self) -> float:
        """Power that lift costs [W]."""
        return self.point.induced * self.task.force_n(self.tip_speed_m_s) * self.tip_speed_m_s

    @property
    def profile_w(self) -> float:
        """Power that the sections' drag costs [W]."""
        return self.point.profile * self.task.force_n(self.tip_speed_m_s) * self.tip_speed_m_s

    @property
    def power_w(self) -> float:
        """Power of the blades alone [W]: no fans, no hub, nothing at the tips."""
        return self.induced_w + self.profile_w

    @property
    def torque_n_m(self) -> float:
        """Of the blades alone [N m]."""
        return self.power_w / self.rad_s

    @property
    def mach_tip(self) -> float:
        """[-]."""
        return self.tip_speed_m_s / self.task.sound_m_s

    @property
    def r_m(self) -> FloatArray:
        """(n,) where along one blade the panels' forces act [m]."""
        return self.point.loads.r * self.task.radius_m

    @property
    def lift_n(self) -> FloatArray:
        """(n,) force of one blade's panels across blade and plane of rotation, upwards [N]."""
        loads = self.point.loads
        down = np.arctan2(loads.inflow, loads.r)
        across = (loads.lift * np.cos(down) - loads.drag * np.sin(down)) * loads.dr
        force: FloatArray = across * self.task.force_n(self.tip_speed_m_s) / math.pi
        return force


@dataclass(frozen=True, eq=False)
class NotCarried:
    """A pitch at which a rotor doesn't carry its weight.

    pitch_rad : added to the blade's twist [rad]
    why       : and in words `why.value`
    nearest   : figures of which none is exact, past the stall; None where there are none
    """

    pitch_rad: float
    why: Why
    nearest: Carried | None = None


def carried(
    wake: Wake,
    twist_rad: ArrayLike,
    pitch_rad: float,
    polar: SectionPolar,
    task: Task,
    first_m_s: float | None = None,
) -> Carried | NotCarried:
    """The rpm at which a rotor carries a weight at one pitch.

    wake      : table of its planform
    twist_rad : (n,) angle of its sections at the panels' r at no pitch [rad]
    pitch_rad : added to it [rad]
    polar     : of its sections
    task      : what is asked of it
    first_m_s : a tip speed to begin with [m/s]
    returns   : the rotor there, or why it isn't; thrust depends on rpm by the Reynolds number alone, so that two to
                four points of hover are enough
    raises    : ValueError where weight, radius, density or viscosity isn't > 0
    """
    if not min(task.weight_n, task.radius_m, task.air_density, task.kinematic_viscosity) > 0.0:
        raise ValueError(f"weight, radius, density and viscosity are > 0, not {task}")
    angle, blade = np.asarray(twist_rad, dtype=np.float64) + pitch_rad, wake.blade
    speed = first_m_s or task.tip_speed_m_s(blade.solidity * _FIRST_LIFT / 6.0)
    before: tuple[float, float] | None = None
    for _ in range(_ROUNDS):
        point = hover_point(wake, angle, polar, task.reynolds_at_tip(speed), task.ground)
        off = math.log(task.tip_speed_m_s(point.thrust) / speed) if point.thrust > 0.0 else _LONGEST_STEP
        if abs(off) < _CLOSE:
            return _judged(Carried(pitch_rad, task, speed * math.exp(off), point))
        if speed > task.sound_m_s:
            return NotCarried(pitch_rad, Why.NO_LIFT)
        step = _secant(off, math.log(speed), before)
        before = math.log(speed), off
        speed *= math.exp(step)
    return NotCarried(pitch_rad, Why.PAST_STALL if point.stalled else Why.UNSOLVED)


def _secant(off: float, at: float, before: tuple[float, float] | None) -> float:
    """What is to be added to the logarithm of the speed."""
    step = off
    if before and off != before[1]:
        straight = -off * (at - before[0]) / (off - before[1])
        step = straight if straight * off > 0.0 else off
    return min(max(step, -_LONGEST_STEP), _LONGEST_STEP)


def _judged(found: Carried) -> Carried | NotCarried:
    if found.mach_tip > 1.0:
        return NotCarried(found.pitch_rad, Why.NO_LIFT)
    if found.point.stalled:
        return NotCarried(found.pitch_rad, Why.PAST_STALL, found)
    return found
