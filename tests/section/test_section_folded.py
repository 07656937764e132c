"""Folded sections against closed forms: polygon and arc worked by hand, and a general geometry library for areas.

Heights of the wanted sections are those of NACA Report 460, written out here.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.errors import MakeError
from geomgen.section.blend import blend
from geomgen.section.families import naca
from geomgen.section.fold_difference import difference
from geomgen.section.folding import LEAST_FLAT, Folds, bends, folded, nose_turn
from geomgen.section.measures import measures
from geomgen.section.reshape import closed, flattened
from geomgen.section.section import Section

FOLDS = Folds((0.2, 0.45, 0.7), (0.3,), 0.03)


def half(t: float, x: np.ndarray | float) -> np.ndarray:
    """Half-thickness of the four-digit family."""
    x = np.asarray(x)
    return 5 * t * (0.29690 * np.sqrt(x) - 0.12600 * x - 0.35160 * x**2 + 0.28430 * x**3 - 0.10150 * x**4)


def touching(centre: np.ndarray, radius: float, point: np.ndarray, sign: float) -> np.ndarray:
    """Where a tangent from a point touches a circle, the upper (1) or lower (-1) of the two.

    The foot stands R²/d along the line from the centre, R sqrt(d² - R²)/d beside it.
    """
    gap = point - centre
    d = np.hypot(*gap)
    along, beside = gap / d, np.array([-gap[1], gap[0]]) / d
    return centre + radius**2 / d * along + sign * radius * np.sqrt(d * d - radius**2) / d * beside


def by_hand(t: float, x: tuple[float, ...], radius: float) -> tuple[float, np.ndarray]:
    """Upper surface of a folded symmetric section, centre of the nose (R, 0): its length, and its fine points."""
    centre = np.array([radius, 0.0])
    points = np.array([(at, float(half(t, at))) for at in (*x, 1.0)])
    touch = touching(centre, radius, points[0], 1.0)
    turn = np.pi - np.arctan2(*(touch - centre)[::-1])
    angle = np.linspace(np.pi, np.pi - turn, 4001)
    arc = centre + radius * np.column_stack([np.cos(angle), np.sin(angle)])
    corners = np.vstack([touch, points])
    return radius * turn + float(np.hypot(*np.diff(corners, axis=0).T).sum()), np.vstack([arc, points])


def polygon(section: Section, fine: int = 2000) -> shapely.Polygon:
    upper, lower = (
        s.at(np.unique(np.append(np.linspace(0.0, s.length, fine), s.along)))[0] for s in (section.upper, section.lower)
    )
    return shapely.Polygon(np.vstack([upper[::-1], lower[1:]]))


CASES = [
    ("0015", (0.2, 0.45, 0.7), 0.03),
    ("0012", (0.3,), 0.02),
    ("0018", (), 0.04),  # a teardrop
    ("0012", (0.05, 0.2, 0.5), 0.012),
]


@pytest.mark.parametrize(("digits", "x", "radius"), CASES)
def test_perimeter_and_area_by_hand(digits: str, x: tuple[float, ...], radius: float) -> None:
    length, points = by_hand(int(digits[2:]) / 100, x, radius)
    made = folded(naca(digits), Folds(x, x, radius))
    assert made.upper.length == pytest.approx(length, abs=1e-7)
    assert made.lower.length == pytest.approx(length, abs=1e-7)
    whole = shapely.Polygon(np.vstack([points[::-1], points[1:] * [1, -1]]))
    found = measures(made)
    assert found.area == pytest.approx(whole.area, abs=1e-7)
    assert found.perimeter == pytest.approx(2 * length, abs=1e-7)
    assert found.centroid == pytest.approx((whole.centroid.x, 0.0), abs=1e-6)


@pytest.mark.parametrize(("digits", "x", "radius"), CASES)
def test_a_symmetric_section_gives_a_symmetric_one(digits: str, x: tuple[float, ...], radius: float) -> None:
    made = folded(naca(digits), Folds(x, x, radius))
    assert made.upper.xy == pytest.approx(made.lower.xy * [1, -1], abs=1e-12)
    assert made.upper.tangent == pytest.approx(made.lower.tangent * [1, -1], abs=1e-12)
    found = measures(made)
    assert found.nose_radius == pytest.approx(radius, rel=2e-4)
    assert found.camber == 0.0
    if x:  # a polygon is nowhere thicker than at one of its corners
        _, points = by_hand(int(digits[2:]) / 100, x, radius)
        assert found.thickness == pytest.approx(2 * points[:, 1].max(), abs=2e-6)


SECTIONS = {
    "cambered": naca("4415"),
    "tail closed": closed(naca("2412")),
    "reflexed": naca("23112"),
    "flat below": flattened(naca("4415"), 0.4),
    "with a joint": naca("2212"),
    "sharp nose": naca("0012-04"),
}


@pytest.mark.parametrize("wanted", SECTIONS.values(), ids=SECTIONS.keys())
def test_score_lines_lie_on_the_wanted_surface_and_nothing_else_is_a_corner(wanted: Section) -> None:
    made = folded(wanted, FOLDS)
    assert made.upper.names == ("fold 1", "fold 2", "fold 3") and made.lower.names == ("fold 1",)
    wanted_outline = shapely.LineString(wanted.upper.at(np.linspace(0, wanted.upper.length, 40_000))[0])
    for x, corner in zip(FOLDS.upper, made.upper.corners, strict=True):
        place = made.upper.xy[corner]
        assert place[0] == pytest.approx(x, abs=1e-12)
        assert shapely.distance(wanted_outline, shapely.Point(place)) < 1e-8
    assert made.lower.xy[made.lower.corners[0]] == pytest.approx((0.3, float(wanted.lower_y(0.3))), abs=1e-9)
    assert np.array_equal(made.upper.xy[-1], wanted.upper.xy[-1])
    assert np.array_equal(made.lower.xy[-1], wanted.lower.xy[-1])
    assert made.tail_gap == wanted.tail_gap
    assert made.round_nose
    assert not made.upper.xy[0].any() and not made.lower.xy[0].any()
    named = [name for name, _ in made.corners() if "tail" not in name]
    assert named == ["upper fold 3", "upper fold 2", "upper fold 1", "lower fold 1"]


@pytest.mark.parametrize("wanted", SECTIONS.values(), ids=SECTIONS.keys())
def test_the_nose_is_an_arc_left_in_a_tangent(wanted: Section) -> None:
    """Radius from the centre, and length of the first flat by Pythagoras: √(d² - R²)."""
    radius, made = FOLDS.nose_radius, folded(wanted, FOLDS)
    (tx, ty) = made.upper.tangent[0]
    if wanted.round_nose:
        assert (tx, ty) == pytest.approx(wanted.upper.tangent[0], abs=1e-3)  # a closed tail parts the two by this
    else:
        assert (tx, ty) == pytest.approx((0.0, 1.0), abs=1e-9)  # half way between the tangents of a symmetric one
    centre = radius * np.array([ty, -tx])
    for surface in (made.upper, made.lower):
        end = surface.along[surface.corners[0]]
        first = surface.xy[surface.corners[0]]
        flat = float(np.sqrt(np.sum((first - centre) ** 2) - radius**2))
        on_arc, on_flat = np.linspace(0.0, end - flat, 500), np.linspace(end - flat, end, 500)
        xy, way = surface.at(on_arc)
        assert np.hypot(*(xy - centre).T) == pytest.approx(radius, abs=1e-6)  # the contract of a surface: 1e-6 chord
        assert np.abs(np.sum((xy - centre) * way, axis=1)).max() < 1e-5 * radius
        xy, way = surface.at(on_flat, "left")
        assert np.abs(way - way[0]).max() < 1e-9
        assert np.hypot(*(xy[0] - first)) == pytest.approx(flat, abs=1e-8)
        assert abs((xy[0] - centre) @ way[0]) < 1e-8


@pytest.mark.parametrize("wanted", SECTIONS.values(), ids=SECTIONS.keys())
def test_bends_nose_and_tail_make_one_turn(wanted: Section) -> None:
    made = folded(wanted, FOLDS)
    leave, arrive = -made.upper.tangent[-1], made.lower.tangent[-1]
    edge = made.upper.xy[-1] - made.lower.xy[-1]
    ways = [arrive, edge, leave] if made.tail_gap else [arrive, leave]
    tail = sum(np.degrees(np.arctan2(a[0] * b[1] - a[1] * b[0], a @ b)) for a, b in pairwise(ways))
    assert sum(angle for _, angle in bends(made)) + nose_turn(made) + tail == pytest.approx(360.0, abs=1e-9)


def test_the_angle_of_each_fold_is_that_between_its_flats() -> None:
    """From the slopes of the chords between points on the published curve."""
    made = folded(naca("0012"), Folds((0.2, 0.45, 0.7), (0.3,), 0.02))
    x = np.array([0.2, 0.45, 0.7, 1.0])
    slopes = np.degrees(np.arctan(np.diff(half(0.12, x)) / np.diff(x)))
    found = dict(bends(made))
    assert found["upper fold 2"] == pytest.approx(slopes[0] - slopes[1], abs=1e-7)
    assert found["upper fold 3"] == pytest.approx(slopes[1] - slopes[2], abs=1e-7)


def test_a_fold_outwards_is_negative() -> None:
    """The lower surface of a strongly cambered section is hollow behind its nose."""
    assert dict(bends(folded(naca("6409"), Folds((0.2, 0.45, 0.7), (0.3,), 0.02))))["lower fold 1"] < -1.0


def test_a_score_line_on_a_flat_keeps_its_name_and_bends_by_nothing() -> None:
    made = folded(flattened(naca("4415"), 0.4), Folds((0.3,), (0.1, 0.5, 0.8), 0.03))
    assert made.lower.names == ("fold 1", "fold 2", "fold 3")
    found = dict(bends(made))
    assert found["lower fold 3"] == pytest.approx(0.0, abs=1e-6)
    assert len(made.runs()) == 5


@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 0.9, 1.0])
def test_between_two_folded_sections_corners_move_straight_and_flats_stay_flat(share: float) -> None:
    one = folded(naca("4415"), Folds((0.2, 0.45, 0.7), (0.3,), 0.0286))
    two = folded(naca("4412"), Folds((0.25, 0.5, 0.65), (0.35,), 0.04))
    made = blend(one, two, share)
    assert made.round_nose
    for a, b, c in ((one.upper, two.upper, made.upper), (one.lower, two.lower, made.lower)):
        assert c.names == a.names
        ends = [(s.xy[[*s.corners, -1]]) for s in (a, b, c)]
        assert ends[2] == pytest.approx((1 - share) * ends[0] + share * ends[1], abs=1e-12)
        for run in c.runs()[1:]:
            way = run.xy[-1] - run.xy[0]
            way /= np.hypot(*way)
            assert np.abs((run.xy - run.xy[0]) @ [-way[1], way[0]]).max() < 1e-12
        # the first flat: straight behind the share of the length over which a blended nose is kept round
        first = c.runs()[0]
        flat = first.xy[c.along[: len(first.xy)] > 0.08]
        assert len(flat) > 10
        assert np.abs((flat - flat[-1]) @ [-first.tangent[-2, 1], first.tangent[-2, 0]]).max() < 1e-9


def test_made_as_wanted_differs_by_nothing() -> None:
    section = naca("4415")
    found = difference(section, section)
    assert found.greatest < 1e-12
    assert (found.area, found.thickness, found.camber) == (0.0, 0.0, 0.0)


def test_difference_against_curve_and_flats_by_hand() -> None:
    """Each flat from the published curve, between the points where both meet; the nose left out by an equal radius."""
    x = (0.15, 0.4, 0.75)
    wanted = naca("0012")
    made = folded(wanted, Folds(x, x, 0.0158))
    found = difference(wanted, made)
    _, points = by_hand(0.12, x, 0.0158)
    at = np.linspace(0.0, 1.0, 20_001) ** 2
    curve = shapely.linestrings(np.column_stack([at, half(0.12, at)]))
    flats = shapely.linestrings(points)
    both = [shapely.distance(flats, shapely.points(np.column_stack([at, half(0.12, at)])[::20])).max()]
    edges = shapely.get_coordinates(shapely.segmentize(flats, 5e-3))
    both.append(shapely.distance(curve, shapely.points(edges)).max())
    assert found.greatest == pytest.approx(max(both), rel=1e-3)
    assert 0.03 < found.at < 0.15
    whole = 2 * np.trapezoid(half(0.12, at), at)
    area = shapely.Polygon(np.vstack([points[::-1], points[1:] * [1, -1]])).area
    assert found.area == pytest.approx(area / whole - 1, abs=1e-6)
    thick = 2 * max(points[:, 1]) - 2 * half(0.12, at).max()
    assert found.thickness == pytest.approx(thick, abs=1e-6)
    assert abs(found.camber) < 1e-9


def test_camber_made_over_wanted_is_positive() -> None:
    """Four in a hundred by the designation, and the same half-thickness."""
    found = difference(naca("0012"), naca("4412"))
    assert found.camber == pytest.approx(0.04, abs=5e-4)
    assert found.area == pytest.approx(0.0, abs=0.01)


def test_difference_is_the_same_both_ways() -> None:
    a, b = naca("4415"), naca("2412")
    one, two = difference(a, b), difference(b, a)
    assert one.greatest == pytest.approx(two.greatest, abs=1e-12)
    assert (1 + one.area) * (1 + two.area) == pytest.approx(1.0)
    assert one.greatest == pytest.approx(
        shapely.hausdorff_distance(polygon(a).exterior, polygon(b).exterior, 0.5), abs=1e-5
    )


def test_many_folds_come_to_the_wanted_section() -> None:
    """Twice as many flats of a smooth curve are four times nearer; the nose stays a circle of its own radius."""
    wanted, radius = naca("0015"), 0.9 * 1.1019 * 0.15**2  # of the nose: NACA Report 460
    at = np.linspace(0.02, 1.0, 5000)
    gaps, found = [], []
    for n in (5, 10, 20):
        x = tuple((0.02 + 0.98 * (np.arange(n) / n) ** 1.5).tolist())
        made = folded(wanted, Folds(x, x, radius))
        gaps.append(float(np.abs(made.upper_y(at) - half(0.15, at)).max()))
        found.append(difference(wanted, made))
    for few, many in pairwise(gaps):
        assert 3.0 < few / many < 5.0
    assert 0.9 * gaps[0] < found[0].greatest < gaps[0]  # across a flat that leans by 20 deg, not straight up
    assert found[2].greatest < 1.5e-3 and found[2].at < 0.02  # all that is left is at the nose
    assert abs(found[2].area) < 4e-3 and abs(found[2].thickness) < 4e-4


BAD = [
    (Folds((0.5, 0.3), (), 0.02), "upper score line at 0.3 of the chord comes after that at 0.5"),
    (Folds((0.5, 0.5), (), 0.02), "comes after"),
    (Folds((), (0.0,), 0.02), "lower score line at 0 of the chord is off the section"),
    (Folds((1.2,), (), 0.02), "upper score line at 1.2"),
    (Folds((float("nan"),), (), 0.02), "off the section"),
    (
        Folds((0.3, 0.302), (), 0.02),
        "the upper flat between the score line at 0.3 and the score line at 0.302 is 0.002",
    ),
    (Folds((0.998,), (), 0.02), "between the score line at 0.998 and the tail is 0.002"),
    (Folds((), (), 0.0), "can't be rolled"),
    (Folds((), (), float("nan")), "can't be rolled"),
    (Folds((), (), float("inf")), "reaches past the upper tail"),
    (
        Folds((0.05,), (), 0.2),
        "nose rolled to a radius of 0.2 of the chord reaches past the first upper score line at 0.05",
    ),
    (Folds((), (0.05,), 0.2), "first lower score line at 0.05"),
]


@pytest.mark.parametrize(("folds", "says"), BAD)
def test_what_cannot_be_folded_is_refused(folds: Folds, says: str) -> None:
    with pytest.raises(MakeError) as raised:
        folded(naca("4415"), folds, "blade.construction.folds")
    assert any(says in str(fault) for fault in raised.value.faults)
    assert {fault.path for fault in raised.value.faults} == {"blade.construction.folds"}


def test_all_that_is_wrong_is_said_at_once() -> None:
    with pytest.raises(MakeError) as raised:
        folded(naca("4415"), Folds((0.5, 0.3), (1.5,), -1.0))
    assert len(raised.value.faults) == 3


@pytest.mark.parametrize("digits", ["4415", "0012", "6409"])
def test_the_greatest_radius_that_is_named_fits_and_no_greater_one_does(digits: str) -> None:
    """A tangent from the first score line to a circle through the nose: none where the point lies inside."""
    with pytest.raises(MakeError) as raised:
        folded(naca(digits), Folds((0.1, 0.4), (0.3,), 0.4))
    limit = min(float(fault.allowed.split()[2]) for fault in raised.value.faults)
    made = folded(naca(digits), Folds((0.1, 0.4), (0.3,), limit))
    assert polygon(made).is_valid
    first, nose = made.upper.xy[made.upper.corners[0]], made.upper.tangent[0]
    more = limit + 3e-4
    centre = more * np.array([nose[1], -nose[0]])
    assert np.hypot(*(first - centre)) < np.hypot(more, LEAST_FLAT)
    with pytest.raises(MakeError):
        folded(naca(digits), Folds((0.1, 0.4), (0.3,), more))


def test_a_first_flat_that_would_run_back_is_refused() -> None:
    """The point is outside the circle but ahead of its hindmost place and below its middle: the tangent leads ahead."""
    wanted, radius = naca("23012"), 0.3592
    point, (tx, ty) = np.array([0.7, float(wanted.upper_y(0.7))]), wanted.upper.tangent[0]
    centre = radius * np.array([ty, -tx])
    touch = touching(centre, radius, point, 1.0)
    assert touch[0] > point[0] and touch[1] > point[1] > 0.0
    with pytest.raises(MakeError, match="first upper score line"):
        folded(wanted, Folds((0.7,), (), radius))


def test_flats_that_cross_are_refused() -> None:
    """One line above from nose to tail, and a lower surface that rises above it."""
    with pytest.raises(MakeError, match=r"upper and the lower flats cross at 0\.3 of the chord"):
        folded(naca("6409"), Folds((), (0.1, 0.3), 0.01))


@settings(max_examples=60, deadline=None)
@given(
    digits=st.sampled_from(["4415", "0012", "6409", "23112", "2212", "0006"]),
    upper=st.lists(st.floats(0.01, 0.99), max_size=4),
    lower=st.lists(st.floats(0.01, 0.99), max_size=4),
    radius=st.floats(1e-3, 0.3),
)
def test_what_is_not_refused_is_one_sound_outline(
    digits: str, upper: list[float], lower: list[float], radius: float
) -> None:
    try:
        made = folded(naca(digits), Folds(tuple(sorted(upper)), tuple(sorted(lower)), radius))
    except MakeError as error:
        assert all(fault.wrong and (fault.allowed or fault.remedy) for fault in error.faults)
        return
    whole = polygon(made)
    assert whole.is_valid
    assert measures(made).area == pytest.approx(whole.area, abs=1e-6)
    for surface, x in ((made.upper, sorted(upper)), (made.lower, sorted(lower))):
        assert surface.xy[list(surface.corners), 0] == pytest.approx(x, abs=1e-12)
        assert np.all(np.diff(surface.xy[surface.corners[0] if surface.corners else -2 :, 0]) >= 0.0)
