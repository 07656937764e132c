"""A section in a stream without friction: panels of linear vorticity round its outline."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section.measures import measures
from geomgen.section.section import Section

PANELS = 160
_EVEN = 0.15  # share of even spacing in the nodes'; the rest is a cosine's, close at nose and tail
_SHUT_FROM = 0.4  # a blunt tail is closed over the chord behind this
_QUARTER = 0.25


@dataclass(frozen=True)
class PotentialFlow:
    """Lift and moment without friction: lift = slope · sin(angle - zero lift).

    slope_per_rad : of lift, at the angle without lift [1/rad]
    zero_lift_rad : angle without lift [rad]
    moments       : c_m about a quarter of the chord, nose up: factors of cos², sin·cos and sin² of the angle [-]
    camber        : greatest height of the mean line, with its sign [chord]
    thickness     : greatest [chord]
    """

    slope_per_rad: float
    zero_lift_rad: float
    moments: tuple[float, float, float]
    camber: float
    thickness: float

    def lift(self, alpha_rad: FloatArray) -> FloatArray:
        """Lift coefficient at angles [rad]."""
        return np.asarray(self.slope_per_rad * np.sin(alpha_rad - self.zero_lift_rad))

    def moment(self, alpha_rad: FloatArray) -> FloatArray:
        """Moment coefficient about a quarter of the chord at angles [rad], nose up positive."""
        cosine, sine = np.cos(alpha_rad), np.sin(alpha_rad)
        first, second, third = self.moments
        return np.asarray(first * cosine**2 + second * sine * cosine + third * sine**2)


@dataclass(frozen=True, eq=False)
class Speeds:
    """Speed along the outline, from the lower tail round the nose to the upper tail; ahead on the upper side positive.

    nodes : (n + 1, 2) ends of the panels [chord]
    speed : (n + 1, 2) at them, in streams of speed 1 along x and along y [-]
    """

    nodes: FloatArray
    speed: FloatArray

    def circulation_lift(self) -> FloatArray:
        """(2,) lift coefficient in each stream, by Kutta and Joukowsky: factors of cos and sin of the angle."""
        length = np.hypot(*np.diff(self.nodes, axis=0).T)
        return np.asarray(length @ (self.speed[1:] + self.speed[:-1]))

    def pressures(self) -> FloatArray:
        """(3, 3) force along x and y and moment about a quarter of the chord, nose up, by Bernoulli [-].

        Columns are factors of cos², sin·cos and sin² of the angle. Simpson's rule is exact here.
        """
        middle = 0.5 * (self.nodes[1:] + self.nodes[:-1]), 0.5 * (self.speed[1:] + self.speed[:-1])
        ends = [(self.nodes[:-1], self.speed[:-1]), middle, (self.nodes[1:], self.speed[1:])]
        (dx, dy), found = np.diff(self.nodes, axis=0).T, np.zeros((3, 3))
        for weight, (xy, speed) in zip((1.0, 4.0, 1.0), ends, strict=True):
            x, y = xy.T
            arms = np.stack([dy, -dx, (x - _QUARTER) * dx + y * dy])
            along, up = speed.T
            squares = np.stack([along**2, 2.0 * along * up, up**2])
            still = np.array([1.0, 0.0, 1.0])[:, None]
            found += weight / 6.0 * arms @ (still - squares).T
        return found


def potential_flow(section: Section, panels: int = PANELS) -> PotentialFlow:
    """What a section's outline alone says of its lift and moment.

    section : any; a blunt tail is closed
    panels  : round the outline, even [-]
    """
    speeds = speeds_round(section, panels)
    along, up = speeds.circulation_lift().tolist()
    shape = measures(section)
    moments = speeds.pressures()[2].tolist()
    return PotentialFlow(
        math.hypot(along, up),
        -math.atan2(along, up),
        (moments[0], moments[1], moments[2]),
        shape.camber,
        shape.thickness,
    )


def speeds_round(section: Section, panels: int = PANELS) -> Speeds:
    """Speeds in streams along x and along y.

    panels : round the outline, even [-]
    source : vortices of linear strength, no flow through the middle of any panel, Kutta's condition (textbook method).
             On a thin tail the sum of the last two rows says almost nothing: their difference stands for both, and the
             mean of the speeds above and below is linear over the last three nodes
    """
    nodes = _nodes(section, panels // 2)
    edge = np.diff(nodes, axis=0)
    length = np.hypot(*edge.T)
    way = edge / length[:, None]
    normal = np.column_stack([-way[:, 1], way[:, 0]])
    rows, streams = _through(nodes, way, normal, length), -normal
    n = len(length)
    matrix, right = np.zeros((n + 1, n + 1)), np.zeros((n + 1, 2))
    matrix[: n - 2], right[: n - 2] = rows[1:-1], streams[1:-1]
    matrix[n - 2], right[n - 2] = rows[-1] - rows[0], streams[-1] - streams[0]
    reach = length[-2] / length[-1]
    for node, factor in enumerate((reach, -1.0 - reach, 1.0)):
        matrix[n - 1, node], matrix[n - 1, n - node] = -factor, factor
    matrix[n, 0] = matrix[n, n] = 1.0
    return Speeds(nodes, np.asarray(np.linalg.solve(matrix, right), dtype=np.float64))


def _nodes(section: Section, each: int) -> FloatArray:
    """(2 each + 1, 2) points from the lower tail round the nose to the upper tail, its gap closed."""
    t = np.linspace(0.0, np.pi, each + 1)
    share = (1.0 - _EVEN) * (1.0 - np.cos(t)) / 2.0 + _EVEN * t / np.pi
    upper, lower = (surface.at(surface.length * share)[0] for surface in (section.upper, section.lower))
    gap = 0.5 * (upper[-1] - lower[-1])
    for side, sign in ((upper, -1.0), (lower, 1.0)):
        side += sign * gap * np.clip((side[:, :1] - _SHUT_FROM) / (side[-1, 0] - _SHUT_FROM), 0.0, 1.0) ** 2
    return np.vstack([lower[::-1], upper[1:]])


def _through(nodes: FloatArray, way: FloatArray, normal: FloatArray, length: FloatArray) -> FloatArray:
    """(n, n + 1) flow through the middle of each panel, from a unit of vorticity at each node.

    source : a panel's source of unit strength makes (l, f) in its own axes, l = ln(r1²/r2²)/4π and f the angle it is
             seen under/2π; one that grows along it makes (X l - L/2π + Y f, X f - Y l)/L; a vortex is that, turned
    """
    middle = 0.5 * (nodes[1:] + nodes[:-1])
    gap = middle[:, None] - nodes[None, :-1]
    x = gap[..., 0] * way[:, 0] + gap[..., 1] * way[:, 1]
    y = gap[..., 0] * normal[:, 0] + gap[..., 1] * normal[:, 1]
    rest = x - length
    log = np.log((x * x + y * y) / (rest * rest + y * y)) / (4.0 * np.pi)
    angle = (np.arctan2(y, rest) - np.arctan2(y, x)) / (2.0 * np.pi)
    growing = (x * log - length / (2.0 * np.pi) + y * angle, x * angle - y * log)
    growing = growing[0] / length, growing[1] / length
    across, along = normal @ normal.T, normal @ way.T

    def turned(source: tuple[FloatArray, FloatArray]) -> FloatArray:
        return np.asarray(source[1] * along - source[0] * across)

    first, second = turned((log - growing[0], angle - growing[1])), turned(growing)
    rows = np.zeros((len(length), len(nodes)))
    rows[:, :-1] += first
    rows[:, 1:] += second
    return rows
