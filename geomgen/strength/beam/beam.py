"""What bends and twists: a beam along the feather axis, the points of mass that hang on it, and what acts on it.

Axes are the rotor's axes of one blade: x out along the feather axis, y forward, z up, square to x; coning raises all
three together. SI throughout.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import BoolArray, FloatArray

FORWARD, FORWARD_SLOPE, UP, UP_SLOPE, TWIST = range(5)
"""What a section on the axis is free to do: move forward [m], turn that way [rad], move up [m], turn that way [rad],
turn nose up [rad]."""
FREE = 5


@dataclass(frozen=True, eq=False)
class Beam:
    """A beam of straight pieces, each alike from end to end.

    x_m    : (n,) its nodes, rising [m]
    ei_nm2 : (n-1, 2, 2) bending stiffness of each piece [[forward, both], [both, up]] in these axes [N m2]
    gj_nm2 : (n-1,) twisting stiffness [N m2]
    axis_m : (n, 2) place of the axis about which it bends and turns, forward and up, straight between nodes [m]
    held   : (n, 5) what of each node can't move
    """

    x_m: FloatArray
    ei_nm2: FloatArray
    gj_nm2: FloatArray
    axis_m: FloatArray
    held: BoolArray

    @property
    def bearings(self) -> tuple[int, int, int] | None:
        """Nodes at the socket's inner and outer end, and where twist is held; None where it isn't held so."""
        bend = np.flatnonzero(self.held[:, UP] & ~self.held[:, UP_SLOPE])
        twist = np.flatnonzero(self.held[:, TWIST])
        return (int(bend[0]), int(bend[1]), int(twist[0])) if len(bend) == 2 and len(twist) == 1 else None

    @property
    def anchor(self) -> int:
        """Node that can't move along x: the innermost that can't move sideways; the first where there is none."""
        return int(np.argmax(self.held[:, UP]))


def in_socket(x_m: FloatArray, *, inner_m: float, outer_m: float, twist_m: float) -> BoolArray:
    """(n, 5) what can't move where a socket's two ends hold bending and twist is held at one place, each at the node
    nearest to it [m]. raises : ValueError where both ends come to one node"""
    held = np.zeros((len(x_m), FREE), dtype=bool)
    inner, outer, twist = (int(np.argmin(np.abs(x_m - at))) for at in (inner_m, outer_m, twist_m))
    if inner == outer:
        raise ValueError(f"no two nodes for a socket from {inner_m} to {outer_m} m")
    held[[inner, outer], FORWARD] = held[[inner, outer], UP] = True
    held[twist, TWIST] = True
    return held


def clamped(nodes: int) -> BoolArray:
    """(n, 5) what can't move where the first node is clamped."""
    held = np.zeros((nodes, FREE), dtype=bool)
    held[0] = True
    return held


def hinged(nodes: int) -> BoolArray:
    """(n, 5) what can't move where the first node is free to flap and lag, and nothing else."""
    held = clamped(nodes)
    held[0, [FORWARD_SLOPE, UP_SLOPE]] = False
    return held


@dataclass(frozen=True, eq=False)
class Masses:
    """Points of mass.

    kg      : (p,) [kg]
    place_m : (p, 3) where they lie while nothing is bent [m]
    """

    kg: FloatArray
    place_m: FloatArray


@dataclass(frozen=True, eq=False)
class States:
    """What the rotor does and what acts on one blade, in s states. Forces keep their direction as the blade bends.

    coning_rad   : built in [rad]
    rad_s        : (s,) speed [rad/s]
    gains_rad_s2 : (s,) how fast it grows [rad/s2]
    gravity_m_s2 : (s,) down the rotor's axis, 0 for none [m/s2]
    places_m     : (q, 3) where forces and moments act, while nothing is bent [m]
    forces_n     : (s, q, 3) [N]
    moments_nm   : (s, q, 3) about x (+ nose up), y (+ tip down) and z (+ tip forward) [N m]
    """

    coning_rad: float
    rad_s: FloatArray
    gains_rad_s2: FloatArray
    gravity_m_s2: FloatArray
    places_m: FloatArray
    forces_n: FloatArray
    moments_nm: FloatArray


def turning(rad_s: FloatArray, *, coning_rad: float = 0.0, gravity_m_s2: float = 0.0) -> States:
    """States with nothing but speed (s,) [rad/s] and weight."""
    s = len(rad_s)
    none = np.zeros((s, 0, 3))
    return States(coning_rad, rad_s, np.zeros(s), np.full(s, gravity_m_s2), np.zeros((0, 3)), none, none)
