"""Smooth curves into tangent arcs: distance both ways to a dense curve, kinks, shortest edge, count, straight runs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest
from curves import FloatArray, clothoid, ellipse_arc, four_digit, inwards, round_the_nose, unit
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import cKDTree

from geomgen.errors import MakeError
from geomgen.plane.arcs import Piece, join, smooth_arcs
from geomgen.plane.path import Path
from geomgen.tolerances import STANDARD, Tolerances

DENSE = 20_001


def kinks_deg(path: Path) -> FloatArray:
    """Angles between neighbours; with the one at the first vertex of a closed path."""
    begin, end = path.segments().directions()
    turn = np.roll(begin, -1) - end if path.closed else begin[1:] - end[:-1]
    return np.degrees(np.abs((turn + np.pi) % (2 * np.pi) - np.pi))


def apart_mm(path: Path, curve: FloatArray) -> tuple[float, float]:
    """Greatest distance of the curve from the path and of the path from the curve."""
    flat = path.flattened(1e-6)
    return off_mm(curve, flat), off_mm(flat, curve)


def off_mm(points: FloatArray, line: FloatArray) -> float:
    """Greatest distance of points from the two chords of a dense polyline that meet in the nearest of its corners."""
    nearest = np.clip(cKDTree(line).query(points)[1], 1, len(line) - 2)
    away = []
    for first in (nearest - 1, nearest):
        step = line[first + 1] - line[first]
        share = np.clip(((points - line[first]) * step).sum(axis=1) / (step**2).sum(axis=1), 0.0, 1.0)
        away.append(np.hypot(*(points - line[first] - share[:, None] * step).T))
    return float(np.min(away, axis=0).max())


def check(pieces: Sequence[Piece], dense: Sequence[FloatArray], tol: Tolerances = STANDARD) -> list[Path]:
    paths = smooth_arcs(pieces, tol)
    for path, piece, curve in zip(paths, pieces, dense, strict=True):
        assert max(apart_mm(path, curve)) <= tol.chordal_mm
        assert kinks_deg(path).max(initial=0.0) <= tol.kink_deg
        assert path.segments().chord.min() >= tol.least_edge_mm
        assert np.array_equal(path.xy[[0, -1]], piece.xy[[0, -1]])
        begin, end = path.segments().directions()
        ends = np.array([(np.cos(way), np.sin(way)) for way in (begin[0], end[-1])])
        assert ends == pytest.approx(piece.tangent[[0, -1]], abs=np.radians(tol.kink_deg))
    return paths


@pytest.mark.parametrize("chord", [20.0, 60.0, 210.0, 600.0])
@pytest.mark.parametrize("code", ["0012", "4412", "4415", "2421"])
def test_sections(code: str, chord: float) -> None:
    dense = [piece.xy for piece in four_digit(code, chord, DENSE)]
    paths = check(four_digit(code, chord, 161), dense)
    assert sum(len(path.segments().bulge) for path in paths) <= 60


@pytest.mark.parametrize("chord", [60.0, 210.0])
def test_one_piece_round_the_nose(chord: float) -> None:
    dense = round_the_nose(*four_digit("4412", chord, DENSE)).xy
    (path,) = check([round_the_nose(*four_digit("4412", chord, 161))], [dense])
    assert len(path.segments().bulge) <= (44 if chord > 100 else 34)


@pytest.mark.parametrize(("chord", "skin"), [(210.0, 2.5), (150.0, 1.0), (600.0, 8.0), (60.0, 0.5)])
def test_under_a_skin(chord: float, skin: float) -> None:
    """The curve at a fixed distance inside a section, the nose kept round (its radius 1.1019 t² is greater)."""
    dense, coarse = (inwards_both(chord, skin, count) for count in (DENSE, 161))
    paths = check([coarse], [dense.xy])
    assert len(paths[0].segments().bulge) <= 60


def inwards_both(chord: float, skin: float, count: int) -> Piece:
    whole = round_the_nose(*four_digit("4415", chord, count))
    shifted = inwards(whole, -skin)
    tenth = (len(whole.xy) - 1) // 10
    kept = slice(tenth, len(whole.xy) - tenth)
    return Piece(shifted.xy[kept], shifted.tangent[kept])


@pytest.mark.parametrize(("a", "b"), [(5.0, 5.0), (10.0, 3.0), (40.0, 6.0), (3.0, 1.0), (300.0, 100.0)])
def test_ellipses(a: float, b: float) -> None:
    paths = check([ellipse_arc(a, b, 0.0, 360.0, 721)], [ellipse_arc(a, b, 0.0, 360.0, DENSE).xy])
    assert paths[0].area() == pytest.approx(np.pi * a * b, abs=0.01 * paths[0].length())


def test_spirals_left_and_right() -> None:
    """A clothoid's |dκ/ds| is one number k': pairs of arcs of (324 · tolerance / k')^(1/3) each would stray by the
    tolerance, as known of pairs that meet on the curve; ours need no more of them."""
    length, end = 120.0, 0.05
    spiral = clothoid(length, end, 200)
    mirrored = Piece(spiral.xy * (1, -1), spiral.tangent * (1, -1))
    dense = clothoid(length, end, DENSE).xy
    paths = check([spiral, mirrored], [dense, dense * (1, -1)])
    pairs = len(paths[0].segments().bulge) / 2
    assert pairs <= np.ceil(length / (324 * 0.01 / (end / length)) ** (1 / 3))
    assert paths[1].bulge == pytest.approx(-paths[0].bulge, abs=1e-9)


def test_a_curve_that_bends_both_ways() -> None:
    x = np.linspace(0.0, 200.0, DENSE)
    dense = np.column_stack((x, 8.0 * np.sin(x / 15.0)))
    way = unit(np.column_stack((np.ones_like(x), 8.0 / 15.0 * np.cos(x / 15.0))))
    check([Piece(dense[::40], way[::40])], [dense])


def test_an_arc_stays_one_arc_and_a_straight_line_one_line() -> None:
    quarter = ellipse_arc(30.0, 30.0, 10.0, 60.0, 40)
    line = Piece(np.linspace((1.0, 2.0), (101.0, 52.0), 30), np.tile(unit(np.array([(2.0, 1.0)])), (30, 1)))
    arc, straight = smooth_arcs([quarter, line], STANDARD)
    assert len(arc.xy) == 2
    assert arc.bulge[0] == pytest.approx(np.tan(np.radians(50.0) / 4), rel=1e-6)
    assert np.array_equal(straight.xy, line.xy[[0, -1]])
    assert straight.bulge[0] == 0.0


def test_a_straight_run_within_a_curve_is_one_line() -> None:
    """A quarter arc running into a straight edge and another arc, all tangent: three segments, the middle a line."""
    first, last = ellipse_arc(20.0, 20.0, 180.0, 270.0, 60), ellipse_arc(20.0, 20.0, 270.0, 360.0, 60)
    middle = np.column_stack((np.linspace(0.0, 150.0, 80), np.full(80, -20.0)))[1:-1]
    piece = Piece(
        np.vstack((first.xy, middle, last.xy + np.array((150.0, 0.0)))),
        np.vstack((first.tangent, np.tile((1.0, 0.0), (78, 1)), last.tangent)),
    )
    (path,) = smooth_arcs([piece], STANDARD)
    flat = np.flatnonzero(path.segments().bulge == 0.0)
    assert len(flat) == 1
    assert path.segments().chord[flat[0]] == pytest.approx(150.0, abs=1e-9)
    assert path.length() == pytest.approx(20.0 * np.pi + 150.0, abs=1e-3)
    assert len(path.segments().bulge) <= 5
    assert kinks_deg(path).max() <= STANDARD.kink_deg


@pytest.mark.parametrize("short", [0.01, 0.05, 0.3, 0.5, 2.0])
def test_a_short_bend_before_a_straight_run_borrows_length_from_it(short: float) -> None:
    """The arc before a straight run may be shorter than two edges; edges and tangents still hold."""
    radius = 5.0
    bend = ellipse_arc(radius, radius, 270.0 - np.degrees(short / radius), 270.0, 9)
    run = np.column_stack((np.linspace(0.0, 40.0, 400), np.full(400, -radius)))[1:]
    piece = Piece(np.vstack((bend.xy, run)), np.vstack((bend.tangent, np.tile((1.0, 0.0), (399, 1)))))
    (path,) = check([piece], [np.vstack((bend.xy, run))])
    assert path.bulge[-2] == 0.0


def test_pieces_too_short_to_fit_become_one_line_or_arc() -> None:
    bent = ellipse_arc(0.1, 0.1, 0.0, 80.0, 9)  # 0.14 mm: under the least edge
    mild = ellipse_arc(1.0, 1.0, 0.0, 20.0, 9)  # 0.35 mm: one arc
    two = Piece(np.array([(0.0, 0.0), (0.05, 0.0)]), np.array([(1.0, 0.0), (1.0, 0.0)]))
    paths = smooth_arcs([bent, mild, two], STANDARD)
    assert [len(path.xy) for path in paths] == [2, 2, 2]
    assert paths[0].bulge[0] == 0.0
    assert paths[1].bulge[0] == pytest.approx(np.tan(np.radians(5.0)), rel=1e-6)
    assert paths[2].bulge[0] == 0.0


def test_what_turns_too_sharply_is_refused_with_place_and_path() -> None:
    sharp = ellipse_arc(10.0, 0.2, -90.0, 90.0, 2001)  # radius 0.004 mm at the tip
    hook = ellipse_arc(0.16, 0.04, 0.0, 160.0, 40)  # 0.3 mm long, nearly half a turn
    fine = ellipse_arc(30.0, 20.0, 0.0, 90.0, 161)
    pieces = [Piece(sharp.xy, sharp.tangent, "blade.ribs.root"), fine, Piece(hook.xy, hook.tangent, "blade.ribs.rest")]
    with pytest.raises(MakeError) as caught:
        smooth_arcs(pieces, STANDARD)
    assert sorted(fault.path for fault in caught.value.faults) == ["blade.ribs.rest", "blade.ribs.root"]
    root = next(fault for fault in caught.value.faults if fault.path == "blade.ribs.root")
    assert "0.01 mm" in str(root)
    x = float(str(root).split("near x ")[1].split(",")[0])
    assert 8.0 < x <= 10.0
    assert root.remedy


def test_a_curve_that_folds_back_is_refused() -> None:
    nose = ellipse_arc(40.0, 4.0, -90.0, 90.0, 401)  # radius 0.4 mm at the tip
    folded = Piece(inwards(nose, -1.0).xy, nose.tangent, "blade.skin.all")
    with pytest.raises(MakeError, match="folds back") as caught:
        smooth_arcs([folded], STANDARD)
    assert [fault.path for fault in caught.value.faults] == ["blade.skin.all"]


def test_wrong_shapes_are_refused() -> None:
    good = ellipse_arc(3.0, 3.0, 0.0, 90.0, 9)
    for piece in (
        Piece(good.xy[:1], good.tangent[:1]),
        Piece(good.xy, good.tangent[:-1]),
        Piece(good.xy, 2.0 * good.tangent),
        Piece(np.where(good.xy > 2.9, np.nan, good.xy), good.tangent),
    ):
        with pytest.raises(ValueError, match="piece needs"):
            smooth_arcs([good, piece], STANDARD)
    assert smooth_arcs([], STANDARD) == []


@pytest.mark.parametrize("chordal", [0.1, 0.002])
def test_other_tolerances(chordal: float) -> None:
    tol = Tolerances(chordal_mm=chordal)
    check(four_digit("4412", 210.0, 161), [piece.xy for piece in four_digit("4412", 210.0, DENSE)], tol)


def test_a_batch_is_the_same_as_one_at_a_time() -> None:
    pieces = [piece for k in range(7) for piece in four_digit(f"44{12 + k}", 210.0 - 12 * k, 121)]
    for one, many in zip(pieces, smooth_arcs(pieces, STANDARD), strict=True):
        (alone,) = smooth_arcs([one], STANDARD)
        assert alone.xy == pytest.approx(many.xy, abs=1e-6)


def test_a_closed_outline_has_the_published_area() -> None:
    """NACA 0012: the published thickness polynomial integrated from 0 to 1 gives the area, 0.685083 t c².

    Within 0.015 %: a mean bias of 1 µm all round would make 0.012 %.
    """
    chord = 210.0
    upper, lower = smooth_arcs(four_digit("0012", chord, 161), STANDARD)
    outline = join([lower, upper.reversed()], closed=True)
    assert outline.area() == pytest.approx(0.685083 * 0.12 * chord**2, rel=1.5e-4)
    dense = four_digit("0012", chord, DENSE)[0].xy
    assert upper.length() == pytest.approx(np.hypot(*np.diff(dense, axis=0).T).sum(), rel=1e-5)
    corner = kinks_deg(outline)
    assert np.count_nonzero(corner > STANDARD.kink_deg) == 2  # the two tail corners, and none at the nose
    assert outline.length() == pytest.approx(upper.length() + lower.length() + 2 * 0.00126 * chord, rel=1e-6)


@given(
    st.floats(4.0, 80.0),
    st.floats(0.15, 1.0),
    st.floats(-180.0, 180.0),
    st.floats(60.0, 300.0),
    st.floats(-180.0, 180.0),
    st.floats(-500.0, 500.0),
)
@settings(deadline=None, max_examples=25)
def test_any_piece_of_an_ellipse_anywhere(
    a: float, slenderness: float, begin: float, sweep: float, turn: float, shift: float
) -> None:
    b = max(a * slenderness, 0.8 * np.sqrt(a))  # tip radius b²/a at least 0.64 mm
    m = np.array(((np.cos(turn), -np.sin(turn)), (np.sin(turn), np.cos(turn))))
    coarse, dense = (ellipse_arc(a, b, begin, begin + sweep, count) for count in (201, 4001))
    piece = Piece(coarse.xy @ m.T + shift, coarse.tangent @ m.T)
    check([piece], [dense.xy @ m.T + shift])


def test_a_batch_gives_what_each_piece_gives_alone() -> None:
    pieces = [piece for k in range(40) for piece in four_digit("4415", 210.0 - 1.5 * k, 161)]
    together = smooth_arcs(pieces, STANDARD)
    for piece, path in zip(pieces[::9], together[::9], strict=True):
        (alone,) = smooth_arcs([piece], STANDARD)
        assert path.xy == pytest.approx(alone.xy, abs=1e-7)
