"""What blades and wake of unit circulation do to the air at a blade: matrices that know the planform and u0 only."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.panels import Panels
from geomgen.hover.wake.shape import SHAPE, Shape, contraction, far_ages, filaments, sheet_height, tip_height
from geomgen.hover.wake.vortex import cylinder_downwash, filament_velocity

CORE = 0.03  # of vortices older than 45 deg [R]
LEAST_U0, MOST_U0, ENTRIES = 0.008, 0.25, 24


class Influence(NamedTuple):
    """Velocity at a blade's control points for each unit of its panels' circulation, blades alike. [1/R]

    down_a   : (n, n) downwards at three quarters of the chord, where the angle of attack is taken; of the panel's own
               circulation that part is left out which a section in plane flow has, and which its polar knows
    toward_a : (n, n) against the blade's motion, there
    down_q   : (n, n) downwards at a quarter of the chord, where forces act
    toward_q : (n, n) against the blade's motion, there
    """

    down_a: FloatArray
    toward_a: FloatArray
    down_q: FloatArray
    toward_q: FloatArray


def influence(blade: Panels, u0: float, shape: Shape = SHAPE) -> Influence:
    """The matrices at one wake speed u0 [Omega R].

    source : lifting line at the quarter chord, boundary condition at three quarters (Weissinger, Pistolesi; textbook),
             wake of shed vortices to 45 deg, helices of two turns, and cylinders below them
    """
    count, inboard = blade.r.size, blade.rolled + 1
    zero = np.zeros(count)
    points = np.concatenate(
        [np.stack((blade.r, y, zero), axis=-1) for y in (-0.5 * blade.chord, zero)]
    )  # three quarters of the chord, then a quarter
    near, far = filaments(blade, u0, shape)
    bound = np.stack([np.stack((blade.edge[k : k + count], zero, zero), axis=-1) for k in (0, 1)], axis=1)
    by_bound, by_near, by_far = (
        _of_all_blades(points, nodes, blade.blades, core) for nodes, core in ((bound, 0.0), (near, 0.0), (far, CORE))
    )
    by_far[1] -= _cylinders(blade, u0, points, shape)
    by_edge = by_near
    by_edge[..., :inboard] += by_far[..., :-1]
    by_edge[..., inboard:] += by_far[..., -1:]
    toward, up = by_bound + by_edge[..., 1:] - by_edge[..., :-1]  # edge j sheds what panel j - 1 has more than panel j
    down_a = -up[:count] - np.diag(1.0 / (np.pi * blade.chord))
    return Influence(down_a, -toward[:count], -up[count:], -toward[count:])


def _of_all_blades(points: FloatArray, nodes: FloatArray, blades: int, core: float) -> FloatArray:
    """(2, p, f) velocity along y and z by filaments of one blade and their like of the others."""
    total = np.zeros((2, len(points), len(nodes)))
    for turn in 2.0 * np.pi / blades * np.arange(blades):
        cosine, sine = np.cos(turn), np.sin(turn)
        turned = nodes @ np.array([[cosine, sine, 0.0], [-sine, cosine, 0.0], [0.0, 0.0, 1.0]])
        total += filament_velocity(points, turned, core)
    return total


def _cylinders(blade: Panels, u0: float, points: FloatArray, shape: Shape) -> FloatArray:
    """(p, m + 1) downwash by what lies below the last turn: of the inboard edges, and of the tip vortex."""
    last = far_ages()[-1:]
    edge = np.append(blade.edge[: blade.rolled + 1], 1.0)
    below, pitch = -edge * sheet_height(last, u0, blade.blades, shape), shape.sheet_after * u0 * edge
    below[-1], pitch[-1] = -tip_height(last, u0, blade.blades, shape)[0], shape.tip_after * u0
    strength = shape.far * blade.blades / (2.0 * np.pi * pitch)
    radius = edge * contraction(last, u0, shape)
    return cylinder_downwash(radius, below, np.hypot(points[:, 0], points[:, 1])) * strength


@dataclass(frozen=True, eq=False)
class Wake:
    """The matrices of one planform at wake speeds spread evenly by their logarithm.

    blade  : the planform's panels
    u0     : (k,) wake speeds [Omega R]
    tables : (k, 4, n, n) the matrices of `Influence` at each
    """

    blade: Panels
    u0: FloatArray
    tables: FloatArray

    @cached_property
    def _log(self) -> FloatArray:
        return np.log(self.u0)

    def at(self, u0: float) -> Influence:
        """The matrices at a wake speed [Omega R] within the table, straight between entries in its logarithm."""
        place = (np.log(u0) - self._log[0]) / (self._log[-1] - self._log[0]) * (self.u0.size - 1)
        k = min(max(int(place), 0), self.u0.size - 2)
        share = min(max(place - k, 0.0), 1.0)
        return Influence(*((1.0 - share) * self.tables[k] + share * self.tables[k + 1]))


def wake(blade: Panels, shape: Shape = SHAPE, entries: int = ENTRIES) -> Wake:
    """The table of a planform; pitch, twist, sections, rpm and air don't enter it."""
    speeds = np.geomspace(LEAST_U0, MOST_U0, entries)
    return Wake(blade, speeds, np.array([influence(blade, float(u0), shape) for u0 in speeds]))
