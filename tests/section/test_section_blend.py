"""Blended sections by conditions."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from geomgen.section.blend import blend, blend_many
from geomgen.section.families import naca
from geomgen.section.laid_off import JOINT
from geomgen.section.measures import measures
from geomgen.section.reshape import FLAT, flattened
from geomgen.section.section import Section, Surface

FloatArray = NDArray[np.float64]


def worst(a: Section, b: Section) -> float:
    x = np.linspace(0.0005, 0.9995, 2000)
    return float(max(np.max(np.abs(a.upper_y(x) - b.upper_y(x))), np.max(np.abs(a.lower_y(x) - b.lower_y(x)))))


@pytest.mark.parametrize(("a", "b"), [("4415", "4412"), ("0012", "6412"), ("2212", "23012"), ("0024", "0006-34")])
def test_ends_are_the_sections_themselves(a: str, b: str) -> None:
    first, last = blend_many(naca(a), naca(b), [0.0, 1.0])
    assert worst(first, naca(a)) < 1e-6
    assert worst(last, naca(b)) < 1e-6


def equal_arc(surface: Surface, shares: FloatArray) -> FloatArray:
    """Points at shares of a surface's length, measured along 100 000 short chords."""
    xy = surface.at(np.linspace(0.0, surface.length, 100_001))[0]
    length = np.append(0.0, np.cumsum(np.hypot(*np.diff(xy, axis=0).T)))
    return np.column_stack([np.interp(shares * length[-1], length, xy[:, i]) for i in (0, 1)])


@pytest.mark.parametrize(
    ("a", "b", "tolerance"), [("4415", "4412", 2e-6), ("0012", "4412", 2e-5), ("23018", "0009", 3e-5)]
)
def test_points_at_equal_arc_length_are_moved_straight(a: str, b: str, tolerance: float) -> None:
    """Against a direct calculation; next to the nose ours keeps both sides at one pace, which makes the difference."""
    first, last = naca(a), naca(b)
    found = blend(first, last, 0.3)
    shares = np.linspace(0.01, 0.99, 60)
    for surface, p, q in ((found.upper, first.upper, last.upper), (found.lower, first.lower, last.lower)):
        wanted = 0.7 * equal_arc(p, shares) + 0.3 * equal_arc(q, shares)
        assert np.max(np.abs(surface.y(wanted[:, 0]) - wanted[:, 1])) < tolerance * 5  # near the nose y is steep
        aft = wanted[:, 0] > 0.05
        assert np.max(np.abs(surface.y(wanted[aft, 0]) - wanted[aft, 1])) < tolerance


@pytest.mark.parametrize(("a", "b"), [("0012", "6412"), ("23018", "0009"), ("9412", "0006")])
def test_nose_stays_round(a: str, b: str) -> None:
    for section in blend_many(naca(a), naca(b), np.linspace(0.0, 1.0, 11)):
        assert section.round_nose
        assert np.allclose(section.upper.tangent[0], -section.lower.tangent[0], atol=1e-12)
        assert np.array_equal(section.upper.xy[0], [0.0, 0.0])
        nose = measures(section).nose_radius
        assert min(measures(naca(d)).nose_radius for d in (a, b)) * 0.95 < nose


@pytest.mark.parametrize(("a", "b"), [("0012", "6412"), ("2212", "23012")])
def test_tangents_are_those_of_the_points(a: str, b: str) -> None:
    section = blend(naca(a), naca(b), 0.4)
    for surface in (section.upper, section.lower):
        for run in surface.runs():
            h = 1e-6
            middle = Surface(run.xy, run.tangent)
            s = np.linspace(0.001, middle.length - 0.001, 400)
            ahead, behind = middle.at(s + h)[0], middle.at(s - h)[0]
            way = (ahead - behind) / np.hypot(*(ahead - behind).T)[:, None]
            assert np.max(np.abs(way - middle.at(s)[1])) < 1e-6
            assert np.allclose(np.hypot(*run.tangent.T), 1.0, atol=1e-12)
            # a curve that is smooth between its samples turns by little at each
            chord = np.diff(run.xy, axis=0) / np.hypot(*np.diff(run.xy, axis=0).T)[:, None]
            mean = run.tangent[1:] + run.tangent[:-1]
            cross = chord[:, 0] * mean[:, 1] - chord[:, 1] * mean[:, 0]
            assert np.max(np.abs(cross)) < np.radians(0.5)


def test_symmetric_between_symmetric() -> None:
    section = blend(naca("0018"), naca("0006"), 0.25)
    x = np.linspace(0.0, 1.0, 300)
    assert np.max(np.abs(section.camber_y(x))) < 1e-12
    assert measures(section).thickness == pytest.approx(0.15, abs=2e-4)


def test_thickness_and_camber_lie_between() -> None:
    shares = np.linspace(0.0, 1.0, 9)
    found = [measures(section) for section in blend_many(naca("4418"), naca("2409"), shares)]
    assert np.allclose([m.thickness for m in found], 0.18 - 0.09 * shares, atol=6e-4)
    assert np.allclose([m.camber for m in found], 0.04 - 0.02 * shares, atol=3e-4)
    assert np.all(np.diff([m.area for m in found]) < 0.0)


def test_many_are_the_same_as_each_and_equally_long() -> None:
    a, b = flattened(naca("4415"), 0.3), naca("0012")
    many = blend_many(a, b, np.linspace(0.0, 1.0, 7))
    assert len({len(s.lower.xy) for s in many}) == len({len(s.upper.xy) for s in many}) == 1
    for share, section in zip(np.linspace(0.0, 1.0, 7), many, strict=True):
        assert np.array_equal(section.lower.xy, blend(a, b, share).lower.xy)


def test_a_section_with_itself_is_itself() -> None:
    section = naca("4412")
    assert all(found is section for found in blend_many(section, section, [0.0, 0.5, 1.0]))


def test_flat_goes_over_into_flat() -> None:
    a, b = flattened(naca("4415"), 0.3), flattened(naca("4412"), 0.5)
    section = blend(a, b, 0.5)
    assert section.lower.names == (FLAT,)
    i = section.lower.corners[0]
    wanted = 0.5 * (a.lower.xy[a.lower.corners[0]] + b.lower.xy[b.lower.corners[0]])
    assert np.allclose(section.lower.xy[i], wanted, atol=1e-9)
    flat = section.lower.xy[i + 1 :]
    way = flat[-1] - flat[0]
    off = (flat - flat[0]) @ np.array([-way[1], way[0]]) / np.hypot(*way)
    assert np.max(np.abs(off)) < 1e-12  # straight lines blend into a straight line


def test_a_corner_of_one_fades_and_differing_corners_both_stand() -> None:
    one = blend(flattened(naca("4415"), 0.4), naca("4415"), 0.5)
    assert one.lower.names == (FLAT,)
    both = blend(flattened(naca("4415"), 0.5), naca("2212"), 0.5)
    assert both.lower.names == (JOINT, FLAT)
    assert both.upper.names == (JOINT,)
    for surface in (both.lower, both.upper):
        assert np.all(np.diff(surface.along)[[i for i in range(len(surface.xy) - 1) if i not in surface.corners]] > 0.0)
        for i in surface.corners:
            assert np.array_equal(surface.xy[i], surface.xy[i + 1])


def test_name_says_between_what() -> None:
    assert blend(naca("4415"), naca("4412"), 0.25).name == "naca 4415 to naca 4412, 0.25"
