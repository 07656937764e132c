"""How a beam stands under its own turning, weight, and what acts on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import FORWARD_SLOPE, FREE, TWIST, UP_SLOPE, Beam, Masses, States
from geomgen.strength.beam.chain import solved
from geomgen.strength.beam.matrices import elastic, spun
from geomgen.strength.beam.shapes import Hung, carried, hung


@dataclass(frozen=True, eq=False)
class Deflected:
    """A beam as it stands.

    nodes  : (s, n, 5) forward [m], its slope, up [m], its slope, twist nose up [rad]
    points : (s, 3, p) where its masses lie [m]
    places : (s, 3, q) where what acts from outside does [m]
    """

    nodes: FloatArray
    points: FloatArray
    places: FloatArray

    def at(self, on: Hung) -> FloatArray:
        """(s, p, 5) the same at points on the beam."""
        pair = np.concatenate((self.nodes[:, on.piece], self.nodes[:, on.piece + 1]), axis=-1)
        return np.asarray(np.einsum("pij,spj->spi", on.rows, pair))


def statics(beam: Beam, masses: Masses, states: States) -> Deflected:
    """How it stands in each state; small: stiffness at each speed is that of the beam not yet bent.

    source : least of elastic energy and energy in the turning field, see matrices.py
    """
    turned = spun(beam, masses, states.coning_rad)
    stiffness = elastic(beam).plus(states.rad_s**2, turned.stiffness)
    on, places = hung(beam, masses.place_m), hung(beam, states.places_m)
    of_points, of_places = carried(beam, on), carried(beam, places)
    alone = np.tensordot(np.stack((turned.pulls, *masses.kg * unbent(masses, states.coning_rad))), of_points)
    load = np.column_stack((states.rad_s**2, states.gravity_m_s2, states.gains_rad_s2)) @ alone
    load += np.tensordot(states.forces_n, of_places, axes=((2, 1), (0, 1)))
    load += np.tensordot(states.moments_nm, _turned(beam, places))
    nodes = solved(stiffness, beam.held, load.reshape(len(load), -1, FREE))
    moved = [np.tensordot(nodes.reshape(load.shape), each, axes=(1, 2)) for each in (of_points, of_places)]
    return Deflected(nodes, masses.place_m.T + moved[0], states.places_m.T + moved[1])


def axis_stands(beam: Beam, deflected: Deflected, x_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(s, 3, k) where the axis lies at x (k,) [m], and (s, k, 5) what nodes there would do."""
    on = hung(beam, np.column_stack((x_m, np.zeros((len(x_m), 2)))))
    at = np.column_stack((x_m, -on.off_m))
    nodes = deflected.nodes.reshape(len(deflected.nodes), -1)
    moved = np.tensordot(nodes, carried(beam, hung(beam, at)), axes=(1, 2))
    return at.T + moved, deflected.at(on)


def unbent(masses: Masses, coning_rad: float) -> FloatArray:
    """(2, 3, p) force on each kg by weight, for 1 m/s2, and by growing speed, for 1 rad/s2, as if nothing were bent."""
    cos, sin = np.cos(coning_rad), np.sin(coning_rad)
    x, y, z = masses.place_m.T
    down = np.stack((-sin + 0.0 * x, 0.0 * x, -cos + 0.0 * x))
    return np.stack((down, np.stack((y * cos, -(x * cos - z * sin), -y * sin))))


def _turned(beam: Beam, on: Hung) -> FloatArray:
    """(q, 3, 5 n) how sections turn about x, y and z, of what all nodes do."""
    near = np.arange(len(on.piece))
    about = on.rows[:, [TWIST, UP_SLOPE, FORWARD_SLOPE]] * np.array([1.0, -1.0, 1.0])[:, None]
    found = np.zeros((len(near), 3, len(beam.x_m), FREE))
    found[near, :, on.piece], found[near, :, on.piece + 1] = about[..., :FREE], about[..., FREE:]
    return found.reshape(len(near), 3, len(beam.x_m) * FREE)
