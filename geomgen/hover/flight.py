"""One pitch in full: the rpm that carries, what fans and pack make of it, and the lift left at full throttle."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from geomgen.hover.carried import Carried
from geomgen.hover.point import HoverPoint
from geomgen.hover.power.chain import Beyond, Chain, Working, at_throttle, lasting, pulling
from geomgen.hover.power.duct import thrust_at_power_n
from geomgen.hover.power.pack import Endurance
from geomgen.hover.rotor import NoSetting, Rotor, Setting, driven, setting
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import SectionPolar

CHARGE = 0.6  # of a full one, at which throttle and lift left are told: the middle of what is used
_HALVINGS, _ROUNDS = 30, 4
_CLOSE = 1e-3


@dataclass(frozen=True, eq=False)
class Full:
    """What full throttle makes of a pitch.

    rpm       : at which fans and blades agree [1/min]
    lifted_n  : what is lifted there, fans' own pull included [N]
    lift_left : over the weight, less 1 [-]
    working   : the chain there
    stalled   : whether part of the blade is past its stall there, where no figure is exact
    """

    rpm: float
    lifted_n: float
    lift_left: float
    working: Working
    stalled: bool


@dataclass(frozen=True, eq=False)
class Flight:
    """One pitch.

    setting : the air's side
    working : the chain as it carries; Beyond where it can't; None without one
    lasts   : from a full pack; None likewise
    full    : at full throttle; None likewise, or where nothing lifts
    """

    pitch_deg: float
    setting: Setting | NoSetting
    working: Working | Beyond | None = None
    lasts: Endurance | None = None
    full: Full | None = None

    @property
    def holds(self) -> bool:
        """Whether it is carried for any time, as far as that is known."""
        return isinstance(self.setting, Setting) and not isinstance(self.working, Beyond) and not self.at_floor

    @property
    def at_floor(self) -> bool:
        """Whether a full pack is at its floor at once."""
        return self.lasts is not None and self.lasts.minutes == 0.0

    @property
    def cost_w(self) -> float:
        """What the better pitch has less of: power from the cells, or in the air where no chain is known [W]."""
        if isinstance(self.working, Working):
            return self.working.taken_w
        return self.setting.air_w if isinstance(self.setting, Setting) else math.inf

    def reaches(self, lift_left: float) -> bool:
        """Whether it carries with so much lift left over [-]; without a chain, whether it carries."""
        return self.holds and (self.working is None or (self.full is not None and self.full.lift_left >= lift_left))


def flight(
    rotor: Rotor, chain: Chain | None, pitch_deg: float, weight_n: float, polar: SectionPolar | None = None
) -> Flight:
    """One pitch in full.

    chain  : None where fans or pack aren't known
    polar  : instead of the rotor's own
    """
    at = setting(rotor, pitch_deg, weight_n, polar=polar)
    if chain is None or rotor.fans is None or isinstance(at, NoSetting):
        return Flight(pitch_deg, at)
    density = rotor.air.density_kg_m3
    return Flight(
        pitch_deg,
        at,
        pulling(chain, at.fan_n, at.fan_m_s, density, CHARGE),
        lasting(chain, at.fan_n, at.fan_m_s, density),
        full_throttle(rotor, chain, at, polar=polar),
    )


def full_throttle(
    rotor: Rotor, chain: Chain, at: Setting, throttle: float = 1.0, polar: SectionPolar | None = None
) -> Full:
    """Where fans at a throttle and blades agree.

    at       : the same pitch, carrying: where the search begins
    throttle : [-]
    source   : equilibrium of torque; blades' coefficients depend on rpm by the Reynolds number alone
    """
    density = rotor.air.density_kg_m3
    working = at_throttle(chain, throttle, 0.0, density, CHARGE)
    air_w = working.air_w / chain.fans
    made = at
    for _ in range(_ROUNDS):
        scale = _agreed(rotor, chain, made, air_w) / made.fan_m_s
        made = at_rpm(rotor, at, made.rpm * scale, polar)
        if abs(scale - 1.0) < _CLOSE:
            break
    lifted = made.weight_n
    working = replace(working, thrust_n=pulled_n(chain, working, made.fan_m_s, density))
    return Full(made.rpm, lifted, lifted / at.weight_n - 1.0, working, made.blades.point.stalled)


def pulled_n(chain: Chain, working: Working, speed_m_s: float, density: float) -> float:
    """Pull of each fan [N] at another speed [m/s], its air's power unchanged."""
    return thrust_at_power_n(working.air_w / chain.fans, speed_m_s, density, chain.fan.exit_area_m2)


def at_rpm(rotor: Rotor, at: Setting, rpm: float, polar: SectionPolar | None = None) -> Setting:
    """A setting's rotor at another rpm; its weight is what is lifted there."""
    tip = at.blades.tip_speed_m_s * rpm / at.rpm
    angle = rotor.twist_rad + math.radians(at.pitch_deg)
    point = hover_point(rotor.wake, angle, polar or rotor.polar, at.blades.task.reynolds_at_tip(tip))
    return driven(rotor, at.pitch_deg, _blades(at, point, tip))


def _blades(at: Setting, point: HoverPoint, tip_m_s: float) -> Carried:
    """The blades at another speed: what they lift is the weight they carry there."""
    task = at.blades.task
    lift = task.force_n(tip_m_s) * math.cos(task.coning_rad) * point.thrust
    return replace(at.blades, task=replace(task, weight_n=lift), tip_speed_m_s=tip_m_s, point=point)


def _agreed(rotor: Rotor, chain: Chain, at: Setting, air_w: float) -> float:
    """Speed of the fans [m/s] at which they pull what is asked, which grows with its square."""
    density = rotor.air.density_kg_m3
    low, high = 0.0, at.fan_m_s
    asked = at.fan_n / at.fan_m_s**2
    while thrust_at_power_n(air_w, high, density, chain.fan.exit_area_m2) > asked * high**2:
        low, high = high, 2.0 * high
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        more = thrust_at_power_n(air_w, middle, density, chain.fan.exit_area_m2) > asked * middle**2
        low, high = (middle, high) if more else (low, middle)
    return high
