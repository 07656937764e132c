"""A picture of one sheet, with what lies on it."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.figures import mm
from geomgen.marking.lettering import written
from geomgen.model.joint import Key
from geomgen.model.part import Flat
from geomgen.plane.path import turning
from geomgen.stock.sheets import Laid, Sheet
from geomgen.views.drawing import Drawing, Drawn, Line, Shape, rectangle

_MARGIN = 0.012  # of the sheet's length


def sheet_picture(sheet: Sheet, flats: Mapping[tuple[Key, int], Flat], title: str, unit: str) -> Drawing:
    """The sheet from the side that is cut, its length across the picture.

    flats : of all that lies on it, in the craft's own hand, lettered
    """
    long, wide = sheet.size
    thin = 0.0006 * max(long, 300.0)
    items: list[Drawn] = [rectangle(0.0, 0.0, long, wide, "paper faint", 1.5 * thin)]
    items += [Line([(x, 0.0), (x, wide)], "faint", 1.5 * thin, (8 * thin, 8 * thin)) for x in sheet.across]
    for laid in sheet.laid:
        items += _part(flats[laid.key, laid.piece], laid, thin)
    margin = _MARGIN * long
    box = (-margin, -margin, long + margin, wide + margin)
    about = f"sheet {sheet.name}, {mm(sheet.size, words=' x ')}, with {len(sheet.laid)} parts on it"
    return Drawing(box, title, about, tuple(items), unit=unit)


def _part(flat: Flat, laid: Laid, thin: float) -> list[Drawn]:
    matrix = turning(laid.turn_deg)
    matrix[:2, 2] += laid.at
    marks = tuple(mark.transformed(matrix) for mark in flat.marks)
    letters = tuple(path.transformed(matrix) for text in flat.texts for path in written(text))
    body = Shape(tuple(loop.transformed(matrix) for loop in flat.region.loops()), "wood-fill ink", thin)
    return [body, *([Shape((*marks, *letters), "mark", thin)] if marks or letters else [])]
