"""What goes through each cross-section and into the socket: by the balance of all that lies outboard, on the beam as it
stands, so that pull counts with the deflection it has for an arm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.beam.beam import Beam, Masses, States
from geomgen.strength.beam.statics import Deflected, axis_stands, unbent
from geomgen.strength.blade_loads import Resultants


@dataclass(frozen=True, eq=False)
class Acting:
    """What acts on the bent beam at points: masses first, then what acts from outside.

    x_m  : (p,) where each acts while nothing is bent [m]
    each : (s, 6, p) forces along x, y, z [N] and their moments about the origin, as the beam stands [N m]
    """

    x_m: FloatArray
    each: FloatArray


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


def acting(masses: Masses, deflected: Deflected, states: States) -> Acting:
    """All forces and moments on the beam as it stands: of turning, growing speed, weight, and from outside."""
    cos, sin = np.cos(states.coning_rad), np.sin(states.coning_rad)
    at, rate = deflected.points, states.rad_s[:, None] ** 2
    radius = at[:, 0] * cos - at[:, 2] * sin
    per_kg = np.stack((rate * radius * cos, rate * at[:, 1], -rate * radius * sin), axis=1)
    for size, way in zip((states.gravity_m_s2, states.gains_rad_s2), unbent(masses, states.coning_rad), strict=True):
        per_kg += size[:, None, None] * way
    of_mass = _about_origin(at, masses.kg * per_kg)
    outside = _about_origin(deflected.places, states.forces_n.swapaxes(1, 2))
    outside[:, 3:] += states.moments_nm.swapaxes(1, 2)
    x = np.concatenate((masses.place_m[:, 0], states.places_m[:, 0]))
    return Acting(x, np.concatenate((of_mass, outside), axis=2))


def reactions(beam: Beam, loads: Acting) -> Reactions:
    """What all loads come to at a socket's two ends, the collar, and what holds twist. raises : ValueError"""
    inner, outer, _ = _bearings(beam)
    force, moment = np.split(loads.each.sum(-1), 2, axis=-1)
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
    through = _beyond(loads, x_m)
    if beam.bearings:
        through = through + _beyond(_held(beam, reactions(beam, loads)), x_m)
    (at, moved), force = axis_stands(beam, deflected, x_m), through[:, :3]
    here = _about_origin(at, force)
    twist, down, lag = (through - here)[:, 3:].swapaxes(0, 1)
    found = Resultants(force[:, 0], force[:, 1], force[:, 2], lag, -down, twist)
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


def _about_origin(at: FloatArray, force: FloatArray) -> FloatArray:
    """(s, 6, p) forces (s, 3, p) at places (s, 3, p), and their moments about the origin."""
    (x, y, z), (fx, fy, fz) = at.swapaxes(0, 1), force.swapaxes(0, 1)
    return np.stack((fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx), axis=1)


def _beyond(loads: Acting, x_m: FloatArray) -> FloatArray:
    """(s, 6, k) sum of what acts further out than some x (k,): added up once, from the outermost in."""
    outermost = np.argsort(-loads.x_m, kind="stable")
    sums = np.zeros((*loads.each.shape[:2], len(outermost) + 1))
    np.cumsum(loads.each[..., outermost], axis=-1, out=sums[..., 1:])
    return np.asarray(sums[..., np.searchsorted(-loads.x_m[outermost], -x_m, side="left")])


def _held(beam: Beam, found: Reactions) -> Acting:
    """What holds the beam, as forces on it."""
    nodes = _bearings(beam)
    x, axis = beam.x_m[[*nodes]], beam.axis_m[[*nodes]]
    place = np.column_stack((x, axis)).T[None].repeat(len(found.collar_n), axis=0)
    force = np.zeros_like(place)
    force[:, 1:, 0], force[:, 1:, 1], force[:, 0, 0] = -found.inner_n, -found.outer_n, -found.collar_n
    each = _about_origin(place, force)
    each[:, 3, 2] -= found.pins_nm
    return Acting(x, each)


def _bearings(beam: Beam) -> tuple[int, int, int]:
    if beam.bearings is None:
        raise ValueError("the beam isn't held by the two ends of a socket")
    return beam.bearings
