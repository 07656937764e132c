"""How far a sum or a centre may be off: its bound, and what is likely.

The bound lets every figure stand at its worst end at once. The likely band adds up what shares a stock (a heavy
sheet makes every rib of it heavy) and combines different stocks as the root of the sum of squares: common practice
for errors that know nothing of one another.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Triple = tuple[float, float, float]


@dataclass(frozen=True)
class Band:
    """One figure and how far it may be off, all in one unit.

    low, high               : the bound: every mass at the end that makes the figure least, or greatest
    typical                 : every mass at its typical figure
    likely_low, likely_high : root-sum-square over stocks of what each does alone
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


def sum_band(grams: FloatArray, lever: FloatArray, groups: Sequence[str]) -> Band:
    """Band of a sum of masses times levers.

    grams   : (n, 3) low, typical, high mass of each line [g]
    lever   : (n,) what each gram counts for: 1 for mass, its radius for the static moment [any]
    groups  : (n,) lines with one name rise and fall together
    returns : sum of grams times lever [g times lever]
    """
    if not len(grams):
        return NOTHING
    ends = grams * lever[:, None]
    typical = float(ends[:, 1].sum())
    changes = ends[:, [0, 2]] - ends[:, [1]]
    low, high = float(ends[:, [0, 2]].min(axis=1).sum()), float(ends[:, [0, 2]].max(axis=1).sum())
    return Band(low, typical, high, *_likely(typical, changes, groups))


def mean_band(grams: FloatArray, over: FloatArray, under: FloatArray, groups: Sequence[str]) -> Band:
    """Band of a centre: sum of grams times `over`, divided by sum of grams times `under`.

    grams   : (n, 3) low, typical, high mass of each line [g]
    over    : (n,) for the spanwise centre of gravity its radius [mm]; weighted by r, the mean of x r [mm2]
    under   : (n,) for a centre of gravity 1; weighted by r, its radius [mm]
    groups  : (n,) lines with one name rise and fall together
    returns : [unit of over / unit of under]; nothing where the sum below the line is 0
    """
    below = float(grams[:, 1] @ under) if len(grams) else 0.0
    if below == 0.0:
        return NOTHING
    typical = float(grams[:, 1] @ over) / below
    pull = (over - typical * under) / below
    changes = (grams[:, [0, 2]] - grams[:, [1]]) * pull[:, None]
    low = _extreme(grams, over, under, typical, np.less)
    high = _extreme(grams, over, under, typical, np.greater)
    return Band(low, typical, high, *_likely(typical, changes, groups))


def _likely(typical: float, changes: FloatArray, groups: Sequence[str]) -> tuple[float, float]:
    """(low, high): each group's lines all low, then all high; the worse of the two, combined over groups."""
    _, index = np.unique(np.asarray(groups), return_inverse=True)
    by_group = np.zeros((int(index.max()) + 1, 2))
    np.add.at(by_group, index, changes)
    down = np.minimum(by_group.min(axis=1), 0.0)
    up = np.maximum(by_group.max(axis=1), 0.0)
    return typical - float(np.hypot.reduce(down)), typical + float(np.hypot.reduce(up))


def _extreme(
    grams: FloatArray, over: FloatArray, under: FloatArray, start: float, better: Callable[..., NDArray[np.bool_]]
) -> float:
    """Least or greatest quotient that masses between their ends can make.

    A quotient of sums has its extremes where each mass stands at an end, which end as its place lies on one side of
    the quotient or the other; taking the ends for the quotient last found climbs there in a few steps (Dinkelbach).
    """
    best = start
    for _ in range(len(grams) + 1):
        lighter_helps = better(0.0, over - best * under)
        picked = np.where(lighter_helps, grams[:, 0], grams[:, 2])
        found = float(picked @ over) / float(picked @ under)
        if not better(found, best):
            break
        best = found
    return best
