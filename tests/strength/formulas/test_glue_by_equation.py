"""Laps and scarfs another way: the shear lag's differential equation solved by scipy, stress turned as a tensor."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from geomgen.strength.formulas.glue import (
    glue_gap_share,
    glue_lambda,
    glue_peak,
    glue_reach,
    ring_glue_pull_mpa,
    ring_glue_twist_mpa,
    scarf_cap,
    scarf_normal_mpa,
    scarf_share,
    scarf_shear_mpa,
)


def lap(length: float, glue: tuple[float, float], one: float, other: float) -> np.ndarray:
    """Shear along a lap pulled at opposite ends with 1 N by mm: both bodies' movements and the first one's force.

    u1' = N / E1t1, u2' = (1 - N) / E2t2, N' = -tau, tau = G / t (u1 - u2)
    """
    shear, thick = glue

    def slope(_: np.ndarray, y: np.ndarray) -> np.ndarray:
        return np.array([y[2] / one, (1.0 - y[2]) / other, shear / thick * (y[0] - y[1])])

    def ends(left: np.ndarray, right: np.ndarray) -> np.ndarray:
        return np.array([left[2], right[2] - 1.0, left[0]])

    # the first body's force grows from nothing at 0 to 1 at the far end, where it is pulled
    at = np.linspace(0.0, length, 400)
    found = solve_bvp(slope, ends, at, np.zeros((3, at.size)), tol=1e-9, max_nodes=200_000)
    assert found.success
    return np.asarray(slope(at, found.sol(at))[2])


@pytest.mark.parametrize(
    ("length", "one", "other"),
    [(15.0, 120e3, 6e3), (15.0, 120e3, 103.5e3), (4.0, 120e3, 4e3), (6.0, 120e3, 600.0), (6.0, 50e3, 120e3)],
)
def test_peak_of_a_lap(length: float, one: float, other: float) -> None:
    shear = lap(length, (1e3, 0.1), one, other)
    speed = glue_lambda(1e3, 0.1, one, other)
    assert glue_peak(length, speed, one, other) == pytest.approx(shear.max() * length, rel=1e-4)


def test_length_past_its_reach_adds_little() -> None:
    """The greatest shear of a lap as long as its reach, and of one twice as long: within 4 %, by the equation."""
    reach = float(glue_reach(glue_lambda(1e3, 0.1, 120e3, 103.5e3)))
    short, long = (lap(times * reach, (1e3, 0.1), 120e3, 103.5e3).max() for times in (1.0, 2.0))
    assert 1.0 < short / long < 1.04
    half = lap(0.5 * reach, (1e3, 0.1), 120e3, 103.5e3).max()
    assert half / long > 1.2


@pytest.mark.parametrize("slope", [1.0, 4.0, 8.0, 12.0])
def test_stress_on_a_scarf(slope: float) -> None:
    """Pull along x on a plane that rises 1 in n: the stress tensor times the plane's normal."""
    along = np.array([slope, 1.0]) / np.hypot(slope, 1.0)
    normal = np.array([-along[1], along[0]])
    force = np.array([[20.0, 0.0], [0.0, 0.0]]) @ normal
    assert scarf_shear_mpa(20.0, slope) == pytest.approx(abs(force @ along))
    assert scarf_normal_mpa(20.0, slope) == pytest.approx(abs(force @ normal))
    # the bar's stress at which the sum of squares is one
    share = scarf_share(20.0, 2.0, 0.8, slope)
    reached = np.hypot(force @ along / 2.0, force @ normal / 0.8)
    assert share == pytest.approx(min(1.0, 1.0 / reached))


def test_caps_of_scarfs_as_read() -> None:
    """Read: butt .25, .65 at 1 in 4, .75 at 1 in 8, .95 at 20 (so .85 at 14); none above .9."""
    assert scarf_cap(np.array([0.0, 2.0, 4.0, 8.0, 14.0, 1e3])) == pytest.approx([0.25, 0.45, 0.65, 0.75, 0.85, 0.9])


def test_glue_round_a_tube_by_small_pieces() -> None:
    """Force and twist that an even shear makes over the face, summed piece by piece."""
    diameter, length, shear = 10.0, 15.0, 3.0
    angle = (np.arange(720) + 0.5) * np.pi / 360.0
    pieces = np.full(angle.size, diameter / 2.0 * np.pi / 360.0 * length * shear)
    twist = (pieces * np.hypot(diameter / 2.0 * np.cos(angle), diameter / 2.0 * np.sin(angle))).sum()
    assert ring_glue_pull_mpa(pieces.sum(), diameter, length) == pytest.approx(shear)
    assert ring_glue_twist_mpa(twist, diameter, length) == pytest.approx(shear)


def test_gaps() -> None:
    """The table: .05 to .2 mm full, past .5 half; between them falling, and starved below."""
    gaps = np.array([0.0, 0.025, 0.05, 0.2, 0.35, 0.5, 2.0])
    assert glue_gap_share(gaps) == pytest.approx([0.5, 0.75, 1.0, 1.0, 0.75, 0.5, 0.5])
