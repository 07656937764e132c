"""Momentum theory and mean lift against closed forms and a textbook's example, worked out here."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geomgen.hover.air import GRAVITY_M_S2
from geomgen.hover.carried import Task
from geomgen.hover.mean_lift import mean_lift
from geomgen.hover.point import HoverPoint, Loads
from geomgen.section.polar.forces import SectionForces

FOOT_M, POUND_KG, SLUG_FT3_KG_M3 = 0.3048, 0.45359237, 515.3788
NOTHING = np.zeros(1)


def point(thrust: float, induced: float, profile: float) -> HoverPoint:
    loads = Loads(NOTHING, NOTHING, NOTHING, NOTHING, SectionForces(NOTHING, NOTHING, NOTHING), *[NOTHING] * 3)
    return HoverPoint("by hand", thrust, induced, profile, loads, 0.0)


def test_figure_of_merit_by_hand() -> None:
    """C_T .00708, solidity .08488, induced power 1.15 of the ideal, drag .015: (C_T^1.5 / sqrt 2) over its sum.

    Profile power coefficient sigma c_d0 / 8, textbook.
    """
    ideal = 0.00708**1.5 / math.sqrt(2.0)
    found = point(0.00708, 1.15 * ideal, 0.08488 * 0.015 / 8.0)
    assert found.induced_factor == pytest.approx(1.15, rel=1e-9)
    assert found.figure_of_merit == pytest.approx(0.6545, abs=1e-4)


def test_even_inflow_of_five_kilograms() -> None:
    """5 kg on 1.5 m: v = sqrt(T / 2 rho A) = 1.68266 m/s, P = T v = 82.506 W, at any tip speed (momentum theory)."""
    weight = 5.0 * GRAVITY_M_S2
    area, density = math.pi * 1.5**2, 1.225
    speed = math.sqrt(weight / (2.0 * density * area))
    assert speed == pytest.approx(1.68266, abs=5e-6) and weight * speed == pytest.approx(82.506, abs=5e-4)
    task = Task(weight, 1.5, density, 1.46e-5)
    for rpm, coefficient in ((120.0, 0.0159375), (150.0, 0.0102000), (180.0, 0.00708333)):
        tip = rpm * math.pi / 30.0 * 1.5
        thrust = weight / task.force_n(tip)
        assert thrust == pytest.approx(coefficient, rel=2e-5)
        assert task.tip_speed_m_s(thrust) == pytest.approx(tip)
        power = thrust**1.5 / math.sqrt(2.0) * task.force_n(tip) * tip
        assert power == pytest.approx(82.506, rel=1e-5)


def test_a_textbooks_helicopter() -> None:
    """20 000 lb, 4 blades of 30 ft and 2 ft chord, tips at 650 ft/s: mean lift coefficient .52 at sea level.

    Prouty, Helicopter Performance, Stability, and Control (from memory; printed to two digits): with 4.2 % of
    the weight as drag on the body below the rotor. Tolerance .01.
    """
    radius, tip = 30.0 * FOOT_M, 650.0 * FOOT_M
    r, chord = np.array([1e-6, radius * 1e3]), np.full(2, 2.0 * FOOT_M * 1e3)
    grams = 20_000.0 * POUND_KG * 1e3 * 1.042
    at_one = mean_lift(r, chord, 4, grams, 1.0, 0.0023769 * SLUG_FT3_KG_M3)
    assert (at_one.tip_speed_m_s / tip) ** 2 == pytest.approx(0.52, abs=0.01)
    assert at_one.solidity == pytest.approx(0.08488, abs=1e-5)
