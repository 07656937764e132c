"""What a tile is joined to its neighbours by: seam lines, diamonds on them, and the names of both tiles beside."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.paper.drawn import Item, Line, Style, Words
from geomgen.paper.shapes import Point, line
from geomgen.paper.tiles import Seam, Tile
from geomgen.paper.wording import CAPITAL, width_mm
from geomgen.plane.path import from_points

HALF_MM = 3.5  # from a diamond's middle to its corners
_NAME_MM = 3.0


def joining(tile: Tile, seams: Sequence[Seam], shift: Point) -> list[Item]:
    """The marks of every seam of a tile, moved to their places on the page [mm]."""
    items: list[Item] = []
    for seam in seams:
        if tile.name not in (seam.first, seam.second):
            continue
        marks = [(x + shift[0], y + shift[1]) for x, y in seam.marks]
        ends = [(x + shift[0], y + shift[1]) for x, y in (seam.start, seam.end)]
        items.append(Line((line(*ends),), Style.SEAM))
        items.append(Line(tuple(from_points(_diamond(mark), closed=True) for mark in marks), Style.GUIDE))
        upright = seam.start[0] == seam.end[0]
        for k, mark in enumerate(marks):  # towards the seam's middle, clear of the seams that cross its ends
            ahead = 2 * k < len(marks) - 1
            items.append(_name(seam.name, mark, upright=upright, first=tile.name == seam.first, ahead=ahead))
    return items


def _diamond(at: Point) -> list[Point]:
    x, y = at
    return [(x - HALF_MM, y), (x, y - HALF_MM), (x + HALF_MM, y), (x, y + HALF_MM)]


def _name(name: str, at: Point, *, upright: bool, first: bool, ahead: bool) -> Words:
    """A seam's name along it, ahead of a mark or behind, on the side that stays when the pages are joined."""
    x, y = at
    capital, away = CAPITAL * _NAME_MM, 1.0
    start = HALF_MM + 1.0 if ahead else -HALF_MM - 1.0 - width_mm(name, _NAME_MM)
    if upright:
        x += -away if first else away + capital
        return Words(name, (x, y + start), _NAME_MM, turn_deg=90.0, style=Style.GUIDE)
    y += away if first else -away - capital
    return Words(name, (x + start, y), _NAME_MM, style=Style.GUIDE)
