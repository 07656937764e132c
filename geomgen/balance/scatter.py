"""How far out of balance a craft will come out before anything is weighed: from grades, sheets, cutting and glue.

The unbalance is a sum of masses times places, so errors that are normal make it normal in the plane: its mean and its
spread are sums, and only the length of the vector is drawn. A figure's ends are taken as holding nine of ten.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key

DRAWS, SEED = 100_000, 20
NINE_OF_TEN = 1.6448536269514722  # standard deviations of a normal figure to either side


@dataclass(frozen=True, eq=False)
class Uncertain:
    """One line of the mass statement, as far as its doubt is concerned.

    key      : its part
    lot      : lines of one lot share their grade
    on_blade : each blade has it; else it is on the hub
    count    : pieces in one blade, or on the hub
    half_g   : half of what its mass may be off by from low to high, all pieces together [g]
    shares   : of that band's variance: grade, sheet, own [-]
    places   : (blades, 2) where it lies in the rotor's plane, by blade; (1, 2) on the hub [mm]
    sheets   : the sheet of each of its pieces, blade after blade; empty where none is known
    """

    key: Key
    lot: str
    on_blade: bool
    count: int
    half_g: float
    shares: tuple[float, float, float]
    places: FloatArray
    sheets: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Scatter:
    """Unbalance of craft not yet built.

    mean       : (2,) as designed [g mm]
    covariance : (2, 2) [g2 mm2]
    median, ninety : half and nine of ten of them are out by no more [g mm]
    by_lot     : share of the variance that each lot brings, the largest first [-]
    draws      : (some, 2) of them, to draw [g mm]
    """

    mean: FloatArray
    covariance: FloatArray
    median: float
    ninety: float
    by_lot: tuple[tuple[str, float], ...]
    draws: FloatArray


def scattered(lines: Sequence[Uncertain], mean: FloatArray, draws: int = DRAWS, seed: int = SEED) -> Scatter:
    """How far out craft will be.

    mean : (2,) unbalance as designed [g mm]
    """
    lots, effects = causes(lines)
    covariance = effects.T @ effects
    root = _root(covariance)
    random = np.random.default_rng(seed).standard_normal((draws, 2))
    found = mean + random[:, :1] * root[:, 0] + random[:, 1:] * root[:, 1]
    length = np.sqrt((found**2).sum(axis=1))
    median, ninety = np.quantile(length, (0.5, 0.9)).tolist()
    whole = float(np.trace(covariance))
    squares = (effects**2).sum(axis=1)
    of_lot = {lot: float(squares[[each == lot for each in lots]].sum()) for lot in dict.fromkeys(lots)}
    shares = sorted(((lot, part / whole) for lot, part in of_lot.items() if whole > 0.0), key=lambda each: -each[1])
    return Scatter(mean, covariance, median, ninety, tuple(shares), found[:400])


def causes(lines: Sequence[Uncertain]) -> tuple[list[str], FloatArray]:
    """Every error that knows nothing of the others: the lot it is of, and (k, 2) what one standard deviation of it does
    to the unbalance [g mm]."""
    grades: dict[str, FloatArray] = {}
    sheets: dict[tuple[str, str], FloatArray] = {}
    own: list[tuple[str, FloatArray]] = []
    for line in lines:
        sigma_g = line.half_g / NINE_OF_TEN
        grade, sheet, rest = (sigma_g * float(np.sqrt(share)) for share in line.shares)
        grades[line.lot] = grades.get(line.lot, np.zeros(2)) + grade * line.places.sum(axis=0)
        for blade, place in enumerate(line.places):
            some = line.sheets[blade * line.count : (blade + 1) * line.count]
            for name in some or (f"{line.key} {blade}",):
                where = line.lot, name
                sheets[where] = sheets.get(where, np.zeros(2)) + sheet * place / len(some or (0,))
            own.append((line.lot, rest / np.sqrt(line.count) * place))
    rows = [*grades.items(), *((lot, effect) for (lot, _), effect in sheets.items()), *own]
    return [lot for lot, _ in rows], np.array([effect for _, effect in rows]).reshape(-1, 2)


def _root(covariance: FloatArray) -> FloatArray:
    """(2, 2) whose product with its transpose is the covariance."""
    (a, b), (_, c) = covariance
    if a <= 0.0:
        return np.array([[0.0, 0.0], [0.0, float(np.sqrt(max(c, 0.0)))]])
    first = float(np.sqrt(a))
    return np.array([[first, 0.0], [b / first, float(np.sqrt(max(c - (b / first) ** 2, 0.0)))]])


def shared_out(lines: Sequence[Uncertain]) -> tuple[Sequence[Uncertain], dict[Key, tuple[int, ...]]]:
    """Which copy goes to which blade, so that sheets are shared: copies change blades while that takes spread away.

    returns : the lines with their sheets by blade, in that order; by part whose copies lie on several sheets, the blade
              of each copy, from 1
    """
    found = {line.key: list(line.sheets) for line in lines}
    order = {line.key: list(range(len(line.sheets))) for line in lines}
    movable = [line for line in lines if line.on_blade and len(set(line.sheets)) > 1 and line.shares[1] > 0.0]
    effects = _by_sheet(lines, found)
    better = True
    while better:
        better = False
        for line in movable:
            for a in range(len(order[line.key])):
                for b in range(a + 1, len(order[line.key])):
                    better |= _swapped(line, found[line.key], order[line.key], a, b, effects)
    moved = {line.key: _blades(line, order[line.key]) for line in movable}
    return [replace(line, sheets=tuple(found[line.key])) for line in lines], moved


def _blades(line: Uncertain, order: Sequence[int]) -> tuple[int, ...]:
    """The blade of each copy, from 1."""
    return tuple(order.index(n) // line.count + 1 for n in range(len(order)))


def _by_sheet(lines: Sequence[Uncertain], sheets: Mapping[Key, Sequence[str]]) -> dict[tuple[str, str], FloatArray]:
    found: dict[tuple[str, str], FloatArray] = {}
    for line in lines:
        for n, name in enumerate(sheets[line.key]):
            where = line.lot, name
            found[where] = found.get(where, np.zeros(2)) + _effect(line, n)
    return found


def _effect(line: Uncertain, n: int) -> FloatArray:
    """What the n-th copy of a line does by its sheet."""
    sigma_g = line.half_g / NINE_OF_TEN * float(np.sqrt(line.shares[1]))
    place: FloatArray = line.places[min(n // line.count, len(line.places) - 1)]
    return sigma_g * place / line.count


def _swapped(
    line: Uncertain, sheets: list[str], order: list[int], a: int, b: int, effects: dict[tuple[str, str], FloatArray]
) -> bool:
    """Change two copies' sheets where that takes spread away."""
    one, two = sheets[a], sheets[b]
    if one == two:
        return False
    step = _effect(line, a) - _effect(line, b)
    first, second = effects[line.lot, one], effects[line.lot, two]
    before = float(first @ first + second @ second)
    after = float((first - step) @ (first - step) + (second + step) @ (second + step))
    if after >= before - 1e-9 * max(before, 1.0):
        return False
    effects[line.lot, one], effects[line.lot, two] = first - step, second + step
    sheets[a], sheets[b] = two, one
    order[a], order[b] = order[b], order[a]
    return True
