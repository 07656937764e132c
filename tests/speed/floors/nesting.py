"""Floor: shapes on sheets, each where it is told to lie, as cells that none takes twice.

By shapely's buffer and bare numpy, one line of cells after another. Nothing is searched for: no order, turn or place.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

QUARTER = 16  # chords
NEAR = 1e-3  # of arcs as chords [mm]

Cells = NDArray[np.bool_]


@dataclass(frozen=True)
class Told:
    """One shape: its sheet, by what it is turned [deg], then moved [mm]."""

    shape: shapely.Polygon
    sheet: int
    turn: float
    at: tuple[float, float]


def taken(all_of_them: Sequence[Told], size: tuple[float, float], gap: float, edge: float, cell: float) -> list[Cells]:
    """Cells that are taken of each sheet; ValueError where two shapes take one."""
    low = edge - gap / 2
    w, h = (math.ceil((side - 2 * low) / cell - 1e-9) for side in size)
    sheets = [np.zeros((w, h), dtype=bool) for _ in range(1 + max(told.sheet for told in all_of_them))]
    for told in all_of_them:
        shape = affinity.translate(affinity.rotate(told.shape, told.turn, origin=(0, 0)), *told.at)
        mine = cells(shape, gap / 2, cell)
        i, j = (round((side - gap / 2 - low) / cell) for side in shape.bounds[:2])
        there = sheets[told.sheet][i : i + len(mine), j : j + mine.shape[1]]
        if (there & mine).any():
            raise ValueError("two shapes take one cell")
        there |= mine
    return sheets


def cells(shape: shapely.Polygon, half: float, cell: float) -> Cells:
    """Those one of whose corners lies within half a gap and a little of a shape, by lines that are crossed."""
    x0, y0, x1, y1 = shape.bounds
    wide = shape.buffer((math.hypot(half, cell / 2) + NEAR) / math.cos(math.pi / (4 * QUARTER)), quad_segs=QUARTER)
    w, h = (math.ceil((side + 2 * half) / cell - 1e-9) for side in (x1 - x0, y1 - y0))
    x, y = x0 - half + cell * np.arange(w + 1), y0 - half + cell * np.arange(h + 1)
    inside = np.zeros((w + 1, h + 1), dtype=bool)
    for ring in (wide.exterior, *wide.interiors):
        points = shapely.get_coordinates(ring)
        (ax, ay), (bx, by) = points[:-1].T, points[1:].T
        for k in range(w + 1):
            met = (ax <= x[k]) != (bx <= x[k])
            crossed = np.sort(ay[met] + (x[k] - ax[met]) / (bx[met] - ax[met]) * (by[met] - ay[met]))
            inside[k] ^= np.searchsorted(crossed, y, side="right") % 2 == 1
    return inside[1:, 1:] | inside[:-1, 1:] | inside[1:, :-1] | inside[:-1, :-1]
