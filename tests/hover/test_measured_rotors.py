"""Both theories against measured rotors; no constant is fitted here, bounds are what a study found for the model."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from scipy.optimize import brentq

from geomgen.hover.blade_element import TEXTBOOK, blade_element_point
from geomgen.hover.panels import panels
from geomgen.hover.point import HoverPoint
from geomgen.hover.wake.influence import Wake, wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import CappedLine

# Caradonna and Tung, NASA TM 81232, 1981: 2 blades, NACA 0012, no twist, R 1.143 m, chord 0.1905 m, 1250 rpm.
# Read in second-hand copies. Slope 6.0 / rad at Re 1 to 2e6, common practice.
TM_81232 = CappedLine(6.0, 1.3)
TM_THRUST = [(5.0, 0.00213, 0.16), (8.0, 0.00459, 0.07), (12.0, 0.00796, 0.07)]  # deg, C_T, bound
TM_LIFT_8 = [
    (0.50, 0.2343, 0.12),
    (0.68, 0.2815, 0.12),
    (0.80, 0.2886, 0.12),
    (0.89, 0.3143, 0.12),
    (0.96, 0.2883, 0.2),
]
TM_LIFT_5 = [(0.50, 0.1070, 0.15), (0.68, 0.1241, 0.15), (0.80, 0.1517, 0.15), (0.96, 0.1519, 0.15)]

# Castles and Gray, NACA TN 2474, 1951: 3 blades, NACA 0015, no twist, R 0.9144 m, chord 0.048 m, 1200 and 1600 rpm.
# Read in second-hand copies; pitch at 75 % of the radius, C_T, torque coefficient less that without thrust.
# Slope 5.9 / rad as its table VIII computes at Re 152 000 and 256 000; drag as NACA TN 626 takes it for NACA 0015.
TN_2474 = CappedLine(5.9, 1.0)
TN_POINTS = [
    (4.91, 0.00168, 0.000070),
    (6.68, 0.00289, 0.000137),
    (8.46, 0.00400, 0.000226),
    (10.29, 0.00488, 0.000342),
    (5.55, 0.00255, 0.000108),
    (7.18, 0.00346, 0.000194),
    (8.85, 0.00421, 0.000301),
    (5.22, 0.00179, 0.000071),
    (6.99, 0.00254, 0.000138),
    (8.70, 0.00414, 0.000228),
    (4.81, 0.00187, 0.000050),
    (6.45, 0.00278, 0.000114),
    (8.02, 0.00374, 0.000199),
    (9.53, 0.00471, 0.000321),
]
ROOT = 0.17
RE = 1e6  # neither polar asks for it


@cache
def broad() -> Wake:
    return wake(panels([ROOT, 1.0], [1 / 6, 1 / 6], 2))


@cache
def slender() -> Wake:
    return wake(panels([ROOT, 1.0], [0.05236, 0.05236], 3))


@cache
def tn_2474(pitch_deg: float) -> HoverPoint:
    return hover_point(slender(), math.radians(pitch_deg), TN_2474, RE)


@pytest.mark.parametrize(("pitch", "measured", "bound"), TM_THRUST)
def test_thrust_of_a_broad_blade(pitch: float, measured: float, bound: float) -> None:
    assert hover_point(broad(), math.radians(pitch), TM_81232, RE).thrust == pytest.approx(measured, rel=bound)


@pytest.mark.parametrize(
    ("pitch", "at", "measured", "bound"), [(8.0, *row) for row in TM_LIFT_8] + [(5.0, *row) for row in TM_LIFT_5]
)
def test_lift_along_a_broad_blade(pitch: float, at: float, measured: float, bound: float) -> None:
    loads = hover_point(broad(), math.radians(pitch), TM_81232, RE).loads
    assert np.interp(at, loads.r, loads.forces.lift) == pytest.approx(measured, rel=bound)


@pytest.mark.parametrize(("pitch", "measured", "bound"), TM_THRUST)
def test_textbook_annuli_stay_high_on_a_broad_blade(pitch: float, measured: float, bound: float) -> None:
    """20 to 45 %, as in every textbook comparison with this rotor: a lower figure under that name is a bug."""
    point = blade_element_point(broad().blade, math.radians(pitch), TM_81232, RE, TEXTBOOK)
    assert 1.20 < point.thrust / measured < 1.45


def test_thrust_of_a_slender_blade() -> None:
    off = np.array([tn_2474(pitch).thrust / thrust - 1.0 for pitch, thrust, _ in TN_POINTS])
    assert abs(off.mean()) < 0.09 and off.std() <= 0.10 and np.abs(off).max() < 0.20


def test_torque_of_a_slender_blade_at_the_same_pitch() -> None:
    idle = hover_point(slender(), 0.0, TN_2474, RE).torque
    off = np.array([(tn_2474(pitch).torque - idle) / torque - 1.0 for pitch, _, torque in TN_POINTS])
    assert abs(off.mean()) < 0.06 and np.abs(off).max() < 0.38


def test_torque_of_a_slender_blade_at_the_measured_thrust() -> None:
    """Of a pitch trimmed to the thrust: high by some 11 % in the mean, what a study of the model found too (12)."""
    idle, off = hover_point(slender(), 0.0, TN_2474, RE).torque, []
    for _, thrust, torque in TN_POINTS:
        trimmed = brentq(lambda pitch, aim=thrust: tn_2474(pitch).thrust - aim, 1.0, 16.0, xtol=1e-6)
        off.append((tn_2474(trimmed).torque - idle) / torque - 1.0)
    assert abs(np.mean(off)) < 0.16


def test_annuli_on_a_slender_blade() -> None:
    points = [blade_element_point(slender().blade, math.radians(pitch), TN_2474, RE) for pitch, *_ in TN_POINTS]
    off = np.array([point.thrust / thrust - 1.0 for point, (_, thrust, _) in zip(points, TN_POINTS, strict=True)])
    assert abs(off.mean()) < 0.10 and np.abs(off).max() < 0.25
