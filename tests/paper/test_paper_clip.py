"""Paths cut at a window and drawn as curves, against shapely and against circles in closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from geomgen.paper.clip import clipped
from geomgen.paper.curves import curves
from geomgen.plane.path import Circle, Path, from_points

WINDOW = (-20.0, -15.0, 25.0, 30.0)
number = st.floats(-60.0, 60.0).map(lambda x: round(x, 3))
bend = st.one_of(st.just(0.0), st.floats(-3.0, 3.0), st.floats(-1e-4, 1e-4))


@given(st.lists(st.tuples(number, number, bend), min_size=2, max_size=7), st.booleans())
def test_what_is_inside_is_what_shapely_finds(rows: list[tuple[float, float, float]], closed: bool) -> None:
    path = Path(np.array([row[:2] for row in rows]), np.array([row[2] for row in rows]), closed)
    assume(path.segments().chord.min() > 1e-3)
    points = path.flattened(1e-4)
    line = shapely.LineString(np.vstack((points, points[:1])) if closed else points)
    inside = line.intersection(shapely.box(*WINDOW)) if line.length else line
    pieces = clipped(path, WINDOW)
    drawn = [piece.flattened(1e-4) for piece in pieces]
    drawn = [np.vstack((xy, xy[:1])) if piece.closed else xy for xy, piece in zip(drawn, pieces, strict=True)]
    for xy in drawn:
        assert (xy >= np.array(WINDOW[:2]) - 1e-5).all() and (xy <= np.array(WINDOW[2:]) + 1e-5).all()
    long = sum(piece.length() for piece in pieces)
    assert long == pytest.approx(_length(points, closed), rel=2e-4, abs=0.05)
    for xy in drawn:
        assert shapely.distance(shapely.points(xy), line).max() < 1e-3
    if inside.length > 0.1:
        assert drawn


def _length(points: np.ndarray, closed: bool) -> float:
    """Length inside the window, chord by chord (a line that runs over itself counts each time)."""
    ring = np.vstack((points, points[:1])) if closed else points
    chords = shapely.linestrings(np.stack((ring[:-1], ring[1:]), axis=1))
    return float(shapely.length(shapely.intersection(chords, shapely.box(*WINDOW))).sum())


def test_a_circle_is_cut_where_its_equation_says() -> None:
    """A circle about (0, 0) of radius 30: x = 25 at y = ± sqrt(30² - 25²), and so on round the window."""
    pieces = clipped(Circle((0.0, 0.0), 30.0), (-40.0, -40.0, 25.0, 40.0))
    (piece,) = pieces
    ends = sorted([piece.xy[0, 1], piece.xy[-1, 1]])
    assert ends == pytest.approx([-math.sqrt(275.0), math.sqrt(275.0)], abs=1e-9)
    assert piece.length() == pytest.approx(60.0 * (math.pi - math.acos(25.0 / 30.0)), abs=1e-9)


def test_what_lies_inside_stays_as_it_is_and_what_misses_is_gone() -> None:
    square = from_points([(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)], closed=True)
    assert clipped(square, WINDOW) == (square,)
    assert clipped(square.moved(100.0, 0.0), WINDOW) == ()


@pytest.mark.parametrize("bulge", [1e-3, 0.05, 0.4, 1.0, -1.0, 2.5])
@pytest.mark.parametrize("radius", [0.5, 30.0, 900.0])
def test_curves_stay_within_5_um_of_their_arcs(bulge: float, radius: float) -> None:
    """Every point of every curve, by its own polynomial, against the distance from the arc's centre."""
    angle = 4.0 * math.atan(bulge)
    ends = np.array([(radius, 0.0), (radius * math.cos(angle), radius * math.sin(angle))])
    path = Path(ends, np.array([bulge, 0.0]), False)
    at, swept, t = ends[0], 0.0, np.linspace(0.0, 1.0, 50)[:, None]
    for handles in curves(path):
        first, second, end = handles
        xy = (1 - t) ** 3 * at + 3 * t * (1 - t) ** 2 * first + 3 * t**2 * (1 - t) * second + t**3 * end
        assert np.abs(np.hypot(*xy.T) - radius).max() < 0.005
        swept += float(np.unwrap(np.arctan2(xy[:, 1], xy[:, 0]))[[0, -1]] @ [-1.0, 1.0])
        at = end
    assert np.allclose(at, ends[1], atol=1e-9)
    assert swept == pytest.approx(angle, abs=1e-6)
