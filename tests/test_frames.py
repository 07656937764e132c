"""Frames: hand, signs of pitch and coning, order of blades. Judged by words of the convention, not by matrices."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.frames import applied, blade_to_rotor, hub_to_rotor, shift, turn

OUT, FORWARD, UP = np.eye(3) * 100.0


def test_blade_one_lies_along_x_and_leads_towards_y() -> None:
    matrix = blade_to_rotor(1, 2)
    assert applied(matrix, OUT) == pytest.approx((100, 0, 0))
    assert applied(matrix, FORWARD) == pytest.approx((0, 100, 0))
    assert applied(matrix, UP) == pytest.approx((0, 0, 100))


def test_pitch_lifts_the_leading_edge_and_leaves_the_feather_axis() -> None:
    matrix = blade_to_rotor(1, 2, pitch_deg=30)
    assert applied(matrix, FORWARD) == pytest.approx((0, 100 * np.sqrt(3) / 2, 50))
    assert applied(matrix, OUT) == pytest.approx((100, 0, 0))


def test_coning_lifts_the_tip_of_every_blade_alike() -> None:
    for number in (1, 2, 3):
        tip = applied(blade_to_rotor(number, 3, coning_deg=30), OUT)
        assert tip[2] == pytest.approx(50)
        assert np.hypot(tip[0], tip[1]) == pytest.approx(100 * np.sqrt(3) / 2)


def test_pitch_turns_about_the_coned_axis() -> None:
    """The leading edge must rise at right angles to the feather axis, which is no longer level."""
    matrix = blade_to_rotor(1, 2, pitch_deg=90, coning_deg=30)
    assert applied(matrix, FORWARD) == pytest.approx((-50, 0, 100 * np.sqrt(3) / 2))


@pytest.mark.parametrize(("clockwise", "sign"), [(False, 1), (True, -1)])
def test_blades_follow_one_another_in_the_direction_of_turn(clockwise: bool, sign: int) -> None:
    second = applied(blade_to_rotor(2, 3, clockwise=clockwise), OUT)
    assert np.degrees(np.arctan2(second[1], second[0])) == pytest.approx(sign * 120)


def test_leading_edge_moves_first_in_both_hands() -> None:
    """Velocity of a rotor turning anticlockwise is +Z x r; the leading edge must face it, blade by blade."""
    for clockwise in (False, True):
        spin = np.array([0, 0, -1.0 if clockwise else 1.0])
        for number in range(1, 5):
            matrix = blade_to_rotor(number, 4, pitch_deg=7, coning_deg=3, clockwise=clockwise)
            velocity = np.cross(spin, applied(matrix, OUT))
            assert velocity @ applied(matrix, FORWARD) > 0
            assert applied(matrix, UP)[2] > 0


def test_clockwise_is_the_mirror_image() -> None:
    points = np.array([[400.0, 30, 5], [100, -80, 2]])
    mine = applied(blade_to_rotor(3, 5, 8, 2), points)
    twin = applied(blade_to_rotor(3, 5, 8, 2, clockwise=True), points)
    assert twin == pytest.approx(mine * (1, -1, 1))
    assert np.linalg.det(blade_to_rotor(3, 5, 8, 2, clockwise=True)) == pytest.approx(-1)
    assert applied(hub_to_rotor(True), (3.0, 4.0, 5.0)) == pytest.approx((3, -4, 5))


@pytest.mark.parametrize(("axis", "start", "end"), [("x", FORWARD, UP), ("y", UP, OUT), ("z", OUT, FORWARD)])
def test_turns_are_right_handed(axis: str, start: np.ndarray, end: np.ndarray) -> None:
    assert applied(turn(axis, 90), start) == pytest.approx(end)


def test_shift_moves_after_what_stands_on_its_right() -> None:
    assert applied(shift((1, 2, 3)) @ turn("z", 90), OUT) == pytest.approx((1, 102, 3))
