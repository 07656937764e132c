"""Surfaces laid flat, against closed forms, against lengths in space, and against the best that can be done."""

from __future__ import annotations

import subprocess
import sys
from unittest import mock

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog
from scipy.sparse import coo_array, hstack, vstack
from scipy.spatial.transform import Rotation
from surfaces import FloatArray, blade, cone, cylinder, misfit, trapezoid

from geomgen.unroll import relax
from geomgen.unroll.unroll import Unrolled, unroll

STRONG = {"r": (150.0, 750.0), "chord": (230.0, 90.0), "twist_deg": (14.0, 2.0)}
ROOT, TIP, SLANT, TURN = 60.0, 35.0, 500.0, np.radians(250.0)  # of the cone
SIN = (ROOT - TIP) / SLANT  # of half its angle: flat, the radii are over this and the angle times this


@pytest.fixture(scope="module")
def flat_cone() -> Unrolled:
    return unroll(cone(ROOT, TIP, SLANT, 250.0))


# True to the surface


@pytest.mark.parametrize("grid", [cylinder(), cone(), blade()], ids=["cylinder", "cone", "blade"])
def test_every_line_keeps_its_length(grid: FloatArray) -> None:
    assert misfit(grid, unroll(grid).xy) < 1.0


def test_a_strongly_twisted_blade_comes_out_nearly_as_well_as_can_be() -> None:
    """12 deg of twist over 600 mm, on a chord of 230 to 90 mm, is doubly curved: no pattern is true to it everywhere.

    By a linear programme, the least greatest strain of any pattern near this one is 0.018 %, on this grid as on finer
    ones: the best there is keeps within 0.02 % with next to nothing to spare, and only by being strained that much all
    over. An even pattern, found in a few rounds, comes within 1.3 times that, and its worst lines (rulings beside the
    nose) within 1.15 times what a line may change.
    """
    grid = blade(**STRONG)
    assert misfit(grid, unroll(grid).xy) < 1.15
    coarse = blade(**STRONG, k=11, side=16)
    slopes, strain = strains(coarse, unroll(coarse).xy)
    bound = least_greatest(slopes, strain)
    assert 1.7e-4 < bound < 1.9e-4
    assert bound < abs(strain).max() < 1.3 * bound


@pytest.mark.parametrize("grid", [cone(), blade(), blade(**STRONG)], ids=["cone", "blade", "strong"])
def test_a_trapezoid_of_the_right_widths_and_area_is_found_out(grid: FloatArray) -> None:
    assert misfit(grid, trapezoid(grid)) > 4.0


def test_a_trapezoid_does_for_a_cylinder() -> None:
    """The check finds fault with trapezoids where they are wrong, not with all."""
    assert misfit(cylinder(), trapezoid(cylinder())) < 1e-6


# Closed forms


def test_a_cylinder_is_a_rectangle() -> None:
    flat = unroll(cylinder(30.0, 270.0, 600.0, 7, 160))
    width = 159 * 2.0 * 30.0 * np.sin(np.radians(135.0 / 159))  # of chords
    wanted = np.stack(np.meshgrid(np.linspace(0.0, 600.0, 7), np.linspace(0.0, width, 160), indexing="ij"), axis=-1)
    np.testing.assert_allclose(flat.xy, wanted, atol=1e-8)
    assert width == pytest.approx(30.0 * np.radians(270.0), rel=5e-5)
    assert flat.mismatch_mm < 1e-9
    np.testing.assert_allclose(flat.stretch, 0.0, atol=1e-11)


def test_a_cones_rib_lines_are_arcs_about_its_apex(flat_cone: Unrolled) -> None:
    """Developed radius = radius / sin(half angle), developed angle = angle × sin(half angle)."""
    centres, radii = zip(*(circle(row) for row in flat_cone.xy), strict=True)
    wanted = np.linspace(ROOT, TIP, 20) / SIN
    np.testing.assert_allclose(radii, wanted, rtol=2e-4)
    np.testing.assert_allclose(centres, np.broadcast_to(np.mean(centres, axis=0), (20, 2)), atol=0.02)
    apex = np.mean(centres, axis=0)
    assert apex[0] > flat_cone.xy[..., 0].max()  # beyond the narrow end
    for row, radius in zip(flat_cone.xy, wanted, strict=True):
        start, end = row[0] - apex, row[-1] - apex
        angle = np.arccos(start @ end / np.hypot(*start) / np.hypot(*end))
        assert angle == pytest.approx(TURN * SIN, rel=2e-4)
        chord = row[-1] - row[0]
        bow = abs(chord[0] * (row - row[0])[:, 1] - chord[1] * (row - row[0])[:, 0]).max() / np.hypot(*chord)
        assert bow == pytest.approx(radius * (1.0 - np.cos(0.5 * TURN * SIN)), rel=1e-3)
    assert bow > 4.0
    assert flat_cone.mismatch_mm < 1e-9


def test_places_on_a_cone_are_as_far_apart_as_over_its_surface(flat_cone: Unrolled) -> None:
    """The shortest way over a cone is straight in the flat: law of cosines about the apex."""
    rng = np.random.default_rng(4)
    u, v = rng.uniform(0.0, 19.0, (2, 200)), rng.uniform(0.0, 159.0, (2, 200))
    a, b = (flat_cone.at(u[i], v[i]) for i in range(2))
    radius = (ROOT + (TIP - ROOT) * u / 19.0) / SIN
    angle = (v[0] - v[1]) / 159.0 * TURN * SIN
    way = np.sqrt((radius[0] - radius[1]) ** 2 + 4.0 * radius[0] * radius[1] * np.sin(0.5 * angle) ** 2)
    np.testing.assert_allclose(np.hypot(*(a - b).T), way, rtol=2e-4, atol=0.005)


def test_bays_gape_by_the_curvature_between_them() -> None:
    """Two bays laid flat meet at each point of their common row at the angle that is missing to a full turn there.

    Discrete Gauss and Bonnet: those angles sum up to the gap, less its best straight line.
    """
    grid = blade(**STRONG, k=3, side=40)
    angle = sum(corner(grid, way) for way in ((1, 1), (1, -1), (-1, 1), (-1, -1)))[0]
    step = np.linalg.norm(np.diff(grid[1], axis=0), axis=1)
    along = np.append(0.0, np.cumsum(step))
    gap = np.zeros(len(along))
    for place, missing in zip(along[1:-1], 2.0 * np.pi - angle, strict=True):
        gap += missing * np.maximum(along - place, 0.0)
    weight = np.sqrt(np.append(step, 0.0) + np.append(0.0, step))
    gap -= np.polyval(np.polyfit(along, gap, 1, w=weight), along)
    assert unroll(grid).mismatch_mm == pytest.approx(abs(gap).max(), rel=0.02)
    assert abs(gap).max() > 0.05


# Which way round


def leaf() -> FloatArray:
    """(5, 9, 2) of a flat piece with no symmetry; rows run up, columns to the right."""
    u, v = np.meshgrid(np.linspace(0.0, 1.0, 5), np.linspace(0.0, 1.0, 9) ** 2, indexing="ij")
    return np.stack((300.0 * u + 40.0 * v * u, 120.0 * v - 50.0 * u * v + 20.0 * u**2 + 15.0 * v**2), axis=-1)


@pytest.mark.parametrize("columns", [1, -1], ids=["as drawn", "columns the other way"])
def test_a_flat_piece_comes_back_seen_from_its_own_side(columns: int) -> None:
    """Tilted in space and back; with columns the other way d/du × d/dv points the other way, and so does the viewer."""
    piece = leaf()[:, ::columns]
    tilted = Rotation.from_euler("xyz", (200.0, 35.0, -70.0), degrees=True).apply(
        np.pad(piece, ((0, 0), (0, 0), (0, 1))).reshape(-1, 3)
    )
    flat = unroll(tilted.reshape(5, 9, 3)).xy.reshape(-1, 2)
    seen = piece.reshape(-1, 2) * (1.0, columns)
    assert rigid_misfit(seen, flat) < 1e-6
    assert rigid_misfit(seen * (1.0, -1.0), flat) > 5.0


def test_columns_run_along_x_and_rows_up_from_the_lower_left() -> None:
    for grid in (cone(k=5, n=40), blade(k=6, side=20), blade(**STRONG, k=6, side=20)):
        flat = unroll(grid)
        np.testing.assert_allclose(flat.xy.min(axis=(0, 1)), 0.0, atol=1e-9)
        assert np.all(np.diff(flat.xy[..., 0], axis=0) > 0.0)
        assert np.all(np.diff(flat.xy[..., 1], axis=1) > 0.0)
        way = flat.xy[-1] - flat.xy[0]
        step = np.linalg.norm(np.diff(grid, axis=1), axis=-1).sum(axis=0)
        slope = way[:, 1] / np.hypot(*way.T)
        assert step @ (slope[1:] + slope[:-1]) == pytest.approx(0.0, abs=1e-9 * step.sum())


small = blade(**STRONG, k=5, side=10)
still = unroll(small)


@settings(max_examples=25, deadline=None)
@given(
    st.tuples(*[st.floats(-180.0, 180.0)] * 3),
    st.tuples(*[st.floats(-2000.0, 2000.0)] * 3),
    st.sampled_from([1.0, -1.0]),
)
def test_where_a_surface_is_in_space_changes_nothing(
    turn: tuple[float, ...], move: tuple[float, ...], hand: float
) -> None:
    """Nor does a mirror (hand -1): d/du × d/dv goes over to the other side, and the viewer with it."""
    moved = (small * (1.0, 1.0, hand)).reshape(-1, 3) @ Rotation.from_euler("xyz", turn, degrees=True).as_matrix().T
    found = unroll((moved + move).reshape(small.shape))
    np.testing.assert_allclose(found.xy, still.xy, atol=1e-5)
    assert found.mismatch_mm == pytest.approx(still.mismatch_mm, abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from([1, -1]), st.sampled_from([1, -1]), st.floats(-10.0, 20.0), st.floats(0.4, 1.0))
@example(1, -1, -1.5, 0.5)
def test_a_grid_told_from_the_other_end_gives_the_mirrored_pattern(
    rows: int, columns: int, twist: float, taper: float
) -> None:
    """To the last step of the search, which ends at a millionth of the pattern's extent: two searches of mirrored grids
    may end a step of up to 0.0006 mm apart, where the last steps shrink slowly a few. Searched on, they meet."""
    grid = blade((150.0, 750.0), (200.0, 200.0 * taper), (twist, 2.0), k=4, side=8)
    assert mirrored_miss(grid, rows, columns) < 0.003
    with mock.patch.multiple(relax, _STILL=1e-9, _ROUNDS=200):
        assert mirrored_miss(grid, rows, columns) < 1e-6


def mirrored_miss(grid: FloatArray, rows: int, columns: int) -> float:
    """Greatest distance along x or y between a grid laid flat and mirrored, and the mirrored grid laid flat [mm]."""
    mirrored = unroll(grid).xy * (rows, columns)
    found = unroll(grid[::rows, ::columns]).xy[::rows, ::columns]
    return float(abs(found - (mirrored - mirrored.min(axis=(0, 1)))).max())


# The record


def test_lengths_change_by_the_stretch_that_is_told() -> None:
    grid = blade(**STRONG, k=6, side=20)
    flat = unroll(grid)
    change = []
    for i, j in ((0, 1), (1, 0), (1, 1)):
        space, plane = (a[i:, j:] - a[: len(a) - i, : a.shape[1] - j] for a in (grid, flat.xy))
        change.append((np.linalg.norm(plane, axis=-1) / np.linalg.norm(space, axis=-1) - 1.0).ravel())
    space, plane = (a[1:, :-1] - a[:-1, 1:] for a in (grid, flat.xy))
    change.append((np.linalg.norm(plane, axis=-1) / np.linalg.norm(space, axis=-1) - 1.0).ravel())
    every = np.concatenate(change)
    assert flat.stretch == pytest.approx((every.min(), every.max()), rel=1e-9)
    assert flat.stretch[0] < -1e-5 < 1e-5 < flat.stretch[1]
    np.testing.assert_array_equal(flat.space, grid)


def test_two_rows_are_one_bay_and_fit() -> None:
    grid = blade(**STRONG, k=2, side=30)
    flat = unroll(grid)
    assert flat.mismatch_mm == 0.0
    assert misfit(grid, flat.xy) < 0.1


def test_places_between_points_are_straight_between_them(flat_cone: Unrolled) -> None:
    xy = flat_cone.xy
    np.testing.assert_array_equal(flat_cone.at((0, 19, 4), (0, 159, 7)), (xy[0, 0], xy[19, 159], xy[4, 7]))
    np.testing.assert_allclose(flat_cone.at(2.5, 3.0), [0.5 * (xy[2, 3] + xy[3, 3])])
    between = 0.75 * xy[2, 3] + 0.25 * xy[2, 4], 0.5 * (xy[2, 158] + xy[2, 159])
    np.testing.assert_allclose(flat_cone.at(2.0, (3.25, 158.5)), between)


@pytest.mark.parametrize(("u", "v"), [(-0.1, 0.0), (19.1, 0.0), (0.0, 159.5), (np.nan, 0.0)])
def test_places_off_the_grid_are_refused(flat_cone: Unrolled, u: float, v: float) -> None:
    with pytest.raises(ValueError, match="from 0 to 19 in rows and from 0 to 159 in columns"):
        flat_cone.at(u, v)


def test_what_is_no_grid_is_refused() -> None:
    good = cone(k=4, n=6)
    for wrong in (good[0], good[:1], good[:, :1], good[..., :2]):
        with pytest.raises(ValueError, match="two or more rows and columns"):
            unroll(wrong)
    for figure in (np.nan, np.inf):
        bad = good.copy()
        bad[1, 2, 0] = figure
        with pytest.raises(ValueError, match="finite"):
            unroll(bad)
    for twin in ((1, 3), (2, 2), (2, 3), (2, 1)):
        bad = good.copy()
        bad[1, 2] = bad[twin]
        with pytest.raises(ValueError, match="coincide at row 1, column"):
            unroll(bad)
    line = np.arange(24.0).reshape(2, 4, 3) * (1.0, 0.0, 0.0)
    with pytest.raises(ValueError, match="the cell after row 0, column 0 has no area"):
        unroll(line)


def test_the_solver_is_imported_when_something_is_unrolled() -> None:
    code = "import sys, geomgen.unroll.unroll; print('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"


# Helpers


def circle(points: FloatArray) -> tuple[FloatArray, float]:
    """Centre and radius of the circle through points, by least squares."""
    sides = np.column_stack((2.0 * points, np.ones(len(points))))
    a, b, c = np.linalg.lstsq(sides, (points**2).sum(axis=1), rcond=None)[0]
    return np.array((a, b)), float(np.sqrt(c + a * a + b * b))


def corner(grid: FloatArray, way: tuple[int, int]) -> FloatArray:
    """(k - 2, n - 2) angle at each inner point between its neighbours in a cell, the way (rows, columns) the cell lies.

    Mean of the cell's two triangulations: straight to the neighbours, or by way of the cell's far corner.
    """
    k, n = grid.shape[:2]
    at = grid[1:-1, 1:-1]

    def arm(i: int, j: int) -> FloatArray:
        v = grid[1 + i : k - 1 + i, 1 + j : n - 1 + j] - at
        return v / np.linalg.norm(v, axis=-1)[..., None]

    def between(a: FloatArray, b: FloatArray) -> FloatArray:
        return np.arctan2(np.linalg.norm(np.cross(a, b), axis=-1), (a * b).sum(axis=-1))

    row, column, far = arm(way[0], 0), arm(0, way[1]), arm(*way)
    return 0.5 * (between(row, column) + between(row, far) + between(far, column))


def rigid_misfit(a: FloatArray, b: FloatArray) -> float:
    """Greatest distance [mm] of points a from b after the best turn and move, no mirror."""
    x, y = (complex_of(each - each.mean(axis=0)) for each in (a, b))
    turn = y @ x.conj()
    return float(abs(y - x * turn / abs(turn)).max())


def complex_of(points: FloatArray) -> np.ndarray:
    return points[:, 0] + 1j * points[:, 1]


def strains(space: FloatArray, flat: FloatArray) -> tuple[coo_array, FloatArray]:
    """Stretch of edges and half the change of angle of cells, and how they change with the points (strains, 2kn)."""
    k, n = space.shape[:2]
    number = np.arange(k * n).reshape(k, n)
    rows, columns, figures, found, count = [], [], [], [], 0
    for p, q in ((number[:, :-1], number[:, 1:]), (number[:-1], number[1:])):
        p, q = p.ravel(), q.ravel()
        true = np.linalg.norm((space.reshape(-1, 3)[q] - space.reshape(-1, 3)[p]), axis=1)
        way = flat.reshape(-1, 2)[q] - flat.reshape(-1, 2)[p]
        length = np.hypot(*way.T)
        found.append(length / true - 1.0)
        for end, sign in ((q, 1.0), (p, -1.0)):
            for axis in range(2):
                rows.append(count + np.arange(len(p)))
                columns.append(2 * end + axis)
                figures.append(sign * way[:, axis] / length / true)
        count += len(p)
    corners = [number[i : k - 1 + i, j : n - 1 + j].ravel() for i in (0, 1) for j in (0, 1)]
    angle = []
    for points in (space.reshape(-1, 3), flat.reshape(-1, 2)):
        o, v, u, far = (points[c] for c in corners)
        a, b = 0.5 * (u + far - o - v), 0.5 * (v + far - o - u)
        angle.append((a * b).sum(axis=1) / np.linalg.norm(a, axis=1) / np.linalg.norm(b, axis=1))
    found.append(0.5 * (angle[1] - angle[0]))
    size = np.linalg.norm(a, axis=1) * np.linalg.norm(b, axis=1)  # of the last, the flat
    across = (b / size[:, None] - (angle[1] / (a * a).sum(axis=1))[:, None] * a) * 0.25
    along = (a / size[:, None] - (angle[1] / (b * b).sum(axis=1))[:, None] * b) * 0.25
    for end, (s, t) in zip(corners, ((-1, -1), (-1, 1), (1, -1), (1, 1)), strict=True):
        for axis in range(2):
            rows.append(count + np.arange(len(end)))
            columns.append(2 * end + axis)
            figures.append(s * across[:, axis] + t * along[:, axis])
    count += len(corners[0])
    places = (np.concatenate(rows), np.concatenate(columns))
    return coo_array((np.concatenate(figures), places), shape=(count, 2 * k * n)), np.concatenate(found)


def least_greatest(slopes: coo_array, strain: FloatArray) -> float:
    """Least greatest strain that points moved by up to 3 mm could have, to first order."""
    most = coo_array(np.ones((len(strain), 1)))
    bounds = vstack((hstack((slopes, -most)), hstack((-slopes, -most)))).tocsr()
    cost = np.append(np.zeros(slopes.shape[1]), 1.0)
    moves = [(-3.0, 3.0)] * slopes.shape[1]
    done = linprog(cost, bounds, np.append(-strain, strain), bounds=[*moves, (0.0, None)], method="highs-ipm")
    assert done.success
    return float(done.x[-1])
