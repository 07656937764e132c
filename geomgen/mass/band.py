"""How far a sum or a centre may be off: its bound, and what is likely.

The bound lets every figure stand at its worst end at once. The likely band holds nine of ten: it adds up what hangs
together (a heavy grade makes every sheet of it heavy, a heavy sheet every rib of it) and combines the rest as the root
of the sum of squares, see `doubt`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.mass.doubt import Doubts

Triple = tuple[float, float, float]


@dataclass(frozen=True)
class Band:
    """One figure and how far it may be off, all in one unit.

    low, high               : the bound: every mass at the end that makes the figure least, or greatest
    typical                 : every mass at its typical figure
    likely_low, likely_high : nine of ten lie between
    """

    low: float
    typical: float
    high: float
    likely_low: float
    likely_high: float

    def plus(self, constant: float) -> Band:
        """The band shifted by a constant."""
        ends = (self.low, self.typical, self.high, self.likely_low, self.likely_high)
        return Band(*(end + constant for end in ends))


NOTHING = Band(0.0, 0.0, 0.0, 0.0, 0.0)


def sum_bands(grams: FloatArray, levers: FloatArray, doubts: Doubts) -> list[Band]:
    """Bands of sums of masses times levers.

    grams   : (n, 3) low, typical, high mass of each line [g]
    levers  : (q, n) what each gram counts for in each sum: 1 for mass, its radius for the static moment [any]
    doubts  : how the lines' errors hang together
    returns : q sums of grams times lever [g times lever]
    """
    ends = grams * levers[:, :, None]
    typical = ends[:, :, 1].sum(axis=1)
    changes = ends[:, :, [0, 2]] - ends[:, :, [1]]
    low, high = ends[:, :, [0, 2]].min(axis=2).sum(axis=1), ends[:, :, [0, 2]].max(axis=2).sum(axis=1)
    return _bands(low, typical, high, changes, doubts)


def mean_bands(grams: FloatArray, over: FloatArray, under: FloatArray, doubts: Doubts) -> list[Band]:
    """Bands of centres: sum of grams times `over`, divided by sum of grams times `under`.

    grams   : (n, 3) low, typical, high mass of each line [g]
    over    : (q, n) for the spanwise centre of gravity its radius [mm]; weighted by r, the mean of x r [mm2]
    under   : (q, n) for a centre of gravity 1; weighted by r, its radius [mm]
    doubts  : how the lines' errors hang together
    returns : q quotients [unit of over / unit of under]; nothing where the sum below the line is 0
    """
    some = np.flatnonzero(under @ grams[:, 1])
    found = dict(zip(some.tolist(), _means(grams, over[some], under[some], doubts), strict=True))
    return [found.get(number, NOTHING) for number in range(len(over))]


def _means(grams: FloatArray, over: FloatArray, under: FloatArray, doubts: Doubts) -> list[Band]:
    below = under @ grams[:, 1]
    typical = over @ grams[:, 1] / below
    pull = (over - typical[:, None] * under) / below[:, None]
    changes = (grams[:, [0, 2]] - grams[:, [1]]) * pull[:, :, None]
    low, high = (_extremes(grams, over, under, typical, sign) for sign in (-1.0, 1.0))
    return _bands(low, typical, high, changes, doubts)


def _bands(low: FloatArray, typical: FloatArray, high: FloatArray, changes: FloatArray, doubts: Doubts) -> list[Band]:
    """Bounds (q,), and what is likely.

    changes : (q, n, 2) what each line's low and high mass alone does to each figure
    """
    down, up = doubts.one_sided(changes)
    return [Band(*ends) for ends in np.column_stack((low, typical, high, typical - down, typical + up)).tolist()]


def _extremes(grams: FloatArray, over: FloatArray, under: FloatArray, start: FloatArray, sign: float) -> FloatArray:
    """Least (sign -1) or greatest (+1) quotients (q,) that masses between their ends can make.

    A quotient of sums has its extremes where each mass stands at an end, which end as its place lies on one side of
    the quotient or the other; taking the ends for the quotient last found climbs there in a few steps (Dinkelbach).
    """
    best = start
    for _ in range(len(grams) + 1):
        picked = np.where(sign * (over - best[:, None] * under) >= 0.0, grams[:, 2], grams[:, 0])
        found = (picked * over).sum(axis=1) / (picked * under).sum(axis=1)
        better = sign * (found - best) > 0.0
        if not better.any():
            break
        best = np.where(better, found, best)
    return best
