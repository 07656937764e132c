"""One sheet as cells, all of them the bits of a single whole number: where there is room for a mask takes some hundred
shifts of that number, with no rounding and the same answer on every machine."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from geomgen.nesting.mask import Mask

_TINY = 1e-9  # of a cell
_LOOK = (1, 3, 6, 10, 15, 21, 30, 45, 70, 110)  # after so many runs it is asked whether any place is left


class Grid:
    """What is taken of a sheet. Cell (column, row) is bit column * rows + row, columns along the sheet's length."""

    def __init__(self, size: tuple[float, float], cell_mm: float) -> None:
        """size : what shapes may lie on, half a gap added all round [mm]"""
        self.size, self.cell_mm = size, cell_mm
        self.columns, self.rows = (max(math.ceil(length / cell_mm - _TINY), 1) for length in size)
        self._taken = 0
        self._up: list[int] = []  # of each 2^k: where one of so many cells is taken, one above the other
        self._along: list[int] = []  # side by side
        self._from: dict[int, int] = {}  # by number of a shape: no room for it below that bit
        self.laid = 0

    def copy(self) -> Grid:
        """The same sheet, to go on with."""
        other = Grid(self.size, self.cell_mm)
        other._taken = self._taken
        return other

    def take(self, mask: Mask, column: int, row: int) -> None:
        """Lay a mask there, whether there is room or not."""
        self._taken |= mask.bits(self.rows) << column * self.rows + row
        self._up, self._along = [], []
        self.laid += 1

    def stamp(self, mask: Mask, column: int, row: int) -> None:
        """Take its cells for good; of a mask that hangs over, what lies on the sheet."""
        left, low = max(column, 0), max(row, 0)
        right, top = max(self.columns - column, 0), max(self.rows - row, 0)
        cells = mask.cells[left - column : right, low - row : top]
        if cells.size:
            self._taken |= Mask(np.ascontiguousarray(cells), mask.size).bits(self.rows) << left * self.rows + low

    def wall(self, begin: int, end: int) -> None:
        """Take whole columns for good, from one to another, both among them."""
        first, last = max(begin, 0), min(end, self.columns - 1)
        if first <= last:
            self._taken |= ((1 << (last - first + 1) * self.rows) - 1) << first * self.rows

    def room(self, mask: Mask, shape: int) -> tuple[int, int] | None:
        """(column, row) of the first place for a mask, the least column first, then the least row; None for none.

        shape : a number that stands for this mask; what was found out of it is used again
        """
        right, top = (math.floor((self.size[axis] - mask.size[axis]) / self.cell_mm + _TINY) for axis in range(2))
        begin, nowhere = self._from.get(shape, 0), (right + 1) * self.rows
        if right < 0 or top < 0 or begin >= nowhere:
            return None
        reach = -(-self._taken.bit_length() // self.rows)  # from that column on all is free
        places = _places(min(right, reach), top, self.rows) >> begin
        left = places
        blocked = 0
        upright = len(mask.columns) <= len(mask.rows)
        for n, (column, row, count) in enumerate(mask.columns if upright else mask.rows):
            k = count.bit_length() - 1
            taken, at = self._window(k, upright), begin + column * self.rows + row
            blocked |= taken >> at
            if more := count - (1 << k):
                blocked |= taken >> at + (more if upright else more * self.rows)
            if n in _LOOK and not (left := left & ~blocked):
                break
        left &= ~blocked
        self._from[shape] = first = begin + (left & -left).bit_length() - 1 if left else nowhere
        return divmod(first, self.rows) if left else None

    def _window(self, k: int, upright: bool) -> int:
        """Where one of 2^k cells is taken from a cell on, upwards or along."""
        found, step = (self._up, 1) if upright else (self._along, self.rows)
        if not found:
            found.append(self._taken)
        while len(found) <= k:
            found.append(found[-1] | found[-1] >> (step << len(found) - 1))
        return found[k]


@lru_cache(maxsize=1024)
def _places(right: int, top: int, rows: int) -> int:
    """The bits of all places up to a column and a row."""
    columns, done = (1 << top + 1) - 1, 1
    while done <= right:
        more = min(done, right + 1 - done)
        columns |= columns << more * rows
        done += more
    return columns
