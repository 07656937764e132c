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

    nodes : (s, n, 5) forward [m], its slope, up [m], its slope, twist nose up [rad]
    """

    nodes: FloatArray

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
    ways = np.stack(unbent(masses, states.coning_rad)) * masses.kg[:, None]
    alone = np.concatenate((turned.load.reshape(1, -1), np.tensordot(ways, carried(beam, masses.place_m))))
    load = np.column_stack((states.rad_s**2, states.gravity_m_s2, states.gains_rad_s2)) @ alone
    load += np.tensordot(states.forces_n, carried(beam, states.places_m))
    load += np.tensordot(states.moments_nm, _turned(beam, states.places_m))
    return Deflected(solved(stiffness, beam.held, load.reshape(len(load), -1, FREE)))


def unbent(masses: Masses, coning_rad: float) -> tuple[FloatArray, FloatArray]:
    """(p, 3) force on each kg by weight, for 1 m/s2, and by growing speed, for 1 rad/s2, as if nothing were bent."""
    cos, sin = np.cos(coning_rad), np.sin(coning_rad)
    x, y, z = masses.place_m.T
    late = np.column_stack((y * cos, -(x * cos - z * sin), -y * sin))
    return np.broadcast_to(np.array([-sin, 0.0, -cos]), late.shape), late


def _turned(beam: Beam, place_m: FloatArray) -> FloatArray:
    """(q, 3, 5 n) how sections turn about x, y and z, of what all nodes do."""
    on, near = hung(beam, place_m), np.arange(len(place_m))
    about = on.rows[:, [TWIST, UP_SLOPE, FORWARD_SLOPE]] * np.array([1.0, -1.0, 1.0])[:, None]
    found = np.zeros((len(place_m), 3, len(beam.x_m), FREE))
    found[near, :, on.piece], found[near, :, on.piece + 1] = about[..., :FREE], about[..., FREE:]
    return found.reshape(len(place_m), 3, len(beam.x_m) * FREE)
