"""The least distance between paths of lines and arcs, many pairs of paths at once."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.segments import Segments

_PART_RAD = float(np.radians(30.0))  # arcs are looked at in parts of this angle, only those that can be nearest


def apart(
    segments: Segments, one: tuple[IntArray, IntArray], two: tuple[IntArray, IntArray], chordal_mm: float
) -> tuple[FloatArray, FloatArray]:
    """Least distance between the edges of each pair of paths, 0 where they cross, and the points it is between.

    segments   : of all paths [mm]
    one, two   : (n,) first row and (n,) number of rows of each path of a pair in `segments`
    chordal_mm : arcs are taken as chords this near; the distance is off by twice that at most
    returns    : (n,) [mm]; (n, 2, 2) point on one, point on two [mm]
    """
    parts, row = segments.split(_PART_RAD)
    a0, a1 = (np.searchsorted(row, edge) for edge in (one[0], one[0] + one[1]))
    b0, b1 = (np.searchsorted(row, edge) for edge in (two[0], two[0] + two[1]))
    rank, pair = ragged(np.zeros_like(a0), (a1 - a0) * (b1 - b0))
    width = (b1 - b0)[pair]
    a, b = a0[pair] + rank // width, b0[pair] + rank % width
    low, high = parts.boxes()
    least_squared, most_squared = (
        np.zeros(len(a)),
        np.zeros(len(a)),
    )  # between two parts' boxes, and two of their points
    for k in range(2):
        gap = np.maximum(low[a, k] - high[b, k], low[b, k] - high[a, k])
        least_squared += np.maximum(gap, 0.0) ** 2
        most_squared += (parts.start[a, k] - parts.start[b, k]) ** 2
    most_squared = np.minimum.reduceat(most_squared, np.searchsorted(pair, np.arange(len(a0))))
    near = least_squared <= most_squared[pair]
    a, b, pair = a[near], b[near], pair[near]
    used = np.unique(np.concatenate((a, b)))
    lines = _lines(parts.rows(used), chordal_mm)
    line_a, line_b = lines[np.searchsorted(used, a)], lines[np.searchsorted(used, b)]
    best = index_of_least(shapely.distance(line_a, line_b), pair)
    shortest = shapely.shortest_line(line_a[best], line_b[best])
    return shapely.length(shortest), shapely.get_coordinates(shortest).reshape(-1, 2, 2)


def ragged(first: IntArray, count: IntArray) -> tuple[IntArray, IntArray]:
    """Rows first, first + 1, ... of n runs end to end, and the run each is of: (sum of count,) both."""
    owner = np.repeat(np.arange(len(count)), count)
    return np.arange(len(owner)) + np.repeat(first - (np.cumsum(count) - count), count), owner


def index_of_least(values: FloatArray, owner: IntArray) -> IntArray:
    """(m,) index of the least of each owner's values; `owner` counts up from 0, none without a value."""
    first = np.searchsorted(owner, np.arange(owner[-1] + 1))
    low = np.flatnonzero(values == np.minimum.reduceat(values, first)[owner])
    found: IntArray = low[np.searchsorted(low, first)]
    return found


def _lines(segments: Segments, chordal_mm: float) -> NDArray[np.object_]:
    """(n,) line strings of chords, one for each line or arc."""
    points, row = segments.flattened(chordal_mm)
    row = np.append(row, np.arange(len(segments.bulge)))
    order = np.argsort(row, kind="stable")
    lines: NDArray[np.object_] = shapely.linestrings(np.vstack((points, segments.end))[order], indices=row[order])
    return lines
