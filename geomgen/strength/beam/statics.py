"""How a beam stands under its own turning, weight, and what acts on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import FREE, TWIST, Beam, Masses, States
from geomgen.strength.beam.chain import solved
from geomgen.strength.beam.matrices import along_axis, elastic, loads_of, moves, spun
from geomgen.strength.beam.shapes import Hung, hung


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
    load = states.rad_s[:, None, None] ** 2 * turned.load
    on = hung(beam, masses.place_m)
    load = load + _carried(beam, on, steady_forces(masses, states))
    places = hung(beam, states.places_m)
    load = load + _carried(beam, places, states.forces_n)
    return Deflected(solved(stiffness, beam.held, load + loads_of(beam, places, _turning(states.moments_nm))))


def steady_forces(masses: Masses, states: States) -> FloatArray:
    """(s, p, 3) on points by weight and by growing speed, as if nothing were bent [N]."""
    cos, sin = np.cos(states.coning_rad), np.sin(states.coning_rad)
    x, y, z = masses.place_m.T
    down = np.array([-sin, 0.0, -cos])
    late = np.stack((y * cos, -(x * cos - z * sin), -y * sin), axis=-1)
    per_kg = states.gravity_m_s2[:, None, None] * down + states.gains_rad_s2[:, None, None] * late
    return np.asarray(masses.kg[:, None] * per_kg)


def _carried(beam: Beam, on: Hung, forces: FloatArray) -> FloatArray:
    """(s, n, 5) what forces (s, p, 3) come to at nodes."""
    load = np.einsum("spk,pki->spi", forces, moves(on.off_m))
    return loads_of(beam, on, load) + along_axis(beam, on, forces[..., 0])


def _turning(moments: FloatArray) -> FloatArray:
    """(s, q, 5) what moments about x, y, z work on: twist, slope down and slope forward."""
    found = np.zeros((*moments.shape[:-1], FREE))
    found[..., TWIST], found[..., 3], found[..., 1] = moments[..., 0], -moments[..., 1], moments[..., 2]
    return found
