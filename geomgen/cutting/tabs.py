"""Bridges that hold a part in its sheet: an outside cut broken into open pieces, on its straightest stretches."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.cutting.kerf import KINK_DEG
from geomgen.plane.path import Circle, Loop, Path
from geomgen.plane.splice import stretch

EACH_MM = 150.0  # one more bridge for each further length of so much; common practice
_STEP_MM = 0.5  # between places that are tried, at most
_SHIFTS = 24  # ways that the places asked for are turned round the loop together
_ASIDE = 1 / 6  # a bridge stands aside of where it is asked for by so much of the distance to the next, at most
_FROM_CORNER = 0.5  # least distance of a gap's end from a corner, over the gap
_MOST = 0.5  # share of the loop that gaps, with what is kept clear beside them, take at most


@dataclass(frozen=True, eq=False)
class _Places:
    """Where the middle of a gap may be.

    at   : (n,) length along the loop [mm]
    bend : (n,) greatest curvature in the gap [1/mm]; infinite where a corner is in it, or too near
    """

    at: FloatArray
    bend: FloatArray


def tabbed(loop: Loop, width_mm: float, least: int, kerf_mm: float) -> tuple[Path, ...]:
    """An outside cut in open pieces, one after another, with a bridge left between each and the next.

    loop     : where the middle of the beam runs [mm]
    width_mm : of the material in each bridge [mm]; the gap in the path is wider by the kerf, as the beam is round
    least    : bridges of a loop up to `EACH_MM` for each; a longer one gets one more for each further `EACH_MM`
    returns  : as many pieces as there are bridges, in the loop's direction; fewer than `least` where no more have
               room clear of corners; the closed loop itself where none has
    raises   : ValueError on figures that aren't greater than 0, a kerf below 0, or an open loop
    """
    if not (width_mm > 0.0 and least > 0 and kerf_mm >= 0.0):
        raise ValueError(f"bridges need a width and a number above 0, and a kerf of 0 or more: {width_mm}, {least}")
    ring = loop.as_path() if isinstance(loop, Circle) else loop
    if not ring.closed:
        raise ValueError("bridges are left in a closed loop")
    gap, length = width_mm + kerf_mm, ring.length()
    count = min(bridges(length, least), int(_MOST * length / (gap * (1.0 + 2.0 * _FROM_CORNER))))
    middles = _chosen(_places(ring, gap), length, count) if count else []
    if not middles:
        return (ring,)
    starts, ends = [at + 0.5 * gap for at in middles], [*(at - 0.5 * gap for at in middles[1:]), middles[0] - 0.5 * gap]
    return tuple(_between(ring, start, end) for start, end in zip(starts, ends, strict=True))


def bridges(length_mm: float, least: int) -> int:
    """How many bridges a loop of some length is asked to have."""
    return max(least, int(length_mm / EACH_MM))


def _places(ring: Path, gap: float) -> _Places:
    segments, length = ring.segments(), ring.length()
    ends = np.cumsum(segments.lengths())
    at = np.linspace(0.0, length, max(int(np.ceil(length / min(_STEP_MM, 0.25 * gap))), 8), endpoint=False)
    begin, end = segments.directions()
    turn = np.mod(np.roll(begin, -1) - end + np.pi, 2.0 * np.pi) - np.pi
    kinks = np.abs(turn) > np.radians(KINK_DEG)
    tight = (segments.radius() < gap) & (
        np.abs(segments.angle) > np.radians(KINK_DEG)
    )  # about a corner, as it was moved
    corners = ends[kinks | tight | np.roll(tight, -1)]
    middle, half = ends - 0.5 * segments.lengths(), 0.5 * segments.lengths()
    touched = _round(at[:, None] - middle, length) < half + 0.5 * gap
    bend = np.where(touched, 1.0 / segments.radius(), 0.0).max(axis=1)
    too_near = (_round(at[:, None] - corners, length) < gap * (0.5 + _FROM_CORNER)).any(axis=1)
    return _Places(at, np.where(too_near, np.inf, bend))


def _chosen(places: _Places, length: float, count: int) -> list[float]:
    """Middles of gaps in order: even round the loop but for a little, on the straightest stretches that gives."""
    apart = length / count
    best: tuple[tuple[float, float, float], list[float]] = ((np.inf, np.inf, np.inf), [])
    for shift in np.arange(_SHIFTS) / _SHIFTS:
        middles, bends, asides = [], [], 0.0
        for k in range(count):
            away = _round(places.at - (k + shift) * apart, length)
            bend = np.where(away <= _ASIDE * apart, places.bend, np.inf)
            pick = int(np.lexsort((away, np.round(bend, 9)))[0])
            if np.isfinite(bend[pick]):
                middles.append(float(places.at[pick]))
                bends.append(float(bend[pick]))
                asides += float(away[pick])
        rank = (float(count - len(middles)), round(max(bends, default=0.0), 9), asides)
        if rank < best[0]:
            best = rank, sorted(middles)
    return best[1]


def _round(ahead: FloatArray, length: float) -> FloatArray:
    """How far two places are apart along the loop, the shorter way round."""
    folded = np.mod(ahead, length)
    shorter: FloatArray = np.minimum(folded, length - folded)
    return shorter


def _between(ring: Path, start: float, end: float) -> Path:
    """The open path from one length along the loop ahead to another."""
    return stretch(ring.segments(), *_place(ring, start), *_place(ring, end))


def _place(ring: Path, at: float) -> tuple[int, float]:
    lengths = ring.segments().lengths()
    ends = np.cumsum(lengths)
    at %= float(ends[-1])
    row = min(int(np.searchsorted(ends, at, side="right")), len(ends) - 1)
    return row, float(np.clip((at - ends[row]) / lengths[row] + 1.0, 0.0, 1.0))
