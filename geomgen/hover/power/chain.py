"""From pack to jet: what each link takes of the power, at a pull that is asked for or at a throttle that is set."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.power.duct import air_power_w, thrust_at_power_n
from geomgen.hover.power.fan import Fan
from geomgen.hover.power.pack import Endurance, Pack, endurance
from geomgen.hover.power.throttle import POWER_EXPONENT, full_air_power_w, part_load
from geomgen.hover.power.wire import Wire

_HALVINGS = 50


@dataclass(frozen=True)
class Chain:
    """What feeds the fans: they are all alike, and one pack, or several side by side, feeds them.

    fan      : one of them
    fans     : that the pack feeds [-]
    pack     : that feeds them
    wire     : from hub to fan; None where its copper isn't known: nothing is lost there then
    at_tip   : whether the speed controller sits at the fan: the wires then carry the pack's current, and at the hub the
               motor's, which at part throttle is more
    copper_deg_c : of the wires [degC]
    raises   : ValueError where the voltage isn't known that the fan's figures hold for
    """

    fan: Fan
    fans: int
    pack: Pack
    wire: Wire | None
    at_tip: bool
    copper_deg_c: float = 40.0

    def __post_init__(self) -> None:
        if self.fan.voltage_v is None:
            raise ValueError(f"{self.fan.name}: at what voltage its figures hold isn't known")

    @property
    def fan_v(self) -> float:
        """That the fan's figures hold for [V]."""
        return self.fan.voltage_v or math.nan

    @property
    def wire_ohm(self) -> float:
        """There and back, as two of a motor's three wires conduct at a time [ohm]."""
        return 0.0 if self.wire is None else 2.0 * self.wire.resistance_ohm(self.copper_deg_c)

    def other(self) -> Chain:
        """The same with the controller at the other end of the wires."""
        return replace(self, at_tip=not self.at_tip)

    def loop_ohm(self, throttle: float) -> float:
        """What stands against the motor's current, as its own circuit feels it [ohm]."""
        wires = self.wire_ohm * (throttle**2 if self.at_tip else 1.0)
        return wires + throttle**2 * self.fans * self.pack.resistance_ohm


@dataclass(frozen=True)
class Working:
    """The chain at work. Powers are of all fans [W].

    thrust_n  : of each fan [N]
    throttle  : [-]
    motor_a   : current of each motor [A]
    pack_a    : of the pack [A]
    pack_v    : at its plug [V]
    pack_w    : lost in the pack
    wires_w   : lost in the wires
    fans_w    : lost in controllers, motors and fans
    air_w     : what the air gets
    """

    thrust_n: float
    throttle: float
    motor_a: float
    pack_a: float
    pack_v: float
    pack_w: float
    wires_w: float
    fans_w: float
    air_w: float

    @property
    def taken_w(self) -> float:
        """What the cells give, their own loss included [W]."""
        return self.pack_w + self.wires_w + self.fans_w + self.air_w

    @property
    def plug_w(self) -> float:
        """At the pack's plug, where a watt meter sits [W]."""
        return self.pack_v * self.pack_a


@dataclass(frozen=True)
class Beyond:
    """More than the chain can give.

    throttle : that would be asked for, above 1; infinite where the pack can't give the power at any [-]
    """

    throttle: float


def _motor_v(chain: Chain, air_w: float, density: float, efficiency: float | None) -> float:
    """Mean voltage at a motor whose fan gives the air so much [V]."""
    share = air_w / full_air_power_w(chain.fan, density, efficiency)
    return chain.fan_v * float(share ** (1.0 / POWER_EXPONENT))


def _motor_w(chain: Chain, motor_v: float, air_w: float, efficiency: float | None) -> float:
    """What a motor and its fan take for that [W]."""
    share = chain.fan.efficiency.typical if efficiency is None else efficiency
    return air_w / (share * part_load(motor_v / chain.fan_v))


def pulling(
    chain: Chain,
    thrust_n: float,
    speed_m_s: float,
    density: float,
    charge: float = 0.6,
    efficiency: float | None = None,
) -> Working | Beyond:
    """The chain with each fan pulling so much.

    thrust_n   : of each fan, >= 0 [N]
    speed_m_s  : of the fans through the air [m/s]
    density    : of the air [kg/m3]
    charge     : of the pack, share of a full one [-]
    efficiency : of the fan at full throttle standing; its typical one where left out [-]
    source     : a motor's current is the controller's over its duty; balance of voltages round the circuit
    """
    air_w = air_power_w(max(thrust_n, 1e-9), speed_m_s, density, chain.fan.exit_area_m2)
    motor_v = _motor_v(chain, air_w, density, efficiency)
    motor_w = _motor_w(chain, motor_v, air_w, efficiency)
    rest = float(chain.pack.rest_v(charge))
    throttle = float(_throttle(chain, motor_v, motor_w / motor_v, np.array([rest]))[0])
    if not throttle <= 1.0:
        return Beyond(math.inf if math.isnan(throttle) else throttle)
    return _working(chain, throttle, motor_v, motor_w, thrust_n, air_w, rest)


def _throttle(chain: Chain, motor_v: float, motor_a: float, rest_v: FloatArray) -> FloatArray:
    """(n,) throttle at which motors get so much from rest voltages (n,); nan where they can't: the smaller root."""
    pack = chain.fans * chain.pack.resistance_ohm
    square = motor_a * (pack + (chain.wire_ohm if chain.at_tip else 0.0))
    constant = motor_v + (0.0 if chain.at_tip else motor_a * chain.wire_ohm)
    inside = rest_v**2 - 4.0 * square * constant
    root = np.sqrt(np.where(inside >= 0.0, inside, np.nan))
    found: FloatArray = 2.0 * constant / (rest_v + root)
    return found


def at_throttle(
    chain: Chain,
    throttle: float,
    speed_m_s: float,
    density: float,
    charge: float = 0.6,
    efficiency: float | None = None,
) -> Working:
    """The chain at a throttle: the air's power doesn't depend on speed, so the pull falls as speed grows.

    throttle : more than 0, up to 1 [-]; the rest as in `pulling`
    """
    rest = float(chain.pack.rest_v(charge))
    ohm, full = chain.loop_ohm(throttle), full_air_power_w(chain.fan, density, efficiency)
    low, high = 0.0, throttle * rest
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        motor_w = _motor_w(chain, middle, full * (middle / chain.fan_v) ** POWER_EXPONENT, efficiency)
        low, high = (middle, high) if middle + motor_w / middle * ohm < throttle * rest else (low, middle)
    air_w = full * (high / chain.fan_v) ** POWER_EXPONENT
    thrust = thrust_at_power_n(air_w, speed_m_s, density, chain.fan.exit_area_m2)
    return _working(chain, throttle, high, _motor_w(chain, high, air_w, efficiency), thrust, air_w, rest)


def _working(
    chain: Chain, throttle: float, motor_v: float, motor_w: float, thrust_n: float, air_w: float, rest_v: float
) -> Working:
    motor_a = motor_w / motor_v
    controller_a = motor_a * throttle
    pack_a = chain.fans * controller_a
    carried = controller_a if chain.at_tip else motor_a
    return Working(
        thrust_n=thrust_n,
        throttle=throttle,
        motor_a=motor_a,
        pack_a=pack_a,
        pack_v=rest_v - pack_a * chain.pack.resistance_ohm,
        pack_w=pack_a**2 * chain.pack.resistance_ohm,
        wires_w=chain.fans * carried**2 * chain.wire_ohm,
        fans_w=chain.fans * (motor_w - air_w),
        air_w=chain.fans * air_w,
    )


def lasting(
    chain: Chain, thrust_n: float, speed_m_s: float, density: float, efficiency: float | None = None
) -> Endurance:
    """How long each fan can pull so much, from a full pack; arguments as in `pulling`."""
    air_w = air_power_w(max(thrust_n, 1e-9), speed_m_s, density, chain.fan.exit_area_m2)
    motor_v = _motor_v(chain, air_w, density, efficiency)
    motor_a = _motor_w(chain, motor_v, air_w, efficiency) / motor_v

    def current_a(rest_v: FloatArray) -> FloatArray:
        throttle = _throttle(chain, motor_v, motor_a, rest_v)
        return np.where(throttle <= 1.0, chain.fans * motor_a * throttle, np.nan)

    return endurance(chain.pack, current_a)
