"""Writes DXF: R2000, millimetres, closed polylines of lines and arcs, true circles; equal parts give equal bytes."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from itertools import groupby
from typing import Any

import numpy as np

from geomgen.cutting.colours import LAYERS, layer_colours
from geomgen.cutting.drawing import GAP_MM, Drawing, caption, draw_part, rule, stated, together
from geomgen.cutting.rows import in_rows
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Circle, Path

_DECIMALS = 6  # of a coordinate [mm]
_BULGE_DECIMALS = 9
_MILLIMETRES = 4  # $INSUNITS
_METRIC = 1  # $MEASUREMENT


def part_dxf(part: Part, colours: Mapping[str, str], blades: int) -> bytes:
    """A cutting file of one flat part, in its own frame, with its name, its count and a 100 mm line below it.

    part    : flat, as it is to be cut (mirrored already in a clockwise craft)
    colours : "inside", "outside", "mark", "reference" -> colour name
    blades  : in the craft [-]
    returns : DXF R2000 in millimetres, the kerf not applied
    """
    drawing = draw_part(part)
    left, bottom, _, _ = drawing.bounds
    beside = caption(stated(part, blades), left, bottom - GAP_MM)
    line = rule(left, beside.bounds[1] - 2.0 * GAP_MM)
    return write_dxf(together((drawing, beside, line)), colours)


def all_dxf(parts: Sequence[Part], colours: Mapping[str, str], width_mm: float, blades: int) -> bytes:
    """A cutting file of all flat parts side by side, each once with its count beside it, in rows for each stock.

    parts    : those that aren't flat are left out
    colours  : "inside", "outside", "mark", "reference" -> colour name
    width_mm : of a row: the width of the laser's bed [mm]
    blades   : in the craft [-]
    """
    flats = sorted((part for part in parts if isinstance(part.shape, Flat)), key=lambda part: part.stock)
    top, sheet = 0.0, [rule(0.0, GAP_MM)]
    for _, group in groupby(flats, key=lambda part: part.stock):
        cells = [_cell(part, blades) for part in group]
        sizes = [(x1 - x0, y1 - y0) for x0, y0, x1, y1 in (cell.bounds for cell in cells)]
        placed = [
            cell.moved(left - cell.bounds[0], top + bottom - cell.bounds[1])
            for cell, (left, bottom) in zip(cells, in_rows(sizes, width_mm, GAP_MM), strict=True)
        ]
        sheet += placed
        top = min(cell.bounds[1] for cell in placed) - 3.0 * GAP_MM
    return write_dxf(together(sheet), colours)


def _cell(part: Part, blades: int) -> Drawing:
    drawing = draw_part(part)
    left, bottom, _, _ = drawing.bounds
    return together((drawing, caption(stated(part, blades), left, bottom - 0.5 * GAP_MM)))


def write_dxf(drawing: Drawing, colours: Mapping[str, str]) -> bytes:
    """A drawing as DXF R2000 in millimetres, entities in the drawing's order, one layer for each operation."""
    with _same_bytes_each_time() as ezdxf:
        document = ezdxf.new("R2000", units=_MILLIMETRES)
        document.header["$MEASUREMENT"] = _METRIC
        for operation, colour in layer_colours(colours).items():
            document.layers.add(LAYERS[operation], color=colour, plot=operation != "reference")
        space = document.modelspace()
        _add(space, drawing)
        x0, y0, x1, y1 = drawing.bounds
        space.dxf.extmin, space.dxf.extmax = (x0, y0, 0.0), (x1, y1, 0.0)
        text = io.StringIO()
        document.write(text)
        data: bytes = document.encode(text.getvalue())
        return data


def _add(space: Any, drawing: Drawing) -> None:
    for operation, item in drawing.items:
        on = {"layer": LAYERS[operation]}
        if isinstance(item, Circle):
            x, y, radius = _rounded(np.array((*item.center, item.radius)), _DECIMALS)
            space.add_circle((x, y), radius, dxfattribs=on)
        else:
            space.add_lwpolyline(_vertices(item), format="xyb", close=item.closed, dxfattribs=on)


def _vertices(path: Path) -> Any:
    xy, bulge = _rounded(path.xy, _DECIMALS), _rounded(path.bulge, _BULGE_DECIMALS)
    return np.column_stack((xy, bulge)).tolist()


def _rounded(values: Any, decimals: int) -> Any:
    return np.round(values, decimals) + 0.0  # no minus before a zero


@contextmanager
def _same_bytes_each_time() -> Iterator[Any]:
    """The writer, told to leave out clock and random numbers; as it was told before when done."""
    import ezdxf  # late: 0.4 s

    told = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield ezdxf
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = told
