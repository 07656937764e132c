"""Trim: which weights go into which pockets, what they leave, and what no pocket can reach."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.balance.unbalance import NOTHING_G_MM, Unbalance, Vector
from geomgen.balance.whole_steps import best_steps


@dataclass(frozen=True, eq=False)
class Pocket:
    """A place for weights.

    path   : key path of its table
    number : which of its table's: the blade's number, or the hub's pocket's, from 1 [-]
    place  : (3,) in the rotor frame of the craft's own hand [mm]
    most_g : what it holds [g]
    """

    path: str
    number: int
    place: FloatArray
    most_g: float

    @property
    def in_blade(self) -> bool:
        """Whether it is in a blade; else it is in the hub."""
        return self.path.startswith("blade.")

    @property
    def words(self) -> str:
        """What it is called: "tip of blade 1", "hub 3"."""
        name = self.path.removeprefix("blade.trim.")
        return f"{name} of blade {self.number}" if self.in_blade else f"hub {self.number}"


@dataclass(frozen=True)
class Weights:
    """What goes into one pocket: so many weights, together [g]."""

    pocket: Pocket
    count: int
    mass_g: float


@dataclass(frozen=True, eq=False)
class Trim:
    """The best choice of weights.

    step_g       : mass of one weight [g]
    pockets      : all there are
    weights      : which go where; empty where none are needed, or none help
    after        : what is left with them in
    enough_g_mm  : what may be left: the aim, or half of what one weight does in the innermost pocket [g mm]
    out_of_reach : the part of the static unbalance that no weight in any pocket takes away, however heavy [g mm]
    proved       : whether no choice of whole weights is better
    """

    step_g: float
    pockets: tuple[Pocket, ...]
    weights: tuple[Weights, ...]
    after: Unbalance
    enough_g_mm: float
    out_of_reach: Vector
    proved: bool

    @property
    def in_one_line(self) -> bool:
        """Whether all pockets lie in one line through the axis, so that weights take nothing away across it."""
        x, y = np.array([pocket.place[:2] for pocket in self.pockets]).T
        return bool(np.all(np.abs(x * y[0] - y * x[0]) <= 1e-9 * np.hypot(x, y) * np.hypot(x[0], y[0])))

    @property
    def mass_g(self) -> float:
        """All weights together [g]."""
        return sum(each.mass_g for each in self.weights)


def trim(found: Unbalance, pockets: Sequence[Pocket], *, step_g: float, aim_g_mm: float | None) -> Trim:
    """The fewest weights that leave no more than is aimed at; where none do, those that leave least.

    found    : what there is to trim
    step_g   : mass of one weight [g]
    aim_g_mm : left out, half of what one weight does in the innermost pocket is enough [g mm]
    """
    places = np.array([pocket.place for pocket in pockets]).reshape(-1, 3)
    effects = step_g * places[:, :2]
    start = np.array([found.static.x, found.static.y])
    most = tuple(int(pocket.most_g / step_g + 1e-9) for pocket in pockets)
    enough = aim_g_mm if aim_g_mm is not None else 0.5 * float(np.min(np.hypot(*effects.T), initial=np.inf))
    enough = enough if np.isfinite(enough) else 0.0
    choice = best_steps(start, effects, most, enough)
    weights = tuple(
        Weights(pocket, count, count * step_g) for pocket, count in zip(pockets, choice.steps, strict=True) if count
    )
    after = found
    for each in weights:
        after = after.plus(each.mass_g, each.pocket.place)
    return Trim(step_g, tuple(pockets), weights, after, enough, out_of_reach(found.static, effects), choice.proved)


def out_of_reach(static: Vector, effects: FloatArray) -> Vector:
    """What of a static unbalance no weights in these directions take away, however heavy.

    effects : (m, 2) directions that weights can be added in [any]
    returns : the static unbalance less the nearest that some weights, none below 0, can take away [g mm]
    """
    wanted = -np.array([static.x, static.y])
    sizes = np.hypot(*effects.T)
    ways = effects[sizes > 0.0] / sizes[sizes > 0.0, None]
    best = np.zeros(2)
    for way in ways:
        along = max(float(way @ wanted), 0.0) * way
        if np.hypot(*(wanted - along)) < np.hypot(*(wanted - best)):
            best = along
    for i, one in enumerate(ways):
        for other in ways[i + 1 :]:
            pair = np.column_stack([one, other])
            if abs(np.linalg.det(pair)) > 1e-9 and (np.linalg.solve(pair, wanted) >= 0.0).all():
                return Vector(0.0, 0.0)
    left = best - wanted
    return Vector(*left.tolist()) if np.hypot(*left) > NOTHING_G_MM else Vector(0.0, 0.0)
