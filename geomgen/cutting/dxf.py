"""Writes DXF: R2000, millimetres, closed polylines of lines and arcs, true circles; equal parts give equal bytes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby, islice
from typing import Any

import numpy as np

from geomgen.cutting.colours import LAYERS, layer_colours
from geomgen.cutting.frame import Frame, frame
from geomgen.cutting.toolpaths import GAP_MM, Drawing, caption, draw_part, in_rows, rule, stated, together
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Circle, Path

_DECIMALS = 6  # of a coordinate [mm]
_BULGE_DECIMALS = 9


def part_dxf(part: Part, colours: Mapping[str, str], blades: int, unit: str = "mm", more: str = "") -> bytes:
    """A cutting file of one flat part, in its own frame, with its name, its count and a line to measure below it.

    part    : flat, as it is to be cut (mirrored already in a clockwise craft)
    colours : "inside", "outside", "mark", "reference" -> colour name
    blades  : in the craft [-]
    unit    : the design's own unit of length, for what is written
    more    : what else is to be written beside it
    returns : DXF R2000 in millimetres, the kerf not applied
    """
    drawing = draw_part(part)
    left, bottom, _, _ = drawing.bounds
    beside = caption([*stated(part, blades, unit), *([more] if more else [])], left, bottom - GAP_MM)
    line = rule(left, beside.bounds[1] - 2.0 * GAP_MM, unit)
    return write_dxf(together((drawing, beside, line)), colours)


def all_dxf(
    parts: Sequence[Part],
    colours: Mapping[str, str],
    width_mm: float,
    blades: int,
    unit: str = "mm",
    more: Mapping[str, str] | None = None,
) -> bytes:
    """A cutting file of all flat parts side by side, each once with its count beside it, in rows for each stock.

    parts    : those that aren't flat are left out
    colours  : "inside", "outside", "mark", "reference" -> colour name
    width_mm : of a row: the width of the laser's bed [mm]
    blades   : in the craft [-]
    unit     : the design's own unit of length, for what is written
    more     : by stock, what else is to be written beside its parts
    """
    flats = sorted((part for part in parts if isinstance(part.shape, Flat)), key=lambda part: part.stock)
    top, sheet = 0.0, [rule(0.0, GAP_MM, unit)]
    for stock, group in groupby(flats, key=lambda part: part.stock):
        words = (more or {}).get(stock, "")
        cells = [_cell(part, blades, unit, words) for part in group]
        sizes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in (cell.bounds for cell in cells)]
        placed = [
            cell.moved(left - cell.bounds[0], top + bottom - cell.bounds[1])
            for cell, (left, bottom) in zip(cells, in_rows(sizes, width_mm, GAP_MM), strict=True)
        ]
        sheet += placed
        top = min(cell.bounds[1] for cell in placed) - 3.0 * GAP_MM
    return write_dxf(together(sheet), colours)


def _cell(part: Part, blades: int, unit: str, more: str) -> Drawing:
    drawing = draw_part(part)
    left, bottom, _, _ = drawing.bounds
    words = [*stated(part, blades, unit), *([more] if more else [])]
    return together((drawing, caption(words, left, bottom - 0.5 * GAP_MM)))


def write_dxf(drawing: Drawing, colours: Mapping[str, str]) -> bytes:
    """A drawing as DXF R2000 in millimetres, entities in the drawing's order, one layer for each operation."""
    numbers = layer_colours(colours)
    empty = frame(tuple((LAYERS[operation], number, operation != "reference") for operation, number in numbers.items()))
    return empty.filled(_entities(drawing, empty), len(drawing.items), drawing.bounds)


def _entities(drawing: Drawing, empty: Frame) -> str:
    """The tags of circles and of polylines of lines and arcs, as the library writes them."""
    vertices = iter(_vertices([item for _, item in drawing.items if isinstance(item, Path)]))
    tags = []
    for handle, (operation, item) in enumerate(drawing.items, empty.first):
        kind, subclass = ("CIRCLE", "AcDbCircle") if isinstance(item, Circle) else ("LWPOLYLINE", "AcDbPolyline")
        owned = f"  5\n{handle:X}\n330\n{empty.owner}\n100\nAcDbEntity\n  8\n{LAYERS[operation]}\n100\n{subclass}\n"
        tags.append(f"  0\n{kind}\n{owned}")
        if isinstance(item, Circle):
            x, y, radius = _rounded([*item.center, item.radius], _DECIMALS).tolist()
            tags.append(f" 10\n{x}\n 20\n{y}\n 30\n0.0\n 40\n{radius}\n")
        else:
            tags.append(f" 90\n{len(item.xy)}\n 70\n{int(item.closed)}\n")
            tags += islice(vertices, len(item.xy))
    return "".join(tags)


def _vertices(paths: Sequence[Path]) -> list[str]:
    """The tags of each vertex of all paths."""
    if not paths:
        return []
    x, y = _rounded(np.concatenate([path.xy for path in paths]), _DECIMALS).T.tolist()
    bulges = _rounded(np.concatenate([path.bulge for path in paths]), _BULGE_DECIMALS).tolist()
    return [
        f" 10\n{x}\n 20\n{y}\n 42\n{bulge}\n" if bulge else f" 10\n{x}\n 20\n{y}\n"
        for x, y, bulge in zip(x, y, bulges, strict=True)
    ]


def _rounded(values: Any, decimals: int) -> Any:
    return np.round(values, decimals) + 0.0  # no minus before a zero
