"""Holes of a paired pattern put round the caps: a sector for each pin, and one for the pin that stops the turning."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.arcs import arc_slot
from geomgen.plane.path import Path
from geomgen.plane.polar import chord_deg, chord_radius, on_circle
from geomgen.root.paired_sets import Sets, sets_for
from geomgen.root.pinned import not_asked, pinned_deg

ROUND_UP_MM = 0.1  # a circle is a whole multiple of this
TRIED = 6  # sets of holes tried for each pin, where pins may have differing ones
Hole = tuple[float, float]  # radius [mm], angle [deg]


@dataclass(frozen=True)
class Stop:
    """A pin fixed in the turning cap that runs in a slot of the fixed cap and ends the turning, either way.

    circle_mm        : of both [mm]
    turning_deg      : where the pin stands at the reference pitch [deg]
    from_deg, to_deg : where it stands at the ends of its slot [deg]
    """

    circle_mm: float
    turning_deg: float
    from_deg: float
    to_deg: float

    def place(self) -> tuple[float, float]:
        """Where it stands in the turning cap [mm]."""
        x, y = on_circle(self.circle_mm, self.turning_deg)
        return float(x), float(y)

    def slot(self, width_mm: float) -> Path:
        """The slot of the fixed cap that it runs in."""
        return arc_slot((0.0, 0.0), self.circle_mm, width_mm, self.from_deg, self.to_deg)


@dataclass(frozen=True)
class Ask:
    """What a paired pattern is to do.

    settings_deg : pitches, one step apart, rising
    step_deg     : that step
    pins         : pins in place at once
    spacing_mm   : least distance between middles of holes
    fit_mm       : how much wider a hole is than its pin
    skew_deg     : how far each pin's holes stand off an even spacing
    least_mm     : least radius of a circle of holes
    most_mm      : largest
    """

    settings_deg: tuple[float, ...]
    step_deg: float
    pins: int
    spacing_mm: float
    fit_mm: float
    skew_deg: tuple[float, ...]
    least_mm: float
    most_mm: float

    def gap_deg(self, circle_mm: float) -> float:
        """Least angle between two holes on a circle [deg]."""
        return float(chord_deg(self.spacing_mm, circle_mm))

    @property
    def stopped_deg(self) -> tuple[float, float]:
        """Pitches at which the stop meets an end of its slot: so far beyond the range that it lets the pins go in at
        both its ends, and no further [deg]."""
        return self.settings_deg[0] - self.step_deg / 4, self.settings_deg[-1] + self.step_deg / 4

    def reached(self, stop: Stop, stretch: tuple[float, float]) -> bool:
        """Whether the stop, with the room it has in its slot, lets any of a stretch of pitch be."""
        low, high = self.stopped_deg
        room = float(chord_deg(self.fit_mm / 2, stop.circle_mm))
        return stretch[1] > low - room and stretch[0] < high + room


@dataclass(frozen=True)
class Paired:
    """Holes of both caps, each (radius [mm], angle at the reference pitch [deg]).

    pairs        : (settings, pins) which hole of either cap takes each pin
    stop         : what ends the turning
    unwanted_deg : (n, 2) stretches of pitch, none of them asked for, at which all pins would go in
    """

    turning: tuple[Hole, ...]
    fixed: tuple[Hole, ...]
    pairs: tuple[tuple[tuple[int, int], ...], ...]
    stop: Stop
    unwanted_deg: tuple[tuple[float, float], ...]

    @property
    def rim_mm(self) -> float:
        """Radius of the outermost circle [mm]."""
        return max(self.stop.circle_mm, *(radius for radius, _ in self.turning))


@dataclass(frozen=True)
class _Sector:
    """What one pin, or the stop, takes of a circle, from its own base on [deg]; the stop has no sets.

    turning, fixed : from where to where its holes stand
    """

    turning: tuple[float, float]
    fixed: tuple[float, float]
    sets: Sets | None = None

    @property
    def middle(self) -> float:
        """Middle of all it takes, the pitch being the middle of the range."""
        return sum((*self.turning, *self.fixed)) / 4


def paired(ask: Ask) -> Paired | None:
    """The pattern with the smallest circles, and of those the one with the fewest unwanted pitches, first in the range
    and then all round; None where none fits."""
    best: Paired | None = None
    for circles in _layouts(ask.pins):
        if best is not None and best.rim_mm < ask.least_mm + max(circles) * ask.spacing_mm:
            break
        if (found := _smallest(ask, circles)) is not None:
            best = found if best is None else min(best, found, key=lambda one: _rank(ask, one))
    return best


def _layouts(pins: int) -> list[tuple[int, ...]]:
    """On which circle, inmost first, each pin's holes stand, and the stop last; fewest circles first."""
    even = [tuple(pin % circles for pin in range(pins)) for circles in range(1, pins + 1)]
    return sorted(((*each, last) for each in even for last in range(max(each) + 2)), key=max)


def _smallest(ask: Ask, circles: tuple[int, ...]) -> Paired | None:
    """The best pattern of one layout on the least inmost circle that takes it."""
    further = max(circles) * ask.spacing_mm
    for inmost in _radii(ask):
        if inmost + further > ask.most_mm + 1e-9:
            return None
        radii = [inmost + circle * ask.spacing_mm for circle in circles]
        found = [one for one in _patterns(ask, radii) if one is not None and _fit(ask, one)]
        if found:
            return min(found, key=lambda one: _rank(ask, one))
    return None


def _radii(ask: Ask) -> Iterator[float]:
    """The least circle, and then each from which the holes may stand a step nearer to one another."""
    yield rounded_up(ask.least_mm)
    gap = _steps(ask.gap_deg(rounded_up(ask.least_mm)), ask.step_deg)
    for steps in range(gap - 1, 0, -1):
        yield rounded_up(chord_radius(ask.spacing_mm, steps * ask.step_deg))


def rounded_up(radius_mm: float) -> float:
    """A circle as it is drawn: no smaller, and a whole multiple of `ROUND_UP_MM` [mm]."""
    return round(float(np.ceil(radius_mm / ROUND_UP_MM - 1e-9)) * ROUND_UP_MM, 6)


def _steps(angle_deg: float, step_deg: float) -> int:
    return max(1, int(np.ceil(angle_deg / step_deg - 1e-9)))


def _patterns(ask: Ask, radii: Sequence[float]) -> Iterator[Paired | None]:
    """Patterns on given circles: for two pins of differing sets, else of the same for all."""
    most = int(360.0 / ask.step_deg)
    gaps = [_steps(ask.gap_deg(radius), ask.step_deg) for radius in radii[: ask.pins]]
    each = [sets_for(len(ask.settings_deg), gap, most)[:TRIED] for gap in gaps]
    if ask.pins == 2:
        chosen: Iterator[tuple[Sets, ...]] = itertools.product(*each)
    else:
        chosen = zip(*each, strict=False)
    return (_placed(ask, radii, sets) for sets in chosen)


def _placed(ask: Ask, radii: Sequence[float], sets: Sequence[Sets]) -> Paired | None:
    """A pattern, its sectors put round the caps as evenly as they go; None where they don't go on."""
    sectors = [_sector(ask, each) for each in sets]
    order = [0, len(sets), *range(1, len(sets))]  # the stop stands beside the first pin's holes
    sectors.append(_stop_sector(ask))
    bases = _bases(ask, radii, sectors, order)
    if bases is None:
        return None
    turning, fixed, own = list[Hole](), list[Hole](), list[tuple[int, int]]()
    for each, base, radius, sector in zip(sets, bases, radii, sectors, strict=False):
        own.append((len(turning), len(fixed)))
        turning += [(radius, base + j * each.turning * ask.step_deg) for j in range(each.turning_holes)]
        fixed += [(radius, base + sector.fixed[0] + k * each.fixed * ask.step_deg) for k in range(each.fixed_holes)]
    found = pinned_deg(turning, fixed, pins=ask.pins, fit_mm=ask.fit_mm)
    low, high = ask.stopped_deg
    stop = Stop(radii[-1], bases[-1], bases[-1] - high, bases[-1] - low)
    unwanted = tuple((float(a), float(b)) for a, b in not_asked(found, ask.settings_deg))
    return Paired(tuple(turning), tuple(fixed), _pairs(ask, sets, own), stop, unwanted)


def _sector(ask: Ask, sets: Sets) -> _Sector:
    step, first = ask.step_deg, sets.lowest * ask.step_deg - ask.settings_deg[0]
    return _Sector(
        (0.0, (sets.turning_holes - 1) * sets.turning * step),
        (first, first + (sets.fixed_holes - 1) * sets.fixed * step),
        sets,
    )


def _stop_sector(ask: Ask) -> _Sector:
    """No other pin's hole comes over the stop's slot, at any pitch that it lets be."""
    low, high = ask.stopped_deg
    return _Sector((low - high, high - low), (-high, -low))


def _bases(ask: Ask, radii: Sequence[float], sectors: list[_Sector], order: list[int]) -> list[float] | None:
    """Where each sector begins [deg], the first pin's astern in mid range; None where they don't go on."""
    middle, bases = (ask.settings_deg[0] + ask.settings_deg[-1]) / 2, [0.0] * len(sectors)
    for radius in dict.fromkeys(radii):
        here = [i for i in order if radii[i] == radius]
        gap = ask.gap_deg(radius)
        forward = [_advance(sectors[i], sectors[j], gap) for i, j in zip(here, here[1:] + here[:1], strict=True)]
        if sum(forward) > 360.0 + 1e-9:
            return None
        first = here[0]
        bases[first] = _even(ask, first, sectors, middle)
        for n, i in enumerate(here[1:], start=1):
            least = bases[here[n - 1]] + forward[n - 1]
            most = bases[first] + 360.0 - sum(forward[n:])
            wanted = least if i == len(sectors) - 1 else _even(ask, i, sectors, middle)
            wanted += 360.0 * np.ceil((least - wanted - 180.0) / 360.0)
            bases[i] = float(np.clip(wanted, least, most))
    return bases


def _even(ask: Ask, i: int, sectors: list[_Sector], middle: float) -> float:
    """Base of a sector whose middle stands at its even place about the axis [deg]."""
    if i == ask.pins:  # a stop that has a circle to itself stands beside the first pin's holes
        return middle + 360.0 / max(2, ask.pins) / 2 - sectors[i].middle
    return middle / 2 + 360.0 / ask.pins * i + ask.skew_deg[i] - sectors[i].middle


def _advance(one: _Sector, other: _Sector, gap: float) -> float:
    """Least angle from one sector's base on to the next one's [deg]."""
    return max(one.turning[1] - other.turning[0], one.fixed[1] - other.fixed[0]) + gap


def _pairs(ask: Ask, sets: Sequence[Sets], own: list[tuple[int, int]]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """For each setting and pin the two holes that are used least by the settings before."""
    columns = []
    for each, (first_turning, first_fixed) in zip(sets, own, strict=True):
        turning, fixed, column = [0] * each.turning_holes, [0] * each.fixed_holes, []
        for setting in range(len(ask.settings_deg)):
            j, k = min(each.pairs(setting), key=lambda pair: (turning[pair[0]] + fixed[pair[1]], pair))
            turning[j] += 1
            fixed[k] += 1
            column.append((first_turning + j, first_fixed + k))
        columns.append(column)
    return tuple(zip(*columns, strict=True))


def middles_deg(stretches: Sequence[tuple[float, float]]) -> FloatArray:
    """(n,) the pitch in the middle of each [deg]."""
    return np.asarray(np.asarray(stretches, dtype=np.float64).reshape(-1, 2).mean(axis=1))


def _fit(ask: Ask, one: Paired) -> bool:
    """Whether no unwanted pitch lies nearer to a wanted one than twice the play, and no letters meet."""
    middles, play = middles_deg(one.unwanted_deg), float(chord_deg(ask.fit_mm, min(one.turning)[0]))
    near = _apart_deg(middles, ask.settings_deg).min(initial=np.inf)
    return bool(near >= 2.0 * play - 1e-9) and all(_legible(ask, holes) for holes in (one.turning, one.fixed))


def _legible(ask: Ask, holes: Sequence[Hole]) -> bool:
    """Whether holes of different circles, whose letters stand in one ring, are as far apart as those of one circle."""
    radius, angle = np.array(holes).T
    others = np.abs(radius[:, None] - radius[None, :]) > ROUND_UP_MM / 2
    return bool(_apart_deg(angle, angle)[others].min(initial=np.inf) >= ask.gap_deg(radius.max()) - 1e-9)


def _apart_deg(one: ArrayLike, other: ArrayLike) -> FloatArray:
    """(n, m) angles between each of some directions and each of others, half a turn at most [deg]."""
    off = np.asarray(one, dtype=np.float64)[:, None] - np.asarray(other, dtype=np.float64)[None, :]
    return np.asarray(np.abs((off + 180.0) % 360.0 - 180.0))


def reached(ask: Ask, one: Paired) -> tuple[tuple[float, float], ...]:
    """The unwanted pitches that the stop lets be."""
    return tuple(each for each in one.unwanted_deg if ask.reached(one.stop, each))


def _rank(ask: Ask, one: Paired) -> tuple[float, int, int, int]:
    return one.rim_mm, len(reached(ask, one)), len(one.unwanted_deg), len(one.turning) + len(one.fixed)


def nearest(ask: Ask) -> float | None:
    """The finest step of the same range for which a pattern is found, halving between what is asked and a single step
    [deg]; None where there is none. A pattern that takes so many steps is taken to be there for fewer, too."""
    low, high = ask.settings_deg[0], ask.settings_deg[-1]
    fits, too_many = 0, len(ask.settings_deg) - 1
    while too_many - fits > 1:
        steps = (fits + too_many) // 2
        step = (high - low) / steps
        coarser = replace(ask, step_deg=step, settings_deg=tuple(low + step * k for k in range(steps + 1)))
        fits, too_many = (steps, too_many) if paired(coarser) is not None else (fits, steps)
    return (high - low) / fits if fits else None
