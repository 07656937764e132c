"""What goes into the socket balances what acts on the blade, forces and moments about the hub, summed by the test."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from beams_by_hand import places_at
from numpy.typing import NDArray

from geomgen.strength.beam.beam import Beam, Masses, States, in_socket
from geomgen.strength.beam.equilibrium import Reactions, acting, reactions, resultants, tilt_in_play
from geomgen.strength.beam.statics import statics

FloatArray = NDArray[np.float64]

X_M = np.concatenate(([0.03, 0.05, 0.09, 0.13, 0.16], np.linspace(0.2, 1.5, 26)))
CONING = math.radians(4.0)
SPEEDS = np.linspace(0.0, 25.0, 10)


def a_blade(times: float = 1.0) -> tuple[Beam, Masses]:
    """A blade at random whose axis leaves the feather axis outboard of the socket, and bends askew."""
    draw = np.random.default_rng(7)
    pieces = len(X_M) - 1
    ei = np.einsum("kij,klj->kil", each := draw.normal(0.0, 6.0, (pieces, 2, 2)), each) + 30.0 * np.eye(2)
    axis = 0.2 * np.column_stack((np.clip(X_M - 0.2, 0, 0.2), -0.4 * np.clip(X_M - 0.2, 0, 0.3)))
    held = in_socket(X_M, inner_m=0.05, outer_m=0.13, twist_m=0.16)
    beam = Beam(X_M, times * ei, times * draw.uniform(2.0, 5.0, pieces), axis, held)
    place = np.column_stack((draw.uniform(0.02, 1.55, 80), draw.normal(0.0, (0.03, 0.01), (80, 2))))
    return beam, Masses(draw.uniform(0.002, 0.01, 80), place)


def loaded(times: float = 1.0) -> States:
    """Lift, drag, a fan, weight and growing speed at ten speeds."""
    draw = np.random.default_rng(8)
    places = np.column_stack((np.linspace(0.2, 1.5, 14), np.full(14, 0.02), np.zeros(14)))
    forces = SPEEDS[:, None, None] ** 2 * draw.uniform(-0.001, 0.003, (1, 14, 3)) + draw.normal(0.0, 0.2, (10, 14, 3))
    moments = draw.normal(0.0, 0.03, (10, 14, 3))
    gains, weight = np.linspace(5.0, 0.0, 10), np.full(10, 9.80665)
    return States(CONING, SPEEDS, times * gains, times * weight, places, times * forces, times * moments)


def all_loads(beam: Beam, masses: Masses, states: States, nodes: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(s, 3) force and moment about the hub, in the rotor's own axes, of m W2 r, m g, m r gains and what acts."""
    cos, sin = math.cos(CONING), math.sin(CONING)
    upright = np.array([[cos, 0.0, -sin], [0.0, 1.0, 0.0], [sin, 0.0, cos]])
    at = places_at(beam, nodes, masses.place_m) @ upright.T
    straight = masses.place_m @ upright.T
    each = states.rad_s[:, None, None] ** 2 * at * [1.0, 1.0, 0.0]
    each = each + states.gains_rad_s2[:, None, None] * np.column_stack(
        (straight[:, 1], -straight[:, 0], 0 * straight[:, 0])
    )
    each[..., 2] -= states.gravity_m_s2[:, None]
    each = each * masses.kg[:, None]
    acts, on = states.forces_n @ upright.T, places_at(beam, nodes, states.places_m) @ upright.T
    force = each.sum(1) + acts.sum(1)
    moment = np.cross(at, each).sum(1) + np.cross(on, acts).sum(1) + (states.moments_nm @ upright.T).sum(1)
    return force @ upright, moment @ upright  # back in the blade's axes


def test_socket_collar_and_pins_balance_all_loads() -> None:
    beam, masses = a_blade()
    states = loaded()
    deflected = statics(beam, masses, states)
    found = reactions(beam, acting(masses, deflected, states))
    force, moment = all_loads(beam, masses, states, deflected.nodes)
    held = np.column_stack((found.collar_n, found.inner_n + found.outer_n))
    assert np.allclose(held, force, rtol=1e-9, atol=1e-9)
    turned = np.zeros_like(moment)
    turned[:, 0] = found.pins_nm
    for x, at in ((0.05, found.inner_n), (0.13, found.outer_n)):
        turned += np.cross([x, 0.0, 0.0], np.column_stack((0 * at[:, 0], at)))
    assert np.allclose(turned, moment, rtol=1e-9, atol=1e-9)


def test_sections_carry_what_lies_outboard_of_them() -> None:
    """By the test's own sums over what lies further out, about the axis as it stands; and about its tangent."""
    beam, masses = a_blade()
    states = loaded()
    deflected = statics(beam, masses, states)
    loads = acting(masses, deflected, states)
    for at in (0.7, 1.1):
        outboard, further = masses.place_m[:, 0] > at, states.places_m[:, 0] > at
        cut = States(
            CONING, states.rad_s, states.gains_rad_s2, states.gravity_m_s2,
            states.places_m[further], states.forces_n[:, further], states.moments_nm[:, further],
        )  # fmt: skip
        some = Masses(masses.kg[outboard], masses.place_m[outboard])
        force, moment = all_loads(beam, some, cut, deflected.nodes)
        axis = [np.interp(at, X_M, beam.axis_m[:, k]) for k in (0, 1)]  # hardly kinked there
        here = places_at(beam, deflected.nodes, np.array([[at + step, *axis] for step in (0.0, 1e-6, -1e-6)]))
        moment = moment - np.cross(here[:, 0], force)
        through, own = resultants(beam, loads, deflected, np.array([at]))
        names = ("pull_n", "lag_n", "flap_n", "turn_nm", "flap_nm", "lag_nm")
        signed = np.column_stack((force, moment * [1.0, -1.0, 1.0]))
        for name, wanted in zip(names, signed.T, strict=True):
            assert np.allclose(getattr(through, name)[:, 0], wanted, rtol=1e-9, atol=1e-9), name
        tangent = (here[:, 1] - here[:, 2]) / 2e-6
        along = moment[:, 0] + moment[:, 1] * tangent[:, 1] + moment[:, 2] * tangent[:, 2]
        assert np.allclose(own[:, 0], along, atol=1e-6)


def test_within_the_socket() -> None:
    """Bending falls straight to nothing at the inner end; twist is gone before the pins, pull before the collar."""
    beam, masses = a_blade()
    inboard = masses.place_m[:, 0] < 0.16
    masses = Masses(np.where(inboard, 0.0, masses.kg), masses.place_m)
    states = loaded()
    deflected = statics(beam, masses, states)
    loads = acting(masses, deflected, states)
    through, _ = resultants(beam, loads, deflected, np.array([0.04, 0.05, 0.09, 0.13, 0.14]))
    held = reactions(beam, loads)
    assert np.allclose(through.flap_nm[:, [0, 1]], 0.0, atol=1e-9)
    assert np.allclose(through.flap_nm[:, 3], -0.08 * held.inner_n[:, 1], atol=1e-9)
    assert np.allclose(through.lag_nm[:, 3], -0.08 * held.inner_n[:, 0], atol=1e-9)
    assert np.allclose(through.flap_n[:, 1], held.inner_n[:, 1], atol=1e-9)
    assert np.allclose(through.turn_nm[:, :2], 0.0, atol=1e-9)
    assert np.allclose(through.pull_n[:, 1:], held.collar_n[:, None], atol=1e-9)
    assert np.allclose(through.pull_n[:, 0], 0.0, atol=1e-9)


def test_each_piece_gives_by_what_goes_through_it() -> None:
    """Where next to nothing gives, a piece bends and twists by the mean of the moments in it, over its stiffness: what
    the solver makes of loads is what equilibrium makes of them, for points off a kinked axis too."""
    beam, masses = a_blade(1e7)
    states = loaded()
    deflected = statics(beam, masses, states)
    loads = acting(masses, deflected, states)
    turned = np.stack([deflected.nodes[..., 4], -deflected.nodes[..., 3], deflected.nodes[..., 1]], axis=-1)
    gives = np.diff(turned, axis=1) / np.diff(X_M)[:, None]  # about x, y and z
    for k, (low, high) in enumerate(pairwise(X_M)):
        cuts = np.unique(np.clip(np.concatenate(([low, high], loads.x_m)), low, high))
        half, middle = np.diff(cuts)[:, None] / 2, (cuts[1:] + cuts[:-1])[:, None] / 2
        x = (middle + half * [-(3**-0.5), 3**-0.5]).ravel()  # exact for what is straight between loads
        through, _ = resultants(beam, loads, deflected, x)
        share = np.repeat(half.ravel(), 2) / (high - low)
        mean = np.column_stack([each @ share for each in (through.turn_nm, -through.flap_nm, through.lag_nm)])
        forward, up = np.diff(beam.axis_m, axis=0)[k] / (high - low)
        along = np.array([[1.0, forward, up], [-forward, 1.0, 0.0], [-up, 0.0, 1.0]])  # the piece's own axes
        ei = beam.ei_nm2[k] * [[1.0, -1.0], [-1.0, 1.0]]  # about y and z: forward is about z, up about -y
        stiffness = np.zeros((3, 3))
        stiffness[0, 0], stiffness[1:, 1:] = beam.gj_nm2[k], ei[::-1, ::-1]
        assert np.allclose(gives[:, k] @ (along.T @ stiffness @ along).T, mean, rtol=1e-4, atol=1e-5), k


def test_leans_in_a_loose_socket_the_way_that_it_is_bent() -> None:
    forces = np.array([[0.0, 12.0], [-3.0, 4.0], [0.0, 0.0]])
    none = np.zeros(3)
    found = tilt_in_play(Reactions(-forces, forces, none, none), arm_m=0.05, play_m=2e-4)
    assert found == pytest.approx(np.array([[0.0, 0.004], [-0.0024, 0.0032], [0.0, 0.0]]))
