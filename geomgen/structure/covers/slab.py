"""What of the blade's section lies between two places in the chord: its area, where that sits, and its size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.edges import Edges, rejoined
from geomgen.blade.station import Station
from geomgen.blade.under_skin import moved
from geomgen.section import hermite

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(6)  # exact to degree 11, which ∫x³ dy of a cubic is of


@dataclass(frozen=True, eq=False)
class Slab:
    """A stretch of the section at each of k stations, in their own frames, between upright lines.

    upper, lower : its two edges, nose to tail
    area         : (k,) [mm2]
    centroid     : (k, 2) [mm]
    second       : (k, 2, 2) mean of place times place about the centroid [mm2]
    size         : (k, 2) along the chord and across it [mm]
    """

    upper: Edges
    lower: Edges
    area: FloatArray
    centroid: FloatArray
    second: FloatArray
    size: FloatArray

    def ring(self, k: int) -> FloatArray:
        """(n, 2) points of one outline, anticlockwise from the upper tail round the nose [mm]."""
        upper, lower = self.upper, self.lower
        above, below = (e.xy[k, e.first[k] : e.last[k] + 1] for e in (upper, lower))
        return np.vstack([above[::-1], below])


def slab(
    stations: Sequence[Station],
    depth_mm: float = 0.0,
    from_mm: FloatArray | None = None,
    to_mm: FloatArray | None = None,
) -> Slab:
    """The section at k stations, inside what lies over it, between two lines square to the chord.

    depth_mm : thickness of what lies over it; negative where it is to stand proud [mm]
    from_mm  : (k,) x it begins at; None for the nose [mm]
    to_mm    : (k,) x it ends at; None for the tail [mm]
    source   : area, first and second moments by Green's theorem along the edges, exact for the cubics that they are
    """
    chords, which = np.array([station.chord_mm for station in stations]), np.ones(len(stations), dtype=np.bool_)
    depth = np.full(len(stations), depth_mm)
    edges = [
        rejoined(moved([station.section.upper for station in stations], chords, depth)),
        rejoined(moved([station.section.lower for station in stations], chords, -depth)),
    ]
    if from_mm is not None:
        edges = [edge.cut(from_mm, which, nose=True) for edge in edges]
    if to_mm is not None:
        edges = [edge.cut(to_mm, which, nose=False) for edge in edges]
    upper, lower = edges
    row = np.arange(len(stations))
    heads, tails = ([e.xy[row, getattr(e, end)] for e in edges] for end in ("first", "last"))
    parts = _along(lower) - _along(upper) + _straight(tails[1], tails[0]) + _straight(heads[0], heads[1])
    area = parts[:, 0]
    centroid = parts[:, 1:3] / area[:, None]
    xx, xy, yy = parts[:, 3:].T / area
    about_origin = np.stack([np.stack([xx, xy], axis=-1), np.stack([xy, yy], axis=-1)], axis=-1)
    second = about_origin - centroid[:, :, None] * centroid[:, None, :]
    both = np.concatenate([_kept(edge) for edge in edges], axis=1)
    size = np.nanmax(both, axis=1) - np.nanmin(both, axis=1)
    return Slab(upper, lower, area, centroid, second, size)


def _kept(edges: Edges) -> FloatArray:
    """(k, n, 2) the points of each edge; nan for what is cut off [mm]."""
    j = np.arange(edges.xy.shape[1])
    on = (j >= edges.first[:, None]) & (j <= edges.last[:, None])
    return np.where(on[..., None], edges.xy, np.nan)


def _along(edges: Edges) -> FloatArray:
    """(k, 6) loop integrals of area, ∫x, ∫y, ∫x², ∫xy, ∫y² along each edge, from its first point to its last."""
    step = hermite.steps(edges.xy, edges.tangent)
    j = np.arange(step.shape[1])
    on = (j >= edges.first[:, None]) & (j < edges.last[:, None]) & (step > 0)
    k, i = np.nonzero(on)
    ends, ways = (edges.xy[k, i], edges.xy[k, i + 1]), (edges.tangent[k, i], edges.tangent[k, i + 1])
    total = np.zeros((len(edges.xy), 6))
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        point, speed = hermite.between(ends, ways, step[on], np.full(len(k), 0.5 * (node + 1.0)))
        terms = _terms(point, speed * (0.5 * weight * step[on])[:, None])
        np.add.at(total, k, terms)
    return total


def _straight(start: FloatArray, end: FloatArray) -> FloatArray:
    """(k, 6) the same along straight lines."""
    total = np.zeros((len(start), 6))
    for node, weight in zip(_NODES, _WEIGHTS, strict=True):
        total += _terms(start + 0.5 * (node + 1.0) * (end - start), 0.5 * weight * (end - start))
    return total


def _terms(point: FloatArray, step: FloatArray) -> FloatArray:
    (x, y), (dx, dy) = point.T, step.T
    firsts = (x * dy - y * dx) / 2.0, x * x * dy / 2.0, -y * y * dx / 2.0
    return np.column_stack([*firsts, x**3 * dy / 3.0, x * x * y * dy / 2.0, -(y**3) * dx / 3.0])
