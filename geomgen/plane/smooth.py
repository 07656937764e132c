"""Smooth curves into paths of few lines and arcs that meet in a tangent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import FloatArray, IntArray
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm
from geomgen.plane.biarc import bulge_from, bulge_to, curvature, off_circle
from geomgen.plane.fit import LEAST_PAIR, Fit, fit, laid
from geomgen.plane.path import Path
from geomgen.plane.samples import Samples, gathered
from geomgen.tolerances import Tolerances

_SAME_MM = 1e-6  # an arc no higher than this is drawn as a line
_SAME_RAD = 5e-7  # a pair of arcs whose chord's angles differ by less than this is one arc


@dataclass(frozen=True, eq=False)
class Piece:
    """One smooth open curve.

    xy      : (n, 2) exact points, n >= 2, none repeated [mm]
    tangent : (n, 2) exact unit tangents, in the direction of travel
    path    : key path in the design file of what the curve belongs to, for a fault
    """

    xy: FloatArray
    tangent: FloatArray
    path: str = ""


@dataclass(frozen=True, eq=False)
class _Stretches:
    """Curves cut where they turn straight: first and last sample, whether straight, which piece; one row each."""

    first: IntArray
    last: IntArray
    straight: NDArray[np.bool_]
    piece: IntArray


@dataclass(frozen=True, eq=False)
class _Drawn:
    """Lines and arcs: (k, 2) starts [mm], (k,) bulges, (k,) the stretch each belongs to."""

    start: FloatArray
    bulge: FloatArray
    stretch: IntArray


@dataclass(frozen=True, eq=False)
class _Missed:
    """A piece that could not be followed, and where: (2,) [mm]."""

    piece: int
    place: FloatArray


def smooth_arcs(pieces: Sequence[Piece], tol: Tolerances) -> list[Path]:
    """Each curve as an open path of few lines and arcs that meet in a tangent, all curves worked at once.

    Ends and end tangents are exact, so neighbouring pieces meet as the curves do. Curve and path are within
    `tol.chordal_mm` of each other both ways: the nearest point on the path runs from end to end without a gap as one
    goes along the curve, so no part of the path is farther off than what is measured along the curve.
    Straight stretches become one line. A piece shorter than the least edge becomes one line, however it bends; one too
    short for two edges becomes one arc through its ends, if that is within the tolerance; its tangents may be off.

    pieces : assumed sampled so densely that a cubic Hermite curve through points and tangents is the curve to a small
             part of the tolerance, with continuous tangents (a corner ends a piece)
    raises : ValueError on pieces of wrong shape; MakeError with every piece at fault where a curve folds back on
             itself, or turns too sharply to be followed by edges of `tol.least_edge_mm`
    """
    if not pieces:
        return []
    whole = _samples(pieces)
    if folds := _folds(whole, pieces):
        raise MakeError(folds)
    stretches = _stretches(whole, LEAST_PAIR * tol.least_edge_mm)
    length = whole.along[stretches.last] - whole.along[stretches.first]
    fitted = ~stretches.straight & (length >= LEAST_PAIR * tol.least_edge_mm)
    line = stretches.straight | (length < tol.least_edge_mm)
    arcs = _single_arcs(whole, stretches, np.flatnonzero(~line & ~fitted))
    drawn = [_lines(whole, stretches, np.flatnonzero(line)), arcs]
    missed = _single_arcs_missed(whole, stretches, arcs, tol)
    if fitted.any():
        which = np.flatnonzero(fitted)
        samples = whole.taken(stretches.first[which], stretches.last[which])
        found = fit(samples, tol)
        failed = np.array([k for k, nodes in enumerate(found.nodes) if not len(nodes)], dtype=np.intp)
        places, _ = samples.at(found.worst[failed], failed)
        missed += [_Missed(int(stretches.piece[which[k]]), place) for k, place in zip(failed, places, strict=True)]
        if not missed:
            drawn.append(_pairs(samples, found, which))
    if missed:
        raise MakeError(_fault(pieces[m.piece].path, m, tol) for m in missed)
    return _paths(whole, stretches, drawn)


def _samples(pieces: Sequence[Piece]) -> Samples:
    for piece in pieces:
        n = len(piece.xy)
        if n < 2 or piece.xy.shape != (n, 2) or piece.tangent.shape != (n, 2):
            raise ValueError(f"a piece needs (n, 2) points and tangents, not {piece.xy.shape}, {piece.tangent.shape}")
    end = np.cumsum([len(piece.xy) for piece in pieces])
    xy = np.concatenate([piece.xy for piece in pieces]).astype(np.float64)
    way = np.concatenate([piece.tangent for piece in pieces]).astype(np.float64)
    if not (np.isfinite(xy).all() and bool((np.abs(np.hypot(way[:, 0], way[:, 1]) - 1.0) < 1e-6).all())):
        raise ValueError("a piece needs finite points and unit tangents")
    return gathered(xy, way, np.append(0, end[:-1]), end - 1)


def _folds(samples: Samples, pieces: Sequence[Piece]) -> list[Fault]:
    """The first place on each piece where it folds back."""
    at = samples.folds()
    of, first = np.unique(np.searchsorted(samples.last, at), return_index=True)
    return [
        Fault(pieces[k].path, "", f"the outline folds back or stands still near {mm((x, y), 2, 'x {}, y {}')}")
        for k, (x, y) in zip(of.tolist(), samples.xy[at[first]].tolist(), strict=True)
    ]


def _stretches(samples: Samples, room_mm: float) -> _Stretches:
    """Cut the curves where they turn straight; what is not straight keeps at least `room_mm` of length."""
    along = samples.along
    rows: list[tuple[int, int, bool, int]] = []
    runs = samples.straights(room_mm)
    of = np.searchsorted(samples.last, runs[:, 1])
    for curve, (begin, end) in enumerate(zip(samples.first.tolist(), samples.last.tolist(), strict=True)):
        for first, last in runs[of == curve].tolist() if len(runs) else ():
            if first > begin:
                first = max(first, int(np.searchsorted(along, along[begin] + room_mm)))
            if last < end:
                last = min(last, int(np.searchsorted(along, along[end] - room_mm, side="right")) - 1)
            if last > first and along[last] - along[first] >= room_mm:
                rows += [(begin, first, False, curve)] if first > begin else []
                rows.append((first, last, True, curve))
                begin = last
        rows += [(begin, end, False, curve)] if end > begin else []
    first, last, straight, piece = (np.array(column) for column in zip(*rows, strict=True))
    return _Stretches(first, last, straight, piece)


def _lines(whole: Samples, stretches: _Stretches, which: IntArray) -> _Drawn:
    """One line for each stretch asked for."""
    return _Drawn(whole.xy[stretches.first[which]], np.zeros(len(which)), which)


def _single_arcs(whole: Samples, stretches: _Stretches, which: IntArray) -> _Drawn:
    """One arc for each stretch asked for, through its ends, its tangents half way between wanted and had at both."""
    first, last = stretches.first[which], stretches.last[which]
    chord = whole.xy[last] - whole.xy[first]
    leave, arrive = bulge_from(whole.way[first], chord), bulge_to(chord, whole.way[last])
    return _Drawn(whole.xy[first], np.tan(0.5 * (np.arctan(leave) + np.arctan(arrive))), which)


def _single_arcs_missed(whole: Samples, stretches: _Stretches, arcs: _Drawn, tol: Tolerances) -> list[_Missed]:
    """Stretches that their one arc strays from by more than the tolerance."""
    missed = []
    for k, start, bulge in zip(arcs.stretch, arcs.start, arcs.bulge, strict=True):
        xy = whole.xy[stretches.first[k] : stretches.last[k] + 1] - start
        reach = np.hypot(*xy[-1])
        turn = -2.0 * np.arctan(bulge)
        way = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]]) @ xy[-1] / reach
        off = np.abs(off_circle(xy, way, curvature(bulge, reach)))
        if off.max() > tol.chordal_mm:
            missed.append(_Missed(int(stretches.piece[k]), xy[off.argmax()] + start))
    return missed


def _pairs(samples: Samples, found: Fit, which: IntArray) -> _Drawn:
    """Pairs of arcs for each stretch fitted, those that are one arc drawn as one."""
    curve = np.repeat(np.arange(len(which)), [len(nodes) for nodes in found.nodes])
    pairs = laid(samples, np.concatenate(found.nodes), curve)
    owner = which[curve[np.flatnonzero(curve[1:] == curve[:-1])]]
    chord = pairs.end - pairs.start
    leave, arrive = bulge_from(pairs.start_way, chord), bulge_to(chord, pairs.end_way)
    two = np.abs(np.arctan(leave) - np.arctan(arrive)) > _SAME_RAD
    start = np.stack((pairs.start, pairs.joint), axis=1)
    bulge = np.column_stack((np.where(two, pairs.first, 0.5 * (leave + arrive)), pairs.second))
    kept = np.column_stack((np.ones_like(two), two))
    return _Drawn(start[kept], bulge[kept], np.repeat(owner, 2)[kept.ravel()])


def _paths(whole: Samples, stretches: _Stretches, drawn: Sequence[_Drawn]) -> list[Path]:
    """Lines and arcs in their order, one path a piece."""
    stretch = np.concatenate([some.stretch for some in drawn])
    order = np.argsort(stretch, kind="stable")
    start = np.concatenate([some.start for some in drawn])[order]
    bulge = np.concatenate([some.bulge for some in drawn])[order]
    begin = np.searchsorted(stretches.piece[stretch[order]], np.arange(len(whole.first) + 1))
    following = np.roll(start, -1, axis=0)
    following[begin[1:] - 1] = whole.xy[whole.last]
    height = 0.5 * np.abs(bulge) * np.hypot(*(following - start).T)
    bulge = np.where(height < _SAME_MM, 0.0, bulge)
    return [
        Path(np.vstack((start[a:b], end[None])), np.append(bulge[a:b], 0.0), False)
        for a, b, end in zip(begin[:-1].tolist(), begin[1:].tolist(), whole.xy[whole.last], strict=True)
    ]


def _fault(path: str, missed: _Missed, tol: Tolerances) -> Fault:
    return Fault(
        path=path,
        value="",
        wrong=f"the outline turns too sharply near {mm(missed.place, 2, 'x {}, y {}')} to be followed "
        f"within {mm(tol.chordal_mm)} by lines and arcs of {mm(tol.least_edge_mm)} and more",
        remedy="blunt the outline there, or end it in a corner before it turns",
    )
