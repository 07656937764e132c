"""No smaller cap, and with that none with fewer unwanted pitches, by trying every pattern of a family outright.

The family: evenly spaced sets of up to eight holes, for one pin and for two, spacings whole steps of up to twice what
the least circle asks for; the stop on the pins' circle wherever it goes, or on one just inside or outside of it; each
pin's holes in a sector of their own.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

import numpy as np
import pytest

from geomgen.root.paired_pattern import Ask
from geomgen.root.paired_search import paired

SPACING, FIT, LEAST, MOST = 4.7, 0.1, 16.0, 60.0
TIGHT = 6.0  # where two pins' holes have to be squeezed in
RADII = np.round(np.arange(LEAST, MOST + 0.05, 0.1), 6)
AROUND = np.arange(0.0, 360.0, 0.25)


def gap(radius: float) -> float:
    """Angle between two holes whose middles are so far apart."""
    return 2.0 * math.degrees(math.asin(min(1.0, SPACING / 2.0 / radius)))


def family(settings: int, step: float, holes: int, least: float = LEAST) -> Iterator[tuple[list[int], list[int]]]:
    """(turning, fixed) places [steps] of holes that make settings 0, 1, 2 ..., all there are."""
    widest = math.ceil(gap(least) / step) * 2
    for t, f in itertools.product(range(1, widest + 1), repeat=2):
        for n, m in itertools.product(range(1, holes + 1), repeat=2):
            if n * m < settings or (n == 1 and t > 1) or (m == 1 and f > 1):
                continue
            made = {j * t - k * f for j in range(n) for k in range(m)}
            for low in made:
                if made.issuperset(range(low, low + settings)):
                    yield [j * t for j in range(n)], [low + k * f for k in range(m)]


def clear(angles: np.ndarray, least: float) -> bool:
    """Whether holes of one circle are no nearer than this, all round [deg]."""
    round_ = np.sort(angles % 360.0)
    return len(round_) < 2 or bool(np.diff(np.append(round_, round_[0] + 360.0)).min() >= least - 1e-9)


def away(one: np.ndarray, other: np.ndarray) -> np.ndarray:
    """(n, m) angle between directions."""
    return np.abs((one[:, None] - other[None, :] + 180.0) % 360.0 - 180.0)


def stop_goes_in(turning: np.ndarray, fixed: np.ndarray, low: float, high: float, least: float) -> bool:
    """Whether anywhere on the same circle: no hole at its pin or over its slot, whatever the pitch."""
    span = high - low
    off_pin = away(AROUND, turning).min(axis=1) >= span + least - 1e-9
    off_slot = away(AROUND - (low + high) / 2.0, fixed).min(axis=1) >= span / 2.0 + least - 1e-9
    return bool((off_pin & off_slot).any())


def least_rim(turning: np.ndarray, fixed: np.ndarray, low: float, high: float) -> float:
    """Of the outermost circle, for holes at these angles."""

    def goes(radius: float) -> bool:
        return clear(turning, gap(radius)) and clear(fixed, gap(radius))

    def with_stop(radius: float) -> bool:
        return goes(radius) and stop_goes_in(turning, fixed, low, high, gap(radius))

    apart = first(goes)
    return min(first(with_stop), max(apart, LEAST + SPACING), apart + SPACING)


def first(goes) -> float:
    """The least radius that does; what does on one does on every larger one."""
    low, high = 0, len(RADII)
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if goes(float(RADII[middle])) else (middle + 1, high)
    return float(RADII[low]) if low < len(RADII) else math.inf


def unwanted(turning: np.ndarray, fixed: np.ndarray, wanted: np.ndarray, radius: float) -> np.ndarray:
    """Pitches at which one pin goes in, other than those wanted; stretches that meet counted once."""
    slack = 2.0 * math.degrees(math.asin(FIT / 2.0 / radius))
    found = np.unique(np.round((turning[:, None] - fixed[None, :]).ravel() % 360.0, 6))
    apart = np.diff(np.append(found, found[0] + 360.0))
    groups = np.split(found, np.flatnonzero(apart[:-1] > 2.0 * slack) + 1)
    return np.array([g.mean() for g in groups if away(g, wanted).min() > 1e-6])


def rules_out(turning: np.ndarray, fixed: np.ndarray, radius: float) -> bool:
    """Whether holes at these angles stand too near one another on a circle, without looking for room for a stop."""
    return not (clear(turning, gap(radius)) and clear(fixed, gap(radius)))


CASES = [(3, 4.0, 4), (4, 3.0, 5), (6, 2.0, 8), (5, 6.0, 6), (6, 3.0, 7), (2, 8.0, 4)]


@pytest.mark.parametrize(("settings", "step", "holes"), CASES)
def test_no_smaller_cap_and_none_with_fewer_unwanted_pitches(settings: int, step: float, holes: int) -> None:
    wanted = 2.0 + step * np.arange(settings)
    low, high = wanted[0] - step / 4.0, wanted[-1] + step / 4.0  # where the stop ends the turning
    best = (MOST, 0, 0)
    for t, f in family(settings, step, holes):
        turning, fixed = np.array(t) * step, np.array(f) * step - wanted[0]
        if rules_out(turning, fixed, best[0]) or (rim := least_rim(turning, fixed, low, high)) > best[0]:
            continue
        others = unwanted(turning, fixed, wanted, rim)
        if len(others) and away(others, wanted).min() < 4.0 * math.degrees(math.asin(FIT / 2.0 / rim)):
            continue
        pitch = (others + 180.0) % 360.0 - 180.0
        best = min(best, (rim, int(((pitch > low) & (pitch < high)).sum()), len(others)))
    found = paired(Ask(tuple(wanted), step, 1, SPACING, FIT, (0.0,), LEAST, MOST))
    assert found is not None
    assert found.rank[:3] == pytest.approx(best)


@pytest.mark.parametrize(("settings", "step", "holes"), [(3, 6.0, 3), (4, 4.0, 4), (4, 6.0, 4)])
def test_two_pins_go_into_no_smaller_cap(settings: int, step: float, holes: int) -> None:
    """Any two of the family, the second pin's holes anywhere: none goes on a tenth of a millimetre further in."""
    wanted = 2.0 + step * np.arange(settings)
    found = paired(Ask(tuple(wanted), step, 2, SPACING, FIT, (0.0, step / 4.0), TIGHT, MOST))
    assert found is not None and found.rank[0] > TIGHT
    low, high = wanted[0] - step / 4.0, wanted[-1] + step / 4.0
    each = [(np.array(t) * step, np.array(f) * step - wanted[0]) for t, f in family(settings, step, holes, TIGHT)]

    def goes(rim: float) -> bool:
        stands = [(rim, True), (rim - SPACING, False), *([(rim, False)] if rim - SPACING >= TIGHT - 1e-9 else [])]
        return any(
            both_go(one, other, circle, low, high, stop)
            for circle, stop in stands
            if circle >= TIGHT - 1e-9
            for one, other in itertools.product([one for one in each if not rules_out(*one, circle)], repeat=2)
        )

    assert goes(found.rank[0]) and not goes(found.rank[0] - 0.1)


def both_go(one, other, radius: float, low: float, high: float, stop: bool) -> bool:
    """Whether two pins' holes, each in a sector of its own, and the stop where it stands with them, go on one circle.

    one, other : angles of the turning cap's holes, rising, and of the fixed cap's
    """
    least = gap(radius) - 0.13  # half of what is tried, either way
    free = np.ones(len(AROUND), dtype=bool)
    for mine, others in zip(one, other, strict=True):
        turned = (AROUND[:, None] + others[None, :]).ravel()
        free &= away(mine, turned).reshape(len(mine), len(AROUND), -1).min(axis=(0, 2)) >= least - 1e-9
        free &= beyond(AROUND + others[0], mine) & beyond(mine[0] - AROUND, others)
    if not stop:
        return bool(free.any())
    span, middle = (high - low), AROUND - (low + high) / 2.0
    for base in AROUND[free]:
        room = np.ones(len(AROUND), dtype=bool)
        for turning, fixed in (one, (other[0] + base, other[1] + base)):
            room &= beyond(AROUND, turning) & (away(AROUND, turning).min(axis=1) >= span + least)
            room &= beyond(middle, fixed) & (away(middle, fixed).min(axis=1) >= span / 2.0 + least)
        if room.any():
            return True
    return False


def beyond(angles: np.ndarray, holes: np.ndarray) -> np.ndarray:
    """Which of some directions lie outside the sector that holes take."""
    return (angles - holes[0]) % 360.0 > holes[-1] - holes[0]
