"""Measured rotors against hover as a design has it: with the stated polar of their section, not a named slope.

    python tests/hover/report_measured.py

Prints the table in README.md beside it. Reported, not bounded: bounds are in test_measured_rotors.py.
The air is standard, at sea level; Mach numbers, up to 0.44 at the tip, are left out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
from test_measured_rotors import TM_81232, TM_THRUST, TN_2474, TN_POINTS, broad, slender

from geomgen.hover.air import standard_air
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.families import naca
from geomgen.section.polar.forces import SectionPolar
from geomgen.section.polar.record import Polar
from geomgen.section.polar.stated import stated_polar

TM_RPM, TM_RADIUS_M = 1250.0, 1.143
TN_RPM = [1200.0] * 4 + [1600.0] * 3 + [1200.0] * 3 + [1600.0] * 4  # of TN_POINTS, as the report's tables run
TN_RADIUS_M = 0.9144


def by_radius(rpm: float, radius_m: float) -> float:
    """Reynolds number at the tip, of a chord of R [-]."""
    return rpm * math.pi / 30.0 * radius_m**2 / standard_air(0).kinematic_viscosity_m2_s


@cache
def stated(digits: str) -> Polar:
    return stated_polar(naca(digits, "open", ""))


def tm_thrust(polar: SectionPolar) -> list[float]:
    """C_T at the pitches of TM 81232 [-]."""
    reynolds = by_radius(TM_RPM, TM_RADIUS_M)
    return [hover_point(broad(), math.radians(pitch), polar, reynolds).thrust for pitch, *_ in TM_THRUST]


def tn_off(polar: SectionPolar) -> tuple[list[float], list[float]]:
    """How far thrust, and torque less that without thrust, lie off those of TN 2474 at the same pitch [share]."""
    thrust_off, torque_off = [], []
    idle = {
        rpm: hover_point(slender(), 0.0, polar, by_radius(rpm, TN_RADIUS_M)).torque for rpm in dict.fromkeys(TN_RPM)
    }
    for rpm, (pitch, thrust, torque) in zip(TN_RPM, TN_POINTS, strict=True):
        point = hover_point(slender(), math.radians(pitch), polar, by_radius(rpm, TN_RADIUS_M))
        thrust_off.append(point.thrust / thrust - 1.0)
        torque_off.append((point.torque - idle[rpm]) / torque - 1.0)
    return thrust_off, torque_off


def tm_rows() -> list[str]:
    """C_T of TM 81232, by the named slope and by the stated polar."""
    named, own = tm_thrust(TM_81232), tm_thrust(stated("0012"))
    return [
        f"| TM 81232, {pitch:.0f} deg, C_T | {measured:.5f} | {one:.5f} ({100 * (one / measured - 1):+.0f} %) | "
        f"{other:.5f} ({100 * (other / measured - 1):+.0f} %) |"
        for (pitch, measured, _), one, other in zip(TM_THRUST, named, own, strict=True)
    ]


def _spread(off: Sequence[float]) -> str:
    far = max(off, key=abs)
    return f"mean {100 * np.mean(off):+.0f} %, sd {100 * np.std(off):.0f} %, worst {100 * far:+.0f} %"


def tn_rows() -> list[str]:
    """Thrust and torque of TN 2474, by both polars."""
    pairs = zip(tn_off(TN_2474), tn_off(stated("0015")), strict=True)
    names = "C_T", "torque less that without thrust"
    return [
        f"| TN 2474, 14 points, {name} | | {_spread(one)} | {_spread(other)} |"
        for name, (one, other) in zip(names, pairs, strict=True)
    ]


if __name__ == "__main__":
    print("| | measured | named slope | stated polar |", "|---|---|---|---|", *tm_rows(), *tn_rows(), sep="\n")
