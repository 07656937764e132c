"""The last step of a flat part: drawn in the craft's own hand, then lettered."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from geomgen.cache import Cache
from geomgen.figures import mm, spelled
from geomgen.marking.lettering import largest_mm, letter, written
from geomgen.marking.pitch_figures import pitch_figures
from geomgen.model.label import Arrow, Item, Label, Radius
from geomgen.model.part import Flat, Part, Text
from geomgen.plane.path import Path, from_points

SHORT_MM = 12.0  # lengths in which marks are kept clear of where they count in short ones
CODE = (
    "figures.py",
    "marking",
    "plane",
    "model/label.py",
    "model/part.py",
)  # what of the code decides where letters go
MIRROR = np.diag((-1.0, 1.0, 1.0, 1.0))


@dataclass(frozen=True)
class Lettering:
    """What a label adds to its part.

    texts : letters
    marks : what else is engraved: arrows
    notes : on what found no room
    """

    texts: tuple[Text, ...]
    marks: tuple[Path, ...]
    notes: tuple[str, ...]


def finished(parts: Sequence[Part], *, clockwise: bool, units: str | None, cache: Cache) -> tuple[Part, ...]:
    """Parts as they are cut, from their drawings for the anticlockwise rotor: mirrored where their craft turns
    clockwise, their labels written on them, and notes on what found no room. What isn't flat is left as it is.

    units : unit of length of the design, whose system notes are spelled in; None for mm
    cache : where letters are kept by what they are written on: a place for each is dear to find
    """
    turned = [in_hand(part, clockwise=clockwise) for part in parts]
    flats = [part.shape for part in turned if isinstance(part.shape, Flat)]
    letters = iter(_kept(flats, units, cache))
    lettered = (_lettered(part, part.shape, next(letters)) if isinstance(part.shape, Flat) else part for part in turned)
    return tuple(replace(part, notes=spelled(part.notes, units)) if part.notes else part for part in lettered)


def in_hand(part: Part, *, clockwise: bool) -> Part:
    """A flat part in the craft's own hand."""
    if not (clockwise and isinstance(part.shape, Flat)):
        return part
    return replace(part, shape=part.shape.mirrored_x(), places=tuple(place @ MIRROR for place in part.places))


def lettering(flat: Flat, units: str | None) -> Lettering:
    """Where a part's label goes."""
    label = flat.label
    clear_of = tuple(mark for mark in flat.marks if _counts(mark, label))
    if label.clear_of == "short":
        clear_of = tuple(piece for mark in clear_of for piece in _short(mark))
    drawn = replace(flat, marks=clear_of, region=flat.weighed if label.on_stays else flat.region, label=Label())
    if label.figures:
        drawn = replace(drawn, texts=(*drawn.texts, *pitch_figures(label.figures)))
    notes = list[str]()
    for group in label.groups:
        drawn, missing = letter(drawn, [_worded(item, units) for item in group])
        notes += missing
    return Lettering(drawn.texts[len(flat.texts) :], drawn.marks[len(clear_of) :], tuple(notes))


def engraved_mm(flat: Flat, units: str | None) -> float:
    """Length of all that is to be engraved on a part, as if its label had room for the largest letters [mm]."""
    figures = pitch_figures(flat.label.figures) if flat.label.figures else ()
    lines = [*flat.marks, *(path for text in (*flat.texts, *figures) for path in written(text))]
    items = [_worded(item, units) for group in flat.label.groups for item in group]
    return sum(path.length() for path in lines) + largest_mm(items)


def _lettered(part: Part, flat: Flat, found: Lettering) -> Part:
    if not flat.label.groups:
        return part
    first = tuple(mark for mark in flat.marks if _counts(mark, flat.label))
    rest = tuple(mark for mark in flat.marks if not _counts(mark, flat.label))
    marks = (*first, *found.marks, *rest) if found.marks else flat.marks
    drawn = replace(flat, texts=(*flat.texts, *found.texts), marks=marks, label=Label())
    return replace(part, shape=drawn, notes=(*part.notes, *found.notes))


def _kept(flats: Sequence[Flat], units: str | None, cache: Cache) -> list[Lettering]:
    """The lettering of each part, out of the cache where the same have been lettered before."""
    key = cache.digest("letters", flats, units, code=CODE)
    if (kept := cache.fetch(key)) is not None:
        return [_unpacked(*each) for each in json.loads(kept["letters"].tobytes())]
    found = [lettering(flat, units) for flat in flats]
    packed = json.dumps([_packed(each) for each in found]).encode()
    cache.store(key, {"letters": np.frombuffer(packed, np.uint8)})
    return found


def _packed(found: Lettering) -> tuple[list[Any], list[Any], list[str]]:
    texts = [(text.text, text.at, text.height_mm, text.turn_deg) for text in found.texts]
    return texts, [(m.xy.tolist(), m.bulge.tolist(), m.closed) for m in found.marks], list(found.notes)


def _unpacked(texts: list[Any], marks: list[Any], notes: list[str]) -> Lettering:
    letters = tuple(Text(words, (x, y), height, turn) for words, (x, y), height, turn in texts)
    return Lettering(letters, tuple(Path(np.array(xy), np.array(b), closed) for xy, b, closed in marks), tuple(notes))


def _worded(item: Item, units: str | None) -> str | Arrow:
    return radius_text(item.r_mm, units) if isinstance(item, Radius) else item


def _counts(mark: Path, label: Label) -> bool:
    """Whether letters keep clear of a mark."""
    if label.clear_of == "upright":
        x0, y0, x1, y1 = mark.bounds()
        return x1 - x0 < y1 - y0
    return label.clear_of != "none"


def _short(mark: Path) -> list[Path]:
    """A line in straight lengths of no more than some millimetres."""
    points = mark.flattened(0.05)
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(points, axis=0).T)))
    count = max(1, int(np.ceil(along[-1] / SHORT_MM)))
    at = np.linspace(0.0, along[-1], count + 1)
    cut = np.column_stack([np.interp(at, along, points[:, c]) for c in (0, 1)])
    return [from_points(cut[n : n + 2], closed=False) for n in range(count)]


def radius_text(r_mm: float, unit: str | None) -> str:
    """A radius as it is engraved: whole mm, or two decimals of another unit: "r 380", "r 14.96 in".

    unit : the design's own; None for mm
    """
    return f"r {r_mm:.0f}" if unit in (None, "mm") else spelled(f"r {mm(r_mm, 0)}", unit)
