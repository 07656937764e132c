"""A shape in a rectangle at an angle, by closed form for a bar and by trying for others."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.plane.turned_fit import angle_to_fit


def bar(long: float, wide: float) -> np.ndarray:
    return np.add([(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)], (7.0, -3.0))


def extent(long: float, wide: float, deg: float) -> tuple[float, float]:
    """Of a bar turned by an angle: l cos a + w sin a, and l sin a + w cos a."""
    c, s = abs(np.cos(np.radians(deg))), abs(np.sin(np.radians(deg)))
    return long * c + wide * s, long * s + wide * c


def test_a_bar_that_is_longer_than_the_bed_goes_on_it_at_45_deg() -> None:
    angle = angle_to_fit(bar(400, 20), (300, 300))
    assert angle in (45.0, 135.0) and max(extent(400, 20, angle)) == pytest.approx(420 / np.sqrt(2))
    assert angle_to_fit(bar(404.3, 20), (300, 300)) is None  # 424.3 / sqrt 2 is 300.02
    assert angle_to_fit(bar(404.2, 20), (300, 300)) in (45.0, 135.0)


def test_straight_where_that_will_do() -> None:
    assert angle_to_fit(bar(300, 200), (300, 200)) == 0.0
    assert angle_to_fit(bar(300, 200), (200, 300)) == 90.0
    assert angle_to_fit(bar(300.1, 200), (300, 200)) is None


@settings(max_examples=150, deadline=None)
@given(st.floats(50, 500), st.floats(1, 200), st.floats(50, 400), st.floats(50, 400))
def test_a_bar_by_closed_form(long: float, wide: float, x: float, y: float) -> None:
    tried = np.linspace(0.0, 180.0, 7201)
    over = np.max(np.array([extent(long, wide, deg) for deg in tried]) - (x, y), axis=1)  # by how much it hangs over
    angle = angle_to_fit(bar(long, wide), (x, y))
    if angle is None:
        assert over.min() > 0.0
    else:
        assert max(np.subtract(extent(long, wide, angle), (x, y))) < 1e-5
    if over.min() < -0.2:
        assert angle is not None


def test_ranges_of_a_few_hundredths_of_a_degree_are_found() -> None:
    """A bar just short of the longest that goes in: at no whole degree, and not between tenths."""
    a = np.radians(31.437)
    c, s = np.cos(a), np.sin(a)
    size = (400 * c + 30 * s + 0.01, 400 * s + 30 * c + 0.01)
    angle = angle_to_fit(bar(400, 30), size)
    assert angle is not None and (np.array(extent(400, 30, angle)) < np.add(size, 1e-5)).all()


def test_any_polygon_against_trying() -> None:
    random = np.random.default_rng(3)
    for _ in range(40):
        points = random.normal(size=(12, 2)) * (90.0, 30.0)
        least = min(
            np.ptp(shapely.get_coordinates(shapely.affinity.rotate(shapely.MultiPoint(points), deg)), axis=0).max()
            for deg in np.arange(0.0, 180.0, 0.25)
        )
        assert angle_to_fit(points, (least + 0.01, least + 0.01)) is not None
        assert angle_to_fit(points, (0.98 * least, 0.98 * least)) is None
