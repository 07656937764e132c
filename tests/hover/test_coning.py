"""Coning of a free blade against closed forms of a uniform one, and against a swing in time."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geomgen.arrays import FloatArray
from geomgen.hover.coning import coning_rad

G, R, M, OMEGA = 9.80665, 1.5, 0.4, 8.0  # [m/s2], [m], [kg], [rad/s]


def uniform(count: int = 2000) -> tuple[FloatArray, FloatArray]:
    """Middles and masses of a rod's elements."""
    return (np.arange(count) + 0.5) * R / count, np.full(count, M / count)


def test_uniform_blade_with_lift_that_grows_with_the_square_of_r() -> None:
    """Lift 3 L r^2 / R^3 has the moment 3/4 L R; weight m g R / 2; spin w^2 m R^2 / 3, angles small."""
    at, mass = uniform()
    lift = 4.6
    got = coning_rad(at, 3 * lift * at**2 / R**3 * (R / at.size), at, mass, OMEGA)
    small = (0.75 * lift * R - M * G * R / 2) / (OMEGA**2 * M * R**2 / 3)
    assert 0.05 < got < 0.15
    assert got == pytest.approx(small, rel=0.02)


@pytest.mark.parametrize("degrees", [-20.0, 0.0, 3.0, 12.0, 35.0])
def test_lift_that_balances_at_an_angle(degrees: float) -> None:
    """At a given angle the moment that is wanted is known; one force has it."""
    at, mass = uniform()
    angle = math.radians(degrees)
    moment = M * G * R / 2 * math.cos(angle) + OMEGA**2 * M * R**2 / 3 * math.sin(angle) * math.cos(angle)
    assert coning_rad([0.9], [moment / 0.9], at, mass, OMEGA) == pytest.approx(angle, abs=1e-6)


def test_without_weight_the_sine_of_twice_the_angle() -> None:
    """Very fast, with as much lift: sin 2b = 2 M / (w^2 I)."""
    at, mass = uniform()
    spin = 1e6 * M * R**2 / 3
    assert coning_rad([1.0], [0.2 * spin], at, mass, 1e3) == pytest.approx(math.asin(0.4) / 2, abs=1e-4)


def test_without_lift_a_conical_pendulum() -> None:
    """Far out on a string: w^2 l sin b = -g, whatever it weighs; slower than sqrt(g / l) it hangs straight down."""
    assert coning_rad([0.0], [0.0], [R], [M], OMEGA) == pytest.approx(-math.asin(G / (OMEGA**2 * R)))
    assert coning_rad([0.0], [0.0], [R], [M], 0.9 * math.sqrt(G / R)) == pytest.approx(-math.pi / 2, abs=1e-6)


def test_a_free_blade_swings_to_it_and_stays() -> None:
    """I b'' = moments - damping b', stepped in time from level."""
    at, mass = uniform(50)
    lift = np.full(50, 0.12)
    inertia, angle, rate, dt = float(mass @ at**2), 0.0, 0.0, 1e-3
    for _ in range(20_000):
        up = float(lift @ at) - G * float(mass @ at) * math.cos(angle)
        up -= OMEGA**2 * inertia * math.sin(angle) * math.cos(angle)
        rate += dt * (up / inertia - 2.0 * rate)
        angle += dt * rate
    assert coning_rad(at, lift, at, mass, OMEGA) == pytest.approx(angle, abs=1e-6)


@pytest.mark.parametrize("lift", [60.0, -60.0])
def test_more_lift_than_anything_holds(lift: float) -> None:
    at, mass = uniform()
    assert math.isnan(coning_rad([1.0], [lift], at, mass, OMEGA))
