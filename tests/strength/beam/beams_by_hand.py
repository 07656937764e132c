"""How a beam of cubic pieces lies between its nodes: textbook shapes, written again for the tests."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from geomgen.strength.beam.beam import Beam

FloatArray = NDArray[np.float64]


def hermite(beam: Beam, nodes: FloatArray, x: float) -> FloatArray:
    """(5,) forward, turn that way, up, turn that way, twist of the section at x: textbook cubics in axes that lean as
    the piece does, taken there and back by a small turn; straight on beyond the ends."""
    k = int(np.clip(np.searchsorted(beam.x_m, x) - 1, 0, len(beam.x_m) - 2))
    x0, x1 = beam.x_m[k : k + 2]
    inside = float(np.clip(x, x0, x1))
    length, t = x1 - x0, (inside - x0) / (x1 - x0)
    forward, up = (beam.axis_m[k + 1] - beam.axis_m[k]) / length
    lean = np.array([[1.0, 0.0, -up], [0.0, 1.0, forward], [up, -forward, 1.0]])  # of turns forward, up and nose up
    ends = [lean @ nodes[at, [1, 3, 4]] for at in (k, k + 1)]
    found, turns = np.empty(5), np.empty(3)
    for way, at in enumerate((0, 2)):
        four = [nodes[k, at], length * ends[0][way], nodes[k + 1, at], length * ends[1][way]]
        line = np.polynomial.Polynomial([four[0], four[1], 3 * (four[2] - four[0]) - 2 * four[1] - four[3]])
        line = line + np.polynomial.Polynomial([0, 0, 0, 2 * (four[0] - four[2]) + four[1] + four[3]])
        found[at], turns[way] = line(t), line.deriv()(t) / length
    turns[2] = ends[0][2] * (1 - t) + ends[1][2] * t
    found[[1, 3, 4]] = np.linalg.solve(lean, turns)
    found[[0, 2]] += (x - inside) * found[[1, 3]]
    return found


def rows_at(beam: Beam, x: FloatArray) -> FloatArray:
    """(p, 5, 5 n) the same at many x, of one movement of one node at a time."""
    rows = np.zeros((len(x), 5, 5 * len(beam.x_m)))
    ways = np.eye(rows.shape[2]).reshape(rows.shape[2], -1, 5)
    for row, at in zip(rows, x, strict=True):
        k = int(np.clip(np.searchsorted(beam.x_m, at) - 1, 0, len(beam.x_m) - 2))
        for way in range(5 * k, 5 * k + 10):  # the two nodes beside it
            row[:, way] = hermite(beam, ways[way], float(at))
    return rows


def places_at(beam: Beam, nodes: FloatArray, place_m: FloatArray) -> FloatArray:
    """(s, p, 3) where points (p, 3) lie on beams whose nodes have moved (s, n, 5), to first order."""
    flat = nodes.reshape(len(nodes), -1).T
    forward, slope_f, up, slope_u, twist = np.moveaxis(rows_at(beam, place_m[:, 0]) @ flat, 1, 0)
    a, c = ((place_m[:, way + 1] - np.interp(place_m[:, 0], beam.x_m, beam.axis_m[:, way]))[:, None] for way in (0, 1))
    start = np.array([beam.x_m[beam.anchor]])
    along = _shortened(beam, flat, place_m[:, 0]) - _shortened(beam, flat, start) - a * slope_f - c * slope_u
    return place_m + np.stack((along, forward - c * twist, up + a * twist), axis=-1).swapaxes(0, 1)


def _shortened(beam: Beam, flat: FloatArray, x: FloatArray) -> FloatArray:
    """(p, s) how far an axis that leans moves along x, as each piece keeps its length: less by lean times sideways."""
    nodes = flat.reshape(len(beam.x_m), 5, -1)[:, [0, 2]]
    inside = np.clip(x, beam.x_m[0], beam.x_m[-1])
    sideways = rows_at(beam, inside)[:, [0, 2]] @ flat
    found = np.zeros((len(x), flat.shape[1]))
    for k, (low, high) in enumerate(pairwise(beam.x_m)):
        past, within = inside > high, (inside > low) & (inside <= high)
        gone = past[:, None, None] * (nodes[k + 1] - nodes[k]) + within[:, None, None] * (sideways - nodes[k])
        found -= np.einsum("w,pws->ps", (beam.axis_m[k + 1] - beam.axis_m[k]) / (high - low), gone)
    return found
