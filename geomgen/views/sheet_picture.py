"""A picture of one sheet, with what lies on it."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from geomgen.figures import mm
from geomgen.marking.lettering import written
from geomgen.model.joint import Key
from geomgen.model.part import Flat
from geomgen.plane.path import turning
from geomgen.stock.sheets import Laid, Sheet
from geomgen.views.drawing import Drawing, Drawn, Line, Shape, Words, rectangle

_NAME = 18.0  # size of a name over the width of a line
_MARGIN = 0.012  # of the sheet's length


def sheet_picture(
    sheet: Sheet,
    flats: Mapping[tuple[Key, int], Flat],
    title: str,
    unit: str,
    names: Mapping[tuple[Key, int], str] | None = None,
) -> Drawing:
    """The sheet from the side that is cut, its length across the picture.

    flats : of all that lies on it, in the craft's own hand, lettered
    names : what they are called, instead of all that is marked on them, for a smaller picture
    """
    long, wide = sheet.size
    thin = 0.0006 * max(long, 300.0)
    items: list[Drawn] = [rectangle(0.0, 0.0, long, wide, "paper faint", 1.5 * thin)]
    items += [Line([(x, 0.0), (x, wide)], "faint", 1.5 * thin, (8 * thin, 8 * thin)) for x in sheet.across]
    for laid in sheet.laid:
        which = laid.key, laid.piece
        items += _part(flats[which], laid, thin, None if names is None else names[which])
    margin = _MARGIN * long
    box = (-margin, -margin, long + margin, wide + margin)
    about = f"sheet {sheet.name}, {mm(sheet.size, words=' x ')}, with {len(sheet.laid)} parts on it"
    return Drawing(box, title, about, tuple(items), unit=unit)


def _part(flat: Flat, laid: Laid, thin: float, name: str | None) -> list[Drawn]:
    matrix = turning(laid.turn_deg)
    matrix[:2, 2] += laid.at
    body = Shape(tuple(loop.transformed(matrix) for loop in flat.region.loops()), "wood-fill ink", thin)
    if name is not None:
        return [body, _called(name, flat, laid, thin)]
    marks = tuple(mark.transformed(matrix) for mark in flat.marks)
    letters = tuple(path.transformed(matrix) for text in flat.texts for path in written(text))
    return [body, *([Shape((*marks, *letters), "mark", thin)] if marks or letters else [])]


def _called(name: str, flat: Flat, laid: Laid, thin: float) -> Words:
    """A part's name in its middle, along its longer side, never upside down."""
    matrix = turning(laid.turn_deg)
    matrix[:2, 2] += laid.at
    x0, y0, x1, y1 = flat.region.bounds()
    turn = (laid.turn_deg + (0.0 if x1 - x0 >= y1 - y0 else 90.0) + 90.0) % 180.0 - 90.0
    size = min(_NAME * thin, 0.5 * min(x1 - x0, y1 - y0), 1.6 * max(x1 - x0, y1 - y0) / len(name))
    middle = matrix[:2, :2] @ np.array(flat.region.centroid()) + matrix[:2, 2]
    down = 0.35 * size * np.array([np.sin(np.radians(turn)), -np.cos(np.radians(turn))])
    x, y = (middle + down).tolist()
    return Words(name, (x, y), size, "ink", "middle", turn)
