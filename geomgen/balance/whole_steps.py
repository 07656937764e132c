"""The best choice of weights in whole steps: an exact search that goes line by line through the pockets' directions."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from geomgen.arrays import FloatArray

SAME = 1e-9  # share of what there is to trim that makes no difference
DIRECTIONS = 64  # that bounds are looked at in
MOST_LOOKS = 4000  # places in the search that are looked at; after that the best yet is taken


@dataclass(frozen=True)
class Choice:
    """How many weights go into each pocket.

    steps  : of each pocket [-]
    left   : length of what is left [any]
    proved : whether no choice is better; else the search was ended before it had looked at all
    """

    steps: tuple[int, ...]
    left: float
    proved: bool


@dataclass(frozen=True, eq=False)
class _Line:
    """Pockets whose effects point one way or the opposite.

    way    : (2,) unit vector
    values : (k,) all that they can do along it, each by the fewest weights [any]
    used   : (k,) how many weights that is [-]
    counts : for each value, (pocket, weights) of those used
    least, most : the least and greatest effect of one weight along it, 0 where there is none that way [any]
    """

    way: FloatArray
    values: FloatArray
    used: FloatArray
    counts: tuple[dict[int, int], ...]
    least: float
    most: float


@dataclass
class _Search:
    """What is known while searching."""

    lines: list[_Line]
    towards: FloatArray  # (u, 2) unit vectors
    reach: list[FloatArray]  # (u,) for each line, how far it and those after it can go against each direction
    by_one: list[FloatArray]  # (u,) the same by one weight
    enough: float
    same: float
    best: tuple[float, int, float]
    chosen: dict[int, int] = field(default_factory=dict)
    looks: int = 0


def best_steps(start: FloatArray, effects: FloatArray, most: tuple[int, ...], enough: float = 0.0) -> Choice:
    """The fewest weights that leave no more than is enough; where none do, those that leave least.

    start   : (2,) what there is to trim [any]
    effects : (m, 2) what one weight in each pocket adds to it [any]
    most    : weights that each pocket holds at most [-]
    enough  : length below which it doesn't matter how little is left [any], >= 0
    returns : of equally many weights, those that leave least
    """
    at = np.asarray(start, dtype=np.float64)
    size = float(np.hypot(*at))
    lines = _lines(np.asarray(effects, dtype=np.float64).reshape(-1, 2), most)
    angle = 2.0 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS
    square = [sign * np.array([-line.way[1], line.way[0]]) for line in lines for sign in (1.0, -1.0)]
    towards = np.vstack([np.column_stack([np.cos(angle), np.sin(angle)]), *square])
    reach, by_one = [np.zeros(len(towards))], [np.zeros(len(towards))]
    for line in reversed(lines):
        against = -towards @ line.way
        goes = np.maximum(against * line.values.max(), against * line.values.min())
        one = np.maximum(against * line.most, against * line.least)
        reach.append(reach[-1] + np.maximum(goes, 0.0))
        by_one.append(np.maximum(by_one[-1], one))
    same = SAME * max(size, 1.0)
    search = _Search(lines, towards, reach[::-1], by_one[::-1], enough, same, (max(size, enough), 0, size))
    proved = _look(search, 0, at, 0, {})
    steps = tuple(search.chosen.get(pocket, 0) for pocket in range(len(most)))
    return Choice(steps, search.best[2], proved)


def _lines(effects: FloatArray, most: tuple[int, ...]) -> list[_Line]:
    """Pockets by lines, those that do most first."""
    groups: list[tuple[FloatArray, list[int]]] = []
    for pocket, (effect, count) in enumerate(zip(effects, most, strict=True)):
        size = float(np.hypot(*effect))
        if size <= 0.0 or count <= 0:
            continue
        way = effect / size
        mine = next((some for other, some in groups if abs(way[0] * other[1] - way[1] * other[0]) < SAME), None)
        if mine is None:
            groups.append((way, [pocket]))
        else:
            mine.append(pocket)
    lines = [_line(way, some, effects, most) for way, some in groups]
    return sorted(lines, key=lambda line: -max(line.most, -line.least))


def _line(way: FloatArray, some: list[int], effects: FloatArray, most: tuple[int, ...]) -> _Line:
    along = {pocket: float(effects[pocket] @ way) for pocket in some}
    unit = SAME * max(abs(value) for value in along.values())
    found: dict[int, tuple[int, float, dict[int, int]]] = {0: (0, 0.0, {})}
    for pocket, value in along.items():
        for before in list(found.values()):
            for count in range(1, most[pocket] + 1):
                used, total = before[0] + count, before[1] + count * value
                key = round(total / unit)
                if key not in found or found[key][0] > used:
                    found[key] = used, total, {**before[2], pocket: count}
    numbers, values, counts = zip(*found.values(), strict=True)
    ones = [*along.values(), 0.0]
    return _Line(way, np.array(values), np.array(numbers, dtype=np.float64), counts, min(ones), max(ones))


def _look(search: _Search, depth: int, at: FloatArray, used: int, counts: dict[int, int]) -> bool:
    """Look at all that the lines from `depth` on can do; whether all of it was looked at."""
    if depth == len(search.lines):
        return True
    search.looks += 1
    if search.looks > MOST_LOOKS:
        return False
    line = search.lines[depth]
    places = at + line.values[:, None] * line.way
    total = used + line.used
    left, steps = _bounds(search, depth + 1, places, total)
    is_last, proved = depth + 1 == len(search.lines), True
    for child in np.lexsort((left, steps, np.maximum(left, search.enough))):
        bound = max(float(left[child]), search.enough), float(steps[child]), float(left[child])
        if not _better(search, bound):
            if is_last or bound[0] > search.best[0] + search.same:
                break
            continue
        mine = {**counts, **line.counts[child]}
        here = float(np.hypot(*places[child]))
        whole = max(here, search.enough), int(total[child]), here
        if _better(search, whole):
            search.best, search.chosen = whole, mine
        if not is_last and not _look(search, depth + 1, places[child], int(total[child]), mine):
            proved = False
            break
    return proved


def _bounds(search: _Search, after: int, places: FloatArray, total: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(k,) the least that can be left from each place, and the fewest weights that leave enough or so little."""
    if after == len(search.lines):
        return np.hypot(*places.T), total
    far = places @ search.towards.T
    left = np.maximum((far - search.reach[after]).max(axis=1), 0.0)
    short, one = far - search.enough - search.same, search.by_one[after]
    with np.errstate(divide="ignore", invalid="ignore"):
        more = np.where(short > 0.0, np.where(one > 0.0, np.ceil(short / one), 0.0), 0.0)
    more = np.where(left > search.enough + search.same, 0.0, more.max(axis=1))
    return left, total + more


def _better(search: _Search, found: tuple[float, float, float]) -> bool:
    """Whether one is, or may be, better than the best yet: less is left beyond what is enough, or fewer weights do, or
    as many leave less."""
    best, same = search.best, search.same
    if abs(found[0] - best[0]) > same:
        return found[0] < best[0]
    return found[1] < best[1] or (found[1] == best[1] and found[2] < best[2] - same)
