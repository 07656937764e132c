"""A start: the throttle opened evenly from rest to full, and what the rotor does meanwhile."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.air_loads import AirLoads, FanPull
from geomgen.strength.blade_loads import Case, State

STEP_S = 0.01
LONGEST_S = 60.0  # after which a rotor that still gains speed is left


def trim_n(air: AirLoads, rad_s: float, coning_rad: float) -> float:
    """Pull of one blade's fans that keeps its speed against the drag of blade and housings [N]; 0 without fans."""
    fans = air.fans
    if fans is None:
        return 0.0
    return _drag_nm_s2(air, fans, coning_rad) * rad_s**2 / _arm_m(fans, coning_rad)


def run_up(
    air: AirLoads,
    *,
    inertia_kg_m2: float,
    blades: int,
    coning_rad: float,
    run_up_s: float,
    most_rad_s: float,
    cases: int,
) -> tuple[Case, ...]:
    """States of a start: pull rises evenly to what full throttle gives at each speed, the rotor gains speed by what is
    left of it over the drag, up to the highest speed or till it gains no more.

    inertia_kg_m2 : of all that turns, about the rotor's axis
    blades        : how many [-]
    run_up_s      : from no throttle to full [s]
    most_rad_s    : where it ends [rad/s]
    cases         : how many states, even in time [-]
    returns       : none without fans
    source        : I dw/dt = moments, by Heun's steps; drag grows with the square of the speed
    """
    fans = air.fans
    if fans is None:
        return ()
    arm, drag = _arm_m(fans, coning_rad), _drag_nm_s2(air, fans, coning_rad)
    reach = float(fans.place[0]) * 1e-3 * np.cos(coning_rad)
    shared = inertia_kg_m2 / blades

    def pull(t: float, speed: float) -> float:
        return float(min(t / run_up_s, 1.0) * np.interp(speed * reach, fans.speeds_m_s, fans.full_n))

    def gain(t: float, speed: float) -> float:
        return (pull(t, speed) * arm - drag * speed**2) / shared

    t, speed = 0.0, 0.0
    rows = [(t, speed)]
    while t < LONGEST_S and speed < most_rad_s:
        first = gain(t, speed)
        second = gain(t + STEP_S, speed + STEP_S * first)
        step = STEP_S * (first + second) / 2.0
        t, speed = t + STEP_S, min(speed + step, most_rad_s)
        rows.append((t, speed))
        if t > run_up_s and step < 1e-4 * most_rad_s * STEP_S:
            break
    times, speeds = np.array(rows).T
    at = np.linspace(0.0, times[-1], cases + 1)[1:]
    found = np.interp(at, times, speeds)
    return tuple(_case(float(s), float(w), gain(s, w), pull(s, w)) for s, w in zip(at, found, strict=True))


def _case(t: float, speed: float, gains: float, pull: float) -> Case:
    return Case(State.START, speed, float(gains), pull, t)


def _arm_m(fans: FanPull, coning_rad: float) -> float:
    """Moment about the rotor's axis for each newton of the fans' pull [m]."""
    x, y, _ = fans.place * 1e-3
    out, forward, up = fans.forward
    level = float(out * np.cos(coning_rad) - up * np.sin(coning_rad))
    return float(x * np.cos(coning_rad) * forward - y * level)


def _drag_nm_s2(air: AirLoads, fans: FanPull, coning_rad: float) -> float:
    """Moment of the drag of one blade and its fans' housings, for each square of the speed [N m s2]."""
    blade: FloatArray = air.back_n_s2 * air.r_mm
    reach = float(fans.place[0]) * fans.drag_n_s2
    return float((blade.sum() + reach) * 1e-3 * np.cos(coning_rad))
