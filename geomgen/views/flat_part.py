"""A picture of one flat part: as cut, with its letters, at full size where it is printed unscaled.

With what there is to say of it as words in the picture, or bare, for a page that says it beside.
"""

from __future__ import annotations

from geomgen.figures import is_imperial, mm, spelled
from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.views.cap_sizes import cap_sizes
from geomgen.views.dimensions import bounds_of
from geomgen.views.drawing import Drawing, Drawn, Line, Shape, Words

_MARGIN_MM = 10.0
_WORDS_MM = 4.0
_RULE_MM = 50.0


def flat_part(part: Part, units: str) -> Drawing:
    """A flat part in its own frame: outline, holes, marks, letters, what to know of it, and a scale.

    part    : flat, as it is to be cut
    units   : the design's own unit of length, for what is written
    raises  : TypeError for a part that isn't flat
    """
    items = _shapes(part, units)
    x0, y0, x1, y1 = bounds_of(items)
    heading = spelled(part_heading(part), units)
    left, top = x0, y1 + 2.2 * _WORDS_MM
    items += [Words(part.name, (left, top + 1.4 * _WORDS_MM), 1.3 * _WORDS_MM), Words(heading, (left, top), _WORDS_MM)]
    bottom = y0 - 2.0 * _WORDS_MM
    items += _scale(left, bottom, units)
    for k, note in enumerate(part.notes):
        bottom = y0 - (3.9 + 1.4 * k) * _WORDS_MM
        items.append(Words(note, (left, bottom), 0.8 * _WORDS_MM, "faint"))
    widest = max([x1 - x0, 0.56 * _WORDS_MM * len(heading), *(0.45 * _WORDS_MM * len(note) for note in part.notes)])
    box = (left - _MARGIN_MM, bottom - _MARGIN_MM, left + widest + _MARGIN_MM, top + 2.6 * _WORDS_MM + 0.5 * _MARGIN_MM)
    return Drawing(box, part.name, heading, tuple(items), unit=units)


def bare_part(part: Part, units: str) -> Drawing:
    """The same with no words but the scale's, and a cap's sizes."""
    shapes = _shapes(part, units)
    x0, y0, x1, y1 = bounds_of(shapes)
    bottom, edge = y0 - 2.0 * _WORDS_MM, 0.5 * _MARGIN_MM
    box = (x0 - edge, bottom - edge, max(x1, x0 + _RULE_MM + 5.0 * _WORDS_MM) + edge, y1 + edge)
    items = (*shapes, *_scale(x0, bottom, units))
    return Drawing(box, part.name, part_heading(part), items, unit=units)


def _flat(part: Part) -> Flat:
    if not isinstance(part.shape, Flat):
        raise TypeError(f"{part.name} isn't flat")
    return part.shape


def _shapes(part: Part, units: str) -> list[Drawn]:
    flat = _flat(part)
    letters = tuple(path for text in flat.texts for path in written(text))
    items: list[Drawn] = [Shape(tuple(flat.region.loops()), "wood-fill ink", 0.3)]
    items += [Shape(tuple(pocket.loop for pocket in flat.pockets), "wood-fill faint", 0.2)] if flat.pockets else []
    items += [Shape(flat.reference, "faint", 0.2)] if flat.reference else []
    items += [Shape((*flat.marks, *letters), "mark", 0.25)] if flat.marks or letters else []
    return items + cap_sizes(part, units)


def part_heading(part: Part) -> str:
    """What it is cut from, where it stands, which face is seen."""
    flat = _flat(part)
    words = [f"{part.stock}, {mm(flat.thickness_mm, 1)} thick"]
    if part.r_mm is not None:
        words.append(f"r {mm(part.r_mm, 1)}")
    if "chord_mm" in part.facts:
        words.append(f"chord {mm(part.facts['chord_mm'], 1)}")
    if flat.face:
        words.append(f"{flat.face} seen")
    return " · ".join(words)


def _scale(left: float, y: float, units: str) -> list[Drawn]:
    long = 50.8 if is_imperial(units) else _RULE_MM
    ends = [(left, y + 1.0), (left, y), (left + long, y), (left + long, y + 1.0)]
    return [Line(ends, "faint", 0.25), Words(mm(long), (left + long + 2.0, y), 0.8 * _WORDS_MM, "faint")]
