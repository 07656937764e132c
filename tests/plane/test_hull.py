"""The loop round circles, against closed forms of the open belt and against shapely's hull of the circles' points."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from geomgen.plane.hull import hull
from geomgen.plane.path import Circle, Path


def test_open_belt_by_its_textbook_length() -> None:
    """Open belt: 2 sqrt(C² - (R - r)²) + pi (R + r) + 2 (R - r) asin((R - r) / C), as machine design books have it."""
    belt = hull([Circle((0.0, 0.0), 30.0), Circle((100.0, 0.0), 12.0)])
    lean = np.arcsin(18.0 / 100.0)
    assert belt.length() == pytest.approx(2 * np.sqrt(100.0**2 - 18.0**2) + np.pi * 42.0 + 2 * 18.0 * lean, rel=1e-12)
    area = 42.0 * np.sqrt(100.0**2 - 18.0**2) + 30.0**2 * (np.pi / 2 + lean) + 12.0**2 * (np.pi / 2 - lean)
    assert belt.area() == pytest.approx(area, rel=1e-12)  # two trapezia and two sectors


def test_three_alike_in_a_triangle() -> None:
    """A triangle's own outline moved out by r: area A + P r + pi r²."""
    loop = hull([Circle((0.0, 0.0), 2.0), Circle((30.0, 0.0), 2.0), Circle((0.0, 40.0), 2.0)])
    assert loop.area() == pytest.approx(600.0 + 120.0 * 2.0 + np.pi * 4.0, rel=1e-12)
    assert loop.bounds() == pytest.approx((-2.0, -2.0, 32.0, 42.0))


def test_one_that_holds_all_others_is_the_hull() -> None:
    loop = hull([Circle((1.0, 0.0), 3.0), Circle((0.0, 0.0), 10.0), Circle((0.0, 5.0), 5.0)])
    assert isinstance(loop, Circle) and loop.radius == 10.0


def test_a_circle_that_shows_twice() -> None:
    """Bumps at both ends of a large circle: it shows above and below."""
    loop = hull([Circle((0.0, 0.0), 20.0), Circle((30.0, 0.0), 4.0), Circle((-30.0, 0.0), 4.0)])
    assert isinstance(loop, Path) and np.count_nonzero(loop.bulge) == 4
    assert loop.bounds() == pytest.approx((-34.0, -20.0, 34.0, 20.0))


round_things = st.tuples(
    st.floats(-50, 50, allow_nan=False), st.floats(-50, 50, allow_nan=False), st.floats(0.5, 20, allow_nan=False)
)


@given(st.lists(round_things, min_size=2, max_size=9))
def test_any_circles_by_shapely(some) -> None:
    """Shapely's convex hull of 4000 points on each circle lies within the chords' height of it."""
    loop = hull([Circle((x, y), r) for x, y, r in some])
    around = np.linspace(0.0, 2 * np.pi, 4000, endpoint=False)
    points = np.vstack([np.column_stack((x + r * np.cos(around), y + r * np.sin(around))) for x, y, r in some])
    other = shapely.MultiPoint(points).convex_hull
    assert loop.area() == pytest.approx(other.area, rel=1e-5)
    assert loop.length() == pytest.approx(other.length, rel=1e-5)
