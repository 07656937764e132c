"""Where on a flat part there is room for a box clear of its edges: a grid to find it, the exact region to be sure."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.plane.path import Bounds
from geomgen.plane.region import Region

FINEST_MM = np.array((1.0, 0.25))  # cells of the grid, along x and y
MOST_CELLS = 400_000  # a part with more gets larger cells
FLAT_MM = 0.02  # arcs are taken as chords that near them; taken off the room
TURN = 8.0  # leaving the row costs so many times the way along it
TRIES = 20  # places that are judged exactly, best first


@dataclass(frozen=True, eq=False)
class Room:
    """A region and what of it is free.

    region   : exact but for chords
    clear_mm : least distance from a box to an edge and to what is taken [mm]
    origin   : (2,) first point of the grid [mm]
    cell     : (2,) its cells along x and y [mm]
    free     : (nx, ny) grid points inside the region and not taken
    """

    region: shapely.Polygon
    clear_mm: float
    origin: FloatArray
    cell: FloatArray
    free: NDArray[np.bool_]

    @classmethod
    def of(cls, region: Region, clear_mm: float) -> Room:
        """All of a region."""
        exact = region.to_shapely(FLAT_MM)
        bounds = np.array(region.bounds())
        size = bounds[2:] - bounds[:2]
        cell = FINEST_MM * max(1.0, math.sqrt(float(np.prod(size / FINEST_MM)) / MOST_CELLS))
        origin = bounds[:2] + 0.5 * cell
        nx, ny = (int(n) for n in np.maximum(size // cell, 1))
        rings = [np.array(ring.coords) for ring in (exact.exterior, *exact.interiors)]
        shapely.prepare(exact)
        return cls(exact, clear_mm, origin, cell, _inside(rings, origin, cell, nx, ny))

    def without(self, boxes: Iterable[Bounds]) -> Room:
        """What is left beside boxes [mm], however thin."""
        free = self.free.copy()
        for box in boxes:
            first = np.ceil((np.array(box[:2]) - self.origin) / self.cell - 0.5).astype(int)
            last = np.floor((np.array(box[2:]) - self.origin) / self.cell + 0.5).astype(int)
            (i0, j0), (i1, j1) = np.maximum(first, 0), np.maximum(last + 1, 0)
            free[i0:i1, j0:j1] = False
        return Room(self.region, self.clear_mm, self.origin, self.cell, free)

    def find(self, width: float, height: float, after: Bounds | None) -> Bounds | None:
        """A place for a box; None where there is none.

        width, height : of the box [mm]
        after         : box that it should follow in one row, if it may be; None for the first of a row
        """
        pad = self.clear_mm + FLAT_MM
        size = np.array((width, height))
        nx, ny = (math.ceil(n) + 1 for n in (size + 2.0 * pad) / self.cell)
        fits = _all_free(self.free, nx, ny)
        cells = np.argwhere(fits)
        if not len(cells):
            return None
        corner = self.origin + self.cell * (cells + 0.5 * np.array((nx - 1, ny - 1))) - 0.5 * size
        if after is None:  # the row that holds most, from its left
            order = np.lexsort((corner[:, 0], -fits.sum(axis=0)[cells[:, 1]]))
        else:
            order = np.argsort(TURN * np.abs(corner[:, 1] - after[1]) + np.abs(corner[:, 0] - after[2]), kind="stable")
        best = corner[order[:TRIES]]
        padded = shapely.box(*(best - pad).T, *(best + size + pad).T)
        sure = np.flatnonzero(shapely.contains(self.region, padded))
        if not len(sure):
            return None
        x, y = (float(v) for v in best[sure[0]])
        return x, y, x + width, y + height


def _inside(rings: list[FloatArray], origin: FloatArray, cell: FloatArray, nx: int, ny: int) -> NDArray[np.bool_]:
    """(nx, ny) which points of the grid lie inside the rings, by crossings counted up each column."""
    start, end = np.vstack([ring[:-1] for ring in rings]), np.vstack([ring[1:] for ring in rings])
    x = origin[0] + cell[0] * np.arange(nx)
    column, edge = np.nonzero((start[:, 0] <= x[:, None]) != (end[:, 0] <= x[:, None]))
    a, b = start[edge], end[edge]
    y = a[:, 1] + (x[column] - a[:, 0]) * (b[:, 1] - a[:, 1]) / (b[:, 0] - a[:, 0])
    row = np.clip(np.ceil((y - origin[1]) / cell[1]).astype(int), 0, ny)
    crossed = np.bincount(column * (ny + 1) + row, minlength=nx * (ny + 1)).reshape(nx, ny + 1)
    inside: NDArray[np.bool_] = crossed.cumsum(axis=1)[:, :ny] % 2 == 1
    return inside


def _all_free(free: NDArray[np.bool_], nx: int, ny: int) -> NDArray[np.bool_]:
    """Which windows of nx by ny points are free all over, by their least corner."""
    if free.shape[0] < nx or free.shape[1] < ny:
        return np.zeros((0, 0), bool)
    total = np.zeros(np.add(free.shape, 1), np.int32)
    total[1:, 1:] = free.cumsum(axis=0, dtype=np.int32).cumsum(axis=1, dtype=np.int32)
    windows: NDArray[np.bool_] = total[nx:, ny:] - total[:-nx, ny:] - total[nx:, :-ny] + total[:-nx, :-ny] == nx * ny
    return windows
