"""How a long part's mass is shared out along the blade, exact for the first moments and for out times forward."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

import numpy as np

from geomgen.arrays import FloatArray

LONGEST_MM = 100.0  # interval for one set of three Gauss points
PIECE_MM = 40.0  # of a straight leg

_NODES2 = np.array([-1.0, 1.0]) / np.sqrt(3.0)
_NODES3, _WEIGHTS3 = np.polynomial.legendre.leggauss(3)


def point(place: Sequence[float] | FloatArray) -> FloatArray:
    """(1, 4) the whole share at one place [mm]."""
    return np.array([[1.0, *place]])


def centre_of(spread: FloatArray) -> FloatArray:
    """(3,) the middle of (n, 4) shares [mm]."""
    return np.asarray(spread[:, 0] @ spread[:, 1:])


def second_of(spread: FloatArray, own: FloatArray) -> FloatArray:
    """(3, 3) mean of place times place about the middle of (n, 4) shares, each of which lies round its place [mm2].

    own : (n, 3, 3) mean of place times place of each share about its own place [mm2]
    """
    away = spread[:, 1:] - centre_of(spread)
    return np.asarray(np.einsum("n,nij->ij", spread[:, 0], own) + (away * spread[:, :1]).T @ away)


def about(middle: FloatArray, whole: FloatArray) -> FloatArray:
    """(3, 3) mean of place times place about a middle (3,) [mm], of that about the origin (3, 3) [mm2]."""
    return np.asarray(whole - np.outer(middle, middle))


def of_sides(sides: FloatArray) -> FloatArray:
    """(..., 3, 3) of even blocks about their middles: a twelfth of each side (..., k, 3) times itself [mm], [mm2]."""
    sides = np.atleast_2d(sides)
    return np.asarray(np.einsum("...ki,...kj->...ij", sides, sides) / 12.0)


def straight(legs: Sequence[tuple[FloatArray, FloatArray]]) -> tuple[float, FloatArray]:
    """Straight legs of even mass for each mm: total length [mm] and (n, 4) shares.

    legs : (start (3,), end (3,)) of each leg [mm]
    Two Gauss points for each piece of a leg make first and second moments along it exact; in so many pieces that
    loads along r see it as even.
    """
    rows, total = [], 0.0
    for start, end in legs:
        length, count = float(np.linalg.norm(end - start)), rows_of(end - start) // 2
        total += length
        middle, half = (start + end) / 2, (end - start) / 2
        for step in (2.0 * np.arange(count) + 1.0 - count) / count:
            rows += [[length / count / 2, *(middle + (step + node / count) * half)] for node in _NODES2]
    spread = np.array(rows)
    spread[:, 0] /= total
    return total, spread


def rows_of(leg: FloatArray) -> int:
    """How many shares `straight` has of a leg (3,) [mm]."""
    return 2 * max(1, int(np.ceil(float(np.linalg.norm(leg)) / PIECE_MM - 1e-9)))


def along_r(breaks_mm: FloatArray, measure: Callable[[float], tuple[float, FloatArray]]) -> tuple[float, FloatArray]:
    """A measure for each mm of r, summed between breaks: the total, and (n, 4) shares.

    breaks_mm : (n,) radii between which the measure is smooth [mm], rising
    measure   : r [mm] -> (measure for each mm of r, its centre (3,) in the blade frame [mm])
    """

    def each(r_mm: FloatArray) -> tuple[FloatArray, FloatArray]:
        found = [measure(float(r)) for r in r_mm]
        return np.array([amount for amount, _ in found]), np.array([centre for _, centre in found])

    return along_radii(breaks_mm, each)


def along_radii(
    breaks_mm: FloatArray, measure: Callable[[FloatArray], tuple[FloatArray, FloatArray]]
) -> tuple[float, FloatArray]:
    """The same with a measure of many radii at once: r (k,) [mm] -> (measures (k,), their centres (k, 3) [mm])."""
    middles, halves = list[float](), list[float]()
    for start, end in itertools.pairwise(breaks_mm):
        count = max(1, int(np.ceil((end - start) / LONGEST_MM)))
        edges = np.linspace(start, end, count + 1)
        middles += ((edges[1:] + edges[:-1]) / 2).tolist()
        halves += ((edges[1:] - edges[:-1]) / 2).tolist()
    middle, half = np.array(middles)[:, None], np.array(halves)[:, None]
    amount, centre = measure((middle + _NODES3 * half).ravel())
    spread = np.column_stack([amount * (_WEIGHTS3 * half).ravel(), centre])
    total = float(spread[:, 0].sum())
    spread[:, 0] /= total
    return total, spread
