"""The band of words below a drawing: which part, which page, how to print it, and where this tile lies."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.figures import spelled
from geomgen.paper.arrows import arrows, arrows_wide
from geomgen.paper.caption import count_words
from geomgen.paper.drawn import Filled, Item, Line, Style, Words
from geomgen.paper.shapes import box, line
from geomgen.paper.sizes import GAP_MM, Page
from geomgen.paper.square import side_words
from geomgen.paper.template import Template
from geomgen.paper.tiles import Tile
from geomgen.paper.wording import CAPITAL, broken, cut_off, fitting_mm
from geomgen.plane.path import Bounds, Path

NAME_MM, WORDS_MM = 5.5, 2.9
_MAP_MM = 44.0  # most width of the map
_SPACE_MM = 5.0  # between map, words and arrows
_PITCH_MM = 4.0
_WIDEST_MM = 150.0  # of a line of words


def tile_band(
    page: Page,
    template: Template,
    tile: Tile,
    tiles: Sequence[Tile],
    outline: Path,
    *,
    numbers: tuple[int, int],
    unit: str,
) -> list[Item]:
    """The band of a tile.

    outline : of the whole part, for the map [mm]
    numbers : this page's, and how many there are
    """
    x0, _, x1, _ = page.band
    items, left = _map(page, tile, tiles, outline) if len(tiles) > 1 else ([], x0)
    wide = arrows_wide(template)
    room = min(x1 - wide - _SPACE_MM * bool(wide) - left, _WIDEST_MM)
    said = " · ".join([count_words(template.copies), *spelled(template.words, unit)])
    rows, columns = 1 + max(t.row for t in tiles), 1 + max(t.column for t in tiles)
    place = f"tile {tile.name}: row {tile.row + 1} of {rows}, column {tile.column + 1} of {columns}"
    lines = [said, _page_words(numbers) + (f" · {place}" if len(tiles) > 1 else ""), _printing(unit)]
    name = f"{template.name}   {tile.name}" if len(tiles) > 1 else template.name
    items += _words(page, name, lines, left, room)
    return [*items, *arrows(template, left + room + _SPACE_MM, page.band[1] + 7.0), _rule(page)]


def parts_band(page: Page, names: Sequence[str], *, numbers: tuple[int, int], unit: str) -> list[Item]:
    """The band of a page of small parts."""
    x0, _, x1, _ = page.band
    room = min(x1 - x0, _WIDEST_MM)
    lines = [f"{len(names)} parts, each drawn once" if len(names) > 1 else "", _page_words(numbers), _printing(unit)]
    return [*_words(page, ", ".join(names), lines, x0, room), _rule(page)]


def _page_words(numbers: tuple[int, int]) -> str:
    return f"page {numbers[0]} of {numbers[1]}"


def _printing(unit: str) -> str:
    return (
        f"Print at 100 %, not fitted to the page: the square must measure {side_words(unit)} both ways. "
        "Cut along the middle of the whole black lines; blue is to measure and to join by."
    )


def _rule(page: Page) -> Line:
    """A line between the drawing and its words."""
    x0, _, x1, y1 = page.band
    return Line((line((x0, y1), (x1, y1)),), Style.MARK)


def _words(page: Page, name: str, lines: Sequence[str], left: float, room: float) -> list[Item]:
    top = page.band[3] - GAP_MM
    size = fitting_mm(name, room, NAME_MM, 3.5, bold=True)
    y = top - CAPITAL * NAME_MM
    items: list[Item] = [Words(cut_off(name, room, size, bold=True), (left, y), size, bold=True)]
    y -= 1.2
    for text in (row for each in lines for row in broken(each, room, WORDS_MM)):
        y -= _PITCH_MM
        if y >= page.band[1]:
            items.append(Words(text, (left, y), WORDS_MM))
    return items


def _map(page: Page, tile: Tile, tiles: Sequence[Tile], outline: Path) -> tuple[list[Item], float]:
    """All tiles and the part, small, this tile filled in; and where the words beside it begin [mm]."""
    windows = [each.window for each in tiles]
    x0, y0 = min(w[0] for w in windows), min(w[1] for w in windows)
    wide, high = max(w[2] for w in windows) - x0, max(w[3] for w in windows) - y0
    left, bottom, _, top = page.band
    scale = min(_MAP_MM / wide, (top - bottom - GAP_MM) / high)
    foot = top - GAP_MM - scale * high

    def small(bounds: Bounds) -> Bounds:
        return (
            left + scale * (bounds[0] - x0),
            foot + scale * (bounds[1] - y0),
            left + scale * (bounds[2] - x0),
            foot + scale * (bounds[3] - y0),
        )

    a, b, c, d = small(tile.window)
    items: list[Item] = [Filled(((a, b), (c, b), (c, d), (a, d)), Style.REFERENCE)]
    items.append(Line(tuple(box(small(window)) for window in windows), Style.MARK))
    shape = outline.transformed([[scale, 0.0, left - scale * x0], [0.0, scale, foot - scale * y0], [0.0, 0.0, 1.0]])
    items.append(Line((shape,), Style.MARK))
    for each in tiles:
        a, b, c, d = small(each.window)
        size = min(2.6, 0.4 * (d - b), 0.3 * (c - a))
        items.append(Words(each.name, (0.5 * (a + c), 0.5 * (b + d - CAPITAL * size)), size, middle=True))
    return items, left + scale * wide + _SPACE_MM
