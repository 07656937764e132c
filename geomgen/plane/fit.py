"""Smooth curves into few arcs that meet in a tangent, all curves at once.

A pair of arcs over a stretch h of a curve whose curvature changes by k' for each mm strays from it by |k'| h³ / 324:
so nodes are spaced to share out the integral of |k'|^(1/3), the error is then measured, and the spacing mended by the
cube root of what was measured, until each curve is within the tolerance with as few arcs as that takes. Arcs between
points of the curve stray to one side of it: so inner nodes are set off the curve by half of that, to the other side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.biarc import Biarcs, biarcs
from geomgen.plane.samples import Samples
from geomgen.tolerances import Tolerances

LEAST_PAIR = 2.2  # shortest stretch for a pair of arcs, over the least edge
_STRAY = 324.0  # h³ |k'| over the error of a pair of arcs
_TURN = np.radians(75.0)  # greatest turn of one pair of arcs, where edges may be so short
_CHECKS = 17  # points at which each pair is held against its curve
_KEEP = 0.97  # share of the tolerance that may be used at those points
_AIM = 0.85  # share of the tolerance that the spacing aims at
_ROUNDS = 20


@dataclass(frozen=True, eq=False)
class Fit:
    """Nodes of the pairs of arcs found for each curve.

    nodes : for each curve (k, 2) nodes: length along `Samples.along`, and how far left of the curve [mm]; its ends,
            on it, among them; empty where none would do
    worst : (m,) where a try was last farthest from what is asked, as a length along `Samples.along` [mm]
    """

    nodes: list[FloatArray]
    worst: FloatArray


@dataclass(frozen=True, eq=False)
class _Spacing:
    """Pairs of arcs for each mm in each interval of the samples: target, least and most, (n - 1,) [1/mm]."""

    target: FloatArray
    least: FloatArray
    most: FloatArray

    def totals(self, samples: Samples) -> tuple[FloatArray, FloatArray]:
        """(n,) pairs target up to each sample; (m,) on each curve."""
        total = np.append(0.0, np.cumsum(self.target * np.diff(samples.along)))
        return total, total[samples.last] - total[samples.first]


@dataclass(frozen=True, eq=False)
class _Try:
    """Pairs of arcs laid over k curves, p pairs in all.

    curve : (k,) which curves
    count : (k,) pairs on each
    begin, end : (p, 2) node at each end of each pair: length along, and how far left of the curve [mm]
    error : (p,) greatest distance of each pair from its curve [mm]
    edge  : (p,) the pair's shorter chord [mm]
    """

    curve: IntArray
    count: IntArray
    begin: FloatArray
    end: FloatArray
    error: FloatArray
    edge: FloatArray


def fit(samples: Samples, tol: Tolerances) -> Fit:
    """The fewest pairs of arcs found within `tol.chordal_mm`, without an edge under `tol.least_edge_mm`."""
    limit, aim = _KEEP * tol.chordal_mm, _AIM * tol.chordal_mm
    spacing = _first_spacing(samples, aim, LEAST_PAIR * tol.least_edge_mm)
    most = np.maximum(samples.lengths / (LEAST_PAIR * tol.least_edge_mm), 1.0).astype(np.intp)
    count = np.clip(np.ceil(spacing.totals(samples)[1]).astype(np.intp), 1, most)
    nodes: list[FloatArray] = [np.empty((0, 2))] * len(most)
    worst = np.zeros(len(most))
    active = np.arange(len(most))
    for attempt in range(_ROUNDS):
        trial = _try(samples, spacing, active, count[active])
        first = np.cumsum(trial.count) - trial.count
        strain = np.maximum(trial.error / limit, tol.least_edge_mm / trial.edge)  # over 1: not as asked
        most_strain = np.maximum.reduceat(strain, first)
        good = most_strain <= 1.0
        for k in np.flatnonzero(good):
            pairs = slice(first[k], first[k] + trial.count[k])
            nodes[active[k]] = np.vstack((trial.begin[pairs], trial.end[pairs][-1:]))
        peak = np.flatnonzero(strain == np.repeat(most_strain, trial.count))
        peak = peak[np.searchsorted(peak, first)]
        worst[active] = 0.5 * (trial.begin[peak, 0] + trial.end[peak, 0])
        spacing = _respaced(samples, spacing, trial, aim, tol.least_edge_mm)
        target = spacing.totals(samples)[1][active]
        fewer = np.ceil(target * (aim / limit) ** (1 / 3)).astype(np.intp)
        strays = np.maximum.reduceat(trial.error, first) > limit
        even, nudge = np.ceil(target).astype(np.intp), attempt % 2  # nudged, so as not to go in circles
        other = np.where(strays, np.maximum(even, trial.count + nudge), np.minimum(even, trial.count - nudge))
        found = np.array([len(nodes[k]) > 0 for k in active], dtype=bool)
        count[active] = np.clip(np.where(good, fewer, other), 1, most[active])
        active = active[np.where(good, fewer < trial.count, ~found)]
        if not len(active):
            break
    return Fit(nodes, worst)


def laid(samples: Samples, nodes: FloatArray, curve: IntArray) -> Biarcs:
    """Pairs of arcs between neighbours among nodes, wherever both are on one curve.

    nodes : (k, 2) length along `samples.along`, in order, and how far left of the curve [mm]
    curve : (k,) which curve each is on
    """
    xy, way = samples.at(nodes[:, 0], curve)
    xy += nodes[:, 1:] * np.column_stack((-way[:, 1], way[:, 0]))
    i = np.flatnonzero(curve[1:] == curve[:-1])
    return biarcs(xy[i], way[i], xy[i + 1], way[i + 1])


def _first_spacing(samples: Samples, aim_mm: float, least_pair_mm: float) -> _Spacing:
    """A first guess, by the curvature's rate; the least, by the curvature; the most, by the least edge."""
    bend, rate = samples.curvature()
    most = np.full(len(bend), 1.0 / least_pair_mm)
    spread = np.repeat(1e-3 / samples.lengths, samples.last - samples.first + 1)[:-1]
    least = np.maximum(bend / _TURN, spread)
    return _Spacing(np.minimum(np.maximum(np.cbrt(rate / (_STRAY * aim_mm)), least), most), least, most)


def _try(samples: Samples, spacing: _Spacing, active: IntArray, count: IntArray) -> _Try:
    """Lay `count` pairs of arcs over each active curve and measure them."""
    total, on_curve = spacing.totals(samples)
    rank = np.arange(np.sum(count + 1)) - np.repeat(np.cumsum(count + 1) - count - 1, count + 1)
    share = rank / np.repeat(count, count + 1)
    curve = np.repeat(active, count + 1)
    first, last = samples.first[curve], samples.last[curve]
    nodes = np.interp(total[first] + share * on_curve[curve], total, samples.along)
    nodes = np.where(share == 0.0, samples.along[first], np.where(share == 1.0, samples.along[last], nodes))
    nodes = np.column_stack((nodes, np.zeros_like(nodes)))
    is_begin, is_end = share < 1.0, share > 0.0
    begin, end = nodes[is_begin, 0], nodes[is_end, 0]
    check = (np.arange(_CHECKS) + 0.5) / _CHECKS
    along = begin[:, None] + (end - begin)[:, None] * check
    points = samples.points(along.ravel(), np.repeat(curve[is_begin], _CHECKS)).reshape(-1, _CHECKS, 2)
    off = laid(samples, nodes, curve).off(points)
    aside = 0.5 * (off.min(axis=1) + off.max(axis=1))
    nodes[is_begin & is_end, 1] = -0.5 * (aside[1:] + aside[:-1])[is_end[is_begin][1:]]
    pairs = laid(samples, nodes, curve)
    error = np.abs(pairs.off(points)).max(axis=1)
    return _Try(active, count, nodes[is_begin], nodes[is_end], error, np.minimum(*pairs.chords()))


def _respaced(samples: Samples, spacing: _Spacing, trial: _Try, aim_mm: float, least_edge_mm: float) -> _Spacing:
    """The spacing times the cube root of what each pair strayed over what it may; wider where an edge was too short."""
    had = np.repeat(trial.count / spacing.totals(samples)[1][trial.curve], trial.count)
    times = np.clip(np.cbrt(trial.error / aim_mm), 0.2, 4.0) * had
    middle = 0.5 * (samples.along[1:] + samples.along[:-1])
    pair = np.clip(np.searchsorted(trial.begin[:, 0], middle, side="right") - 1, 0, None)
    tried = np.zeros(len(samples.first), dtype=bool)
    tried[trial.curve] = True
    mended = np.repeat(tried, samples.last - samples.first + 1)[:-1]
    most = np.where(mended & (trial.edge < least_edge_mm)[pair], 0.93 * spacing.most, spacing.most)
    target = np.where(mended, np.maximum(spacing.target * times[pair], spacing.least), spacing.target)
    return _Spacing(np.minimum(target, most), spacing.least, most)
