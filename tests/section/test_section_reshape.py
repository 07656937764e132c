"""Scaled, flattened and closed sections by conditions, and against the families' own equations."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.section.families import naca
from geomgen.section.measures import measures
from geomgen.section.reshape import FLAT, closed, flattened, scaled
from geomgen.section.section import Section


def worst(a: Section, b: Section) -> float:
    x = np.linspace(0.003, 0.999, 1000)
    return float(max(np.max(np.abs(a.upper_y(x) - b.upper_y(x))), np.max(np.abs(a.lower_y(x) - b.lower_y(x)))))


@pytest.mark.parametrize(
    ("digits", "thickness", "camber", "wanted", "tolerance"),
    [
        ("0012", 1.25, 1.0, "0015", 1e-8),
        ("0012-34", 0.5, 1.0, "0006-34", 1e-6),
        ("4412", 1.25, 1.0, "4415", 2e-5),
        ("4412", 0.75, 1.0, "4409", 2e-5),
        ("2412", 1.0, 2.0, "4412", 1e-5),
        ("4412", 1.0, 0.5, "2412", 1e-5),
        ("4412", 1.0, 0.0, "0012", 1e-5),
        ("2412", 1.25, 2.0, "4415", 2e-5),
        ("2212", 1.5, 1.0, "2218", 1e-4),  # its mean line bends at once
        ("23012", 1.5, 1.0, "23018", 3e-4),  # so sharply that middle and thickness have no one meaning at the nose
    ],
)
def test_scaling_leads_from_one_member_of_a_family_to_another(
    digits: str, thickness: float, camber: float, wanted: str, tolerance: float
) -> None:
    """The equations multiply thickness and mean line, which are laid square to each other: so must scaling."""
    assert worst(scaled(naca(digits), thickness, camber), naca(wanted)) < tolerance


def test_scaling_by_one_changes_nothing() -> None:
    section = naca("4412")
    assert scaled(section) is section
    assert worst(scaled(section, 1.0 + 1e-9), section) < 1e-6


def test_without_camber_a_section_is_symmetric() -> None:
    x = np.linspace(0.003, 0.999, 500)
    for digits in ("4412", "6409", "2415"):
        assert np.max(np.abs(scaled(naca(digits), 1.0, 0.0).camber_y(x))) < 2e-5


@pytest.mark.parametrize("digits", ["4412", "23112"])
@pytest.mark.parametrize("times", [0.5, 1.5])
def test_thickness_and_camber_are_multiplied(digits: str, times: float) -> None:
    section = naca(digits)
    was, thick, bent = measures(section), measures(scaled(section, times)), measures(scaled(section, 1.0, times))
    assert thick.thickness == pytest.approx(times * was.thickness, rel=2e-3)
    assert bent.camber == pytest.approx(times * was.camber, rel=2e-2)  # at equal x, not square to the mean line
    assert thick.nose_radius == pytest.approx(times**2 * was.nose_radius, rel=5e-3)


@pytest.mark.parametrize("digits", ["4412", "23012", "2212"])
def test_scaled_surfaces_stay_smooth_and_their_nose_round(digits: str) -> None:
    section = scaled(naca(digits), 1.4, 0.7)
    assert section.round_nose
    for surface in (section.upper, section.lower):
        for run in surface.runs():
            angle = np.unwrap(np.arctan2(run.tangent[:, 1], run.tangent[:, 0]))
            chord = np.diff(run.xy, axis=0)
            way = np.unwrap(np.arctan2(chord[:, 1], chord[:, 0]))
            assert np.max(np.abs(way - 0.5 * (angle[1:] + angle[:-1]))) < np.radians(0.5)
            turn = np.diff(angle) / np.hypot(*chord.T)
            assert np.max(np.abs(np.diff(turn))) < 20.0  # no ripple: the nose itself bends by 30 to 90 per chord


def test_a_corner_stays_a_corner_when_scaled() -> None:
    section = scaled(flattened(naca("4415"), 0.3), 0.7, 1.3)
    assert section.lower.names == (FLAT,)
    assert section.tail_gap == pytest.approx(0.7 * naca("4415").tail_gap, rel=1e-3)


@pytest.mark.parametrize(
    ("digits", "from_x"), [("4412", 0.3), ("0012", 0.3), ("4415", 0.5), ("2212", 0.15), ("6409", 0.05)]
)
def test_flattened_is_straight_behind_and_untouched_ahead(digits: str, from_x: float) -> None:
    section = naca(digits)
    flat = flattened(section, from_x)
    ahead, behind = np.linspace(0.0, from_x, 200), np.linspace(from_x, 1.0, 200)
    assert np.max(np.abs(flat.lower_y(ahead) - section.lower_y(ahead))) < 1e-7
    start, end = float(section.lower_y(from_x)), section.lower.xy[-1]
    line = start + (behind - from_x) / (end[0] - from_x) * (end[1] - start)
    assert np.max(np.abs(flat.lower_y(behind) - line)) < 1e-9
    assert flat.upper is section.upper
    assert flat.tail_gap == pytest.approx(section.tail_gap, abs=1e-12)
    assert np.all(flat.depth(np.linspace(0.001, 1.0, 300)) > 0.0)


def test_the_kink_is_a_named_corner() -> None:
    flat = flattened(naca("4412"), 0.3)
    ((name, place),) = [corner for corner in flat.corners() if "tail" not in corner[0]]
    assert name == f"lower {FLAT}"
    assert place == pytest.approx((0.3, float(naca("4412").lower_y(0.3))), abs=1e-9)
    assert len(flat.runs()) == 2


def test_no_corner_where_the_line_leaves_in_a_tangent() -> None:
    assert flattened(naca("4412"), 0.1812).lower.corners == ()
    assert len(flattened(naca("4412"), 0.1812).runs()) == 1


def test_corners_ahead_of_the_flat_stay_and_those_behind_go() -> None:
    assert flattened(naca("2212"), 0.5).lower.names == ("mean line joint", FLAT)
    assert flattened(naca("2212"), 0.1).lower.names == (FLAT,)


@pytest.mark.parametrize("digits", ["4412", "0012", "23012"])
def test_closed_takes_away_half_the_gap_on_each_side_in_proportion_to_x(digits: str) -> None:
    section = naca(digits)
    shut = closed(section)
    assert shut.tail_gap == 0.0
    assert np.array_equal(shut.upper.xy[-1], shut.lower.xy[-1])
    x = np.linspace(0.0, 0.99, 100)
    # a cambered tail's edge isn't quite upright
    assert np.allclose(section.depth(x) - shut.depth(x), section.tail_gap * x, atol=3e-5)
    assert np.allclose(section.camber_y(x), shut.camber_y(x), atol=3e-5)
    assert shut.round_nose
