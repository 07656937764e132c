"""The material left between a hole and the outline, and between two holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.apart import apart, index_of_least, ragged
from geomgen.plane.nearest import feet_on, inside, nearest, windings
from geomgen.plane.path import Circle, Path
from geomgen.plane.region import Region
from geomgen.plane.segments import Segments

Point = tuple[float, float]

_CHORDAL_MM = 2e-4  # arcs of two paths are held against each other as chords this near


@dataclass(frozen=True)
class Ligament:
    """The least material between a hole and one other loop.

    hole   : index of the hole in `Region.holes`
    other  : index of another hole, greater than `hole`; None for the outline
    gap_mm : least distance [mm]; 0 or less where they touch, cross or overlap
    at     : the pair of points it is between: on the hole, on the other loop [mm]
    """

    hole: int
    other: int | None
    gap_mm: float
    at: tuple[Point, Point]


@dataclass(frozen=True, eq=False)
class _Loops:
    """All loops of all regions, an outline before its holes, one row each.

    region, number : which region; 0 for its outline, k + 1 for hole k
    center, radius : of a round hole [mm]; nan for a path
    first, count   : rows of a path's segments in `segments`; a round outline is a path too
    """

    region: IntArray
    number: IntArray
    center: FloatArray
    radius: FloatArray
    first: IntArray
    count: IntArray
    segments: Segments


def least_ligaments(region: Region) -> list[Ligament]:
    """Every hole's least distance to the outline and to every other hole, narrowest first.

    Exact for circles; between two paths of arcs to 0.0005 mm. A hole that crosses the outline or leaves it has how far
    it does so for a gap, with a minus sign; a circle in or across another hole likewise; two such paths have 0 or less.
    """
    return ligaments_of([region])[0]


def ligaments_of(regions: Sequence[Region]) -> list[list[Ligament]]:
    """`least_ligaments` of each region, all worked at once."""
    if not regions:
        return []
    loops = _gathered(regions)
    one, two = _pairs(loops)
    gap, places = np.empty(len(one)), np.empty((len(one), 2, 2))
    round_one, round_two = ~np.isnan(loops.radius[one]), ~np.isnan(loops.radius[two])
    for which, measured, swap in (
        (round_one & round_two, _circles, False),
        (round_one & ~round_two, _circles_and_paths, False),
        (~round_one & round_two, _circles_and_paths, True),
        (~round_one & ~round_two, _paths, False),
    ):
        if which.any():
            a, b = (two[which], one[which]) if swap else (one[which], two[which])
            gap[which], at = measured(loops, a, b)
            places[which] = at[:, ::-1] if swap else at
    of: list[list[Ligament]] = [[] for _ in regions]
    order = np.argsort(gap, kind="stable")
    columns = (loops.region[one], loops.number[one], loops.number[two], gap, places)
    for region, hole, other, width, (p, q) in zip(*(column[order].tolist() for column in columns), strict=True):
        of[region].append(Ligament(hole - 1, other - 1 if other else None, width, ((p[0], p[1]), (q[0], q[1]))))
    return of


def _gathered(regions: Sequence[Region]) -> _Loops:
    center: list[Point] = []
    radius: list[float] = []
    paths: list[Path] = []
    place: list[tuple[int, int]] = []
    for k, region in enumerate(regions):
        for number, loop in enumerate(region.loops()):
            place.append((k, number))
            is_hole = isinstance(loop, Circle) and number > 0
            center.append(loop.center if isinstance(loop, Circle) else (np.nan, np.nan))
            radius.append(loop.radius if isinstance(loop, Circle) and is_hole else np.nan)
            if not is_hole:
                paths.append(loop.as_path() if isinstance(loop, Circle) else loop)
    rounds = np.array(radius)
    count = np.zeros(len(radius), dtype=np.intp)
    count[np.isnan(rounds)] = [len(path.xy) for path in paths]
    segments = Segments(*(np.concatenate(column) for column in zip(*map(_columns, paths), strict=True)))
    region_of, number_of = np.array(place, dtype=np.intp).T
    return _Loops(region_of, number_of, np.array(center), rounds, np.cumsum(count) - count, count, segments)


def _columns(path: Path) -> tuple[FloatArray, FloatArray, FloatArray]:
    return path.xy, np.concatenate((path.xy[1:], path.xy[:1])), path.bulge


def _pairs(loops: _Loops) -> tuple[IntArray, IntArray]:
    """Each hole with its outline and with every later hole of the same region: (n,), (n,) rows of loops."""
    first = np.flatnonzero(loops.number == 0)
    size = np.diff(np.append(first, len(loops.number)))
    corners = {n: np.triu_indices(n, 1) for n in set(size.tolist())}
    low = np.concatenate([begin + corners[n][0] for begin, n in zip(first.tolist(), size.tolist(), strict=True)])
    high = np.concatenate([begin + corners[n][1] for begin, n in zip(first.tolist(), size.tolist(), strict=True)])
    to_outline = loops.number[low] == 0
    return np.where(to_outline, high, low), np.where(to_outline, low, high)


def _circles(loops: _Loops, one: IntArray, two: IntArray) -> tuple[FloatArray, FloatArray]:
    step = loops.center[two] - loops.center[one]
    way = _way(step)
    at_one = loops.center[one] + loops.radius[one, None] * way
    at_two = loops.center[two] - loops.radius[two, None] * way
    return np.hypot(*step.T) - loops.radius[one] - loops.radius[two], np.stack((at_one, at_two), axis=1)


def _circles_and_paths(loops: _Loops, circle: IntArray, path: IntArray) -> tuple[FloatArray, FloatArray]:
    row, owner = ragged(loops.first[path], loops.count[path])
    center = loops.center[circle]
    away, feet = feet_on(loops.segments.rows(row), center[owner])
    low = index_of_least(away, owner)
    away, foot = away[low], feet[low]
    clear = _within(loops, path, center) == (loops.number[path] == 0)  # inside an outline, or outside a hole
    clear_mm = np.where(clear, away, -away)
    rim = center + loops.radius[circle, None] * _way(foot - center) * np.where(clear, 1.0, -1.0)[:, None]
    return clear_mm - loops.radius[circle], np.stack((rim, foot), axis=1)


def _paths(loops: _Loops, one: IntArray, two: IntArray) -> tuple[FloatArray, FloatArray]:
    rows = [(loops.first[k], loops.count[k]) for k in (one, two)]
    gap, places = apart(loops.segments, rows[0], rows[1], _CHORDAL_MM)
    on_one, on_two = (loops.segments.start[loops.first[k]] for k in (one, two))
    in_outline = loops.number[two] == 0
    one_in_two, two_in_one = _within(loops, two, on_one), _within(loops, one, on_two)
    gap = np.where(~in_outline & (one_in_two | two_in_one), -gap, gap)
    for k in np.flatnonzero(in_outline & (~one_in_two | (gap == 0.0))):
        gap[k], places[k] = _beyond(*(loops.segments.rows(ragged(first[[k]], n[[k]])[0]) for first, n in rows))
    return gap, places


def _beyond(hole: Segments, outline: Segments) -> tuple[float, FloatArray]:
    """How far a hole reaches beyond an outline, as a negative gap, and the places; 0 where it only touches."""
    corners, _ = hole.flattened(_CHORDAL_MM)
    away, feet = nearest(outline, corners)
    beyond = np.where(inside(outline, corners), 0.0, away)
    far = int(beyond.argmax())
    return -float(beyond[far]), np.stack((corners[far], feet[far]))


def _within(loops: _Loops, path: IntArray, points: FloatArray) -> NDArray[np.bool_]:
    """(n,) whether each of (n, 2) points lies within the path in the same row."""
    row, owner = ragged(loops.first[path], loops.count[path])
    turns = np.bincount(owner, windings(loops.segments.rows(row), points[owner]), minlength=len(path))
    within: NDArray[np.bool_] = np.abs(turns) > 0.5
    return within


def _way(step: FloatArray) -> FloatArray:
    """(n, 2) unit vectors; along x where there is no step."""
    reach = np.hypot(*step.T)[:, None]
    way: FloatArray = np.where(reach > 0.0, step, (1.0, 0.0)) / np.where(reach > 0.0, reach, 1.0)
    return way
