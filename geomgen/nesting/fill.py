"""Shapes laid on sheets from one end on: each where it comes to lie lowest, on the first sheet that has room for it.

Several orders are tried, the largest first being the usual rule of thumb (common practice), and the one that leaves the
most is taken. How many are tried depends on how many pieces there are, never on a clock: the same pieces always come to
lie the same way.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

import shapely
from shapely import affinity

from geomgen.nesting.grid import Grid
from geomgen.nesting.mask import Mask, mask_of

FINE_MM, COARSE_MM = 0.5, 1.0  # side of a cell
FINE_UP_TO_MM2 = 3e5  # larger sheets are laid in coarse cells
_TINY = 1e-9  # of a cell
_TRIES = 240  # pieces laid in all tries together
_FEWEST, _MOST = 2, 5  # tries


@dataclass(frozen=True, eq=False)
class Piece:
    """Something to be laid, as often as it is needed.

    shape : unturned, arcs as chords within `mask.FLATTEN_MM`; what lies in its holes is free for others [mm]
    turns : the angles that it may be turned by [deg]
    count : how many of it
    """

    shape: shapely.Polygon
    turns: tuple[float, ...]
    count: int = 1


@dataclass(frozen=True, eq=False)
class Ground:
    """One sheet to lay on.

    size  : along x and y [mm]
    lying : shapes that lie there already, and stay [mm]
    walls : x of lines across that the sheet is cut apart along: edges, too [mm]
    """

    size: tuple[float, float]
    lying: tuple[shapely.Polygon, ...] = ()
    walls: tuple[float, ...] = ()


@dataclass(frozen=True)
class Spot:
    """Where one copy of a piece lies: turned about its origin, then moved.

    piece    : its number
    ground   : number of the sheet: first those that were there, then new ones
    at       : [mm]
    turn_deg : anticlockwise
    """

    piece: int
    ground: int
    at: tuple[float, float]
    turn_deg: float


@dataclass(frozen=True, eq=False)
class _Way:
    """A piece as it may lie: a number of its own, its mask, and from the mask's corner to the piece's origin."""

    number: int
    mask: Mask
    origin: tuple[float, float]
    turn_deg: float


Ways = Sequence[Sequence[_Way]]
Order = tuple[int, ...]
Score = Callable[[float, float, Mask], tuple[float, float]]


def filled(
    pieces: Sequence[Piece], there: Sequence[Ground], new: Ground | None, gap_mm: float, edge_mm: float
) -> tuple[Spot, ...]:
    """A spot for each copy of each piece.

    pieces  : in any order
    there   : sheets that are there, tried first, in their order
    new     : what a further sheet is like, of which there are as many as it takes; None where there are none
    gap_mm  : least distance between two shapes; it keeps up to two cells more [mm]
    edge_mm : least distance from a sheet's edge [mm]
    returns : by piece, then in the order in which they are laid
    raises  : ValueError for a piece that goes on none of them
    """
    grounds = [*there, *([new] if new is not None else [])]
    if not pieces or not grounds:
        return _none_for(pieces)
    largest = max(ground.size[0] * ground.size[1] for ground in grounds)
    sheet = _Sheet(gap_mm / 2.0, edge_mm, FINE_MM if largest <= FINE_UP_TO_MM2 else COARSE_MM)
    ways = _ways(pieces, grounds, sheet)
    stock = [sheet.grid(ground) for ground in there], None if new is None else sheet.grid(new)
    best: tuple[tuple[int, float], list[tuple[int, _Way, int, int, int]]] | None = None
    for order, score in _tries(pieces, ways):
        laid, cost = _laid(order, ways, stock, score)
        if best is None or cost < best[0]:
            best = cost, laid
    assert best is not None
    spots = [Spot(k, g, sheet.place(way, column, row), way.turn_deg) for k, way, g, column, row in best[1]]
    return tuple(sorted(spots, key=lambda spot: spot.piece))


def _none_for(pieces: Sequence[Piece]) -> tuple[Spot, ...]:
    if pieces:
        raise ValueError("there is no sheet to lay anything on")
    return ()


@dataclass(frozen=True, eq=False)
class _Sheet:
    """How sheets are taken as cells: their least corner lies an edge less half a gap inside the sheet's own."""

    half_mm: float
    edge_mm: float
    cell_mm: float
    low: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "low", self.edge_mm - self.half_mm)

    def within(self, ground: Ground) -> tuple[float, float]:
        """What masks may lie on [mm]."""
        return ground.size[0] - 2.0 * self.low, ground.size[1] - 2.0 * self.low

    def grid(self, ground: Ground) -> Grid:
        """A sheet with what lies there."""
        grid = Grid(self.within(ground), self.cell_mm)
        for shape in ground.lying:
            grid.stamp(*mask_at(shape, self.half_mm, self.cell_mm, (self.low, self.low)))
        for x in ground.walls:
            aside = max(self.edge_mm - self.half_mm, 0.0)
            first = math.floor((x - self.low - aside) / self.cell_mm + _TINY)
            last = math.ceil((x - self.low + aside) / self.cell_mm - _TINY) - 1
            grid.wall(first, max(first, last))
        return grid

    def place(self, way: _Way, column: int, row: int) -> tuple[float, float]:
        """Where a piece's origin lies [mm]."""
        x, y = (self.low + n * self.cell_mm + origin for n, origin in zip((column, row), way.origin, strict=True))
        return round(x, 6), round(y, 6)


def mask_at(
    shape: shapely.Polygon, half_mm: float, cell_mm: float, corner: tuple[float, float]
) -> tuple[Mask, int, int]:
    """The mask of a shape that lies anywhere on a grid with a corner there, and its first column and row."""
    x0, y0, _, _ = shape.bounds
    begin = [(low - half_mm - at) / cell_mm for low, at in zip((x0, y0), corner, strict=True)]
    column, row = (math.floor(each + _TINY) for each in begin)
    ahead = [(each - n) * cell_mm for each, n in zip(begin, (column, row), strict=True)]
    return mask_of(shape, half_mm, cell_mm, (max(ahead[0], 0.0), max(ahead[1], 0.0))), column, row


def _ways(pieces: Sequence[Piece], grounds: Sequence[Ground], sheet: _Sheet) -> Ways:
    """Each piece as it may lie on one of the grounds at least; masks of equal pieces are made anew, which is cheap."""
    found: list[list[_Way]] = []
    number = 0
    for piece in pieces:
        mine = []
        for turn in piece.turns:
            turned = affinity.rotate(piece.shape, turn, origin=(0, 0)) if turn % 360.0 else piece.shape
            x0, y0, x1, y1 = turned.bounds
            if any(
                x1 - x0 <= wide - 2 * sheet.edge_mm + 1e-6 and y1 - y0 <= high - 2 * sheet.edge_mm + 1e-6
                for wide, high in (ground.size for ground in grounds)
            ):
                mask = mask_of(turned, sheet.half_mm, sheet.cell_mm)
                mine.append(_Way(number, mask, (sheet.half_mm - x0, sheet.half_mm - y0), turn))
                number += 1
        if not mine:
            raise ValueError(f"piece {len(found)} goes on no sheet")
        found.append(mine)
    return found


def _tries(pieces: Sequence[Piece], ways: Ways) -> Iterator[tuple[Order, Score]]:
    """Orders in which pieces are laid, and what makes one place better than another."""
    copies = [k for k, piece in enumerate(pieces) for _ in range(piece.count)]
    sizes = [way[0].mask.size for way in ways]
    boxes = [(-wide * high, k) for k, (wide, high) in enumerate(sizes)]
    areas = [(-piece.shape.area, k) for k, piece in enumerate(pieces)]
    longest = [(-max(size), k) for k, size in enumerate(sizes)]
    tries = [
        (areas, _begins), (boxes, _ends), (areas, _middle), (longest, _begins), (boxes, _begins),
    ]  # fmt: skip
    many = min(max(_TRIES // len(copies), _FEWEST), _MOST)
    for keys, score in tries[:many]:
        yield tuple(sorted(copies, key=keys.__getitem__)), score


def _begins(x: float, y: float, mask: Mask) -> tuple[float, float]:
    return x, y + mask.size[1]


def _ends(x: float, y: float, mask: Mask) -> tuple[float, float]:
    return x + mask.size[0], y


def _middle(x: float, y: float, mask: Mask) -> tuple[float, float]:
    return x + mask.size[0] / 2.0, y


def _laid(
    order: Order, ways: Ways, stock: tuple[Sequence[Grid], Grid | None], score: Score
) -> tuple[list[tuple[int, _Way, int, int, int]], tuple[int, float]]:
    """Pieces laid in an order: piece, way, number of the sheet, column and row; new sheets, and length of the last."""
    there, new = stock
    grids = [grid.copy() for grid in there]
    laid = []
    for k in order:
        for g in range(len(grids) + 1):
            if g == len(grids):
                if new is None:
                    raise ValueError(f"there is no room for piece {k}")
                grids.append(new.copy())
            if (found := _best(grids[g], ways[k], score)) is not None:
                way, column, row = found
                grids[g].take(way.mask, column, row)
                laid.append((k, way, g, column, row))
                break
            if g >= len(there) and not grids[g].laid:
                raise ValueError(f"piece {k} goes on no sheet")
    last = len(grids) - 1
    reach = max((column + way.mask.cells.shape[0] for _, way, g, column, _ in laid if g == last), default=0)
    return laid, (len(grids) - len(there), float(reach))


def _best(grid: Grid, ways: Sequence[_Way], score: Score) -> tuple[_Way, int, int] | None:
    found = []
    for way in ways:
        if (room := grid.room(way.mask, way.number)) is not None:
            found.append((score(room[0] * grid.cell_mm, room[1] * grid.cell_mm, way.mask), way.number, way, room))
    if not found:
        return None
    _, _, way, (column, row) = min(found, key=lambda each: each[:2])
    return way, column, row
