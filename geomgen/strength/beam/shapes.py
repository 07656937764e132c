"""How a point moves with the two nodes beside it: cubic in bending, straight in twist."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.strength.beam.beam import FORWARD, FORWARD_SLOPE, FREE, TWIST, UP, UP_SLOPE, Beam

PAIR = 2 * FREE
FORWARD_ROWS, UP_ROWS, TWIST_ROWS = [0, 1, 5, 6], [2, 3, 7, 8], [4, 9]  # of the two nodes of a piece


@dataclass(frozen=True, eq=False)
class Hung:
    """Points on a beam. What lies beyond an end goes with it as if there were a stiff rod.

    piece  : (p,) of the beam that each is on
    along  : (p,) share of that piece, 0 at its inner node, 1 at its outer [-]
    beyond : (p,) how far beyond the outer end; < 0 before the inner [m]
    rows   : (p, 5, 10) how the section there moves and turns, as nodes do, of what the piece's two nodes do
    off_m  : (p, 2) of the axis, forward and up [m]
    """

    piece: IntArray
    along: FloatArray
    beyond: FloatArray
    rows: FloatArray
    off_m: FloatArray


def hung(beam: Beam, place_m: FloatArray) -> Hung:
    """Points (p, 3) on a beam [m]."""
    x = beam.x_m
    inside = np.clip(place_m[:, 0], x[0], x[-1])
    piece = np.clip(np.searchsorted(x, inside, side="right") - 1, 0, len(x) - 2)
    length = np.diff(x)[piece]
    along = (inside - x[piece]) / length
    beyond = place_m[:, 0] - inside
    value, slope = cubic(along, length)
    rows = np.zeros((len(inside), FREE, PAIR))
    for first, columns in ((0, FORWARD_ROWS), (2, UP_ROWS)):
        rows[:, first, columns] = value
        rows[:, first + 1, columns] = slope
    rows[:, 4, TWIST_ROWS] = np.column_stack((1.0 - along, along))
    if _leans(beam).any():
        own = leaning(beam)
        rows = np.linalg.inv(own)[piece] @ rows @ both_ends(own)[piece]
    rows[:, [FORWARD, UP]] += beyond[:, None, None] * rows[:, [FORWARD_SLOPE, UP_SLOPE]]
    axis = beam.axis_m[piece] + along[:, None] * (beam.axis_m[piece + 1] - beam.axis_m[piece])
    return Hung(piece, along, beyond, rows, place_m[:, 1:] - axis)


def leaning(beam: Beam) -> FloatArray:
    """(n-1, 5, 5) a section's movements in each piece's own axes, which lean as the axis does; to first order of that.

    Where an axis is bent at a node, turning the section there moves the axis beyond it sideways.
    """
    forward, up = _leans(beam).T
    own = np.tile(np.eye(FREE), (len(forward), 1, 1))
    own[:, FORWARD_SLOPE, TWIST], own[:, UP_SLOPE, TWIST] = -up, forward
    own[:, TWIST, FORWARD_SLOPE], own[:, TWIST, UP_SLOPE] = up, -forward
    return own


def both_ends(own: FloatArray) -> FloatArray:
    """(n-1, 10, 10) the same for both nodes of each piece."""
    found = np.zeros((len(own), PAIR, PAIR))
    found[:, :FREE, :FREE] = found[:, FREE:, FREE:] = own
    return found


def cubic(along: FloatArray, length: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(p, 4) value and slope of a cubic at a share of its length, of values and slopes at its ends."""
    t, a = along, length
    value = (1 - 3 * t**2 + 2 * t**3, a * (t - 2 * t**2 + t**3), 3 * t**2 - 2 * t**3, a * (t**3 - t**2))
    slope = (6 * (t**2 - t) / a, 1 - 4 * t + 3 * t**2, 6 * (t - t**2) / a, 3 * t**2 - 2 * t)
    return np.stack(value, axis=-1), np.stack(slope, axis=-1)


def slope_squares(along: FloatArray, length: FloatArray) -> FloatArray:
    """(p, 4, 4) integral of slope times slope from the inner end to a share of each length, exact."""
    zero, one = np.zeros_like(length), np.ones_like(length)
    in_powers = np.stack(
        [
            np.stack((zero, -6 / length, 6 / length), axis=-1),
            np.stack((one, -4 * one, 3 * one), axis=-1),
            np.stack((zero, 6 / length, -6 / length), axis=-1),
            np.stack((zero, -2 * one, 3 * one), axis=-1),
        ],
        axis=-2,
    )  # (p, 4, 3) of 1, t, t2
    power = np.add.outer(np.arange(3), np.arange(3)) + 1
    integral = length[:, None, None] * along[:, None, None] ** power / power
    return np.asarray(in_powers @ integral @ in_powers.swapaxes(-1, -2))


def moves(off_m: FloatArray) -> FloatArray:
    """(p, 3, 5) how points move along x, forward and up, as their section moves and turns, to first order."""
    forward, up = off_m.T
    found = np.zeros((len(off_m), 3, FREE))
    found[:, 0, FORWARD_SLOPE], found[:, 0, UP_SLOPE] = -forward, -up
    found[:, 1, FORWARD], found[:, 1, TWIST] = 1.0, -up
    found[:, 2, UP], found[:, 2, TWIST] = 1.0, forward
    return found


def carried(beam: Beam, on: Hung) -> FloatArray:
    """(3, p, 5 n) how points move along x, forward and up, of what all nodes do, to first order.

    The axis keeps its length: where it leans, what moves it sideways moves all beyond it along x.
    """
    count, nodes = len(on.piece), len(beam.x_m)
    found = np.zeros((3, count, nodes, FREE))
    each, near = (moves(on.off_m) @ on.rows).swapaxes(0, 1), np.arange(count)
    found[:, near, on.piece], found[:, near, on.piece + 1] = each[..., :FREE], each[..., FREE:]
    lean = _leans(beam)
    if lean.any():
        found[0] += _shortened(lean, on, nodes) - _shortened(lean, hung(beam, _on_axis(beam, beam.anchor)), nodes)
    return found.reshape(3, count, nodes * FREE)


def _leans(beam: Beam) -> FloatArray:
    """(n-1, 2) slope of each piece's axis, forward and up."""
    return np.asarray(np.diff(beam.axis_m, axis=0) / np.diff(beam.x_m)[:, None])


def _on_axis(beam: Beam, node: int) -> FloatArray:
    return np.array([[beam.x_m[node], *beam.axis_m[node]]])


def _shortened(lean: FloatArray, on: Hung, nodes: int) -> FloatArray:
    """(p, n, 5) how much less far out the axis ends at points, counted from the first node, of what all nodes do."""
    whole = np.zeros((len(lean), nodes, FREE))
    at, found = np.arange(len(lean)), np.zeros((len(on.piece), nodes, FREE))
    for way, moved in enumerate((FORWARD, UP)):
        whole[at, at, moved], whole[at, at + 1, moved] = lean[:, way], -lean[:, way]
        inside = on.rows[:, moved] - on.beyond[:, None] * on.rows[:, moved + 1]  # at the end, not beyond it
        inside[:, moved] -= 1.0
        part = -lean[on.piece, way, None] * inside
        near = np.arange(len(on.piece))
        found[near, on.piece] += part[:, :FREE]
        found[near, on.piece + 1] += part[:, FREE:]
    before = (at < on.piece[:, None]).astype(np.float64)
    return found + (before @ whole.reshape(len(lean), -1)).reshape(found.shape)
