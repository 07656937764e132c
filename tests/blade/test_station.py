"""Stations: frames and hand, checked by what the words mean and by rigid motion."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.blade.station import Station
from geomgen.section.families import naca

SECTION = naca("4412")


def station(angle_deg: float) -> Station:
    return Station(400.0, 180.0, angle_deg, SECTION, (45.0, 6.0))


def test_leading_edge_faces_forward_and_goes_up_with_the_angle() -> None:
    level = station(0.0).to_blade(np.array([[0.0, 6.0]]))[0]
    assert level == pytest.approx([400.0, 45.0, 0.0])  # 45 mm ahead of the axis, at its height
    raised = station(10.0).to_blade(np.array([[0.0, 6.0]]))[0]
    assert raised == pytest.approx([400.0, 45.0 * np.cos(np.radians(10)), 45.0 * np.sin(np.radians(10))])


@pytest.mark.parametrize("angle", [-12.0, 0.0, 7.5, 30.0])
def test_there_and_back(angle: float) -> None:
    here = station(angle)
    points = np.random.default_rng(1).uniform(-50, 200, (30, 2))
    assert here.from_blade(here.to_blade(points)) == pytest.approx(points, abs=1e-9)
    assert here.to_blade(np.array([here.axis_mm]))[0] == pytest.approx([400.0, 0.0, 0.0], abs=1e-12)


def test_matrix_is_a_rigid_motion_without_mirror_and_agrees_with_the_points() -> None:
    here = station(8.0)
    m = here.matrix()
    assert m[:3, :3] @ m[:3, :3].T == pytest.approx(np.eye(3), abs=1e-12)
    assert np.linalg.det(m[:3, :3]) == pytest.approx(1.0)
    points = np.array([[0.0, 0.0], [180.0, 0.0], [30.0, 12.0]])
    through = np.column_stack([points, np.zeros(3), np.ones(3)]) @ m.T
    assert through[:, :3] == pytest.approx(here.to_blade(points), abs=1e-9)
    assert m[:3, 2] == pytest.approx([-1.0, 0.0, 0.0])  # the drawn face looks towards the axis: the root side is seen


def test_places() -> None:
    here = station(0.0)
    assert here.place(0.5, "chord") == pytest.approx((90.0, 0.0))
    assert here.place(0.5, 3.0) == pytest.approx((90.0, 3.0))
    # the published mean line of a 4412 at x = 0.4: 4 % of the chord
    assert here.place(0.4, "camber") == pytest.approx((72.0, 0.04 * 180.0), abs=0.02)
