"""Rows of points round the blade, at the depth where a sheet neither stretches nor shrinks: what is laid flat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Curve, joined
from geomgen.blade.station import Station
from geomgen.design.schema import Half
from geomgen.section import hermite
from geomgen.section.section import Surface

TURN_RAD = float(np.radians(4.0))  # from one column to the next at the nose
STEP_MM = 7.0  # and on the flats, or a share of a very long one; chords of both are within 1e-4 of the arcs
LONGEST_BAY_MM = 60.0  # between rows, or a share of a very long blade
LEAST_BAY_MM = 0.01
MOST_ROWS = 40  # where there are more ribs, rows lie at even distances instead of at each
MOST_STEPS = 150.0  # on the flats of one surface


def radii(ends_mm: tuple[float, float], fixed_mm: Sequence[float], ribs_mm: Sequence[float]) -> FloatArray:
    """(k,) radii of rows: both ends, what is fixed, ribs unless there are very many, and short bays between [mm]."""
    low, high = ends_mm
    some = [*fixed_mm, *(ribs_mm if len(ribs_mm) <= MOST_ROWS else ()), high]
    rows, longest = [low], max(LONGEST_BAY_MM, (high - low) / MOST_ROWS)
    for r in sorted(r for r in some if low < r <= high + 1e-6):
        if r - rows[-1] >= LEAST_BAY_MM:
            bays = int(np.ceil((r - rows[-1]) / longest - 1e-9))
            rows += np.linspace(rows[-1], r, bays + 1)[1:].tolist()
    rows[-1] = high
    return np.array(rows)


@dataclass(frozen=True, eq=False)
class Contour:
    """One surface of the blade at k stations, from nose to tail, each at some depth inside the section.

    half     : which surface
    surfaces : at each station, in its own frame [mm]
    """

    half: Half
    surfaces: tuple[Surface, ...]

    @property
    def length(self) -> FloatArray:
        """(k,) length from nose to tail at each station [mm]."""
        return np.array([surface.length for surface in self.surfaces])

    def along_to(self, x_mm: Sequence[float] | FloatArray) -> FloatArray:
        """(k,) lengths from the nose at which each station's surface reaches its own x (k,) [mm]."""
        asked, found = np.asarray(x_mm, dtype=np.float64), np.zeros(len(self.surfaces))
        for rows in _alike(self.surfaces):
            xy, way, along = (
                np.array([getattr(self.surfaces[k], of) for k in rows]) for of in ("xy", "tangent", "along")
            )
            stretch, share = hermite.crossings(xy, way, asked[rows, None])
            each, i = np.arange(len(rows)), stretch[:, 0]
            found[rows] = along[each, i] + share[:, 0] * (along[each, i + 1] - along[each, i])
        return found

    def turns(self) -> FloatArray:
        """(k,) least radius of each station's surface ahead of any corner; negative where it runs back [mm]."""
        return np.array([_least_radius(surface, self.half) for surface in self.surfaces])


def contour(stations: Sequence[Station], half: Half, depth_mm: Sequence[float]) -> Contour:
    """A surface of the blade at many stations, moved inwards along its normal by a depth at each [mm]."""
    up = 1.0 if half == "upper" else -1.0
    made = []
    for station, depth in zip(stations, depth_mm, strict=True):
        surface: Surface = getattr(station.section, half)
        runs = []
        for xy, tangent in surface.runs():
            inwards = up * np.column_stack([tangent[:, 1], -tangent[:, 0]])
            runs.append(Curve(station.chord_mm * xy + depth * inwards, tangent))
        curves = joined(runs).curves
        corners = np.cumsum([len(curve.xy) for curve in curves])[:-1] - 1
        made.append(
            Surface(
                np.vstack([curve.xy for curve in curves]),
                np.vstack([curve.tangent for curve in curves]),
                tuple(corners.tolist()),
                surface.names,
            )
        )
    return Contour(half, tuple(made))


@dataclass(frozen=True, eq=False)
class Columns:
    """Where the columns of a grid cross a contour.

    along   : (k, n) lengths from the nose, rising, at each station [mm]
    corners : name and column of each corner
    """

    along: FloatArray
    corners: tuple[tuple[str, int], ...]


def columns(of: Contour, start_mm: FloatArray, end_mm: FloatArray) -> Columns:
    """Columns from one length to another, close where the surface turns, one on each corner that all stations have.

    start_mm, end_mm : (k,) lengths from the nose at each station [mm]
    """
    breaks, names = [start_mm], list[str]()
    if len({surface.names for surface in of.surfaces}) == 1:
        for i, name in enumerate(of.surfaces[0].names):
            at = np.array([surface.along[surface.corners[i]] for surface in of.surfaces])
            if np.all(at > start_mm + 1e-3) and np.all(at < end_mm - 1e-3):
                breaks.append(at)
                names.append(name)
    breaks.append(end_mm)
    parts: list[FloatArray] = []
    ends: list[int] = []
    for begin, end in pairwise(breaks):
        share = _shares(of, begin, end)
        part = begin[:, None] + (end - begin)[:, None] * share
        parts.append(part if not parts else part[:, 1:])
        ends.append(sum(each.shape[1] for each in parts) - 1)
    return Columns(np.hstack(parts), tuple(zip(names, ends, strict=False)))


def points(of: Contour, along: FloatArray) -> list[FloatArray]:
    """(n, 2) points of each station at its own lengths from the nose (k, n), in its own frame [mm]."""
    return [surface.at(at)[0] for surface, at in zip(of.surfaces, along, strict=True)]


def _shares(of: Contour, begin: FloatArray, end: FloatArray) -> FloatArray:
    """(n,) shares of a stretch, 0 to 1, evenly spread over what its first, middle and last station turn and run."""
    some = sorted({0, len(of.surfaces) // 2, len(of.surfaces) - 1})
    grid = np.linspace(0.0, 1.0, 2001) ** 2 if begin.max() < 1e-6 else np.linspace(0.0, 1.0, 501)
    measure = np.zeros(len(grid))
    for k in some:
        length = end[k] - begin[k]
        way = of.surfaces[k].at(begin[k] + length * grid)[1]
        turn = np.abs(np.diff(np.unwrap(np.arctan2(way[:, 1], way[:, 0]))))
        steps = np.append(0.0, np.cumsum(turn / TURN_RAD + np.diff(grid) * min(length / STEP_MM, MOST_STEPS)))
        measure = np.maximum(measure, steps)
    count = max(4, int(np.ceil(measure[-1])))
    return np.interp(np.linspace(0.0, measure[-1], count + 1), measure, grid)


def _least_radius(surface: Surface, half: Half) -> float:
    first = surface.runs()[0]
    sense = -1.0 if half == "upper" else 1.0
    chord, way = np.diff(first.xy, axis=0), (first.tangent[1:] + first.tangent[:-1]) / 2
    a, b = first.tangent[:-1], first.tangent[1:]
    turn = sense * np.arcsin(np.clip(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], -1.0, 1.0))
    turning = turn > 1e-9
    length = (chord * way).sum(axis=1)
    return float(np.divide(length, turn, where=turning, out=np.full(len(turn), np.inf)).min())


def _alike(surfaces: Sequence[Surface]) -> list[list[int]]:
    """Numbers of the surfaces that have as many points as one another."""
    found: dict[int, list[int]] = {}
    for k, surface in enumerate(surfaces):
        found.setdefault(len(surface.xy), []).append(k)
    return list(found.values())
