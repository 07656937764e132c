"""What goes through each cross-section and into the socket: by the balance of all that lies outboard, on the beam as it
stands, so that pull counts with the deflection it has for an arm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import Beam, Masses, States
from geomgen.strength.beam.matrices import moves
from geomgen.strength.beam.shapes import hung
from geomgen.strength.beam.statics import Deflected, steady_forces
from geomgen.strength.blade_loads import Resultants


@dataclass(frozen=True, eq=False)
class Acting:
    """Forces and moments on the bent beam, of masses first, then of what acts on it from outside.

    x_m        : (p,) where each acts while nothing is bent [m]
    place_m    : (s, p, 3) where it acts as the beam stands [m]
    force_n    : (s, p, 3) [N]
    moment_nm  : (s, p, 3) of its own, about x, y and z [N m]
    """

    x_m: FloatArray
    place_m: FloatArray
    force_n: FloatArray
    moment_nm: FloatArray

    def and_these(self, other: Acting) -> Acting:
        """Both together."""
        pairs = zip(self._all(), other._all(), (0, 1, 1, 1), strict=True)
        return Acting(*(np.concatenate(pair[:2], axis=pair[2]) for pair in pairs))

    def total(self) -> tuple[FloatArray, FloatArray]:
        """(s, 3) force [N] and moment about the origin [N m]."""
        return self.force_n.sum(1), (self.moment_nm + np.cross(self.place_m, self.force_n)).sum(1)

    def _all(self) -> tuple[FloatArray, ...]:
        return self.x_m, self.place_m, self.force_n, self.moment_nm


@dataclass(frozen=True, eq=False)
class Reactions:
    """What the beam does to what holds it, in s states.

    inner_n, outer_n : (s, 2) forward and up, on the socket's inner and outer end [N]
    collar_n         : (s,) outwards, at the inner end [N]
    pins_nm          : (s,) moment on what holds twist, + nose up [N m]
    """

    inner_n: FloatArray
    outer_n: FloatArray
    collar_n: FloatArray
    pins_nm: FloatArray


def acting(beam: Beam, masses: Masses, deflected: Deflected, states: States) -> Acting:
    """All forces and moments on the beam as it stands: of turning, growing speed, weight, and from outside."""
    cos, sin = np.cos(states.coning_rad), np.sin(states.coning_rad)
    at = _stands(beam, masses.place_m, deflected)
    radius = at[..., 0] * cos - at[..., 2] * sin
    per_kg = states.rad_s[:, None, None] ** 2 * np.stack((radius * cos, at[..., 1], -radius * sin), axis=-1)
    forces = masses.kg[:, None] * per_kg + steady_forces(masses, states)
    of_mass = Acting(masses.place_m[:, 0], at, forces, np.zeros_like(forces))
    outside = _stands(beam, states.places_m, deflected)
    return of_mass.and_these(Acting(states.places_m[:, 0], outside, states.forces_n, states.moments_nm))


def reactions(beam: Beam, loads: Acting) -> Reactions:
    """What all loads come to at a socket's two ends, the collar, and what holds twist. raises : ValueError"""
    inner, outer, _ = _bearings(beam)
    force, moment = loads.total()
    (x, *axis), (to_x, *to_axis) = ((beam.x_m[k], *beam.axis_m[k]) for k in (inner, outer))
    about = moment - np.cross(np.array([x, *axis]), force)
    # the outer end's force, at an arm of (to_x - x, axis to axis), makes up for all bending about the inner end
    at_outer = np.stack((about[:, 2], -about[:, 1]), axis=-1) / (to_x - x)
    step = np.array(to_axis) - np.array(axis)
    pins = about[:, 0] - (step[0] * at_outer[:, 1] - step[1] * at_outer[:, 0])
    return Reactions(force[:, 1:] - at_outer, at_outer, force[:, 0], pins)


def resultants(beam: Beam, loads: Acting, deflected: Deflected, x_m: FloatArray) -> tuple[Resultants, FloatArray]:
    """What goes through cross-sections at some x (k,) [m], about the axis as it stands there.

    returns : (s, k) resultants, moments about lines along x, y and z; and the twist about the beam itself, which a
              section feels where the beam has a slope [N m]
    A force at one x is outboard of what lies before that x, not of that x itself.
    """
    if beam.bearings:
        loads = loads.and_these(_held(beam, reactions(beam, loads)))
    order = np.argsort(-loads.x_m, kind="stable")
    through = loads.moment_nm + np.cross(loads.place_m, loads.force_n)
    summed = np.concatenate((loads.force_n, through), axis=-1)[:, order].cumsum(axis=1)
    summed = np.concatenate((np.zeros_like(summed[:, :1]), summed), axis=1)
    beyond = np.searchsorted(-loads.x_m[order], -x_m, side="left")
    force, moment = np.split(summed[:, beyond], 2, axis=-1)
    on = hung(beam, np.column_stack((x_m, np.zeros((len(x_m), 2)))))
    moved = deflected.at(on)
    at = np.stack(
        (np.broadcast_to(x_m, moved.shape[:2]), moved[..., 0] - on.off_m[:, 0], moved[..., 2] - on.off_m[:, 1]), -1
    )
    twist, down, lag = np.moveaxis(moment - np.cross(at, force), -1, 0)
    found = Resultants(force[..., 0], force[..., 1], force[..., 2], lag, -down, twist)
    return found, twist + moved[..., 1] * down + moved[..., 3] * lag


def tilt_in_play(loads_at_socket: Reactions, *, arm_m: float, play_m: float) -> FloatArray:
    """(s, 2) slope forward and up by which a spar leans in a socket with play, as one stiff thing [-].

    arm_m  : from the socket's one end to its other [m]
    play_m : inside of the socket less outside of the spar [m]
    source : it lies against one side at one end and the other at the other, the way that its bending pushes it; a
             round socket lets it lean as far in every direction
    """
    way = loads_at_socket.outer_n
    size = np.hypot(way[:, 0], way[:, 1])[:, None]
    return np.asarray(play_m / arm_m * np.divide(way, size, out=np.zeros_like(way), where=size > 0.0))


def _stands(beam: Beam, place_m: FloatArray, deflected: Deflected) -> FloatArray:
    """(s, p, 3) where points (p, 3) come to lie, to first order [m]."""
    on = hung(beam, place_m)
    return np.asarray(place_m + np.einsum("pki,spi->spk", moves(on.off_m), deflected.at(on)))


def _held(beam: Beam, found: Reactions) -> Acting:
    """What holds the beam, as forces on it."""
    nodes = _bearings(beam)
    x, axis = beam.x_m[[*nodes]], beam.axis_m[[*nodes]]
    s = len(found.collar_n)
    place = np.broadcast_to(np.column_stack((x, axis)), (s, 3, 3))
    force, moment = np.zeros((s, 3, 3)), np.zeros((s, 3, 3))
    force[:, 0, 1:], force[:, 1, 1:] = -found.inner_n, -found.outer_n
    force[:, 0, 0], moment[:, 2, 0] = -found.collar_n, -found.pins_nm
    return Acting(x, place, force, moment)


def _bearings(beam: Beam) -> tuple[int, int, int]:
    if beam.bearings is None:
        raise ValueError("the beam isn't held by the two ends of a socket")
    return beam.bearings
