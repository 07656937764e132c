"""What turning does to points on a beam, against differences of their energy as they are carried round.

The energy is written here without a series: points of sections that turn as stiff bodies, on an axis that keeps its
length, moved about the rotor's axis (V = -1/2 W^2 m r^2, from any book of mechanics).
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

import numpy as np
import pytest
from beams_by_hand import hermite, rows_at
from numpy.typing import NDArray

from geomgen.strength.beam.beam import Beam, Masses, clamped, in_socket
from geomgen.strength.beam.matrices import Spun, elastic, mass, spun
from geomgen.strength.beam.shapes import carried, hung

FloatArray = NDArray[np.float64]

X_M = np.array([0.02, 0.22, 0.5, 0.75])
GAUSS, WEIGHTS = np.polynomial.legendre.leggauss(6)


def a_beam(axis: FloatArray, *, socket: bool) -> Beam:
    """Three pieces; how stiff they are doesn't matter here."""
    held = in_socket(X_M, inner_m=0.02, outer_m=0.22, twist_m=0.22) if socket else clamped(4)
    return Beam(X_M, np.tile(np.eye(2), (3, 1, 1)), np.ones(3), axis, held)


def some_masses(seed: int, count: int = 9) -> Masses:
    """Points at random, one before the beam and two beyond it."""
    draw = np.random.default_rng(seed)
    x = np.concatenate(([0.005, 0.8, 0.9], draw.uniform(0.02, 0.75, count - 3)))
    return Masses(draw.uniform(0.01, 0.1, count), np.column_stack((x, draw.normal(0.0, 0.05, (count, 2)))))


def on_the_way(beam: Beam, x: float) -> tuple[FloatArray, FloatArray]:
    """Places, and weights, that integrate smooth pieces from where the beam can't move along itself to x."""
    start = beam.x_m[beam.anchor]
    cuts = np.unique(np.clip([start, x, *beam.x_m], min(start, x), max(start, x)))
    half, middle = np.diff(cuts)[:, None] / 2, (cuts[1:] + cuts[:-1])[:, None] / 2
    return (middle + half * GAUSS).ravel(), (np.sign(x - start) * half * WEIGHTS).ravel()


def turned_by(twist: FloatArray, forward: FloatArray, up: FloatArray, off: FloatArray) -> FloatArray:
    """(p, 3) what of a section lies off its axis (p, 2), turned by twist, then tilted the shortest way (Rodrigues)."""
    a = off[:, 0] * np.cos(twist) - off[:, 1] * np.sin(twist)
    c = off[:, 0] * np.sin(twist) + off[:, 1] * np.cos(twist)
    lean, along = a * forward + c * up, np.sqrt(1.0 - forward**2 - up**2)
    return np.column_stack((-lean, a - forward * lean / (1.0 + along), c - up * lean / (1.0 + along)))


def energy(beam: Beam, masses: Masses, coning: float) -> Callable[[FloatArray], float]:
    """Energy in the field of a rotor that turns at 1 rad/s, of movements (5 n,)."""
    x, *off = masses.place_m.T
    axis = np.column_stack([np.interp(x, beam.x_m, beam.axis_m[:, way]) for way in (0, 1)])
    rows = rows_at(beam, x)
    ways = [on_the_way(beam, float(at)) for at in x]
    slopes = [rows_at(beam, places)[:, [1, 3]] for places, _ in ways]

    def found(flat: FloatArray) -> float:
        forward, slope_f, up, slope_u, twist = (rows @ flat).T
        place = turned_by(twist, slope_f, slope_u, np.column_stack(off) - axis)
        gives = [
            weights @ (np.sqrt(1.0 - ((each @ flat) ** 2).sum(1)) - 1.0)
            for each, (_, weights) in zip(slopes, ways, strict=True)
        ]
        place += np.column_stack((x + gives, axis[:, 0] + forward, axis[:, 1] + up))
        radius = place[:, 0] * np.cos(coning) - place[:, 2] * np.sin(coning)
        return float(-0.5 * masses.kg @ (radius**2 + place[:, 1] ** 2))

    return found


def slopes_of(function: Callable[[FloatArray], float], size: int, step: float = 1e-4) -> FloatArray:
    """(size,) first derivatives at 0."""
    ways = np.eye(size) * step
    return np.array([(function(way) - function(-way)) / (2 * step) for way in ways])


def curvatures_of(function: Callable[[FloatArray], float], size: int, step: float = 1e-3) -> FloatArray:
    """(size, size) second derivatives at 0, from two steps of which one is twice the other."""
    rough, fine = (np.zeros((size, size)) for _ in range(2))
    for found, h in ((rough, 2 * step), (fine, step)):
        ways = np.eye(size) * h
        for i in range(size):
            for j in range(i + 1):
                both, apart = ways[i] + ways[j], ways[i] - ways[j]
                four = function(both) + function(-both) - function(apart) - function(-apart)
                found[i, j] = found[j, i] = four / (4 * h**2)
    return (4 * fine - rough) / 3


def loads_of(beam: Beam, masses: Masses, turned: Spun) -> FloatArray:
    """(5 n,) what pulls on points come to at nodes."""
    return np.asarray(np.tensordot(turned.pulls, carried(beam, hung(beam, masses.place_m))))


@pytest.mark.parametrize(("coning", "socket", "seed"), [(0.0, False, 1), (0.09, True, 2), (-0.3, True, 3)])
def test_stiffness_and_load_by_differences_of_energy(coning: float, socket: bool, seed: int) -> None:
    beam = a_beam(np.tile([0.013, -0.021], (4, 1)), socket=socket)
    masses = some_masses(seed)
    field = energy(beam, masses, coning)
    turned = spun(beam, masses, coning)
    assert np.allclose(loads_of(beam, masses, turned), -slopes_of(field, 20), atol=1e-8)
    assert np.allclose(turned.stiffness.dense(), curvatures_of(field, 20), atol=2e-7)


def test_pull_straightens_an_axis_that_is_not_straight() -> None:
    """Its virtual work by hand: each point's pull times what the kinked axis in front of it gives way."""
    axis = np.array([[0.0, 0.0], [0.01, 0.0], [0.03, -0.02], [0.05, 0.01]])
    beam, masses = a_beam(axis, socket=True), some_masses(4)
    straight = energy(beam, masses, 0.1)

    def kinked(flat: FloatArray) -> float:
        nodes, total = flat.reshape(-1, 5), straight(flat)
        for kg, (x, _, z) in zip(masses.kg, masses.place_m, strict=True):
            gives = 0.0
            for k, (low, high) in enumerate(pairwise(X_M)):
                bend = (axis[k + 1] - axis[k]) / (high - low)
                ends = [hermite(beam, nodes, float(np.clip(x, low, high)))[[0, 2]], nodes[k, [0, 2]]]
                gives -= float(bend @ (ends[0] - ends[1]))
            total -= kg * (x * np.cos(0.1) - z * np.sin(0.1)) * np.cos(0.1) * gives
        return total

    assert np.allclose(loads_of(beam, masses, spun(beam, masses, 0.1)), -slopes_of(kinked, 20), atol=1e-8)


def test_mass_by_speeds_of_points() -> None:
    """Kinetic energy is half of mass times speed squared; speeds by moving nodes a little."""
    axis = np.array([0.013, -0.021])
    beam, masses = a_beam(np.tile(axis, (4, 1)), socket=False), some_masses(5)
    step, off = 1e-6, masses.place_m[:, 1:] - axis
    speeds = np.empty((9, 3, 20))
    for k, way in enumerate(np.eye(20) * step):
        forward, slope_f, up, slope_u, twist = (rows_at(beam, masses.place_m[:, 0]) @ way).T
        moved = turned_by(twist, slope_f, slope_u, off) + np.column_stack((0 * up, forward, up))
        speeds[:, :, k] = (moved - np.column_stack((0 * up, off))) / step
    found = np.einsum("p,pki,pkj->ij", masses.kg, speeds, speeds)
    assert np.allclose(mass(beam, masses).dense(), found, atol=1e-6)


def test_a_beam_turned_as_one_stiff_thing_resists_nothing() -> None:
    """A kinked one too: its nodes go where a small turn about any line takes them."""
    axis = np.array([[0.0, 0.0], [0.01, 0.0], [0.03, -0.02], [0.05, 0.01]])
    beam = a_beam(axis, socket=False)
    places = np.column_stack((X_M, axis))
    for turn in np.eye(3) + 0.2:
        gone = np.cross(turn, places)
        nodes = np.column_stack((gone[:, 1], np.full(4, turn[2]), gone[:, 2], np.full((4, 2), [-turn[1], turn[0]])))
        assert np.allclose(elastic(beam).dense() @ nodes.ravel(), 0.0, atol=1e-12)
