"""The circulation along a blade at one wake speed, by Newton's method."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.panels import Panels
from geomgen.hover.point import reynolds_numbers
from geomgen.hover.wake.influence import Influence
from geomgen.section.polar.forces import SectionForces, SectionPolar

CLOSE = 1e-8  # of the residual [Omega R^2]
STEPS, HALVINGS = 40, 12
_STEEPEST_RAD = 0.25  # beyond which the first guess takes no angle


@dataclass(frozen=True, eq=False)
class Asked:
    """What a blade is asked for at one point of hover.

    blade           : its panels
    pitch_rad       : (n,) angle of the sections to the rotor's plane [rad]
    polar           : of the sections
    reynolds_at_tip : Omega R R / nu, of a chord of R at the tip [-]
    ground          : factor on every induced speed [-]
    """

    blade: Panels
    pitch_rad: FloatArray
    polar: SectionPolar
    reynolds_at_tip: float
    ground: float = 1.0


@dataclass(frozen=True, eq=False)
class State:
    """A circulation, the flow that it makes at three quarters of the chord, and what the sections answer.

    gamma        : (n,) circulation [Omega R^2]
    down, toward : (n,) the stream's speed downwards and against the blade's motion [Omega R]
    speed        : (n,) both together [Omega R]
    alpha_rad    : (n,) angle of attack [rad]
    reynolds     : (n,) [-]
    forces       : of the sections [-]
    missed       : (n,) circulation less what the sections make in this flow [Omega R^2]
    off          : the largest of it [Omega R^2]
    """

    gamma: FloatArray
    down: FloatArray
    toward: FloatArray
    speed: FloatArray
    alpha_rad: FloatArray
    reynolds: FloatArray
    forces: SectionForces
    missed: FloatArray
    off: float


def state(asked: Asked, at: Influence, gamma: FloatArray) -> State:
    """The flow and the sections' answer to it, for a circulation [Omega R^2]."""
    down = asked.ground * (at.down_a @ gamma)
    toward = asked.blade.r + asked.ground * (at.toward_a @ gamma)
    speed = np.hypot(down, toward)
    alpha = asked.pitch_rad - np.arctan2(down, toward)
    reynolds = reynolds_numbers(asked.blade, speed, asked.reynolds_at_tip)
    forces = asked.polar.at(alpha, reynolds)
    missed = gamma - 0.5 * asked.blade.chord * speed * forces.lift
    return State(gamma, down, toward, speed, alpha, reynolds, forces, missed, float(np.abs(missed).max()))


def first_guess(asked: Asked, at: Influence) -> FloatArray:
    """(n,) circulation of sections of slope 2 pi that meet no tangential wind [Omega R^2]."""
    pitch = np.clip(asked.pitch_rad, -_STEEPEST_RAD, _STEEPEST_RAD)
    half = np.pi * asked.blade.chord
    line = np.eye(half.size) + asked.ground * half[:, None] * at.down_a
    return np.asarray(np.linalg.solve(line, half * asked.blade.r * pitch), dtype=np.float64)


def circulation(asked: Asked, at: Influence, start: FloatArray) -> State:
    """The circulation at which blade and wake agree, from a start [Omega R^2].

    returns : where Newton's method came to; `off` says whether it got there, which beyond stall it may not
    source  : gamma = c V c_l / 2; Newton's steps, halved until the residual falls
    """
    now = state(asked, at, start)
    for _ in range(STEPS):
        if now.off < CLOSE:
            break
        now = _fallen(asked, at, now, np.asarray(np.linalg.solve(_jacobian(asked, at, now), now.missed)))
    return now


def _fallen(asked: Asked, at: Influence, now: State, step: FloatArray) -> State:
    for halving in range(HALVINGS + 1):
        new = state(asked, at, now.gamma - step * 0.5**halving)
        if new.off < now.off:
            return new
    return state(asked, at, now.gamma - 0.1 * now.missed)


def _jacobian(asked: Asked, at: Influence, now: State) -> FloatArray:
    """(n, n) change of what is missed with circulation; a Reynolds number's part is left out.

    Where lift falls with the angle it is taken as if it stayed: with the fall Newton's steps run away from the point.
    """
    lift, slope = now.forces.lift, np.maximum(now.forces.slope_per_rad, 0.0)
    share = 0.5 * asked.ground * asked.blade.chord / now.speed
    by_down = share * (slope * now.toward - lift * now.down)
    by_toward = share * (lift * now.toward + slope * now.down)
    jacobian: FloatArray = by_down[:, None] * at.down_a - by_toward[:, None] * at.toward_a
    jacobian.flat[:: jacobian.shape[0] + 1] += 1.0
    return jacobian
