"""A rotor as hover takes it: wake, twist, polars, air, and where fans pull; at any pitch, all its forces per speed²."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from geomgen.arrays import FloatArray
from geomgen.hover.air import Air
from geomgen.hover.carried import Carried, NotCarried, Task, carried
from geomgen.hover.power.nacelle import drag_n
from geomgen.hover.wake.influence import Wake
from geomgen.section.polar.forces import SectionPolar

ACROSS = "the fans point across their path, or against it"
DOWN = "the fans, which point down there, pull down more than the blades lift"
_ROUNDS = 5  # the fans' share of the lift hardly depends on rpm
_CLOSE = 1e-4  # of the blades' lift
_LEAST_ALONG = 0.1  # of a fan's pull


@dataclass(frozen=True)
class FanPlace:
    """Where the fans of one blade pull.

    count        : on one blade [-]
    r_m          : from the rotor's axis, along the feather axis [m]
    tilt_deg     : how far they point above the tangent of their circle at pitch 0 [deg]
    drag_area_m2 : of one housing: drag coefficient times frontal area [m2]
    """

    count: int
    r_m: float
    tilt_deg: float
    drag_area_m2: float

    def along(self, pitch_deg: float) -> float:
        """Share of their pull along the tangent [-]."""
        return math.cos(math.radians(self.tilt_deg + pitch_deg))

    def up(self, pitch_deg: float, coning_rad: float) -> float:
        """Share of it along the rotor's axis [-]."""
        return math.sin(math.radians(self.tilt_deg + pitch_deg)) * math.cos(coning_rad)


@dataclass(frozen=True, eq=False)
class Rotor:
    """All that hover is worked out from, but the weight.

    wake       : table of its planform
    twist_rad  : (n,) angle of its sections at the panels' r at no pitch [rad]
    polar      : of its sections
    radius_m   : [m]
    coning_rad : built in [rad]
    air        : in which it turns
    fans       : None where the design has none: then only the air's side is known
    """

    wake: Wake
    twist_rad: FloatArray
    polar: SectionPolar
    radius_m: float
    coning_rad: float
    air: Air
    fans: FanPlace | None

    @property
    def blades(self) -> int:
        """[-]."""
        return self.wake.blade.blades

    def task(self, weight_n: float, ground: float = 1.0) -> Task:
        """What is asked of it."""
        return Task(
            weight_n,
            self.radius_m,
            self.air.density_kg_m3,
            self.air.kinematic_viscosity_m2_s,
            ground,
            self.coning_rad,
            self.air.sound_m_s,
        )


@dataclass(frozen=True, eq=False)
class Setting:
    """A rotor at one pitch that carries a weight with what its fans pull up.

    pitch_deg : [deg]
    weight_n  : all that is carried [N]
    blades    : its blades there; they carry the weight less `fans_up_n`
    fan_n     : pull of each fan [N]; 0 without fans
    fans_up_n : of all fans, along the rotor's axis; less than 0 where they pull down [N]
    nacelle_w : power that the housings' drag takes [W]
    fan_m_s   : speed of the fans through the air [m/s]
    """

    pitch_deg: float
    weight_n: float
    blades: Carried
    fan_n: float
    fans_up_n: float
    nacelle_w: float
    fan_m_s: float

    @property
    def rpm(self) -> float:
        """[1/min]."""
        return self.blades.rpm

    @property
    def air_w(self) -> float:
        """Power that blades and housings take out of the fans' pull: pull along the path, times speed [W]."""
        return self.blades.power_w + self.nacelle_w


@dataclass(frozen=True, eq=False)
class NoSetting:
    """A pitch at which it doesn't carry its weight.

    pitch_deg : [deg]
    why       : in words
    nearest   : figures of which none is exact, past stall; None where there are none
    """

    pitch_deg: float
    why: str
    nearest: Setting | None = None


def setting(
    rotor: Rotor, pitch_deg: float, weight_n: float, ground: float = 1.0, polar: SectionPolar | None = None
) -> Setting | NoSetting:
    """A rotor at one pitch, carrying a weight.

    weight_n : [N]
    ground   : factor on every induced speed [-]
    polar    : instead of the rotor's own
    source   : equilibrium: blades' lift and fans' pull along the axis carry the weight; fans' pull along the tangent
               turns blades and housings
    """
    if rotor.fans is not None and rotor.fans.along(pitch_deg) < _LEAST_ALONG:
        return NoSetting(pitch_deg, ACROSS)
    task, first, share = rotor.task(weight_n, ground), None, 0.0
    for _ in range(_ROUNDS):
        asked = replace(task, weight_n=weight_n / (1.0 + share))
        found = carried(rotor.wake, rotor.twist_rad, math.radians(pitch_deg), polar or rotor.polar, asked, first)
        at = found if isinstance(found, Carried) else found.nearest
        if at is None:
            return NoSetting(pitch_deg, _why(found))
        made = driven(rotor, pitch_deg, at)
        share_now = made.fans_up_n / at.task.weight_n
        if share_now <= -1.0:
            return NoSetting(pitch_deg, DOWN)
        if abs(share_now - share) < _CLOSE:
            break
        share, first = share_now, at.tip_speed_m_s
    return made if isinstance(found, Carried) else NoSetting(pitch_deg, _why(found), made)


def _why(found: Carried | NotCarried) -> str:
    return found.why.value if isinstance(found, NotCarried) else ""


def driven(rotor: Rotor, pitch_deg: float, at: Carried) -> Setting:
    """What the fans must pull so that blades turn as they do."""
    fans = rotor.fans
    if fans is None:
        return Setting(pitch_deg, at.task.weight_n, at, 0.0, 0.0, 0.0, 0.0)
    arm = fans.r_m * math.cos(rotor.coning_rad)
    speed, all_fans = at.rad_s * arm, fans.count * rotor.blades
    housing = drag_n(speed, rotor.air.density_kg_m3, fans.drag_area_m2)
    pull = (at.torque_n_m / (all_fans * arm) + housing) / fans.along(pitch_deg)
    up = all_fans * pull * fans.up(pitch_deg, rotor.coning_rad)
    return Setting(pitch_deg, at.task.weight_n + up, at, pull, up, all_fans * housing * speed, speed)
