"""What vortices induce, against closed forms of textbooks."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.arrays import FloatArray
from geomgen.hover.wake.vortex import cylinder_downwash, filament_velocity


def line(*nodes: tuple[float, float, float]) -> FloatArray:
    return np.array([nodes], dtype=np.float64)


def helix(radius: float, pitch: float, below: float, turns: int, start: float = 0.0) -> FloatArray:
    """A wake's helix, clockwise seen from above, as fine as a degree; pitch for each rad."""
    age = np.linspace(0.0, 2.0 * np.pi * turns, 360 * turns + 1)
    turned = age + start
    return np.stack((radius * np.cos(turned), -radius * np.sin(turned), -below - pitch * age), axis=-1)[None]


@pytest.mark.parametrize("cut", [0.0, -0.3, 0.9])
def test_a_segment_and_its_halves(cut: float) -> None:
    """From -1 to 1, seen from 1 off its middle: (cos a1 + cos a2) / (4 pi d) = sqrt 2 / (4 pi)."""
    y, z = filament_velocity(np.array([[0.0, 1.0, 0.0]]), line((-1, 0, 0), (cut, 0, 0), (1, 0, 0)))
    assert z[0, 0] == pytest.approx(np.sqrt(2.0) / (4.0 * np.pi), rel=1e-12) and y[0, 0] == 0.0


@pytest.mark.parametrize("core", [0.0, 0.03])
@pytest.mark.parametrize("at", [-0.999, 0.0, 0.4, 1.5])
def test_nothing_on_a_segments_own_line(at: float, core: float) -> None:
    assert np.allclose(filament_velocity(np.array([[at, 0.0, 0.0]]), line((-1, 0, 0), (1, 0, 0)), core), 0.0, atol=1e-9)


def test_a_core_dulls_only_what_is_near() -> None:
    """A long line: 1 / (2 pi d) far off, and d / (2 pi sqrt(d^4 + core^4)) near."""
    long, core = line((-100, 0, 0), (100, 0, 0)), 0.03
    for d in (1e-3, 0.03, 0.5):  # |X| is d times the length, so that its fourth power leaves d^4 + core^4
        _, z = filament_velocity(np.array([[0.0, d, 0.0]]), long, core)
        assert z[0, 0] == pytest.approx(d / (2.0 * np.pi * np.sqrt(d**4 + core**4)), rel=1e-4)


def test_a_ring_at_its_centre() -> None:
    """1 / 2a."""
    turned = np.linspace(0.0, 2.0 * np.pi, 721)
    ring = 0.4 * np.stack((np.cos(turned), np.sin(turned), 0.0 * turned), axis=-1)[None]
    _, z = filament_velocity(np.zeros((1, 3)), ring)
    assert z[0, 0] == pytest.approx(1.0 / 0.8, rel=1e-4)


@pytest.mark.parametrize("below", [-0.7, 0.0, 0.5, 3.0])
def test_a_cylinder_on_its_axis(below: float) -> None:
    """(1 - h / sqrt(h^2 + a^2)) / 2."""
    found = cylinder_downwash([0.8], [below], np.array([0.0]))[0, 0]
    assert found == pytest.approx(0.5 * (1.0 - below / np.hypot(below, 0.8)), rel=1e-12)


def test_a_cylinder_at_its_top() -> None:
    """Half of what is within it far down, everywhere inside; nothing outside. By symmetry."""
    inside, outside = cylinder_downwash([0.8], [0.0], np.array([0.5, 1.3]))[:, 0]
    assert inside == pytest.approx(0.5, abs=1e-6) and outside == pytest.approx(0.0, abs=1e-6)


def test_two_helices_are_nearly_a_cylinder() -> None:
    """Of radius 0.8 and 0.06 down each rad, from 0.5 above: 1.2445 by another program; the cylinder's 1.2467."""
    both = np.concatenate([helix(0.8, 0.06, 0.5, 60, start) for start in (0.0, np.pi)])
    down = -float(filament_velocity(np.zeros((1, 3)), both)[1].sum())
    assert down == pytest.approx(1.2445, rel=1e-3)  # that one's steps were coarser
    tube = cylinder_downwash([0.8], [0.5], np.array([0.0]))[0, 0] * 2.0 / (2.0 * np.pi * 0.06)
    assert tube == pytest.approx(1.2467, rel=1e-4) and down == pytest.approx(tube, rel=5e-3)


def test_many_filaments_are_worked_on_in_parts() -> None:
    rng = np.random.default_rng(5)
    points, nodes = rng.normal(size=(40, 3)), rng.normal(size=(30, 30, 3))
    alone = np.concatenate([filament_velocity(points, nodes[k : k + 1], 0.03) for k in range(30)], axis=-1)
    assert np.allclose(filament_velocity(points, nodes, 0.03), alone, rtol=1e-12)
