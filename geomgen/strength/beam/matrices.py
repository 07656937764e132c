"""Stiffness of the beam, mass of its points, and what turning does to both.

All that turning does follows from the energy of points in the field of a rotor that turns evenly,

    V = -1/2 W^2 sum m (Xh^2 + Y^2),  Xh = X cos b - Z sin b  (b coning, W speed)

whose place to second order in what the beam does (v forward, w up, p nose up; a, c forward and up of the axis) is

    X = x - a v' - c w' + p (c v' - a w') - 1/2 int (v'^2 + w'^2) - int (ya' v' + za' w')
    Y = y + v - c p - 1/2 a p^2 - 1/2 (a v'^2 + c v' w')
    Z = z + w + a p - 1/2 c p^2 - 1/2 (c w'^2 + a v' w')

a section turned by p and then tilted the shortest way, on an axis that keeps its length. What an axis (ya, za) that
isn't straight does is taken to first order: exact for loads, and left out of what turning adds to stiffness.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import FORWARD_SLOPE, FREE, TWIST, UP_SLOPE, Beam, Masses
from geomgen.strength.beam.chain import Chain, joined
from geomgen.strength.beam.shapes import (
    FORWARD_ROWS,
    PAIR,
    TWIST_ROWS,
    UP_ROWS,
    Hung,
    both_ends,
    hung,
    leaning,
    moves,
    slope_squares,
)


@dataclass(frozen=True, eq=False)
class Spun:
    """What turning does, for each square of the speed in rad/s.

    stiffness : [N m and the like, times s2]
    pulls     : (3, p) forces on points along x, forward and up, nothing bent [N s2]
    """

    stiffness: Chain
    pulls: FloatArray


def elastic(beam: Beam) -> Chain:
    """Stiffness at rest, of cubic pieces in bending and straight ones in twist."""
    a = np.diff(beam.x_m)
    one = np.ones_like(a)
    rows = [
        [12 * one, 6 * a, -12 * one, 6 * a],
        [6 * a, 4 * a**2, -6 * a, 2 * a**2],
        [-12 * one, -6 * a, 12 * one, -6 * a],
        [6 * a, 2 * a**2, -6 * a, 4 * a**2],
    ]
    bent = np.moveaxis(np.array(rows), -1, 0) / a[:, None, None] ** 3
    pieces = np.zeros((len(a), PAIR, PAIR))
    planes = (FORWARD_ROWS, UP_ROWS)
    for i, mine in enumerate(planes):
        for j, its in enumerate(planes):
            pieces[np.ix_(range(len(a)), mine, its)] = beam.ei_nm2[:, i, j, None, None] * bent
    turned = (beam.gj_nm2 / a)[:, None, None] * np.array([[1.0, -1.0], [-1.0, 1.0]])
    pieces[np.ix_(range(len(a)), TWIST_ROWS, TWIST_ROWS)] = turned
    return joined(_seen_from_nodes(beam, pieces))


def mass(beam: Beam, masses: Masses) -> Chain:
    """Of all points, with their movement along x as the beam slopes."""
    on = hung(beam, masses.place_m)
    each = moves(on.off_m)
    return joined(_of_points(beam, on, masses.kg[:, None, None] * (each.swapaxes(1, 2) @ each)))


def spun(beam: Beam, masses: Masses, coning_rad: float) -> Spun:
    """What turning does to points on a beam."""
    on, kg = hung(beam, masses.place_m), masses.kg
    cos, sin = np.cos(coning_rad), np.sin(coning_rad)
    radius, y = masses.place_m[:, 0] * cos - masses.place_m[:, 2] * sin, masses.place_m[:, 1]
    along, forward, up = np.moveaxis(moves(on.off_m), 1, 0)  # (p, 5) each
    outward = cos * along - sin * up
    curved = radius[:, None, None] * _curved_radius(on.off_m, cos, sin) + y[:, None, None] * _curved_forward(on.off_m)
    square = outward[:, :, None] * outward[:, None, :] + forward[:, :, None] * forward[:, None, :]
    pieces = _of_points(beam, on, -kg[:, None, None] * (square + curved)) + _taut(beam, on, kg * radius * cos)
    return Spun(joined(pieces), kg * np.stack((radius * cos, y, -radius * sin)))


def _seen_from_nodes(beam: Beam, pieces: FloatArray) -> FloatArray:
    """(n-1, 10, 10) matrices in pieces' own axes, in the beam's."""
    own = both_ends(leaning(beam))
    return own.swapaxes(1, 2) @ pieces @ own


def _of_points(beam: Beam, on: Hung, each: FloatArray) -> FloatArray:
    """(n-1, 10, 10) by piece, of points' own (p, 5, 5)."""
    pieces = np.zeros((len(beam.gj_nm2), PAIR, PAIR))
    np.add.at(pieces, on.piece, on.rows.swapaxes(1, 2) @ each @ on.rows)
    return pieces


def _beyond(beam: Beam, on: Hung, pulls: FloatArray) -> FloatArray:
    """(..., n-1) pull that goes through all of a piece, counted from the node that can't move along x."""
    at = np.zeros((*pulls.shape[:-1], len(beam.gj_nm2)))
    np.add.at(np.moveaxis(at, -1, 0), on.piece, np.moveaxis(pulls, -1, 0))
    beyond = np.flip(np.cumsum(np.flip(at, -1), -1), -1) - at
    beyond[..., : beam.anchor] -= pulls.sum(-1)[..., None]
    return np.asarray(beyond)


def _taut(beam: Beam, on: Hung, pulls: FloatArray) -> FloatArray:
    """(n-1, 10, 10) stiffness of a beam that outward pulls (p,) at points on its axis stretch like a string."""
    length = np.diff(beam.x_m)
    whole = slope_squares(np.ones_like(length), length)
    each = _beyond(beam, on, pulls)[:, None, None] * whole
    np.add.at(each, on.piece, pulls[:, None, None] * slope_squares(on.along, length[on.piece]))
    pieces = np.zeros((len(length), PAIR, PAIR))
    for rows in (FORWARD_ROWS, UP_ROWS):
        pieces[np.ix_(range(len(length)), rows, rows)] = each
    pieces = _seen_from_nodes(beam, pieces)
    out = on.beyond != 0.0
    rod = np.zeros((int(out.sum()), FREE, FREE))
    rod[:, FORWARD_SLOPE, FORWARD_SLOPE] = rod[:, UP_SLOPE, UP_SLOPE] = (pulls * on.beyond)[out]
    np.add.at(pieces, on.piece[out], on.rows[out].swapaxes(1, 2) @ rod @ on.rows[out])
    return pieces


def _curved_radius(off_m: FloatArray, cos: float, sin: float) -> FloatArray:
    """(p, 5, 5) second derivatives of a point's radius by what the beam does there, the string's part left out."""
    forward, up = off_m.T
    found = np.zeros((len(off_m), FREE, FREE))
    _both(found, FORWARD_SLOPE, TWIST, cos * up)
    _both(found, UP_SLOPE, TWIST, -cos * forward)
    found[:, TWIST, TWIST] = found[:, UP_SLOPE, UP_SLOPE] = sin * up
    _both(found, FORWARD_SLOPE, UP_SLOPE, sin * forward / 2)
    return found


def _curved_forward(off_m: FloatArray) -> FloatArray:
    """(p, 5, 5) second derivatives of how far forward a point lies."""
    forward, up = off_m.T
    found = np.zeros((len(off_m), FREE, FREE))
    found[:, TWIST, TWIST] = found[:, FORWARD_SLOPE, FORWARD_SLOPE] = -forward
    _both(found, FORWARD_SLOPE, UP_SLOPE, -up / 2)
    return found


def _both(found: FloatArray, i: int, j: int, value: FloatArray) -> None:
    found[:, i, j] = found[:, j, i] = value
