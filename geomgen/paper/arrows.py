"""Arrows beside a drawing: which way a part lies on the blade, and its grain."""

from __future__ import annotations

import math

from geomgen.paper.drawn import Item, Line, Style, Words
from geomgen.paper.shapes import Point, arrow
from geomgen.paper.template import Template

CELL_MM = (16.0, 10.0)  # width and height that one arrow takes with its word
_LONG_MM, _WORD_MM = 7.0, 2.5


def arrows(template: Template, left: float, bottom: float) -> list[Item]:
    """A row of arrows, each over its word, as the part lies on the page; left and bottom of the row [mm]."""
    items: list[Item] = []
    for k, (word, way, both) in enumerate(_rows(template)):
        x, y = left + (k + 0.5) * CELL_MM[0], bottom + CELL_MM[1] - 0.5 * _LONG_MM
        items.append(Line(tuple(arrow((x, y), way, _LONG_MM, both=both)), Style.PLAIN))
        items.append(Words(word, (x, bottom), _WORD_MM, middle=True))
    return items


def arrows_wide(template: Template) -> float:
    """Width of that row [mm]."""
    return CELL_MM[0] * len(_rows(template))


def _rows(template: Template) -> list[tuple[str, Point, bool]]:
    rows = [(each.word, each.way, False) for each in template.ways]
    if (grain := template.flat.grain) is not None:
        rows.append(("grain", (math.cos(math.radians(grain)), math.sin(math.radians(grain))), True))
    return rows
