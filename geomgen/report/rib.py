"""A picture of one flat part: as cut, with its letters, at full size where it is printed unscaled."""

from __future__ import annotations

from geomgen.marking.lettering import written
from geomgen.model.part import Flat, Part
from geomgen.report.svg import document, line, shape, words
from geomgen.views.quantity import length

_MARGIN_MM = 10.0
_WORDS_MM = 4.0
_RULE_MM = 50.0


def rib_picture(part: Part, units: str) -> str:
    """SVG of a flat part in its own frame: outline, holes, marks, letters, what to know of it, and a scale.

    part    : flat, as it is to be cut
    units   : the design's own unit of length, for what is written
    raises  : TypeError for a part that isn't flat
    """
    flat = part.shape
    if not isinstance(flat, Flat):
        raise TypeError(f"{part.name} isn't flat")
    x0, y0, x1, y1 = flat.region.bounds()
    letters = [path for text in flat.texts for path in written(text)]
    body = [
        shape(flat.region.loops(), "wood-fill ink", 0.3),
        *([shape(flat.reference, "faint", 0.2)] if flat.reference else []),
        *([shape([*flat.marks, *letters], "mark", 0.25)] if flat.marks or letters else []),
    ]
    heading = _heading(part, units)
    left, top = x0, y1 + 2.2 * _WORDS_MM
    body += [words(part.name, (left, top + 1.4 * _WORDS_MM), 1.3 * _WORDS_MM), words(heading, (left, top), _WORDS_MM)]
    bottom = y0 - 2.0 * _WORDS_MM
    body += _scale(left, bottom, units)
    for k, note in enumerate(part.notes):
        bottom = y0 - (3.9 + 1.4 * k) * _WORDS_MM
        body.append(words(note, (left, bottom), 0.8 * _WORDS_MM, "faint"))
    widest = max([x1 - x0, 0.56 * _WORDS_MM * len(heading), *(0.45 * _WORDS_MM * len(note) for note in part.notes)])
    box = (left - _MARGIN_MM, bottom - _MARGIN_MM, left + widest + _MARGIN_MM, top + 2.6 * _WORDS_MM + 0.5 * _MARGIN_MM)
    return document(box, part.name, heading, body)


def _heading(part: Part, units: str) -> str:
    flat = part.shape
    assert isinstance(flat, Flat)
    said = [f"{part.stock}, {length(flat.thickness_mm, units)} {units} thick"]
    if part.r_mm is not None:
        said.append(f"r {length(part.r_mm, units)} {units}")
    if "chord_mm" in part.facts:
        said.append(f"chord {length(part.facts['chord_mm'], units)} {units}")
    if flat.face:
        said.append(f"{flat.face} seen")
    return " · ".join(said)


def _scale(left: float, y: float, units: str) -> list[str]:
    long = _RULE_MM if units in ("mm", "cm", "m") else 50.8
    ends = [(left, y + 1.0), (left, y), (left + long, y), (left + long, y + 1.0)]
    label = f"{length(long, units).rstrip('0').rstrip('.')} {units}"
    return [line(ends, "faint", 0.25), words(label, (left + long + 2.0, y), 0.8 * _WORDS_MM, "faint")]
