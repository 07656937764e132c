"""Unknowns with a known spread, held against readings: least squares against both, and how far the result may be off.

Unknowns x = mean + errors of a covariance; readings y = rows x + loads u, u of variance 1, on their own. What is
likeliest then is linear in y (Gauss and Markov; "conditioned" in textbooks of estimation). The scale's errors are
uniform, not normal, which `half` takes into account where one of them alone is most of what is left.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.mass.doubt import NINE_OF_TEN

_SAME = 1e-9  # of a direction that readings fix, what is left of it


@dataclass(frozen=True, eq=False)
class Observed:
    """What m readings say of n unknowns.

    rows  : (m, n) what each unknown counts for in each reading
    said  : (m,)
    loads : (m, s) what each of s errors of scale and ruler, of variance 1 and uniform, does to each reading
    """

    rows: FloatArray
    said: FloatArray
    loads: FloatArray


@dataclass(frozen=True, eq=False)
class Conditioned:
    """Unknowns after readings.

    mean       : (n,)
    covariance : (n, n)
    gain       : (n, s) what each error of scale and ruler does to each unknown
    touched    : (n,) whether any reading bears on it; what none bears on stays as it was, to the bit
    fixed      : (n, k) directions, at right angles to one another, that the readings fix by themselves
    """

    mean: FloatArray
    covariance: FloatArray
    gain: FloatArray
    touched: FloatArray
    fixed: FloatArray

    def value(self, levers: FloatArray) -> float:
        """The sum of unknowns times levers (n,)."""
        return float(levers @ self.mean)

    def half(self, levers: FloatArray) -> float:
        """Nine of ten lie within this of that sum."""
        deviation = self.deviation(levers)
        if deviation == 0.0:
            return 0.0
        largest = float(np.max(np.abs(levers @ self.gain), initial=0.0)) / deviation
        return nine_of_ten(min(largest**2, 1.0)) * deviation

    def deviation(self, levers: FloatArray) -> float:
        """One standard deviation of that sum."""
        return math.sqrt(max(float(levers @ self.covariance @ levers), 0.0))

    def is_fixed(self, levers: FloatArray) -> bool:
        """Whether the readings fix that sum by themselves, whatever the spread."""
        left = levers - self.fixed @ (self.fixed.T @ levers)
        return float(np.linalg.norm(left)) <= _SAME * float(np.linalg.norm(levers))


def conditioned(mean: FloatArray, covariance: FloatArray, seen: Observed) -> Conditioned:
    """Unknowns of a mean (n,) and a covariance (n, n), after readings."""
    n, noise = len(mean), seen.loads @ seen.loads.T
    across = covariance @ seen.rows.T
    spread = seen.rows @ across + noise
    gain = np.linalg.solve(spread, across.T).T
    ahead = seen.said - seen.rows @ mean
    touched = np.any(across != 0.0, axis=1)
    keep = np.eye(n) - gain @ seen.rows
    after = keep @ covariance @ keep.T + gain @ noise @ gain.T  # Joseph's form: never below 0
    after[~touched] = covariance[~touched]
    after[:, ~touched] = covariance[:, ~touched]
    found = np.where(touched, mean + gain @ ahead, mean)
    return Conditioned(found, after, gain @ seen.loads, touched, _directions(seen.rows))


def against_others(mean: FloatArray, covariance: FloatArray, seen: Observed, most: float) -> FloatArray:
    """(m,) how far each reading lies from what the spread and the other readings say, in its standard deviations.

    The worst that lies further off than `most` isn't counted among the others from then on, and so on: what is held
    against it isn't blamed for it (common practice in surveying).
    """
    ahead = seen.said - seen.rows @ mean
    spread = seen.rows @ covariance @ seen.rows.T + seen.loads @ seen.loads.T
    kept, off = list(range(len(ahead))), np.zeros(len(ahead))
    while kept:
        inverse = np.linalg.inv(spread[np.ix_(kept, kept)])
        left = (inverse @ ahead[kept]) / np.sqrt(np.diag(inverse))
        off[kept] = left
        worst = int(np.argmax(np.abs(left)))
        if abs(left[worst]) <= most:
            break
        del kept[worst]
    return off


def _directions(rows: FloatArray) -> FloatArray:
    """(n, k) what rows (m, n) span."""
    lengths = np.linalg.norm(rows, axis=1)
    some = rows[lengths > 0.0] / lengths[lengths > 0.0, None]
    _, sizes, ways = np.linalg.svd(some, full_matrices=False)
    return np.asarray(ways[sizes > _SAME * max(sizes, default=0.0)].T)


def nine_of_ten(share: float) -> float:
    """How many standard deviations hold nine of ten, where a uniform error makes up a share of the variance and a
    normal one the rest: 1.645 for a normal one, 1.559 for a uniform one. share : 0 to 1 [-]"""
    shares, factors = _table()
    return float(np.interp(share, shares, factors))


@cache
def _table() -> tuple[FloatArray, FloatArray]:
    shares = np.linspace(0.0, 1.0, 41)
    return shares, np.array([_factor(share) for share in shares.tolist()])


def _factor(share: float) -> float:
    """By halving an interval; no more than a normal error's."""
    low, high = 1.5, NINE_OF_TEN
    for _ in range(40):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _below(middle, share) < 0.95 else (low, middle)
    return high


def _below(h: float, share: float) -> float:
    """How likely a uniform and a normal error together are below h, of a variance of 1."""
    reach, rest = math.sqrt(3.0 * share), math.sqrt(1.0 - share)
    if rest < 1e-9:
        return min(0.5 + h / (2.0 * reach), 1.0)
    if reach < 1e-9:
        return _normal(h)
    ends = [(h + side * reach) / rest for side in (1.0, -1.0)]
    whole = [t * _normal(t) + math.exp(-t * t / 2.0) / math.sqrt(2.0 * math.pi) for t in ends]
    return rest / (2.0 * reach) * (whole[0] - whole[1])


def _normal(t: float) -> float:
    return 0.5 * (1.0 + math.erf(t / math.sqrt(2.0)))
