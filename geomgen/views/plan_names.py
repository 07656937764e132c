"""Names in a row along a blade, each near its own line: moved aside, turned upright or made small for room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.views.drawing import Drawn, Line, Point, Words

LETTER = 0.55  # mean width of a letter, in sizes
UPRIGHT = 1.25  # from one upright name to the next, in sizes
GAP = 1.5  # between level names, in letters
FAR = 3.0  # how far a level name may stand from its line, in sizes
BEND = 0.6  # height over which leader lines lean, in sizes
STAYS = 1e9  # weight of a place that nothing moves


@dataclass(frozen=True, eq=False)
class Row:
    """Where the names of a row stand.

    names   : in their order
    x       : (n,) middle of each [mm]
    size    : of the letters [mm]
    upright : whether they read upwards
    """

    names: tuple[str, ...]
    x: FloatArray
    size: float
    upright: bool

    @property
    def height(self) -> float:
        """Of the row [mm]."""
        return LETTER * self.size * max(map(len, self.names), default=0) if self.upright else self.size

    def drawn(self, ends: Sequence[Point], y: float, way: int, style: str, line: float) -> Iterator[Drawn]:
        """Each name, and a leader line from an end to it.

        ends : what each leader starts from [mm]
        y    : edge of the row that the leaders reach, way: 1 for a row above the ends, -1 below [mm]
        line : width of the leaders [mm]
        """
        lean, reach = BEND * self.size, 0.3 * self.size
        for name, x, end in zip(self.names, self.x.tolist(), ends, strict=True):
            yield Line([end, (end[0], y - way * (lean + reach)), (x, y - way * reach)], "faint", line)
            if self.upright:
                at = (x + 0.35 * self.size, y)
                yield Words(name, at, self.size, style, "start" if way > 0 else "end", 90.0)
            else:
                yield Words(name, (x, y if way > 0 else y - 0.75 * self.size), self.size, style, "middle")


def row_of(
    names: Sequence[str], places: Sequence[float], size: float, room: tuple[float, float], kept: Sequence[float] = ()
) -> Row:
    """Names beside one another, as near to their places as goes, in the same order.

    places : where they belong, ascending [mm]
    size   : of the letters, where they have room [mm]
    room   : from where to where along the blade they may stand [mm]
    kept   : where lines pass through the row [mm]
    """
    if not names:
        return Row((), np.zeros(0), size, upright=False)
    widths = [LETTER * size * (len(name) + GAP) for name in names]
    level = _apart(places, widths, room, kept)
    if level is not None and np.abs(level - places).max() <= FAR * size:
        return Row(tuple(names), level, size, upright=False)
    small = min(size, (places[-1] - places[0] + size) / (UPRIGHT * (len(names) + len(kept))))
    upright = _apart(places, [UPRIGHT * small] * len(names), room, kept)
    assert upright is not None
    return Row(tuple(names), upright, small, upright=True)


def _apart(
    places: Sequence[float], widths: Sequence[float], room: tuple[float, float], kept: Sequence[float]
) -> FloatArray | None:
    """(n,) the nearest places, by least squares, at which things of these widths neither touch nor are passed through.

    None where there is no room.
    """
    at, wide = np.array([*places, *kept]), np.array([*widths, *(0.0 for _ in kept)])
    order = np.argsort(at, kind="stable")
    named, half = order < len(places), wide[order] / 2
    middle = np.cumsum(2.0 * half) - half  # of each, if they stood side by side
    spare = room[1] - room[0] - wide.sum()
    if spare < 0.0:
        return None
    free = _ascending(at[order] - middle, np.where(named, 1.0, STAYS))
    found = np.clip(free, room[0], room[0] + spare) + middle
    return np.asarray(found[named])


def _ascending(values: FloatArray, weights: FloatArray) -> FloatArray:
    """(n,) the nearest ascending values by weighted least squares: neighbours out of order become their mean."""
    pools: list[tuple[float, float, int]] = []  # mean, weight, how many
    for value, weight in zip(values.tolist(), weights.tolist(), strict=True):
        pool = (value, weight, 1)
        while pools and pools[-1][0] > pool[0]:
            mean, more, count = pools.pop()
            both = more + pool[1]
            pool = ((mean * more + pool[0] * pool[1]) / both, both, count + pool[2])
        pools.append(pool)
    return np.repeat([mean for mean, *_ in pools], [count for *_, count in pools])
