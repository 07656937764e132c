"""One point of hover by the lifting line on a wake of one speed."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.hover.panels import Panels
from geomgen.hover.point import HoverPoint, Loads
from geomgen.hover.wake.circulation import Asked, State, circulation, first_guess
from geomgen.hover.wake.influence import MOST_U0, Influence, Wake
from geomgen.section.polar.forces import Mirrored, SectionPolar

THEORY = "lifting line on a wake of one speed"
FLOOR_U0 = 0.01
_FIRST_U0, _CLOSE_U0, _ROUNDS = 0.06, 1e-6, 20


def hover_point(
    wake: Wake, pitch_rad: ArrayLike, polar: SectionPolar, reynolds_at_tip: float, ground: float = 1.0
) -> HoverPoint:
    """A rotor in hover at one pitch.

    wake            : table of its planform
    pitch_rad       : angle of its sections to the rotor's plane, one or (n,) at the panels' r [rad]
    polar           : of its sections
    reynolds_at_tip : Omega R R / nu, of a chord of R at the tip [-]; the only way in which rpm and air matter
    ground          : factor on every induced speed, from `ground` [-]
    returns         : its coefficients; thrust downwards is that of the mirror image. Thrust at a given pitch within
                      12 %, power at a given thrust within -10 to +20 %, before what pitch and polar are uncertain by
    source          : wake speed u0 = sqrt(N gamma_tip / 4 pi), by which a tube of N helices moves itself (vortex-tube
                      kinematics); not less than that of even inflow, C_T / 2, nor than FLOOR_U0
    """
    pitch = np.broadcast_to(np.asarray(pitch_rad, dtype=np.float64), wake.blade.r.shape)
    asked = Asked(wake.blade, pitch, polar, reynolds_at_tip, ground)
    found = _solved(wake, asked)
    if found.thrust >= 0.0:
        return found
    mirrored = _solved(wake, replace(asked, pitch_rad=-pitch, polar=Mirrored(polar)))
    return _mirrored(mirrored) if mirrored.thrust > 0.0 else found


def _solved(wake: Wake, asked: Asked) -> HoverPoint:
    """The wake speed that its own circulation asks for: secants inside a bracket that closes."""
    low, high = FLOOR_U0, MOST_U0
    first = wake.at(_FIRST_U0)
    start = first_guess(asked, first)
    u0 = min(max(_own_speed(asked.blade, start), FLOOR_U0), MOST_U0 / 2.0)
    before: tuple[float, float, FloatArray] | None = None
    for _ in range(_ROUNDS):
        at = wake.at(u0)
        now = circulation(asked, at, start)
        off = max(_own_speed(asked.blade, now.gamma), FLOOR_U0) - u0
        if abs(off) < _CLOSE_U0:
            break
        low, high = (u0, high) if off > 0.0 else (low, u0)
        step, trend = off, np.zeros_like(start)
        if before:
            run = u0 - before[0]
            step, trend = -off * run / ((off - before[1]) or off), (now.gamma - before[2]) / run
        before = u0, off, now.gamma
        u0 = u0 + step if low < u0 + step < high else (low + high) / 2.0
        start = now.gamma + trend * (u0 - before[0])
    return _forces(asked, at, now, u0, abs(off))


def _own_speed(blade: Panels, gamma: FloatArray) -> float:
    tube = blade.blades * float(gamma[blade.rolled]) / (4.0 * math.pi)
    thrust = blade.blades / math.pi * float(np.sum(gamma * blade.r * blade.dr))
    return math.sqrt(max(tube, 0.5 * abs(thrust)))


def _forces(asked: Asked, at: Influence, now: State, u0: float, off_u0: float) -> HoverPoint:
    """Forces at a quarter of the chord, by Kutta and Joukowsky, with all that is induced there."""
    blade, gamma = asked.blade, now.gamma
    down = asked.ground * (at.down_q @ gamma)
    toward = blade.r + asked.ground * (at.toward_q @ gamma)
    speed = np.hypot(down, toward)
    drag = 0.5 * blade.chord * speed**2 * now.forces.drag
    ring, across, along = blade.blades / math.pi * blade.dr, down / speed, toward / speed
    return HoverPoint(
        THEORY,
        thrust=float(ring @ (gamma * toward - drag * across)),
        induced=float(ring @ (gamma * down * blade.r)),
        profile=float(ring @ (drag * along * blade.r)),
        loads=Loads(blade.r, blade.dr, now.alpha_rad, now.reynolds, now.forces, down, lift=gamma * speed, drag=drag),
        residual=max(now.off, off_u0),
        wake_speed=u0,
    )


def _mirrored(point: HoverPoint) -> HoverPoint:
    """The same rotor upside down."""
    loads, forces = point.loads, point.loads.forces
    turned = replace(
        loads,
        alpha_rad=-loads.alpha_rad,
        forces=forces._replace(lift=-forces.lift),
        inflow=-loads.inflow,
        lift=-loads.lift,
    )
    return replace(point, thrust=-point.thrust, loads=turned)
