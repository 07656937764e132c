"""Twist of a beam that is bent forward and up at once, in closed form."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.strength.beam.as_bent import twisted_as_bent
from geomgen.strength.beam.beam import Beam, Masses, States, clamped
from geomgen.strength.beam.statics import statics


@pytest.mark.parametrize("forward_n", [0.4, -0.4])
def test_twist_by_forces_at_the_tip(forward_n: float) -> None:
    """Of a cantilever, about itself at x: Fy Fz (L - x)3/3 (1/EIlag - 1/EIflap), by the offsets of its own bending; so
    the tip turns by Fy Fz L4/12 (1/EIlag - 1/EIflap)/GJ (equilibrium on the bent beam, any book on its buckling)."""
    x = np.linspace(0.0, 1.2, 31)
    beam = Beam(x, np.tile(np.diag([120.0, 30.0]), (30, 1, 1)), np.full(30, 3.0), np.zeros((31, 2)), clamped(31))
    force = np.array([[[0.0, forward_n, 1.5]]])
    none = np.zeros(1)
    states = States(0.0, none, none, none, np.array([[1.2, 0.0, 0.0]]), force, 0.0 * force)
    masses = Masses(np.zeros(0), np.zeros((0, 3)))
    straight = statics(beam, masses, states)
    bent = twisted_as_bent(beam, masses, states, straight)
    assert np.all(straight.nodes[..., 4] == 0.0)
    turned = forward_n * 1.5 * (1.2**4 - (1.2 - x) ** 4) / 12 * (1 / 120 - 1 / 30) / 3.0
    assert np.allclose(bent.nodes[0, :, 4], turned, rtol=1e-3, atol=1e-6)
    assert np.allclose(bent.nodes[..., :4], straight.nodes[..., :4])


def test_what_is_bent_one_way_only_twists_as_before() -> None:
    """A couple about itself, pull and a load up: nothing is left out at first order."""
    x = np.linspace(0.0, 1.2, 31)
    beam = Beam(x, np.tile(np.diag([120.0, 30.0]), (30, 1, 1)), np.full(30, 3.0), np.zeros((31, 2)), clamped(31))
    moment = np.array([[[0.4, 0.0, 0.0]]])
    none = np.zeros(1)
    states = States(0.0, np.array([15.0]), none, none, np.array([[1.2, 0.0, 0.0]]), 0.0 * moment, moment)
    masses = Masses(np.full(4, 0.1), np.column_stack((np.linspace(0.2, 1.1, 4), np.zeros((4, 2)))))
    first = statics(beam, masses, states)
    assert np.allclose(twisted_as_bent(beam, masses, states, first).nodes, first.nodes, atol=1e-9)
    assert first.nodes[0, -1, 4] == pytest.approx(0.4 * 1.2 / 3.0)
