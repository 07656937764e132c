"""The paired pattern with the smallest caps, searched from the widest spacing of holes inwards."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.polar import chord_deg, chord_radius
from geomgen.root.paired_pattern import Ask, Paired, closest, least_circles, placed, sector
from geomgen.root.paired_sets import FURTHER, Sets, sets_for

INSIDE = (False, True)  # whether the stop stands on a circle of its own, inside the pins'
TRIED, COUNTED = 12, 200  # patterns put round the caps at each size, and those whose pitches in common are counted


def paired(ask: Ask) -> Paired | None:
    """The pattern with the smallest circles, and of those the one with the fewest unwanted pitches, first in the range
    and then all round; None where none fits. Two pins may have differing sets of holes, more have the same."""
    sets, done = list[Sets](), 0.0
    chosen = np.empty((0, ask.pins), dtype=np.intp)
    circles = np.empty((len(INSIDE), 0))
    for gap, next_mm in _gaps(ask):
        before = len(sets)
        sets += sets_for(len(ask.settings_deg), gap, int(360.0 / max(1, ask.pins - 1) / ask.step_deg))
        new = _combinations(before, len(sets), ask.pins)
        chosen = np.vstack((chosen, new))
        circles = np.hstack((circles, _circles(ask, sets, new)))
        least = np.unique(circles)
        for circle in least[(least > done) & (least < next_mm) & (least <= ask.most_mm + 1e-9)].tolist():
            done = circle
            if found := [one for one in _patterns(ask, sets, chosen, circles, circle) if one.fits(ask)]:
                return min(found, key=lambda one: one.rank)
    return None


def _gaps(ask: Ask) -> Iterator[tuple[int, float]]:
    """Spacings of the closer set [steps], and the circle from which the next may be used [mm]."""
    widest, least = (float(chord_deg(ask.spacing_mm, circle)) / ask.step_deg for circle in (ask.least_mm, ask.most_mm))
    first, last = (max(1, int(np.ceil(gap - 1e-9))) for gap in (widest, least))
    for gap in range(first + FURTHER, last - 1, -1):
        yield gap, float(chord_radius(ask.spacing_mm, (gap - 1) * ask.step_deg)) if gap > last else np.inf


def _combinations(before: int, now: int, pins: int) -> IntArray:
    """(n, pins) numbers of the sets that pins may have, one of them at least among the last ones."""
    if pins != 2:
        return np.repeat(np.arange(before, now)[:, None], pins, axis=1)
    one, other = np.indices((now, now)).reshape(2, -1)
    new = np.maximum(one, other) >= before
    return np.column_stack((one[new], other[new]))


def _circles(ask: Ask, sets: Sequence[Sets], chosen: IntArray) -> FloatArray:
    """(inside, n) least circles of the pins' holes, sets chosen for each pin [mm]."""
    sectors = np.array([sector(ask, each) for each in sets]).reshape(-1, 4)[chosen]
    nearest = np.array([closest(ask, each) for each in sets])[chosen].min(axis=1)
    return np.array([least_circles(ask, sectors, nearest, inside=inside) for inside in INSIDE])


def _patterns(
    ask: Ask, sets: Sequence[Sets], chosen: IntArray, circles: FloatArray, circle_mm: float
) -> Iterator[Paired]:
    """Patterns that go on a circle, those tried that make fewest pitches in common."""
    made = np.array([len(each.made) for each in sets])[chosen].sum(axis=1)
    for inside, least in zip(INSIDE, circles, strict=True):
        go_on = np.flatnonzero(least <= circle_mm + 1e-9)
        few = go_on[np.argsort(made[go_on], kind="stable")[:COUNTED]]
        together = [[sets[k] for k in each] for each in chosen[few].tolist()]
        for each in sorted(together, key=_in_common)[:TRIED]:
            if (one := placed(ask, each, circle_mm, inside=inside)) is not None:
                yield one


def _in_common(sets: Sequence[Sets]) -> int:
    """How many settings all pins' holes make, wanted or not."""
    return len(frozenset.intersection(*(each.made for each in sets)))


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
