"""One piece of skin laid flat, and where places on the blade come to lie in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import Half
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, mm
from geomgen.structure.covers.rows import Contour, columns, points
from geomgen.unroll.unroll import Unrolled, unroll

LEAST_MM = 2.0  # a piece is nowhere narrower


@dataclass(frozen=True, eq=False)
class Ply:
    """One surface's share of a piece: from one length behind the nose to another, at each of k stations.

    contour     : the surface at the depth that is laid flat
    start, end : (k,) lengths from the nose [mm]
    """

    contour: Contour
    start: FloatArray
    end: FloatArray


@dataclass(frozen=True, eq=False)
class Laid:
    """A piece laid flat: x along the blade from the root, y round the section, from the first half's tail to the last.

    r_mm    : (k,) radii of its rows [mm]
    flat    : the grid in space and in the flat
    halves  : for each surface, its columns, and which column of the grid each is
    corners : name ("upper fold 1") and column of each corner
    """

    r_mm: FloatArray
    flat: Unrolled
    halves: dict[Half, tuple[FloatArray, FloatArray]]
    corners: tuple[tuple[str, int], ...]

    def row(self, r_mm: float) -> int:
        """The row at a radius that is one of its own."""
        return int(np.argmin(np.abs(self.r_mm - r_mm)))

    def across(self, r_mm: float) -> FloatArray:
        """(n, 2) the line across the piece at a radius, straight between rows where it isn't one [mm]."""
        u = float(np.interp(r_mm, self.r_mm, np.arange(len(self.r_mm))))
        near = round(u)
        columns = np.arange(self.flat.xy.shape[1])
        return self.flat.at(float(near) if abs(u - near) < 1e-6 else u, columns)

    def at(self, half: Half, rows: Sequence[int], along: FloatArray) -> FloatArray:
        """(m, 2) places in the flat of lengths from the nose (m,) on a surface, each in its own row [mm]."""
        lengths, column = self.halves[half]
        v = [float(np.interp(s, lengths[u], column)) for u, s in zip(rows, along, strict=True)]
        return self.flat.at(np.asarray(rows, dtype=np.float64), np.array(v))

    def reaches(self, half: Half, row: int, along: float) -> bool:
        """Whether a length from the nose lies on the piece."""
        if half not in self.halves:
            return False
        lengths = self.halves[half][0][row]
        return bool(lengths[0] - 1e-6 <= along <= lengths[-1] + 1e-6)


def lay(stations: Sequence[Station], plies: Sequence[Ply], path: str = "") -> Laid:
    """Lay a piece flat.

    stations : k, root to tip
    plies    : one surface, from its tail to its nose; or the upper and the lower, which meet at the nose
    path     : key path to blame
    raises   : MakeError where a surface leaves nothing between its ends, or comes to a point
    """
    for ply in plies:
        k = int(np.argmin(ply.end - ply.start))
        if ply.end[k] - ply.start[k] < LEAST_MM:
            wrong = f"nothing is left of its {ply.contour.half} side at r {mm(stations[k].r_mm, 0)}"
            remedy = "narrower strips along nose and tail, or a longer chord"
            raise MakeError(Fault(path, "", wrong, f"at least {at_least(LEAST_MM)} round the section", remedy))
    halves: dict[Half, tuple[FloatArray, FloatArray]] = {}
    grid: FloatArray | None = None
    corners: list[tuple[str, int]] = []
    for ply in plies:
        made = columns(ply.contour, ply.start, ply.end)
        space = np.array([s.to_blade(p) for s, p in zip(stations, points(ply.contour, made.along), strict=True)])
        column = np.arange(space.shape[1], dtype=np.float64)
        if grid is None and (len(plies) == 2 or ply.contour.half == "upper"):
            grid, column = space[:, ::-1], column[::-1]
        elif grid is None:
            grid = space
        else:
            column = column + grid.shape[1] - 1
            grid = np.concatenate([grid, space[:, 1:]], axis=1)
        halves[ply.contour.half] = (made.along, column)
        corners += [(f"{ply.contour.half} {name}", int(column[at])) for name, at in made.corners]
    assert grid is not None
    r = np.array([station.r_mm for station in stations])
    try:
        flat = unroll(grid)
    except ValueError as error:
        raise MakeError(
            Fault(path, "", f"can't be laid flat: {error}", remedy="a section without so sharp a fold")
        ) from None
    return Laid(r, flat, halves, tuple(corners))
