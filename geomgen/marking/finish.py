"""The last step of a flat part: drawn in the craft's own hand, then lettered."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from geomgen.marking.lettering import letter
from geomgen.marking.pitch_figures import pitch_figures
from geomgen.marking.radius_text import radius_text
from geomgen.model.label import Arrow, Item, Label, Radius
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Path, from_points

SHORT_MM = 12.0  # lengths in which marks are kept clear of where they count in short ones
MIRROR = np.diag((-1.0, 1.0, 1.0, 1.0))


def finished(part: Part, *, clockwise: bool, units: str | None) -> Part:
    """A part as it is cut, from its drawing for the anticlockwise rotor: mirrored where its craft turns clockwise,
    its label written on it, and notes on what found no room. What isn't flat or has no label is left as it is.

    units : unit of length of the design; None for mm
    """
    flat = part.shape
    if not (isinstance(flat, Flat) and flat.label.groups):
        return part
    drawn, missing = lettered(flat.mirrored_x() if clockwise else flat, units)
    places = tuple(place @ MIRROR for place in part.places) if clockwise else part.places
    return replace(part, shape=drawn, places=places, notes=(*part.notes, *missing))


def lettered(flat: Flat, units: str | None) -> tuple[Flat, list[str]]:
    """The part with its label written on it, and notes on what found no room."""
    label = flat.label
    kept = tuple(mark for mark in flat.marks if _counts(mark, label))
    rest = tuple(mark for mark in flat.marks if not _counts(mark, label))
    clear_of = tuple(part for mark in kept for part in _short(mark)) if label.clear_of == "short" else kept
    drawn = replace(flat, marks=clear_of, region=flat.weighed if label.on_stays else flat.region, label=Label())
    if label.figures:
        drawn = replace(drawn, texts=(*drawn.texts, *pitch_figures(label.figures)))
    notes = list[str]()
    for group in label.groups:
        drawn, missing = letter(drawn, [_worded(item, units) for item in group])
        notes += missing
    return replace(drawn, region=flat.region, marks=(*kept, *drawn.marks[len(clear_of) :], *rest)), notes


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
