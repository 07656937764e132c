"""The lifting line on a wake of one speed: another program's figures by the same equations, limits, and numerics."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from geomgen.hover.ground import cheeseman_bennett, ground_factors, hayden
from geomgen.hover.panels import ROLL_UP, panels
from geomgen.hover.wake.influence import Wake, influence, wake
from geomgen.hover.wake.lifting_line import hover_point
from geomgen.section.polar.forces import CappedLine

RE = 1e6  # no polar here asks for it
ROOT = 0.17


@cache
def table(blades: int, chord: float, count: int = 20, tip: float = 1.0, root: float = ROOT, entries: int = 24) -> Wake:
    return wake(panels([root, 1.0], [chord, chord * tip], blades, count), entries=entries)


@pytest.mark.parametrize(
    ("blades", "chord", "slope", "pitch", "thrust", "kappa", "speed"),
    [
        (2, 1 / 6, 6.0, 5.0, 0.002405, 1.208, 0.04662),
        (2, 1 / 6, 6.0, 8.0, 0.004709, 1.238, 0.06038),
        (2, 1 / 6, 6.0, 12.0, 0.008082, 1.289, 0.07495),
        (3, 0.05236, 5.9, 8.0, 0.003357, 1.134, 0.05634),
        (4, 1 / 6, 6.0, 10.0, 0.009641, 1.214, 0.09347),
    ],
)
def test_another_program_of_the_same_equations(
    blades: int, chord: float, slope: float, pitch: float, thrust: float, kappa: float, speed: float
) -> None:
    """Figures of a study's own program, written apart from this one: 20 panels, matrices not interpolated."""
    point = hover_point(table(blades, chord), np.radians(pitch), CappedLine(slope, 1.3), RE)
    assert point.thrust == pytest.approx(thrust, rel=0.01)
    assert point.induced_factor == pytest.approx(kappa, rel=0.01)
    assert point.wake_speed == pytest.approx(speed, rel=0.01)
    assert point.solved and not point.stalled


def test_a_section_of_slope_two_pi_meets_no_flow_through_its_chord() -> None:
    """At small angles c_l = 2 pi alpha, alpha without the section's own part, is tangency with the whole of it."""
    at, blade, pitch = influence(table(2, 1 / 6).blade, 0.05), table(2, 1 / 6).blade, 1e-5
    whole = at.down_a + np.diag(1.0 / (np.pi * blade.chord))
    tangent = np.linalg.solve(whole, blade.r * pitch)
    own = np.linalg.solve(np.eye(20) + np.pi * blade.chord[:, None] * at.down_a, np.pi * blade.chord * blade.r * pitch)
    assert np.allclose(tangent, own, rtol=1e-9)
    found = hover_point(table(2, 1 / 6), pitch, CappedLine(2.0 * np.pi), RE)
    floor = np.linalg.solve(table(2, 1 / 6).at(0.01).down_a + np.diag(1.0 / (np.pi * blade.chord)), blade.r * pitch)
    assert found.wake_speed == pytest.approx(0.01) and np.allclose(found.loads.lift, floor * blade.r, rtol=1e-3)


@pytest.mark.parametrize("zero", [0.0, -0.07])
def test_upside_down_it_lifts_as_much_downwards(zero: float) -> None:
    up, down = CappedLine(6.0, 1.3, zero, 0.01, 0.0), CappedLine(6.0, 1.3, -zero, 0.01, 0.0)
    lifting, pushing = (hover_point(table(2, 1 / 6), s * 0.14, p, RE) for s, p in ((1, up), (-1, down)))
    assert pushing.thrust == pytest.approx(-lifting.thrust, rel=1e-9) and pushing.thrust < 0.0
    assert pushing.torque == pytest.approx(lifting.torque, rel=1e-9)
    assert np.allclose(pushing.loads.lift, -lifting.loads.lift, atol=1e-12)
    assert np.allclose(pushing.loads.alpha_rad, -lifting.loads.alpha_rad, atol=1e-12)


def test_thrust_passes_smoothly_through_nothing() -> None:
    pitches = np.radians(np.arange(-1.0, 1.01, 0.25))
    thrusts = [hover_point(table(2, 1 / 6), pitch, CappedLine(6.0, 1.3), RE).thrust for pitch in pitches]
    assert thrusts[4] == 0.0 and np.all(np.diff(thrusts) > 0.0)


def test_loads_add_up_to_thrust_and_torque() -> None:
    """Lift leans back and drag pulls down by the inflow's angle: forces along and across the stream, resolved."""
    point = hover_point(table(3, 0.12), 0.15, CappedLine(6.0, 1.3), RE)
    loads = point.loads
    along = np.sqrt(loads.lift**2 + loads.drag**2)
    assert np.all(along > 0.0)
    stream = np.arctan2(loads.inflow, loads.r)  # what turns with the blade is left out: a few thousandths
    thrust = 3 / np.pi * np.sum((loads.lift * np.cos(stream) - loads.drag * np.sin(stream)) * loads.dr)
    torque = 3 / np.pi * np.sum((loads.lift * np.sin(stream) + loads.drag * np.cos(stream)) * loads.r * loads.dr)
    assert point.thrust == pytest.approx(thrust, rel=0.01) and point.torque == pytest.approx(torque, rel=0.01)


@pytest.mark.parametrize(
    ("blades", "chord", "tip"), [(2, 1 / 6, 1.0), (3, 0.05236, 1.0), (4, 1 / 6, 1.0), (2, 0.12, 0.5)]
)
def test_more_panels_change_little(blades: int, chord: float, tip: float) -> None:
    coarse, usual, fine = (
        hover_point(table(blades, chord, count, tip), np.radians(8.0), CappedLine(6.0, 1.3), RE).thrust
        for count in (16, 20, 40)
    )
    assert coarse == pytest.approx(fine, rel=0.01) and usual == pytest.approx(fine, rel=0.006)


@pytest.mark.parametrize("pitch", [5.0, 8.0, 12.0])
def test_a_finer_table_changes_little(pitch: float) -> None:
    usual, fine = (
        hover_point(table(2, 1 / 6, entries=entries), np.radians(pitch), CappedLine(6.0, 1.3), RE)
        for entries in (24, 93)
    )
    assert usual.thrust == pytest.approx(fine.thrust, rel=0.005)


def test_reynolds_number_goes_by_rpm_and_chord() -> None:
    loads = hover_point(table(2, 1 / 6), 0.14, CappedLine(6.0, 1.3), 1.2e6).loads
    assert np.allclose(loads.reynolds, 1.2e6 / 6 * loads.r, rtol=0.06)  # the air moves a little too


@pytest.mark.parametrize(
    ("height", "first", "second"),
    [
        (2.0, (1.01, 0.985), (1.03, 0.97)),
        (1.0, (1.06, 0.94), (1.12, 0.88)),
        (0.5, (1.26, 0.76), (1.42, 0.64)),
    ],
)
def test_over_ground(height: float, first: tuple[float, float], second: tuple[float, float]) -> None:
    """Thrust and induced factor over those far from ground, at constant pitch: figures of a study's own program."""
    rotor = table(2, 0.15, root=0.15)
    free = hover_point(rotor, np.radians(8.0), CappedLine(6.0, 1.3), RE)
    for factor, (thrust, kappa) in ((cheeseman_bennett(height), first), (hayden(height), second)):
        point = hover_point(rotor, np.radians(8.0), CappedLine(6.0, 1.3), RE, factor)
        assert point.thrust / free.thrust == pytest.approx(thrust, abs=0.006)
        assert point.induced_factor / free.induced_factor == pytest.approx(kappa, abs=0.006)


def test_forms_of_the_ground() -> None:
    """R&M 3021: 6.67 and 1.59 % more thrust at constant power at 1 and 2 radii. Hayden's by his constants by hand."""
    assert [1.0 / cheeseman_bennett(z) for z in (1.0, 2.0)] == pytest.approx([1.06667, 1.01587], abs=1e-5)
    assert [hayden(z) for z in (0.5, 1.0, 2.0, 9.0)] == pytest.approx([0.62539, 0.87397, 0.97040, 1.0], abs=1e-5)
    assert ground_factors(0.7) == (hayden(0.7), cheeseman_bennett(0.7))
    assert ground_factors(1.0) == (cheeseman_bennett(1.0),) * 2
    with pytest.raises(ValueError, match=r"0\.4 R"):
        ground_factors(0.4)


@pytest.mark.parametrize("root", [0.05, 0.17, 0.5])
@pytest.mark.parametrize("count", [8, 16, 21, 40])
def test_an_edge_lies_where_the_wake_rolls_up(root: float, count: int) -> None:
    blade = panels([root, 0.6, 1.0], [0.1, 0.15, 0.05], 2, count)
    assert blade.edge[blade.rolled] == pytest.approx(ROLL_UP, abs=1e-12)
    assert (blade.edge[0], blade.edge[-1]) == pytest.approx((root, 1.0)) and np.all(blade.dr > 0.0)
    assert np.all((blade.edge[:-1] < blade.r) & (blade.r < blade.edge[1:]))
    area = 0.5 * (0.25 * (0.6 - root) + 0.2 * 0.4)
    assert blade.solidity == pytest.approx(2 * area / np.pi, rel=0.04)


@pytest.mark.parametrize(
    ("r", "chord", "blades"),
    [
        ([0.2, 0.9], [0.1, 0.1], 2),
        ([0.2, 1.0], [0.1, 0.0], 2),
        ([0.1, 1.0], [0.4, 0.1], 2),
        ([1.0, 0.2], [0.1, 0.1], 2),
    ],
)
def test_no_such_planform(r: list[float], chord: list[float], blades: int) -> None:
    with pytest.raises(ValueError, match=r"radii|overlap"):
        panels(r, chord, blades)
