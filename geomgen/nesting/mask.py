"""A shape as cells of a raster: every cell that the shape comes near, and never one too few."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray

FLATTEN_MM = 1e-3  # arcs are taken as chords this near, and the shape is made wider by as much; not at a sheet's edge
_ROUND = 16  # chords in a quarter turn of what is rounded
_TINY = 1e-9  # of a cell

Cells = NDArray[np.bool_]
Run = tuple[int, int, int]  # column, row of its first cell, how many cells


@dataclass(frozen=True, eq=False)
class Mask:
    """Cells of one shape as it lies.

    cells : (w, h) whether a cell is taken, along x and along y; the first column and row begin at the shape's own least
            x and least y, less half the gap
    size  : extent of the shape along x and y, half the gap added all round [mm]
    """

    cells: Cells
    size: tuple[float, float]

    @cached_property
    def columns(self) -> tuple[Run, ...]:
        """Runs of cells along y, the longest first, which are the hardest to find room for."""
        return _runs(self.cells)

    @cached_property
    def rows(self) -> tuple[Run, ...]:
        """Runs of cells along x, likewise."""
        return tuple((column, row, count) for row, column, count in _runs(self.cells.T))

    def bits(self, stride: int) -> int:
        """Its cells as a whole number: cell (column, row) is bit column * stride + row."""
        wide = np.zeros((len(self.cells), stride), dtype=np.bool_)
        wide[:, : self.cells.shape[1]] = self.cells
        return int.from_bytes(np.packbits(wide.ravel(), bitorder="little").tobytes(), "little")


def mask_of(
    shape: shapely.Polygon, half_gap_mm: float, cell_mm: float, ahead_mm: tuple[float, float] = (0.0, 0.0)
) -> Mask:
    """The cells that a shape, made wider by half a gap, touches.

    A disc that reaches into a cell without holding one of its corners comes in over the middle of an edge, no deeper
    than its sagitta there: a corner of every touched cell lies within the root of (half a gap)^2 + (half a cell)^2 of
    the shape, so corners are asked, with that.

    shape       : as it lies, its arcs as chords within FLATTEN_MM [mm]
    half_gap_mm : what is to stay free round it: half of what two shapes keep from one another [mm]
    cell_mm     : side of a cell [mm]
    ahead_mm    : by how much the cells begin before the shape, half the gap added, where it doesn't lie on the grid
                  [mm]
    """
    x0, y0, x1, y1 = shape.bounds
    x0, y0 = x0 - ahead_mm[0], y0 - ahead_mm[1]
    size = x1 - x0 + 2.0 * half_gap_mm, y1 - y0 + 2.0 * half_gap_mm
    reach = (math.hypot(half_gap_mm, cell_mm / 2.0) + FLATTEN_MM) / math.cos(math.pi / (4 * _ROUND))
    near = shape.buffer(reach, quad_segs=_ROUND)
    w, h = (max(math.ceil(length / cell_mm - _TINY), 1) for length in size)
    rings = [shapely.get_coordinates(ring) for ring in (near.exterior, *near.interiors)]
    corner = _corners(rings, (x0 - half_gap_mm, y0 - half_gap_mm), cell_mm, (w + 1, h + 1))
    return Mask(corner[1:, 1:] | corner[:-1, 1:] | corner[1:, :-1] | corner[:-1, :-1], size)


def _corners(rings: Sequence[FloatArray], at: tuple[float, float], cell: float, shape: tuple[int, int]) -> Cells:
    """Which points of a grid lie within closed rings, (n, 2) each: upright lines are crossed an odd number of times."""
    start = (np.concatenate([ring[:-1] for ring in rings]) - at) / cell
    end = (np.concatenate([ring[1:] for ring in rings]) - at) / cell
    low, high = np.sort(np.stack((start[:, 0], end[:, 0])), axis=0)
    first, last = np.ceil(low).clip(0, shape[0]).astype(int), np.ceil(high).clip(0, shape[0]).astype(int)
    count = last - first
    edge = np.repeat(np.arange(len(count)), count)
    line = np.arange(len(edge)) + np.repeat(first - (np.cumsum(count) - count), count)
    share = (line - start[edge, 0]) / (end[edge, 0] - start[edge, 0])
    above = np.ceil(start[edge, 1] + share * (end[edge, 1] - start[edge, 1])).clip(0, shape[1]).astype(int)
    crossed = np.zeros((shape[0], shape[1] + 1), dtype=np.int32)
    np.add.at(crossed, (line, above), 1)
    inside: Cells = np.cumsum(crossed[:, :-1], axis=1) % 2 == 1
    return inside


def _runs(cells: Cells) -> tuple[Run, ...]:
    padded = np.zeros((cells.shape[0], cells.shape[1] + 2), dtype=np.int8)
    padded[:, 1:-1] = cells
    change = np.diff(padded, axis=1)
    (column, begin), (_, end) = np.nonzero(change == 1), np.nonzero(change == -1)
    found = zip(column.tolist(), begin.tolist(), (end - begin).tolist(), strict=True)
    return tuple(sorted(found, key=lambda run: -run[2]))
