"""Where there is room, against every place tried one after another with numpy."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.nesting.grid import Grid
from geomgen.nesting.mask import Cells, Mask


def first_place(taken: Cells, mask: Mask, size: tuple[float, float], cell: float) -> tuple[int, int] | None:
    """The least column, then the least row, where no cell of a mask is taken and its extent stays on the sheet."""
    w, h = mask.cells.shape
    for column in range(math.floor((size[0] - mask.size[0]) / cell + 1e-9) + 1):
        for row in range(math.floor((size[1] - mask.size[1]) / cell + 1e-9) + 1):
            if not (taken[column : column + w, row : row + h] & mask.cells).any():
                return column, row
    return None


def blob(random: np.random.Generator, most: int) -> Mask:
    """A mask that reaches all its sides, some full, some with holes, some ragged; its extent ends within a cell."""
    w, h = random.integers(1, most + 1, 2)
    cells = random.random((w, h)) < random.choice([0.4, 0.8, 1.0])
    cells[random.integers(w), [0, -1]] = cells[[0, -1], random.integers(h)] = True
    ends = random.choice([0.0, 0.25, 0.9], 2)
    return Mask(cells, (float(w - ends[0]), float(h - ends[1])))


@settings(max_examples=120)
@given(st.integers(0, 10**9))
def test_the_first_place_is_found(seed: int) -> None:
    """Masks of several forms, each again and again, until there is no room for any."""
    random = np.random.default_rng(seed)
    size = float(random.uniform(3, 40)), float(random.uniform(3, 14))
    grid, masks = Grid(size, 1.0), [blob(random, 9) for _ in range(3)]
    taken = np.zeros((grid.columns, grid.rows), dtype=bool)
    assert taken.shape == (math.ceil(size[0]), math.ceil(size[1]))
    full = set[int]()
    while len(full) < len(masks):
        k = int(random.integers(len(masks)))
        place = grid.room(masks[k], k)
        assert place == first_place(taken, masks[k], size, 1.0)
        if place is None:
            full.add(k)
            continue
        grid.take(masks[k], *place)
        w, h = masks[k].cells.shape
        taken[place[0] : place[0] + w, place[1] : place[1] + h] |= masks[k].cells


@settings(max_examples=80)
@given(st.integers(0, 10**9))
def test_what_lies_there_from_the_first(seed: int) -> None:
    """Masks that hang over an edge of the sheet, and walls across it, also off it; a copy is as its first was."""
    random = np.random.default_rng(seed)
    size = float(random.integers(5, 30)), float(random.integers(3, 12))
    grid = Grid(size, 1.0)
    taken = np.zeros((grid.columns + 20, grid.rows + 20), dtype=bool)  # with ten more cells all round
    for _ in range(int(random.integers(0, 4))):
        mask = blob(random, 8)
        column, row = int(random.integers(-9, grid.columns + 2)), int(random.integers(-9, grid.rows + 2))
        grid.stamp(mask, column, row)
        w, h = mask.cells.shape
        taken[column + 10 : column + 10 + w, row + 10 : row + 10 + h] |= mask.cells[
            : max(len(taken) - column - 10, 0), : max(taken.shape[1] - row - 10, 0)
        ]
    for _ in range(int(random.integers(0, 2))):
        begin = int(random.integers(-4, grid.columns + 3))
        end = begin + int(random.integers(0, 3))
        grid.wall(begin, end)
        taken[max(begin + 10, 0) : max(end + 11, 0)] = True
    inner, other = taken[10 : 10 + grid.columns, 10 : 10 + grid.rows], grid.copy()
    for k in range(4):
        mask = blob(random, 7)
        assert grid.room(mask, k) == other.room(mask, k) == first_place(inner, mask, size, 1.0)


def test_room_by_hand() -> None:
    """A wall at column 4 of a sheet of 10 x 3: what is 4 long goes before it, what is 5 long behind it, 6 nowhere."""
    grid = Grid((10.0, 3.0), 1.0)
    grid.wall(4, 4)
    full = [Mask(np.ones((n, 3), dtype=bool), (float(n), 3.0)) for n in (4, 5, 6)]
    assert [grid.room(mask, k) for k, mask in enumerate(full)] == [(0, 0), (5, 0), None]
