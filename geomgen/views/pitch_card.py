"""A card to print and hang up where the holes of the caps carry letters for pitches: both caps put together, which
holes take the pins at each pitch, and what to beware of.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

import numpy as np

from geomgen.design.schema import Design
from geomgen.figures import is_imperial, mm, spelled
from geomgen.views.caps_together import Caps, caps_together
from geomgen.views.cautions import PINNING
from geomgen.views.drawing import Drawing, Drawn, Line, Words, rectangle
from geomgen.views.plan_names import LETTER

A4, LETTER_PAPER = (210.0, 297.0), (215.9, 279.4)  # [mm]
EDGE, BETWEEN = 12.0, 5.0  # round the page; between title, picture, table and foot [mm]
TITLE, SIZE, SMALL = 6.0, 3.8, 3.4  # of the letters [mm]
LINE = 1.4  # from one line of words to the next, in sizes
TABLE, ROW, LEAST_ROW = 115.0, 6.0, 4.6  # height of the table, and of its rows before it stands in pieces [mm]
NAMES, NARROW, WIDE = 17.0, 15.0, 24.0  # width of the columns of letter and pitch, and of those of holes [mm]
FLOWN = "to fly at"
SIDES = ("aft", "above", "forward", "below")
HOW = (
    "Turn the blade until the letter of the pitch stands in line on both caps, and put each pin through the two holes "
    "of that letter. A hole's letters are those of all the pitches that it serves. All blades at the same letter."
)
HOW_BY_HOLE = (
    "Turn the blade until the holes in the row of the pitch, by the letters beside them, stand in line for each pin, "
    "and put the pins through. Equal letters on both caps mean nothing here. All blades by the same row."
)
NO_OTHER = "within the range the pins go in at no other pitch"


@dataclass(frozen=True)
class _Table:
    """Cells, and how they are laid out.

    pins   : a head for each pin's columns
    caps   : heads of its two columns
    rows   : letter, left out where holes have their own, pitch, and what stands beside both holes of each pin
    flown  : number of the row of the pitch to fly at
    widths : of the columns [mm]
    pieces : side by side
    row_mm : from one row to the next
    """

    pins: tuple[str, ...]
    caps: tuple[str, str]
    rows: tuple[tuple[str, ...], ...]
    flown: int
    widths: tuple[float, ...]
    pieces: int
    row_mm: float

    @property
    def rows_each(self) -> int:
        """In a piece."""
        return -(-len(self.rows) // self.pieces)

    @property
    def high(self) -> float:
        """Of it all, two rows of heads counted [mm]."""
        return (self.rows_each + 2) * self.row_mm


def pitch_card(design: Design, caps: Caps) -> Drawing:
    """The card of caps that carry letters, at full size on A4, or on Letter for a design in inches."""
    unit = design.units or "mm"
    wide, high = LETTER_PAPER if is_imperial(unit) else A4
    rotor, pattern = design.rotor, caps.pattern
    about = (
        f"Pitch card: {rotor.blades} blades, {rotor.turn} seen from above, radius {mm(rotor.radius, 1)}; "
        f"to fly at {caps.called}"
    )
    notes = (HOW_BY_HOLE if pattern.by_hole else HOW, *pattern.notes, *(() if pattern.inside_deg else (NO_OTHER,)))
    foot = [(line, False) for note in notes for line in _wrapped(spelled(note, unit), wide - 2.0 * EDGE)]
    foot += [(line, True) for line in _wrapped(PINNING, 0.85 * (wide - 2.0 * EDGE))]
    table = _table(caps, wide - 2.0 * EDGE)
    below = EDGE + LINE * SMALL * len(foot) + BETWEEN
    top = high - EDGE - 2.6 * TITLE
    title = textwrap.shorten(design.title, int((wide - 2.0 * EDGE) / (LETTER * TITLE)), placeholder=" …")
    items = (
        Words(title, (EDGE, high - EDGE - 0.75 * TITLE), TITLE, bold=True),
        Words(about, (EDGE, high - EDGE - 1.9 * TITLE), SIZE, "faint"),
        *caps_together(caps, (EDGE, below + table.high + BETWEEN, wide - EDGE, top)),
        *_drawn(table, EDGE, below + table.high),
        *_foot(foot, below - BETWEEN),
    )
    return Drawing((0.0, 0.0, wide, high), f"{title}: pitch card", about, items, unit=unit)


def _wrapped(note: str, wide: float) -> list[str]:
    """A sentence in lines."""
    sentence = f"{note[0].upper()}{note[1:].removesuffix('.')}."
    return textwrap.wrap(sentence, int(wide / (LETTER * SMALL)))


def _table(caps: Caps, wide: float) -> _Table:
    """In one piece where it has room, else in two side by side, if they go on the page."""
    pattern = caps.pattern
    rows = tuple(
        (
            *(() if pattern.by_hole else (name,)),
            f"{pitch:g}",
            *(pattern.written(q, pair[cap], fixed=bool(cap)) for q, pair in enumerate(pairs) for cap in (0, 1)),
        )
        for name, pitch, pairs in zip(pattern.names(), pattern.settings_deg, pattern.pairs, strict=True)
    )
    named = 1 if pattern.by_hole else 2
    longest = max(len(cell) for row in rows for cell in row[named:])
    split = (len(rows) + 2) * LEAST_ROW > TABLE
    least = max(NARROW if split else WIDE, 1.3 * LETTER * SIZE * longest + 2.0)
    widths = (*[NAMES] * named, *(least for _ in rows[0][named:]))
    side_by_side = int((wide + BETWEEN) / (sum(widths) + BETWEEN))
    pieces = max(1, min(side_by_side, 2)) if split else 1
    row_mm = min(ROW, TABLE / (-(-len(rows) // pieces) + 2))
    heads = tuple(f"pin {q + 1}, {_side(caps, q)}" for q in range(len(pattern.pairs[0])))
    cap_heads = ("turning", "fixed") if split else ("turning cap", "fixed cap")
    return _Table(heads, cap_heads, rows, pattern.setting(caps.pitch_deg), widths, pieces, row_mm)


def _side(caps: Caps, pin: int) -> str:
    """On which side of the feather axis a pin's holes lie."""
    angles = [caps.pattern.fixed_holes[pair[pin][1]][1] for pair in caps.pattern.pairs]
    return SIDES[round(float(np.mean(angles)) / 90.0) % 4]


def _drawn(table: _Table, left: float, top: float) -> Iterator[Drawn]:
    """Its pieces side by side."""
    for piece in range(table.pieces):
        x = left + piece * (sum(table.widths) + BETWEEN)
        first = piece * table.rows_each
        yield from _piece(table, x, top, range(first, min(first + table.rows_each, len(table.rows))))


def _piece(table: _Table, left: float, top: float, numbers: range) -> Iterator[Drawn]:
    """Some rows below their heads; the row of the pitch to fly at marked."""
    edges = list(accumulate(table.widths, initial=left))
    right, high = edges[-1], table.row_mm
    size, small = (min(letters, 0.72 * high) for letters in (SIZE, SMALL))
    down = 0.5 * high + 0.36 * size  # from a row's upper edge to its base line
    first = len(table.widths) - 2 * len(table.pins)
    for head, start, end in zip(table.pins, edges[first:-1:2], edges[first + 2 :: 2], strict=True):
        yield Words(head, ((start + end) / 2, top - down), small, "ink", "middle", bold=True)
    second = (*("letter", "pitch, deg")[2 - first :], *table.caps * len(table.pins))
    yield from _row(second, edges, top - high - down, min(small, 3.0), "faint")
    for line, number in enumerate(numbers, start=2):
        y, flown = top - line * high, number == table.flown
        if flown:
            yield rectangle(left, y - high, right, y, "spar-fill")
            if table.pieces == 1:
                yield Words(FLOWN, (right + 2.0, y - down), small, "spar", bold=True)
        yield Line([(left, y), (right, y)], "faint", 0.15)
        yield from _row(table.rows[number], edges, y - down, size, "paper" if flown else "ink", bold=flown)


def _row(
    cells: Sequence[str], edges: Sequence[float], y: float, size: float, style: str, bold: bool = False
) -> Iterator[Drawn]:
    for cell, start, end in zip(cells, edges[:-1], edges[1:], strict=True):
        yield Words(cell, ((start + end) / 2, y), size, style, "middle", bold=bold)


def _foot(lines: Sequence[tuple[str, bool]], top: float) -> Iterator[Drawn]:
    """What to know, and what to beware of: each line, and whether it is of a caution."""
    for k, (line, beware) in enumerate(lines):
        y = top - (k + 0.8) * LINE * SMALL
        yield Words(line, (EDGE, y), SMALL, "spar" if beware else "ink", bold=beware)
