"""A ring pressed across, by a frame of straight beams; a pin and a bridge bent, by the same."""

from __future__ import annotations

import numpy as np
import pytest
from plane_frame import end_moments

from geomgen.strength.formulas.pin import rod_bending_mpa
from geomgen.strength.formulas.rib import opening_corner_mpa
from geomgen.strength.formulas.ring import Pressed, crushing_mpa

SIDES = 240


def ring_loads(how: Pressed, angle: np.ndarray, force: float, radius: float) -> np.ndarray:
    """(n, 3) loads on a ring's nodes: pressed upward at its lowest point, -90 deg, and held otherwise.

    Pinched: the same at the top. On a line, in a bed: carried off by V Q / I = F cos(angle) / (pi r) round the wall.
    Bed: pressure as a cosine over the lower half, 2 F / (pi r) at its lowest.
    """
    loads = np.zeros((len(angle), 3))
    out = np.column_stack((np.cos(angle), np.sin(angle)))
    lowest, highest = int(np.argmin(out[:, 1])), int(np.argmax(out[:, 1]))
    arc = radius * 2.0 * np.pi / len(angle)
    if how is not Pressed.BETWEEN_TWO_LINES:
        round_it = np.column_stack((-np.sin(angle), np.cos(angle)))
        loads[:, :2] -= (force / (np.pi * radius) * np.cos(angle) * arc)[:, None] * round_it
    match how:
        case Pressed.BETWEEN_TWO_LINES:
            loads[lowest, 1], loads[highest, 1] = force, -force
        case Pressed.ON_A_LINE:
            loads[lowest, 1] += force
        case Pressed.IN_A_SNUG_BED:
            pressure = 2.0 * force / (np.pi * radius) * np.maximum(-np.sin(angle), 0.0)
            loads[:, :2] -= (pressure * arc)[:, None] * out
    return loads


@pytest.mark.parametrize("how", Pressed)
@pytest.mark.parametrize(("outside", "inside"), [(10.0, 8.0), (10.0, 9.0)])
def test_a_ring_pressed(how: Pressed, outside: float, inside: float) -> None:
    """Greatest moment of a thin ring by 240 straight beams, within .5 % of the closed form as it is printed."""
    force, length = 30.0, 12.0
    radius, wall = (outside + inside) / 4.0, (outside - inside) / 2.0
    angle = np.arange(SIDES) * 2.0 * np.pi / SIDES
    nodes = radius * np.column_stack((np.cos(angle), np.sin(angle)))
    beams = np.column_stack((np.arange(SIDES), np.roll(np.arange(SIDES), -1)))
    # stretching left out, as a thin ring has it
    moments = end_moments(nodes, beams, (1e9, 1e3), ring_loads(how, angle, force, radius))
    stress = 6.0 * abs(moments).max() / (length * wall**2)
    assert crushing_mpa(force, length, outside, inside, how) == pytest.approx(stress, rel=5e-3)


def test_a_bent_rod() -> None:
    """Its greatest stress makes the moment, summed over thin slices of the round."""
    up = (np.arange(20000) + 0.5) / 10000 * 1.5 - 1.5
    stress = rod_bending_mpa(450.0, 3.0) * up / 1.5
    assert (stress * up * 2.0 * np.sqrt(1.5**2 - up**2)).sum() * (up[1] - up[0]) == pytest.approx(450.0, rel=1e-5)


def test_corners_of_a_square_hole() -> None:
    """A frame: two bridges between two stiff ends, one moved down by V; moment V L / 4 in each of their corners."""
    force, long, high = 10.0, 0.45 * 18.0, 30.0
    bridge = (high - 0.9 * 18.0) / 2.0
    apart = high - bridge
    nodes = np.array([[0.0, 0.0], [long, 0.0], [0.0, apart], [long, apart]])
    beams = np.array([[0, 1], [2, 3]])
    # the ends are kept from turning by moments, as by the solid web beyond
    half = force / 2.0
    loads = np.array([[0.0, half, half * long / 2.0], [0.0, -half, half * long / 2.0]] * 2)
    moment = abs(end_moments(nodes, beams, (1e6, 1e3), loads)).max()
    stress = 6.0 * moment / (3.0 * bridge**2)
    assert opening_corner_mpa(force, long, bridge, 3.0) == pytest.approx(stress, rel=1e-9)
    assert opening_corner_mpa(force, long, bridge, 3.0, 0.7) == pytest.approx(1.4 * stress, rel=1e-9)
