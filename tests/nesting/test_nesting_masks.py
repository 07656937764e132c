"""A shape as cells: against distances by shapely, cell by cell, and against cells counted one by one."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from geomgen.nesting.fill import mask_at
from geomgen.nesting.mask import FLATTEN_MM, Mask, mask_of

TINY = 1e-7
LEAST_MM = 2.0  # of a shape: longer than any cell


@st.composite
def shapes(draw: st.DrawFn) -> shapely.Polygon:
    """Stars with up to nine corners anywhere, some with a hole of the same form, some thin, some round."""
    corners = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(0.15, 1.0), min_size=corners, max_size=corners))
    angles = np.arange(corners) * 2.0 * np.pi / corners + draw(st.floats(0.0, 6.0))
    star = np.column_stack((np.cos(angles), np.sin(angles))) * np.array(radii)[:, None]
    if draw(st.booleans()):
        star = shapely.get_coordinates(shapely.Point(0.0, 0.0).buffer(1.0, quad_segs=corners).exterior)[:-1]
    hole = draw(st.one_of(st.none(), st.floats(0.3, 0.9)))
    whole = shapely.Polygon(star, None if hole is None else [star[::-1] * hole])
    size = draw(st.floats(2.0 * LEAST_MM, 30.0)), draw(st.floats(2.0 * LEAST_MM, 30.0))
    return affinity.translate(
        affinity.scale(whole, *size, origin=(0.0, 0.0)), *draw(st.tuples(*[st.floats(-9, 9)] * 2))
    )


def distances(shape: shapely.Polygon, corner: tuple[float, float], cell: float, count: tuple[int, int]) -> np.ndarray:
    """(w, h) from each cell to the shape, by shapely [mm]."""
    x, y = (np.arange(n) * cell + at for n, at in zip(count, corner, strict=True))
    x, y = np.meshgrid(x, y, indexing="ij")
    return shapely.distance(shapely.box(x, y, x + cell, y + cell), shape)


def reach(half: float, cell: float) -> float:
    """No corner of a cell that is taken is farther off: the root of half a gap and half a cell, arcs as chords."""
    return (math.hypot(half, cell / 2.0) + FLATTEN_MM) / math.cos(math.pi / 64.0)


def judge(mask: Mask, away: np.ndarray, half: float, cell: float) -> None:
    assert mask.cells.shape == away.shape
    assert mask.cells[away < half - TINY].all()
    assert (away[mask.cells] < reach(half, cell) + TINY).all()


@settings(max_examples=150)
@given(shapes(), st.sampled_from([0.05, 0.5, 1.5, 1.6016, 4.0]), st.sampled_from([0.5, 1.0, 0.7]))
def test_never_one_cell_too_few_and_none_far_off(shape: shapely.Polygon, half: float, cell: float) -> None:
    mask = mask_of(shape, half, cell)
    x0, y0, x1, y1 = shape.bounds
    assert mask.size == pytest.approx((x1 - x0 + 2 * half, y1 - y0 + 2 * half), abs=1e-9)
    count = tuple(math.ceil(length / cell - 1e-9) for length in mask.size)
    judge(mask, distances(shape, (x0 - half, y0 - half), cell, count), half, cell)  # type: ignore[arg-type]


@settings(max_examples=100)
@given(shapes(), st.sampled_from([0.5, 1.5, 2.3]), st.sampled_from([0.5, 1.0]), st.tuples(*[st.floats(-5, 5)] * 2))
def test_a_shape_off_the_grid(shape: shapely.Polygon, half: float, cell: float, corner: tuple[float, float]) -> None:
    """Its cells are those of a grid that begins anywhere; all that it comes near are among them."""
    mask, column, row = mask_at(shape, half, cell, corner)
    begin = corner[0] + column * cell, corner[1] + row * cell
    judge(mask, distances(shape, begin, cell, mask.cells.shape), half, cell)  # type: ignore[arg-type]
    more = distances(shape, (begin[0] - cell, begin[1] - cell), cell, (len(mask.cells) + 2, mask.cells.shape[1] + 2))
    around = np.ones(more.shape, dtype=bool)
    around[1:-1, 1:-1] = False
    assert (more[around] > half - TINY).all()


def test_a_rectangle_by_hand() -> None:
    """10 x 4 with 2 mm all round is 28 x 16 cells of 0.5 mm. Only those at its four corners are free: they end 2.12 mm
    from the rectangle's own corner, their neighbours 1.80 mm."""
    mask = mask_of(shapely.box(0, 0, 10, 4), 2.0, 0.5)
    assert mask.size == (14.0, 8.0) and mask.cells.shape == (28, 16)
    assert np.argwhere(~mask.cells).tolist() == [[0, 0], [0, 15], [27, 0], [27, 15]]


def test_what_is_far_from_a_hole_stays_free() -> None:
    """A frame of 40 x 30 whose hole is 30 x 20: 27 x 17 stay free in its middle, less a cell each way at most."""
    frame = shapely.box(0, 0, 40, 30) - shapely.box(5, 5, 35, 25)
    mask = mask_of(frame, 1.5, 0.5)
    free = (~mask.cells).sum() * 0.25
    assert 26.0 * 16.0 <= free <= 27.0 * 17.0


@settings(max_examples=60)
@given(st.integers(1, 12), st.integers(1, 12), st.integers(0, 10**6), st.integers(0, 5))
def test_runs_and_bits_are_the_cells(w: int, h: int, seed: int, more: int) -> None:
    cells = np.random.default_rng(seed).random((w, h)) < 0.6
    mask = Mask(cells, (float(w), float(h)))
    for runs, upright in ((mask.columns, True), (mask.rows, False)):
        seen = np.zeros((w, h), dtype=int)
        for column, row, count in runs:
            across, up = (1, count) if upright else (count, 1)
            seen[column : column + across, row : row + up] += 1
        assert np.array_equal(seen, cells.astype(int))
        assert [run[2] for run in runs] == sorted((run[2] for run in runs), reverse=True)
    bits = mask.bits(h + more)
    assert bits == sum(1 << i * (h + more) + j for i, j in np.argwhere(cells).tolist())
