"""Which part goes on which page: small ones side by side, larger ones in tiles, upright or lying: the less paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely

from geomgen.paper.caption import Boxed
from geomgen.paper.sizes import Page, Paper
from geomgen.paper.template import Template
from geomgen.paper.tiles import Tile, starts, tiled
from geomgen.plane.path import Bounds, Circle, Loop
from geomgen.stock.packing import Box, Spot, packed, sheets_of

EDGE_MM = 3.0  # least distance of a tiled part's bounds from the outer edge of its tiles
_LEAST_LONG_MM = 210.0  # shortest page of a roll
_SHARES = (0.0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1.0)  # of what is spare, ahead of a tiled part
_GROWS = 1.12  # a roll's page is tried so much longer each time


@dataclass(frozen=True)
class PartsSheet:
    """A page of small parts: number of each, and the lower left corner of its box on the page [mm]."""

    page: Page
    places: tuple[tuple[int, tuple[float, float]], ...]


@dataclass(frozen=True)
class TileSheet:
    """A page with a tile of one part, and all tiles of it that are printed."""

    page: Page
    part: int
    tile: Tile
    tiles: tuple[Tile, ...]


Sheet = PartsSheet | TileSheet


def laid_out(
    templates: Sequence[Template], boxes: Sequence[Boxed], paper: Paper, overlap_mm: float
) -> tuple[Sheet, ...]:
    """All pages: each large part tile by tile, then the small ones, none cut that fits on a page.

    templates, boxes : each part, and the box that it takes where it is small
    """
    small = [k for k, box in enumerate(boxes) if any(_goes(box, page) for page in paper.pages())]
    large = [k for k in range(len(templates)) if k not in small]
    tiles: list[Sheet] = [sheet for k in large for sheet in _tiles(k, templates[k], paper, overlap_mm)]
    return *tiles, *(_on_roll(boxes, small, paper) if paper.roll else _on_pages(boxes, small, paper))


def _goes(box: Boxed, page: Page) -> bool:
    return box.wide_mm <= page.room[0] and box.high_mm <= page.room[1]


def _tiles(k: int, template: Template, paper: Paper, overlap_mm: float) -> list[TileSheet]:
    x0, y0, x1, y1 = template.bounds
    bounds = x0 - EDGE_MM, y0 - EDGE_MM, x1 + EDGE_MM, y1 + EDGE_MM
    region = template.flat.region.to_shapely(0.1)
    lines = shapely.GeometryCollection([region, *map(_as_line, (*template.flat.marks, *template.flat.reference))])
    shapely.prepare(lines)
    tries = []
    for lying, whole in enumerate(paper.pages()):
        page = _shortened(paper, whole, bounds[2 + (1 - lying)] - bounds[1 - lying], lying=bool(lying))
        before = _quietest(template, bounds, page.room, overlap_mm)
        mine = tuple(
            t for t in tiled(bounds, page.room, overlap_mm, before) if lines.intersects(shapely.box(*t.window))
        )
        tries.append([TileSheet(page, k, tile, mine) for tile in mine])
    return min(tries, key=lambda sheets: (len(sheets), sum(s.page.wide_mm * s.page.high_mm for s in sheets)))


def _quietest(template: Template, bounds: Bounds, room: tuple[float, float], overlap_mm: float) -> tuple[float, float]:
    """Where to lay the tiles, within what they have to spare, so that the least of what is drawn runs along a seam."""
    flat = template.flat
    drawn = [_as_line(each) for each in (*flat.region.loops(), *flat.marks, *flat.reference)]
    lines = shapely.MultiLineString(drawn)
    found = []
    for axis in (0, 1):
        low, high = bounds[axis], bounds[axis + 2]
        along = []
        for share in _SHARES:
            first = starts(low, high, room[axis], overlap_mm, share)[1:]
            strips = [
                shapely.box(at, bounds[1], at + overlap_mm, bounds[3])
                if axis == 0
                else shapely.box(bounds[0], at, bounds[2], at + overlap_mm)
                for at in first
            ]
            along.append(sum(lines.intersection(strip).length for strip in strips))
        found.append(min(zip(along, _SHARES, strict=True), key=lambda each: (round(each[0]), abs(each[1] - 0.5)))[1])
    return found[0], found[1]


def _as_line(loop: Loop) -> shapely.LineString:
    points = loop.flattened(0.1)
    closed = isinstance(loop, Circle) or loop.closed
    return shapely.LineString([*points, points[0]] if closed else points)


def _shortened(paper: Paper, page: Page, long_mm: float, *, lying: bool) -> Page:
    """A roll's page, no longer than what is drawn along it asks for."""
    if not paper.roll:
        return page
    taken = (page.wide_mm - page.room[0]) if lying else (page.high_mm - page.room[1])
    long = min(paper.long_mm, max(_LEAST_LONG_MM, long_mm + taken))
    return replace(page, wide_mm=long) if lying else replace(page, high_mm=long)


def _on_pages(boxes: Sequence[Boxed], small: Sequence[int], paper: Paper) -> list[PartsSheet]:
    """Small parts on pages of one way round, those that need it on the other, whichever takes fewer."""
    upright, lying = paper.pages()
    tries = []
    for first, other in ((upright, lying), (lying, upright)):
        mine = [k for k in small if _goes(boxes[k], first)]
        rest = [k for k in small if k not in mine]
        tries.append([*_shelved(boxes, mine, first), *_shelved(boxes, rest, other)])
    return min(tries, key=len)


def _on_roll(boxes: Sequence[Boxed], small: Sequence[int], paper: Paper) -> list[PartsSheet]:
    """Small parts on as short a page as holds them all, or on as few of the longest as do."""
    tries = []
    for lying, whole in enumerate(paper.pages()):
        if not all(_goes(boxes[k], whole) for k in small):
            continue
        needed = max((boxes[k].wide_mm if lying else boxes[k].high_mm for k in small), default=0.0)
        page = _shortened(paper, whole, needed, lying=bool(lying))
        while len(sheets := _shelved(boxes, small, page)) > 1 and page != whole:
            long = (page.wide_mm if lying else page.high_mm) * _GROWS
            page = _shortened(paper, whole, long, lying=bool(lying))
        tries.append([_cropped(boxes, sheet, paper, lying=bool(lying)) for sheet in sheets])
    if not tries:  # some only go upright, some only lying
        fits = [k for k in small if _goes(boxes[k], next(iter(paper.pages())))]
        return [*_on_roll(boxes, fits, paper), *_on_roll(boxes, [k for k in small if k not in fits], paper)]
    return min(tries, key=lambda sheets: sum(sheet.page.wide_mm * sheet.page.high_mm for sheet in sheets))


def _cropped(boxes: Sequence[Boxed], sheet: PartsSheet, paper: Paper, *, lying: bool) -> PartsSheet:
    x0, y0 = sheet.page.window[:2]
    ends = [(x + boxes[k].wide_mm - x0, y + boxes[k].high_mm - y0) for k, (x, y) in sheet.places]
    page = _shortened(paper, sheet.page, max(end[1 - lying] for end in ends), lying=lying)
    return replace(sheet, page=page)


def _shelved(boxes: Sequence[Boxed], which: Sequence[int], page: Page) -> list[PartsSheet]:
    """Those parts on pages of one size, in the order of their pages."""
    left, bottom = page.window[:2]
    spots = packed([Box(boxes[k].wide_mm, boxes[k].high_mm, turns=False) for k in which], page.room, 0.0)
    on: list[list[Spot]] = [[] for _ in range(sheets_of(spots))]
    for spot in spots:
        on[spot.sheet].append(spot)
    return [
        PartsSheet(page, tuple((which[spot.box], (left + spot.x_mm, bottom + spot.y_mm)) for spot in each))
        for each in on
    ]
