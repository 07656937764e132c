"""The families by conditions, where no published table was at hand: modified four-digit, five-digit other than 230,
reflexed. (Those with a table are in tests/reference/test_sections.py.)"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.polynomial import Polynomial
from numpy.typing import NDArray

from geomgen.errors import DesignError
from geomgen.section import hermite
from geomgen.section.families import five_digit, modified, naca, reflexed
from geomgen.section.laid_off import JOINT
from geomgen.section.mean_line import MeanLine
from geomgen.section.measures import measures
from geomgen.section.section import Section, Surface

FloatArray = NDArray[np.float64]

EACH = ["0006", "0012", "2412", "4415", "6409", "23012", "24112", "0012-64", "2412-34", "0024"]


def thickness_equation(x: FloatArray, t: float, last: float = -0.1015) -> FloatArray:
    return 5 * t * (0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 + last * x**4)


def four_digit_by_hand(m: float, p: float, t: float, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n, 2) upper and lower points, written out from the equations of Report 460 again."""
    ahead = x < p
    yc = np.where(ahead, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
    slope = np.arctan(np.where(ahead, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x)))
    yt = thickness_equation(x, t)
    upper = np.column_stack([x - yt * np.sin(slope), yc + yt * np.cos(slope)])
    lower = np.column_stack([x + yt * np.sin(slope), yc - yt * np.cos(slope)])
    return upper, lower


def distance(points: FloatArray, surface: Surface) -> float:
    """Greatest distance of points from a surface, its cubic stretches cut into 40 000 chords."""
    xy = surface.at(np.linspace(0.0, surface.length, 40_001))[0]
    worst = 0.0
    for point in points:
        i = int(np.clip(np.argmin(np.sum((xy - point) ** 2, axis=1)), 1, len(xy) - 2))
        way = xy[i + 1] - xy[i - 1]
        off = point - xy[i]
        worst = max(worst, abs(way[0] * off[1] - way[1] * off[0]) / float(np.hypot(*way)))
    return worst


@pytest.mark.parametrize(("digits", "m", "p", "t"), [("4412", 0.04, 0.4, 0.12), ("2415", 0.02, 0.4, 0.15)])
def test_surfaces_are_the_equation_between_their_samples(digits: str, m: float, p: float, t: float) -> None:
    x = np.random.default_rng(1).random(150) ** 2
    section = naca(digits)
    upper, lower = four_digit_by_hand(m, p, t, x)
    assert distance(upper, section.upper) < 1e-6
    assert distance(lower, section.lower) < 1e-6


@pytest.mark.parametrize("digits", EACH)
def test_tangents_are_those_of_the_curve(digits: str) -> None:
    """Unit length, and the direction that neighbouring points give by differences of fourth order in the parameter."""
    for surface in (naca(digits).upper, naca(digits).lower):
        assert np.allclose(np.hypot(*surface.tangent.T), 1.0, atol=1e-12)
        chord = np.diff(surface.xy, axis=0)
        middle = surface.tangent[1:] + surface.tangent[:-1]
        cross = chord[:, 0] * middle[:, 1] - chord[:, 1] * middle[:, 0]
        angle = np.abs(cross) / np.hypot(*chord.T) / np.hypot(*middle.T)
        assert np.max(angle) < np.radians(0.5)  # a chord's slope is the mean of its ends' to second order


@pytest.mark.parametrize("digits", EACH)
def test_nose_is_round_and_the_frame_is_the_chord(digits: str) -> None:
    section = naca(digits)
    assert np.array_equal(section.upper.xy[0], [0.0, 0.0]) and np.array_equal(section.lower.xy[0], [0.0, 0.0])
    assert np.allclose(section.upper.tangent[0], -section.lower.tangent[0], atol=1e-12)
    assert np.allclose(section.upper.xy[-1] + section.lower.xy[-1], [2.0, 0.0], atol=1e-6)
    assert np.all(section.depth(np.linspace(0.001, 0.999, 500)) > 0.0)


@pytest.mark.parametrize("position", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("index", [3, 6, 8, 9])
def test_modified_is_thickest_where_the_digit_says(index: int, position: int) -> None:
    found = measures(naca(f"0012-{index}{position}"))
    assert found.thickness == pytest.approx(0.12, abs=1e-6)
    assert found.thickness_x == pytest.approx(position / 10.0, abs=1e-3)


@pytest.mark.parametrize(("index", "times"), [(3, 0.25), (4, 4 / 9), (6, 1.0), (8, 16 / 9), (9, 3.0)])
def test_modified_nose_radius_goes_with_the_square_of_the_digit(index: int, times: float) -> None:
    assert measures(naca(f"0015-{index}4")).nose_radius == pytest.approx(times * 1.1019 * 0.15**2, rel=2e-3)


@pytest.mark.parametrize(("position", "slope"), [(2, 1.000), (3, 1.170), (4, 1.575), (5, 2.325), (6, 3.500)])
def test_modified_tail_has_the_published_angle_and_gap(position: int, slope: float) -> None:
    """Report 492: the tail's half-angle has a tangent of d1 t/0.2 (from memory, as 1.575 t for 40 %); gap 0.02 t."""
    section = naca(f"0012-6{position}")
    along, up = section.upper.tangent[-1]
    assert -up / along == pytest.approx(slope * 0.12, abs=1e-9)
    assert section.tail_gap == pytest.approx(0.02 * 0.12, abs=1e-9)


def test_modified_63_is_close_to_the_usual_form() -> None:
    """The digits 63 stand for the usual nose and place; the report's forms differ by little, ours must too."""
    x = np.linspace(0.0, 1.0, 500)
    assert np.max(np.abs(naca("0012-63").upper_y(x) - naca("0012").upper_y(x))) < 0.002
    # and its table's tail slope for 30 % is the usual form's, differentiated by hand
    usual = -(0.5 * 0.2969 - 0.1260 - 2 * 0.3516 + 3 * 0.2843 - 4 * 0.1015)
    assert usual == pytest.approx(0.234, abs=3e-4)


def test_modified_curvature_runs_on_over_the_greatest_thickness() -> None:
    for position in (2, 3, 4, 5, 6):
        form = modified.half_thickness(0.12, 4, position)
        fore, aft = Polynomial(form.fore), Polynomial(form.aft)
        u = np.sqrt(position / 10.0)
        assert fore(u) == pytest.approx(0.06, abs=1e-12)
        for order in (0, 1, 2):
            assert fore.deriv(order)(u) == pytest.approx(aft.deriv(order)(u), abs=1e-9)
        assert fore.deriv()(u) == pytest.approx(0.0, abs=1e-12)


def test_sharp_nose_is_a_named_corner() -> None:
    section = naca("0012-04")
    assert not section.round_nose
    assert "nose" in [name for name, _ in section.corners()]
    assert measures(section).nose_radius == 0.0
    along, up = section.upper.tangent[0]
    x = 1e-7
    assert up / along == pytest.approx(float(section.upper_y(x)) / x, rel=1e-4)


def thin_aerofoil(mean: MeanLine) -> tuple[float, float]:
    """Ideal lift and moment about the quarter chord, by the first coefficients of the slope's cosine series."""
    angle = (np.arange(100_000) + 0.5) * np.pi / 100_000
    slope = mean.slope(0.5 * (1.0 - np.cos(angle)))
    first, second = (2.0 * float(np.mean(slope * np.cos(n * angle))) for n in (1, 2))
    return np.pi * first, np.pi / 4.0 * (second - first)


def highest(mean: MeanLine) -> float:
    x = np.linspace(0.0, 1.0, 100_001)
    assert mean.joint is not None
    return float(x[np.argmax(np.where(x < mean.joint, mean.at(x)[0], mean.at(x, aft=True)[0]))])


@pytest.mark.parametrize("position", [1, 2, 3, 4, 5])
def test_five_digit_lift_and_place_of_camber(position: int) -> None:
    mean = five_digit.mean_line(0.3, position)
    assert thin_aerofoil(mean)[0] == pytest.approx(0.3, abs=0.01)  # the printed k1 of 210 gives 0.308
    assert highest(mean) == pytest.approx(position / 20.0, abs=3e-4)


@pytest.mark.parametrize("position", [2, 3, 4, 5])
def test_reflexed_has_no_moment(position: int) -> None:
    mean = reflexed.mean_line(0.3, position)
    lift, moment = thin_aerofoil(mean)
    assert abs(moment) < 1e-5  # 1e-3 is asked for
    assert lift == pytest.approx(0.3, abs=0.006)
    assert highest(mean) == pytest.approx(position / 20.0, abs=3e-4)


@pytest.mark.parametrize("position", [2, 3, 4, 5])
def test_reflexed_is_the_printed_line_to_a_hair(position: int) -> None:
    x = np.linspace(0.0, 1.0, 1001)
    lines = [reflexed.mean_line(0.3, position, known) for known in (reflexed.REFLEXED, reflexed.PRINTED)]
    heights = [np.where(x < float(line.joint or 0.0), line.at(x)[0], line.at(x, aft=True)[0]) for line in lines]
    assert np.max(np.abs(heights[0] - heights[1])) < 3e-4
    assert thin_aerofoil(lines[1])[1] == pytest.approx(0.0, abs=2e-3)


@pytest.mark.parametrize("make", [five_digit.mean_line, reflexed.mean_line])
def test_mean_lines_begin_and_end_on_the_chord_and_meet_in_a_tangent(
    make: Callable[[float, int], MeanLine],
) -> None:
    for position in (2, 3, 4, 5):
        mean = make(0.45, position)
        joint = np.array([mean.joint], dtype=float)
        assert mean.at(np.zeros(1))[0][0] == pytest.approx(0.0, abs=1e-12)
        assert mean.at(np.ones(1), aft=True)[0][0] == pytest.approx(0.0, abs=1e-12)
        for fore, aft in zip(mean.at(joint), mean.at(joint, aft=True), strict=True):
            assert fore[0] == pytest.approx(aft[0], abs=1e-9)  # height, slope and curvature


def test_lift_digit_scales_the_mean_line() -> None:
    x = np.linspace(0.01, 0.99, 50)
    assert np.allclose(2.0 * five_digit.mean_line(0.3, 3).at(x)[0], five_digit.mean_line(0.6, 3).at(x)[0])
    assert float(np.max(naca("43012").camber_y(x))) > 1.9 * float(np.max(naca("23012").camber_y(x)))


@pytest.mark.parametrize("digits", ["0012", "4412", "23012", "23112", "0012-64"])
def test_closed_tail_meets_in_a_point_and_moves_little_else(digits: str) -> None:
    closed, open_ = naca(digits, tail="closed"), naca(digits)
    assert closed.tail_gap == 0.0
    assert np.array_equal(closed.upper.xy[-1], closed.lower.xy[-1])
    assert "tail" in [name for name, _ in closed.corners()]
    x = np.linspace(0.0, 0.4, 100)
    assert np.max(np.abs(closed.upper_y(x) - open_.upper_y(x))) < 3e-4


def test_closed_tail_is_the_coefficient_that_sums_to_nought() -> None:
    x = np.linspace(0.001, 0.999, 300)
    assert np.max(np.abs(naca("0012", tail="closed").upper_y(x) - thickness_equation(x, 0.12, -0.1036))) < 1e-6


def test_a_kink_of_the_published_equations_is_a_corner_only_where_it_can_be_felt() -> None:
    """The curvature of a four-digit mean line jumps at p: the surfaces kink where the thickness still changes."""
    assert naca("4415").upper.corners == ()
    strong = naca("2212")
    assert strong.upper.names == strong.lower.names == (JOINT,)
    i = strong.upper.corners[0]
    before, after = strong.upper.tangent[i : i + 2]
    assert np.array_equal(strong.upper.xy[i], strong.upper.xy[i + 1])
    assert 0.1 < abs(np.degrees(np.arctan2(*before) - np.arctan2(*after))) < 0.2


def outline(section: Section) -> FloatArray:
    return np.vstack([run.xy for run in section.runs()])


@pytest.mark.parametrize("digits", ["2212", "4412", "0012-04", "9112"])
def test_runs_go_once_round_anticlockwise_and_meet_at_the_corners(digits: str) -> None:
    section = naca(digits)
    runs, corners = section.runs(), section.corners()
    for run in runs:
        assert np.all(np.hypot(*np.diff(run.xy, axis=0).T) > 0.0)
        assert np.all(np.sum(np.diff(run.xy, axis=0) * run.tangent[:-1], axis=1) > 0.0)
    places = [place for _, place in corners]
    for i, run in enumerate(runs):
        assert np.allclose(run.xy[0], places[i], atol=1e-12)
        assert np.allclose(run.xy[-1], places[(i + 1) % len(places)], atol=1e-12)
    x, y = outline(section).T
    assert 0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) == pytest.approx(measures(section).area, rel=1e-3)


def test_heights_at_x_are_those_of_the_stretch_and_run_on_behind_the_tail() -> None:
    surface = naca("4412").lower
    point = surface.at([0.3, 0.9])[0]
    assert np.allclose(surface.y(point[:, 0]), point[:, 1], atol=1e-12)
    slope = surface.tangent[-1, 1] / surface.tangent[-1, 0]
    assert float(surface.y(1.0)) == pytest.approx(surface.xy[-1, 1] + slope * (1.0 - surface.xy[-1, 0]), abs=1e-12)
    assert surface.y(np.zeros((2, 3))).shape == (2, 3)


def test_length_of_a_circle() -> None:
    """Stretches of 6 deg of a circle: the closed form is π."""
    angle = np.linspace(0.0, np.pi, 31)
    xy = np.column_stack([1.0 - np.cos(angle), np.sin(angle)])
    tangent = np.column_stack([np.sin(angle), np.cos(angle)])
    assert hermite.lengths(xy, tangent)[-1] == pytest.approx(np.pi, rel=1e-6)


@pytest.mark.parametrize(
    ("digits", "says"),
    [
        ("441", "not a designation"),
        ("4412-6", "not a designation"),
        ("44-12", "not a designation"),
        ("hello", "not a designation"),
        ("4400", "thickness"),
        ("4012", "without a place"),
        ("0412", "no camber"),
        ("23212", "third digit is 2"),
        ("26012", "second digit of 6"),
        ("21112", "no reflexed mean line"),
        ("03012", "lift"),
        ("0012-67", "70 % of the chord"),
        ("0012-61", "10 % of the chord"),
    ],
)
def test_refused_designations(digits: str, says: str) -> None:
    with pytest.raises(DesignError) as caught:
        naca(digits, path="blade.along[0].section")
    (fault,) = caught.value.faults
    assert says in fault.wrong
    assert (fault.path, fault.value) == ("blade.along[0].section", digits)
