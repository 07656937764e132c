"""Measures against closed forms, and against another library's integration of the same outline."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.special import ellipe
from shapely.geometry import Polygon

from geomgen.section.families import naca
from geomgen.section.measures import measures, nose_radius
from geomgen.section.section import Section, Surface, heights


def ellipse(half_height: float, points: int = 161) -> Section:
    """An ellipse at chord 1, exact points and tangents."""
    angle = np.linspace(0.0, np.pi, points)
    xy = np.column_stack([0.5 - 0.5 * np.cos(angle), half_height * np.sin(angle)])
    way = np.column_stack([0.5 * np.sin(angle), half_height * np.cos(angle)])
    way /= np.hypot(*way.T)[:, None]
    xy[-1] = 1.0, 0.0
    upper = Surface(xy, way)
    return Section("ellipse", "made here", upper, Surface(xy * [1.0, -1.0], way * [1.0, -1.0]))


@pytest.mark.parametrize("b", [0.04, 0.08, 0.15])
def test_ellipse(b: float) -> None:
    """Closed forms of the ellipse x = ½ ± ½ cos, y = b sin; the perimeter by scipy's complete elliptic integral."""
    found = measures(ellipse(b))
    a = 0.5
    assert found.area == pytest.approx(np.pi * a * b, rel=1e-7)
    assert found.centroid == pytest.approx((0.5, 0.0), abs=1e-9)
    assert found.ixx == pytest.approx(np.pi * a * b**3 / 4.0, rel=1e-6)
    assert found.iyy == pytest.approx(np.pi * a**3 * b / 4.0, rel=1e-6)
    assert found.ixy == pytest.approx(0.0, abs=1e-12)
    assert found.perimeter == pytest.approx(4.0 * a * ellipe(1.0 - (b / a) ** 2), rel=1e-6)
    assert found.thickness == pytest.approx(2.0 * b, rel=1e-6)
    assert found.thickness_x == pytest.approx(0.5, abs=1e-3)
    assert (found.camber, found.camber_x) == (0.0, 0.0)
    assert found.nose_radius == pytest.approx(b * b / a, rel=1e-3)


@pytest.mark.parametrize("digits", ["4412", "23112", "0012-34", "9112"])
def test_area_and_moments_by_another_library(digits: str) -> None:
    """shapely's area and centroid of a polygon of 20 000 points; moments by triangles from the nose."""
    section = naca(digits)
    parts = [surface.at(np.linspace(0.0, surface.length, 10_001))[0] for surface in (section.lower, section.upper)]
    loop = np.vstack([parts[0], parts[1][:0:-1]])
    polygon, found = Polygon(loop), measures(section)
    assert polygon.is_valid
    assert found.area == pytest.approx(polygon.area, rel=1e-6)
    assert found.centroid == pytest.approx((polygon.centroid.x, polygon.centroid.y), abs=1e-6)
    p, q = loop, np.roll(loop, -1, axis=0)
    twice = p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]
    x, y = found.centroid
    ixx = np.sum(twice * (p[:, 1] ** 2 + p[:, 1] * q[:, 1] + q[:, 1] ** 2)) / 12.0 - found.area * y * y
    iyy = np.sum(twice * (p[:, 0] ** 2 + p[:, 0] * q[:, 0] + q[:, 0] ** 2)) / 12.0 - found.area * x * x
    mixed = p[:, 0] * q[:, 1] + 2 * p[:, 0] * p[:, 1] + 2 * q[:, 0] * q[:, 1] + q[:, 0] * p[:, 1]
    assert found.ixx == pytest.approx(ixx, rel=1e-5)
    assert found.iyy == pytest.approx(iyy, rel=1e-5)
    assert found.ixy == pytest.approx(np.sum(twice * mixed) / 24.0 - found.area * x * y, abs=1e-8)
    assert found.perimeter == pytest.approx(polygon.length - section.tail_gap, rel=5e-6)


def test_camber_has_its_sign_and_place() -> None:
    up, down = measures(naca("4412")), naca("4412")
    surfaces = [Surface(s.xy * [1, -1], s.tangent * [1, -1]) for s in (down.lower, down.upper)]
    flipped = Section("upside down", "", *surfaces)
    assert up.camber == pytest.approx(0.04, abs=2e-5)  # at equal x, not square to the mean line
    assert up.camber_x == pytest.approx(0.4, abs=5e-3)
    assert measures(flipped).camber == pytest.approx(-up.camber, abs=1e-12)


@pytest.mark.parametrize("digits", ["4412", "2415", "23012"])
def test_cambered_nose_radius(digits: str) -> None:
    """½ a0² of the thickness form, less by the cosine of the mean line's slope: curvature of the equations at x = 0."""
    section = naca(digits)
    t = int(digits[-2:]) / 100.0
    leave = section.upper.tangent[0]
    assert nose_radius(section) == pytest.approx(0.5 * (5 * t * 0.2969) ** 2 * leave[1], rel=1e-4)


def test_many_heights_at_once_are_the_same_as_each() -> None:
    sections = [naca("0012"), naca("2212"), naca("4415"), ellipse(0.06, 121)]
    x = np.random.default_rng(2).random((4, 5))
    upper, lower = heights(sections, x)
    for i, section in enumerate(sections):
        assert np.allclose(upper[i], section.upper_y(x[i]), atol=1e-13)
        assert np.allclose(lower[i], section.lower_y(x[i]), atol=1e-13)


@pytest.mark.parametrize("digits", ["4412", "2212", "23012", "9112", "0012-04"])
def test_one_height_is_the_same_as_many(digits: str) -> None:
    section = naca(digits)
    x = np.concatenate(
        [[-0.01, 0.0, 1e-9, 1e-4, 1.0, 1.02], np.random.default_rng(4).random(200), section.upper.xy[:, 0]]
    )
    for surface in (section.upper, section.lower):
        assert np.allclose([float(surface.y(float(at))) for at in x], surface.y(x), atol=1e-12, rtol=0.0)
