"""A fan at part throttle and other voltages: the power that its air gets, and what that takes.

Throttle is the share of its controller's voltage that the motor gets on the mean. The air's power goes with the
2.65th power of that voltage, at any speed: so said three points of a 70 mm fan at full throttle, 548 W at 14.8 V to
2243 W at 25.2 V (a maker's table in a public build log, read). With it thrust at rest goes with the 1.77th, between the
exponents 1.84 and 1.24 of a builder's table of a 64 mm fan by throttle (read). It goes with the air's density, as all
powers of a fan at one rotor speed do. Efficiency is that of full throttle at any voltage (same three points), and falls
with throttle.
"""

from __future__ import annotations

from geomgen.hover.power.fan import Fan
from geomgen.materials.figure import Figure

POWER_EXPONENT = 2.65
PART_LOAD_LOSS = Figure(
    0.05, 0.10, 0.15, "-", "efficiency lost at a third of full power, more below: from memory; straight with power"
)
THRUST_AT_SPEED = Figure(
    0.9,
    1.0,
    1.1,
    "-",
    "from memory: inflow turned by the rotor's wake, the curved path and the blade beside the intake are unknown, and "
    "a fan of constant rotor speed gives up to 7 % less at 0.4 of its jet's speed than one of constant power",
)
_THIRD = 1.0 / 3.0


def part_load(throttle: float, loss: float = PART_LOAD_LOSS.typical) -> float:
    """Efficiency at part throttle over that at full throttle [-].

    throttle : motor's voltage over the one that the fan's figures hold for, 0 .. 1; more is taken as 1 [-]
    loss     : share lost at a third of full power [-]
    """
    share = float(min(1.0, throttle) ** POWER_EXPONENT)
    return 1.0 - loss * (1.0 - share) / (1.0 - _THIRD)


def full_air_power_w(fan: Fan, density_kg_m3: float, efficiency: float | None = None) -> float:
    """Power that the air gets at full throttle, at the voltage that the fan's figures hold for [W].

    efficiency : at full throttle at rest [-]; None for the typical one
    """
    share = fan.efficiency.typical if efficiency is None else efficiency
    return share * fan.static_power_w * density_kg_m3 / fan.density_kg_m3
