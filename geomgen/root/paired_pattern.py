"""Holes of a paired pattern put round the caps: a sector for each pin, and one for the pin that stops the turning.

All pins' holes stand on one circle: on several, their letters must stand clear of one another in one ring all the same,
and so no cap is smaller. The stop has no letters, and stands on a circle of its own, inside, where that makes a smaller
cap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.arcs import arc_slot
from geomgen.plane.path import Path
from geomgen.plane.polar import chord_deg, chord_radius, on_circle
from geomgen.root.paired_sets import Sets
from geomgen.root.pinned import not_asked, pinned_deg

ROUND_UP_MM = 0.1  # a circle of pins' holes is a whole multiple of this
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

    pairs              : (settings, pins) which hole of either cap takes each pin
    stop               : what ends the turning
    inside, outside    : stretches of pitch, none of them asked for, at which all pins would go in: those that the stop
                         lets be, and those that it doesn't [deg]
    """

    turning: tuple[Hole, ...]
    fixed: tuple[Hole, ...]
    pairs: tuple[tuple[tuple[int, int], ...], ...]
    stop: Stop
    inside: tuple[tuple[float, float], ...]
    outside: tuple[tuple[float, float], ...]

    @property
    def circle_mm(self) -> float:
        """Radius of the pins' circle [mm]."""
        return self.turning[0][0]

    @property
    def rank(self) -> tuple[float, int, int, int]:
        """Which is best: smallest circle, fewest unwanted pitches in the range, fewest of all, fewest holes."""
        unwanted = len(self.inside) + len(self.outside)
        holes = len(self.turning) + len(self.fixed)
        return self.circle_mm, len(self.inside), unwanted, holes

    def fits(self, ask: Ask) -> bool:
        """Whether no unwanted pitch lies nearer to a wanted one than twice the play."""
        near = apart_deg(middles_deg((*self.inside, *self.outside)), ask.settings_deg).min(initial=np.inf)
        return bool(near >= 2.0 * float(chord_deg(ask.fit_mm, self.circle_mm)) - 1e-9)


def sector(ask: Ask, sets: Sets) -> FloatArray:
    """(4,) what one pin's holes take of a circle, from the sector's own base on [deg]: the turning cap's from, to; the
    fixed cap's from, to."""
    first = sets.lowest * ask.step_deg - ask.settings_deg[0]
    wide = (sets.turning_holes - 1) * sets.turning, (sets.fixed_holes - 1) * sets.fixed
    return np.array([0.0, wide[0] * ask.step_deg, first, first + wide[1] * ask.step_deg])


def _stop_sector(ask: Ask) -> FloatArray:
    """(4,) the same for the stop and its slot: no pin's hole comes over that, at any pitch that it lets be."""
    low, high = ask.stopped_deg
    return np.array([low - high, high - low, -high, -low])


def closest(ask: Ask, sets: Sets) -> float:
    """Angle between neighbouring holes of one pin [deg]; half a turn where there are none."""
    spacings = (sets.turning, sets.turning_holes), (sets.fixed, sets.fixed_holes)
    return min([180.0, *(wide * ask.step_deg for wide, holes in spacings if holes > 1)])


def least_circles(ask: Ask, sectors: FloatArray, closest_deg: FloatArray, *, inside: bool) -> FloatArray:
    """(n,) least circle for the pins' holes, whole tenths; inf where there is none [mm].

    sectors     : (n, pins, 4) of each pin
    closest_deg : (n,) least angle between two holes of a pin
    inside      : whether the stop stands on a circle of its own, one spacing inside
    """
    on_it = _ring(ask, sectors, inside=inside)
    left = np.maximum(360.0 - _advances(on_it).sum(axis=-1), 0.0) / on_it.shape[-2]
    circles = chord_radius(ask.spacing_mm, np.minimum(closest_deg, left))
    return rounded_up(np.maximum(ask.least_mm + inside * ask.spacing_mm, circles))


def rounded_up(radius_mm: ArrayLike) -> FloatArray:
    """A circle as it is drawn: no smaller, and a whole multiple of `ROUND_UP_MM` [mm]."""
    return np.asarray(np.round(np.ceil(np.asarray(radius_mm) / ROUND_UP_MM - 1e-9) * ROUND_UP_MM, 6))


def _ring(ask: Ask, sectors: FloatArray, *, inside: bool) -> FloatArray:
    """(..., pins or one more, 4) sectors of the pins' circle: a stop on it stands beside the first pin's holes."""
    if inside:
        return sectors
    stop = np.broadcast_to(_stop_sector(ask), (*sectors.shape[:-2], 1, 4))
    return np.concatenate((sectors[..., :1, :], stop, sectors[..., 1:, :]), axis=-2)


def _advances(ring: FloatArray) -> FloatArray:
    """(..., n) least angle from each sector's base on to the next one's, gaps between holes not counted [deg]."""
    after = np.roll(ring, -1, axis=-2)
    return np.asarray(np.maximum(ring[..., 1] - after[..., 0], ring[..., 3] - after[..., 2]))


def placed(ask: Ask, sets: Sequence[Sets], circle_mm: float, *, inside: bool) -> Paired | None:
    """A pattern, its sectors put round the caps as evenly as they go; None where they don't go on."""
    sectors = np.array([sector(ask, each) for each in sets])
    bases = _bases(ask, sectors, float(chord_deg(ask.spacing_mm, circle_mm)), inside=inside)
    if bases is None:
        return None
    *bases, stop_at = bases
    step, turning, fixed, own = ask.step_deg, list[Hole](), list[Hole](), list[tuple[int, int]]()
    for each, base, (_, _, first, _) in zip(sets, bases, sectors.tolist(), strict=True):
        own.append((len(turning), len(fixed)))
        turning += [(circle_mm, base + j * each.turning * step) for j in range(each.turning_holes)]
        fixed += [(circle_mm, base + first + k * each.fixed * step) for k in range(each.fixed_holes)]
    found = pinned_deg(turning, fixed, pins=ask.pins, fit_mm=ask.fit_mm)
    low, high = ask.stopped_deg
    stop = Stop(circle_mm - inside * ask.spacing_mm, stop_at, stop_at - high, stop_at - low)
    unwanted = [(float(a), float(b)) for a, b in not_asked(found, ask.settings_deg)]
    let_be = tuple(each for each in unwanted if ask.reached(stop, each))
    stopped = tuple(each for each in unwanted if each not in let_be)
    return Paired(tuple(turning), tuple(fixed), _pairs(ask, sets, own), stop, let_be, stopped)


def _bases(ask: Ask, sectors: FloatArray, gap: float, *, inside: bool) -> list[float] | None:
    """Where each pin's sector begins, the first one's astern in mid range, and last where the stop's does [deg]; None
    where they don't go on."""
    forward = _advances(_ring(ask, sectors, inside=inside)) + gap
    if forward.sum() > 360.0 + 1e-9:
        return None
    middle = (ask.settings_deg[0] + ask.settings_deg[-1]) / 2
    even = middle / 2 + 360.0 / ask.pins * np.arange(ask.pins) + ask.skew_deg - sectors.mean(axis=-1)
    first = float(even[0])
    bases = [first]
    for n in range(1, ask.pins):
        k = n if inside else n + 1  # its place in the ring
        least = first + forward[:k].sum() if n == 1 else bases[-1] + forward[k - 1]
        wanted = even[n] + 360.0 * np.ceil((least - even[n] - 180.0) / 360.0)
        bases.append(float(np.clip(wanted, least, first + 360.0 - forward[k:].sum())))
    # a stop on a circle to itself stands between the first two pins
    stop_at = middle + 180.0 / max(2, ask.pins) - _stop_sector(ask).mean() if inside else first + forward[0]
    return [*bases, float(stop_at)]


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


def apart_deg(one: ArrayLike, other: ArrayLike) -> FloatArray:
    """(n, m) angles between each of some directions and each of others, half a turn at most [deg]."""
    off = np.asarray(one, dtype=np.float64)[:, None] - np.asarray(other, dtype=np.float64)[None, :]
    return np.asarray(np.abs((off + 180.0) % 360.0 - 180.0))
