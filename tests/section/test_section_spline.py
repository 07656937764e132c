"""The smooth curve through points, against another library's spline and against curves known in closed form."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from geomgen.section import hermite, spline


def test_tangents_are_those_of_scipys_spline_over_the_same_lengths() -> None:
    angle = np.sort(np.random.default_rng(3).random(40)) * 5.0
    xy = np.column_stack([np.cos(angle) * (1.0 + 0.1 * angle), 0.3 * np.sin(angle)])
    tangent = spline.tangents(xy)
    theirs = CubicSpline(hermite.lengths(xy, tangent), xy, bc_type="not-a-knot")(hermite.lengths(xy, tangent), 1)
    theirs /= np.hypot(*theirs.T)[:, None]
    assert np.max(np.abs(tangent - theirs)) < 1e-4  # the lengths themselves still change in the last digits


@pytest.mark.parametrize(("points", "tolerance"), [(41, 2e-4), (81, 1.2e-5), (161, 8e-7)])
def test_ellipse_converges_with_the_fourth_order(points: int, tolerance: float) -> None:
    angle = np.linspace(0.1, 6.0, points)
    xy = np.column_stack([np.cos(angle), 0.4 * np.sin(angle)])
    tangent = spline.tangents(xy)
    i = np.arange(points - 1).repeat(9)
    share = np.tile(np.linspace(0.1, 0.9, 9), points - 1)
    step = hermite.steps(xy, tangent)[i]
    between, _ = hermite.between((xy[i], xy[i + 1]), (tangent[i], tangent[i + 1]), step, share)
    assert np.max(np.abs(np.hypot(between[:, 0], between[:, 1] / 0.4) - 1.0)) < tolerance


def test_straight_line_stays_straight() -> None:
    xy = np.column_stack([np.array([0.0, 0.1, 0.5, 0.6, 1.0, 1.7]), np.zeros(6)])
    assert np.allclose(spline.tangents(xy), [1.0, 0.0], atol=1e-14)
