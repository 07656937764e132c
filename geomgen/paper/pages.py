"""All pages of a set of templates as data: covers, tiles of large parts, small parts side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from geomgen.paper.band import parts_band, tile_band
from geomgen.paper.caption import Boxed, boxed, caption
from geomgen.paper.cover import About, cover_pages
from geomgen.paper.drawn import Drawn, Item, Line, Words
from geomgen.paper.joining import joining
from geomgen.paper.layout import PartsSheet, Sheet, TileSheet, laid_out
from geomgen.paper.shapes import box, on_page, strokes_of
from geomgen.paper.sizes import Paper
from geomgen.paper.square import corners, quietest
from geomgen.paper.template import Template
from geomgen.paper.tiles import OVERLAP_MM, seams
from geomgen.paper.wording import CAPITAL, width_mm
from geomgen.plane.path import Bounds, Circle, Path

_NUMBER_MM = 2.9


def paper_pages(
    templates: Sequence[Template],
    paper: Paper,
    overlap_mm: float = OVERLAP_MM,
    *,
    title: str,
    unit: str = "mm",
    cautions: Sequence[str] = (),
) -> tuple[Drawn, ...]:
    """Every page, covers first.

    overlap_mm : that neighbouring tiles share [mm]
    title      : of the design
    unit       : the design's own unit of length, for what is written
    cautions   : what a cutter should mind, a paragraph each
    raises     : ValueError where there is no template, or tiles can't overlap by so much
    """
    if not templates:
        raise ValueError("there is no part to draw on paper")
    boxes = [boxed(each, unit) for each in templates]
    sheets = laid_out(templates, boxes, paper, overlap_mm)
    on = [[k for k, sheet in enumerate(sheets, 1) if number in _parts_of(sheet)] for number in range(len(templates))]
    covers = cover_pages(templates, on, paper, About(title, unit, overlap_mm, tuple(cautions)))
    total = len(covers) + len(sheets)
    numbered = [_cover(cover, (k, total), unit) for k, cover in enumerate(covers, 1)]
    for k, sheet in enumerate(sheets, len(covers) + 1):
        numbered.append(_drawn(sheet, templates, boxes, (k, total), unit))
    return tuple(numbered)


def _parts_of(sheet: Sheet) -> list[int]:
    return [sheet.part] if isinstance(sheet, TileSheet) else [k for k, _ in sheet.places]


def _cover(cover: Drawn, numbers: tuple[int, int], unit: str) -> Drawn:
    """A page ahead of the parts with its number; the first has a square of its own."""
    x0, y0, x1, y1 = cover.page.printable
    square = _square(cover.items, (x0 + 0.5, y0 + 8.0, x1 - 0.5, y1 - 0.5), unit) if numbers[0] > 1 else []
    number = Words(f"page {numbers[0]} of {numbers[1]}", (x0, y0 + 1.0), _NUMBER_MM)
    return replace(cover, items=(*square, *cover.items, number))


def _drawn(
    sheet: Sheet, templates: Sequence[Template], boxes: Sequence[Boxed], numbers: tuple[int, int], unit: str
) -> Drawn:
    if isinstance(sheet, TileSheet):
        return _tile(sheet, templates[sheet.part], numbers, unit)
    return _parts(sheet, templates, boxes, numbers, unit)


def _tile(sheet: TileSheet, template: Template, numbers: tuple[int, int], unit: str) -> Drawn:
    page, window = sheet.page, sheet.tile.window
    shift = page.window[0] - window[0], page.window[1] - window[1]
    lines: list[Item] = [*on_page(strokes_of(template), window, shift)]
    lines += joining(sheet.tile, seams(sheet.tiles), shift)
    outer = template.flat.region.outer
    outline = outer.as_path() if isinstance(outer, Circle) else outer
    words = tile_band(page, template, sheet.tile, sheet.tiles, outline, numbers=numbers, unit=unit)
    return Drawn(page, (*_square(lines, page.window, unit), *lines, *words))


def _parts(
    sheet: PartsSheet,
    templates: Sequence[Template],
    boxes: Sequence[Boxed],
    numbers: tuple[int, int],
    unit: str,
) -> Drawn:
    page, lines, words = sheet.page, list[Item](), list[Item]()
    for k, (left, bottom) in sheet.places:
        template, box = templates[k], boxes[k]
        x0, y0, x1, y1 = template.bounds
        shift = left + box.part_at[0] - x0, bottom + box.part_at[1] - y0
        lines += on_page(strokes_of(template), (x0, y0, x1, y1), shift)
        words += caption(template, box, left, bottom)
    names = [templates[k].name for k in sorted(k for k, _ in sheet.places)]
    band = parts_band(page, names, numbers=numbers, unit=unit)
    return Drawn(page, (*_square([*lines, *words], page.window, unit), *lines, *words, *band))


def _square(items: Sequence[Item], window: Bounds, unit: str) -> list[Item]:
    """The square's corners, clear of lines and words where there is room."""
    paths: list[Path] = [path for item in items if isinstance(item, Line) for path in item.paths]
    for item in items:
        if isinstance(item, Words) and not item.turn_deg:
            x, y = item.at[0] - 0.5 * item.middle * (wide := width_mm(item.text, item.size_mm, item.bold)), item.at[1]
            paths.append(box((x, y, x + wide, y + CAPITAL * item.size_mm)))
    return corners(quietest(window, paths, unit), unit)
