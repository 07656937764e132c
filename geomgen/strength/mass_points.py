"""What a blade weighs as points: what forces on it are summed from, exact for first and second moments."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.mass.lines import Line
from geomgen.mass.measured import Measured
from geomgen.model.element import Element
from geomgen.model.joint import Key
from geomgen.model.role import Assembly


@dataclass(frozen=True, eq=False)
class MassPoints:
    """One blade as points, in the blade frame at the reference pitch.

    keys  : parts, in order
    of    : (p,) which part each point is of
    grams : (2, p) as typical, and with every mass at its high end [g]
    place : (p, 3) [mm]
    """

    keys: tuple[Key, ...]
    of: FloatArray
    grams: FloatArray
    place: FloatArray


def mass_points(
    measured: Sequence[Measured], lines: Sequence[Line], elements: Sequence[Element], carried: Collection[Key]
) -> MassPoints:
    """Those parts of a blade that hang on its main spar, or are it.

    measured, lines : every part, and what it weighs
    elements        : of parts that sit in one place, for their inertia
    carried         : which parts
    source          : points at sqrt(3) times the square roots of a body's second moments, a sixth of its mass each,
                      have its mass, centre and second moments
    """
    own = {each.key: each for each in elements}
    pairs = zip(measured, lines, strict=True)
    mine = [(each, line) for each, line in pairs if line.assembly is Assembly.BLADE and line.key in carried]
    places, shares, numbers = list[FloatArray](), list[FloatArray](), list[FloatArray]()
    for number, (each, line) in enumerate(mine):
        for share, place in _spots(each, own.get(line.key)):
            places.append(place)
            shares.append(share)
            numbers.append(np.full(len(share), number))
    of = np.concatenate(numbers)
    ends = np.array([[line.set_g[1], line.set_g[2]] for _, line in mine]).T
    grams = ends[:, of] * np.concatenate(shares)
    return MassPoints(tuple(line.key for _, line in mine), of, grams, np.concatenate(places))


def _spots(each: Measured, element: Element | None) -> Iterator[tuple[FloatArray, FloatArray]]:
    """Shares (n,) of a part's mass and where they sit (n, 3) [mm]."""
    rows = each.part.spread
    share, place = rows[:, 0], rows[:, 1:]
    if len(rows) == 1 and element is not None:
        yield _six(1.0, element.centre, _second(element))
        return
    middle = share @ place
    away = place - middle
    left = np.zeros((3, 3)) if each.part.second is None else each.part.second - (away * share[:, None]).T @ away
    for one, at in zip(share, place, strict=True):
        yield _six(one, at, left)


def _second(element: Element) -> FloatArray:
    """(3, 3) mean of place times place about an element's centre [mm2]."""
    if element.mass_g <= 0.0:
        return np.zeros((3, 3))
    inertia = element.inertia / element.mass_g
    return np.asarray(np.trace(inertia) / 2.0 * np.eye(3) - inertia)


def _six(share: float, at: FloatArray, second: FloatArray) -> tuple[FloatArray, FloatArray]:
    """A body's share in six points about its middle; in one where it is one."""
    if not second.any():
        return np.array([share]), np.asarray(at)[None]
    sizes, ways = np.linalg.eigh(second)
    arms = (ways * np.sqrt(3.0 * np.maximum(sizes, 0.0))).T
    return np.full(6, share / 6.0), np.asarray(at + np.concatenate([arms, -arms]))
