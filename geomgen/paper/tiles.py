"""A drawing larger than a page as tiles that overlap, and the marks by which they are joined."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.plane.path import Bounds

OVERLAP_MM = 12.0  # that neighbours share; common practice
LEAST_OVERLAP_MM = 8.0  # the joining marks find room in it
APART_MM = 140.0  # most between joining marks on a seam
_INSET_MM = 15.0  # of the first mark from a seam's end


@dataclass(frozen=True)
class Tile:
    """One page of a drawing.

    row    : from 0 at the top of the drawing
    column : from 0 at its left
    window : what of the drawing's own frame is on it: least x, least y, greatest x, greatest y [mm]
    """

    row: int
    column: int
    window: Bounds

    @property
    def name(self) -> str:
        """Row as a letter, column as a number: "B3"."""
        letters, row = "", self.row
        while row >= 0:
            letters, row = chr(ord("A") + row % 26) + letters, row // 26 - 1
        return f"{letters}{self.column + 1}"


@dataclass(frozen=True)
class Seam:
    """Where two tiles are joined: along the middle of what they share.

    first, second : names of the left and the right tile, or of the upper and the lower one
    start, end    : of the line to join along, in the drawing's frame [mm]
    marks         : places of the marks on it, at least two [mm]
    """

    first: str
    second: str
    start: tuple[float, float]
    end: tuple[float, float]
    marks: tuple[tuple[float, float], ...]

    @property
    def name(self) -> str:
        """ "A1|A2"."""
        return f"{self.first}|{self.second}"


def tiled(
    bounds: Bounds,
    room: tuple[float, float],
    overlap_mm: float = OVERLAP_MM,
    before: tuple[float, float] = (0.5, 0.5),
) -> tuple[Tile, ...]:
    """Tiles of one size that cover a drawing, row by row from the top, along x first.

    bounds : of the drawing: least x, least y, greatest x, greatest y [mm]
    room   : width and height of a tile [mm]
    before : share of what the tiles have to spare that lies left of the drawing, and below it [-]
    raises : ValueError for an overlap too narrow to be marked, or more than half a tile
    """
    if not LEAST_OVERLAP_MM <= overlap_mm <= 0.5 * min(room):
        raise ValueError(f"tiles overlap by {LEAST_OVERLAP_MM:g} mm to {0.5 * min(room):g} mm, not {overlap_mm:g}")
    x0, y0, x1, y1 = bounds
    lefts = starts(x0, x1, room[0], overlap_mm, before[0])
    bottoms = starts(y0, y1, room[1], overlap_mm, before[1])[::-1]
    return tuple(
        Tile(row, column, (left, bottom, left + room[0], bottom + room[1]))
        for row, bottom in enumerate(bottoms)
        for column, left in enumerate(lefts)
    )


def seams(tiles: Sequence[Tile]) -> tuple[Seam, ...]:
    """Where those tiles that are printed meet, row by row."""
    at = {(tile.row, tile.column): tile for tile in tiles}
    found = []
    for tile in tiles:
        if right := at.get((tile.row, tile.column + 1)):
            x = 0.5 * (right.window[0] + tile.window[2])
            found.append(_seam(tile, right, (x, tile.window[1]), (x, tile.window[3])))
        if below := at.get((tile.row + 1, tile.column)):
            y = 0.5 * (below.window[3] + tile.window[1])
            found.append(_seam(tile, below, (tile.window[0], y), (tile.window[2], y)))
    return tuple(found)


def starts(low: float, high: float, size: float, overlap: float, before: float) -> list[float]:
    """Where tiles begin along one side of a drawing, `before` of what is spare ahead of it [mm]."""
    count = 1 if high - low <= size else math.ceil((high - low - overlap) / (size - overlap) - 1e-9)
    spare = count * size - (count - 1) * overlap - (high - low)
    return [low - before * spare + k * (size - overlap) for k in range(count)]


def _seam(one: Tile, other: Tile, start: tuple[float, float], end: tuple[float, float]) -> Seam:
    long = math.dist(start, end)
    count = max(2, 1 + math.ceil((long - 2.0 * _INSET_MM) / APART_MM - 1e-9))
    shares = [(_INSET_MM + k * (long - 2.0 * _INSET_MM) / (count - 1)) / long for k in range(count)]
    marks = tuple((start[0] + s * (end[0] - start[0]), start[1] + s * (end[1] - start[1])) for s in shares)
    return Seam(one.name, other.name, start, end, marks)
