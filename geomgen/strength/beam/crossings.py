"""Speeds at which a blade swings a whole number of times in a turn."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from geomgen.strength.beam.modes import Modes

NEAR = 0.10  # of a working speed: common practice
TURNS = (1, 2, 3, 4)  # times a turn that a blade is struck most, besides once by each blade: common practice


@dataclass(frozen=True)
class Crossing:
    """A speed at which a mode swings so many times in a turn.

    mode     : name of it
    per_turn : how many times [-]
    rad_s    : speed of the rotor [rad/s]
    near     : near the speeds at which it works
    """

    mode: str
    per_turn: int
    rad_s: float
    near: bool


def crossings(found: Modes, *, blades: int, working: tuple[float, float], within: float = NEAR) -> tuple[Crossing, ...]:
    """Where modes meet 1 to 4 swings a turn, and as many as there are blades; slowest first.

    working : speeds between which it works, (low, high) [rad/s]
    within  : how far outside of these is near, as a share of them [-]
    source  : between two speeds that are known, squares of swings are taken as straight in squares of speed (Southwell)
    """
    low, high = working[0] * (1.0 - within), working[1] * (1.0 + within)
    met = []
    for name, swings in zip(found.names, found.natural.T, strict=True):
        for times in sorted({*TURNS, blades}):
            over = [(w**2, n**2 - (times * w) ** 2) for w, n in zip(found.rad_s, swings, strict=True)]
            for (square, before), (next_square, after) in pairwise(over):
                if before * after < 0.0 or (after == 0.0 and next_square > 0.0 and before != 0.0):
                    at = float((square + (next_square - square) * before / (before - after)) ** 0.5)
                    met.append(Crossing(name, times, at, low <= at <= high))
    return tuple(sorted(met, key=lambda each: each.rad_s))
