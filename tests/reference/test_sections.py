"""Sections against tables and figures made by others.

naca/*.csv : each file names its source. The recomputed tables agree with the equations to their last digit (5e-5 % of
the chord) where they give true stations; those at equal x were interpolated by their author, to 0.0053 % near the nose.
The source of 23012 used an unrounded r of about 0.2026 where the report prints 0.2025: 0.0012 %.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from geomgen.section.families import five_digit, four_digit, naca
from geomgen.section.mean_line import MeanLine
from geomgen.section.measures import measures
from geomgen.section.section import Surface

FloatArray = NDArray[np.float64]

HERE = Path(__file__).parent / "naca"
PERCENT = 0.01


def table(name: str) -> FloatArray:
    """Rows of a table at chord 1."""
    return np.loadtxt(HERE / f"{name}.csv", delimiter=",", skiprows=2) * PERCENT


def off(surface: Surface, x: FloatArray, y: FloatArray) -> FloatArray:
    """How far points lie from a surface, square to it."""
    h = 1e-6
    slope = (surface.y(x + h) - surface.y(x - h)) / (2.0 * h)
    return np.abs(surface.y(x) - y) / np.hypot(1.0, slope)


@pytest.mark.parametrize("digits", ["0012", "0015", "2412", "4412", "23012"])
def test_ordinates_at_equal_x(digits: str) -> None:
    section = naca(digits)
    x, upper, lower = table(f"naca_{digits}")[1:].T  # row 0: a cambered nose has no one height at x = 0
    exact = digits in ("0012", "0015")  # nothing to interpolate
    assert np.max(np.abs(section.upper_y(x) - upper)) < (1e-4 if exact else 0.006) * PERCENT
    assert np.max(np.abs(section.lower_y(x) - lower)) < (1e-4 if exact else 0.006) * PERCENT


@pytest.mark.parametrize(("digits", "tolerance"), [("2412", 1e-4), ("4412", 1e-4), ("23012", 0.002)])
def test_points_at_their_true_stations(digits: str, tolerance: float) -> None:
    section = naca(digits)
    xu, yu, xl, yl = table(f"naca_{digits}_stations")[1:].T
    assert np.max(off(section.upper, xu, yu)) < tolerance * PERCENT
    assert np.max(off(section.lower, xl, yl)) < tolerance * PERCENT


@pytest.mark.parametrize("digits", ["2412", "4412"])
def test_classical_tables_to_their_two_places(digits: str) -> None:
    section = naca(digits)
    x, upper, lower = table(f"naca_{digits}_rounded2dp")[1:].T
    assert np.max(np.abs(section.upper_y(x) - upper)) < 0.02 * PERCENT
    assert np.max(np.abs(section.lower_y(x) - lower)) < 0.02 * PERCENT


@pytest.mark.parametrize(("digits", "radius"), [("0012", 1.587), ("0015", 2.479)])
def test_nose_radius(digits: str, radius: float) -> None:
    """Leading-edge radius 1.1019 t² in percent, as printed by the recomputed tables."""
    assert measures(naca(digits)).nose_radius == pytest.approx(radius * PERCENT, abs=0.001 * PERCENT)


@pytest.mark.parametrize(("digits", "half"), [("0012", 0.1260), ("0015", 0.1575)])
def test_tail_is_left_open_as_published(digits: str, half: float) -> None:
    assert naca(digits).tail_gap == pytest.approx(2.0 * half * PERCENT, abs=2e-4 * PERCENT)


# Area, centroid, perimeter without the tail's edge, second moment about the centroid: an independent integration of the
# equations with a very fine polygon. Last figure of each value as given.
GEOMETRY = {
    "0012": (0.082210, 0.42044, 0.00000, 2.03927, 6.8096e-05),
    "0015": (0.102762, 0.42044, 0.00000, 2.05657, 1.3300e-04),
    "2412": (0.082282, 0.42031, 0.01559, 2.04140, 6.9953e-05),
    "4412": (0.082497, 0.41993, 0.03114, 2.04777, 7.5575e-05),
    "23012": (0.082314, 0.42004, 0.01218, 2.04257, 6.9934e-05),
}


@pytest.mark.parametrize("digits", GEOMETRY)
def test_geometry(digits: str) -> None:
    area, x, y, perimeter, ixx = GEOMETRY[digits]
    found = measures(naca(digits))
    assert found.area == pytest.approx(area, rel=1e-4)
    assert found.centroid[0] == pytest.approx(x, rel=1e-4)
    assert found.centroid[1] == pytest.approx(y, abs=6e-6)  # given to five places
    assert found.perimeter == pytest.approx(perimeter, rel=1e-4)
    assert found.ixx == pytest.approx(ixx, rel=1e-4)


@pytest.mark.parametrize("thickness", [6, 12, 24])
def test_area_of_every_symmetric_section(thickness: int) -> None:
    """0.685083·t, the integral of the published thickness equation."""
    assert measures(naca(f"00{thickness:02d}")).area == pytest.approx(0.685083 * thickness / 100.0, rel=1e-6)


# Slope of the mean line at the leading edge, printed by the recomputed tables.
@pytest.mark.parametrize(
    ("mean", "slope"),
    [
        (four_digit.mean_line(0.02, 0.4), 0.1000),
        (four_digit.mean_line(0.04, 0.4), 0.2000),
        (four_digit.mean_line(0.06, 0.4), 0.3000),
        (five_digit.mean_line(0.3, 1), 0.5961),
        (five_digit.mean_line(0.3, 2), 0.3927),
        (five_digit.mean_line(0.3, 3), 0.3053),
        (five_digit.mean_line(0.3, 4), 0.2523),
        (five_digit.mean_line(0.3, 5), 0.2147),
    ],
)
def test_slope_at_the_leading_edge(mean: MeanLine, slope: float) -> None:
    assert float(mean.slope(np.array([0.0]))[0]) == pytest.approx(slope, abs=3e-4)


# Angle of no lift [deg], moment about the quarter chord, ideal angle [deg] and ideal lift: thin-aerofoil theory,
# integrated independently with 200 000 points.
@pytest.mark.parametrize(
    ("mean", "no_lift", "moment", "ideal", "ideal_lift"),
    [
        (four_digit.mean_line(0.02, 0.4), -2.0772, -0.05312, 0.2574, 0.2560),
        (four_digit.mean_line(0.04, 0.4), -4.1545, -0.10624, 0.5148, 0.5120),
        (five_digit.mean_line(0.3, 3), -1.0936, -0.01284, 1.6425, 0.3000),
    ],
)
def test_thin_aerofoil_figures(mean: MeanLine, no_lift: float, moment: float, ideal: float, ideal_lift: float) -> None:
    angle = (np.arange(200_000) + 0.5) * np.pi / 200_000
    slope = mean.slope(0.5 * (1.0 - np.cos(angle)))
    a0, a1, a2 = np.mean(slope), 2.0 * np.mean(slope * np.cos(angle)), 2.0 * np.mean(slope * np.cos(2.0 * angle))
    assert np.degrees(a0 - 0.5 * a1) == pytest.approx(no_lift, abs=0.005)
    assert np.pi / 4.0 * (a2 - a1) == pytest.approx(moment, abs=1e-4)
    assert np.degrees(a0) == pytest.approx(ideal, abs=0.005)
    assert np.pi * a1 == pytest.approx(ideal_lift, abs=1e-3)
