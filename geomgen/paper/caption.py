"""What stands below a small part: its name, how many of it, of what, and which way it lies."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate

from geomgen.figures import spelled
from geomgen.paper.arrows import CELL_MM, arrows, arrows_wide
from geomgen.paper.drawn import Item, Words
from geomgen.paper.template import Template
from geomgen.paper.wording import broken, width_mm

PAD_MM = 2.0  # round a part and its words
_NAME_MM, _WORDS_MM, _GAP_MM = 3.6, 2.7, 2.5
_LEAST_MM = 48.0  # width that words are broken to at most
_PITCH = 1.35


@dataclass(frozen=True)
class Boxed:
    """A small part with its words as a box. [mm].

    wide_mm, high_mm : of the box
    part_at          : lower left corner of the part's bounds in it
    words            : size and words of each line
    beside           : whether the arrows stand beside the words; else below them
    """

    wide_mm: float
    high_mm: float
    part_at: tuple[float, float]
    words: tuple[tuple[float, str], ...]
    beside: bool


def count_words(copies: int) -> str:
    """How many are cut along a template."""
    return f"cut {copies}, all alike" if copies > 1 else "cut 1"


def boxed(template: Template, unit: str) -> Boxed:
    """The box that a small part takes on a page."""
    x0, y0, x1, y1 = template.bounds
    wide = arrows_wide(template)
    said = " · ".join((count_words(template.copies), *spelled(template.words, unit)))
    lines = (
        (_NAME_MM, template.name),
        *((_WORDS_MM, text) for text in broken(said, max(x1 - x0 - wide - _GAP_MM, _LEAST_MM), _WORDS_MM)),
    )
    words = max(width_mm(text, size, bold=k == 0) for k, (size, text) in enumerate(lines))
    high = sum(size for size, _ in lines) * _PITCH
    beside = x1 - x0 >= words + _GAP_MM + wide
    if beside:
        below, least = max(high, CELL_MM[1] * bool(wide)), words + _GAP_MM + wide
    else:
        below, least = high + (CELL_MM[1] + _GAP_MM) * bool(wide), max(words, wide)
    across = max(x1 - x0, least)
    return Boxed(
        wide_mm=across + 2 * PAD_MM,
        high_mm=y1 - y0 + _GAP_MM + below + 2 * PAD_MM,
        part_at=(PAD_MM + 0.5 * (across - (x1 - x0)), PAD_MM + below + _GAP_MM),
        words=lines,
        beside=beside,
    )


def caption(template: Template, box: Boxed, left: float, bottom: float) -> list[Item]:
    """The words and arrows of a box whose lower left corner is at a place on the page [mm]."""
    x, top = left + PAD_MM, bottom + box.part_at[1] - _GAP_MM
    drops = accumulate(size * _PITCH for size, _ in box.words)
    items: list[Item] = [
        Words(text, (x, top - drop + 0.3 * size), size, bold=k == 0)
        for k, ((size, text), drop) in enumerate(zip(box.words, drops, strict=True))
    ]
    wide = arrows_wide(template)
    if box.beside:
        return [*items, *arrows(template, left + box.wide_mm - PAD_MM - wide, top - CELL_MM[1])]
    return [*items, *arrows(template, x, bottom + PAD_MM)]
