"""Speeds at which lift twists a blade away, against closed forms; and at which it swings in time with its turns."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.special import airy

from geomgen.strength.beam.beam import Beam, Masses, clamped
from geomgen.strength.beam.crossings import crossings
from geomgen.strength.beam.divergence import divergence
from geomgen.strength.beam.modes import Modes

FloatArray = NDArray[np.float64]
LENGTH, GJ, NODES = 1.3, 3.0, 41
NO_MASS = Masses(np.zeros(0), np.zeros((0, 3)))


def bar() -> Beam:
    x = np.linspace(0.0, LENGTH, NODES)
    return Beam(x, np.tile(np.eye(2), (NODES - 1, 1, 1)), np.full(NODES - 1, GJ), np.zeros((NODES, 2)), clamped(NODES))


def test_a_uniform_blade() -> None:
    """GJ p'' + W2 a e p = 0, held at the root: W = pi/(2 L) (GJ/(a e))^.5, as of any straight wing."""
    slope, ahead = np.full(NODES, 0.9), np.full(NODES, 0.02)
    found = divergence(bar(), NO_MASS, slope_n_s2=slope, ahead_m=ahead)
    assert found == pytest.approx(math.pi / (2 * LENGTH) * math.sqrt(GJ / 0.018), rel=1e-3)


def test_lift_that_falls_to_none_at_the_tip() -> None:
    """GJ p'' + W2 k s p = 0 with s from the tip: Airy's functions, whose least zero scipy finds."""
    beam = bar()
    rate = 0.018 / LENGTH
    found = divergence(beam, NO_MASS, slope_n_s2=rate * (LENGTH - beam.x_m), ahead_m=np.ones(NODES))

    def at_root(speed: float) -> float:
        size = (speed**2 * rate / GJ) ** (1 / 3)
        (_, slope_a, _, slope_b), (a, _, b, _) = airy(0.0), airy(-size * LENGTH)
        return float(a * slope_b - b * slope_a)

    assert found == pytest.approx(brentq(at_root, 5.0, 40.0), rel=1e-3)


@pytest.mark.parametrize(("inertia", "stands"), [(0.004, False), (0.03, True)])
def test_turning_keeps_a_flat_blade_flat(inertia: float, stands: bool) -> None:
    """It adds W2 times inertia in the plane of rotation a metre: GJ p'' + W2 (a e - i) p = 0, none where i is more."""
    beam = bar()
    points, weights = np.polynomial.legendre.leggauss(2)
    x = ((beam.x_m[1:] + beam.x_m[:-1])[:, None] / 2 + np.diff(beam.x_m)[:, None] / 2 * points).ravel()
    kg = (np.diff(beam.x_m)[:, None] / 2 * weights).ravel() * inertia / 0.05**2 / 2
    sides = [np.column_stack((x, np.full(len(x), way * 0.05), np.zeros(len(x)))) for way in (-1, 1)]
    masses = Masses(np.tile(kg, 2), np.concatenate(sides))
    found = divergence(beam, masses, slope_n_s2=np.full(NODES, 0.9), ahead_m=np.full(NODES, 0.02))
    if stands:
        assert found is None
    else:
        assert found == pytest.approx(math.pi / (2 * LENGTH) * math.sqrt(GJ / (0.018 - inertia)), rel=1e-3)


def test_none_where_lift_acts_behind() -> None:
    assert divergence(bar(), NO_MASS, slope_n_s2=np.full(NODES, 0.9), ahead_m=np.full(NODES, -0.02)) is None


def swings(rests: tuple[float, ...], constants: tuple[float, ...], speeds: FloatArray) -> Modes:
    """Modes whose squares grow with the square of speed (Southwell)."""
    natural = np.sqrt(np.array(rests) ** 2 + np.array(constants) * speeds[:, None] ** 2)
    return Modes(speeds, natural, np.zeros((*natural.shape, 3)), ("flap 1", "lag 1", "twist 1")[: len(rests)])


def test_where_swings_meet_turns() -> None:
    """n W = (w0^2 + K W^2)^.5 where W = w0/(n^2 - K)^.5, by hand; 1.19 never meets once a turn."""
    found = crossings(swings((20.0, 30.0), (1.19, 0.19), np.linspace(0.0, 25.0, 11)), blades=5, working=(10.0, 15.0))
    by_hand = [
        (name, times, rest / math.sqrt(times**2 - constant))
        for name, rest, constant in (("flap 1", 20.0, 1.19), ("lag 1", 30.0, 0.19))
        for times in (1, 2, 3, 4, 5)
        if times**2 > constant
    ]
    by_hand = sorted((each for each in by_hand if each[2] < 25.0), key=lambda each: each[2])
    assert [(each.mode, each.per_turn) for each in found] == [each[:2] for each in by_hand]
    assert [each.rad_s for each in found] == pytest.approx([each[2] for each in by_hand], rel=1e-9)
    assert [each.near for each in found] == [9.0 <= each[2] <= 16.5 for each in by_hand]
    assert any(each.near for each in found) and not all(each.near for each in found)


@pytest.mark.parametrize(("blades", "turns"), [(2, {2, 3, 4}), (6, {2, 3, 4, 6})])
def test_as_many_times_a_turn_as_there_are_blades(blades: int, turns: set[int]) -> None:
    found = crossings(swings((20.0,), (1.0,), np.linspace(0.0, 25.0, 11)), blades=blades, working=(1.0, 2.0))
    assert {each.per_turn for each in found} == turns
