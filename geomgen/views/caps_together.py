"""Both pitch caps put together at the pitch to fly at, as seen from the root side, with the letters of their holes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.craft import Craft
from geomgen.model.part import Flat, Text
from geomgen.model.role import Role
from geomgen.plane.path import Bounds, turning
from geomgen.plane.polar import rotation
from geomgen.root.pattern import PitchPattern
from geomgen.views.drawing import Drawn, Line, Ring, Shape, Words
from geomgen.views.plan_names import LETTER

SIZE, ROW = 3.4, 5.5  # of the letters; of a row of words above or below the caps [mm]
CAPITAL = 0.72  # height of a capital letter, in sizes
LARGEST = 2.0  # how many times as large as they are the caps are drawn at most
PRINTED = 0.85  # height of letters on the page, against those engraved: a font is wider
FIXED, TURNING, PINNED, STOP = "ink paper-fill", "channel", "spar spar-fill", "fitting fitting-fill"
DASHES = (0.9, 0.7)  # of the turning cap's holes [mm]
RING = 1.3  # radius of a ring among what the signs mean [mm]


@dataclass(frozen=True, eq=False)
class Caps:
    """Both caps in the craft's own hand.

    turning, fixed : as they are cut, the turning one at the reference pitch
    pattern        : their holes, of the anticlockwise twin
    pitch_deg      : to fly at
    hand           : 1 where the craft turns anticlockwise, -1 where clockwise
    """

    turning: Flat
    fixed: Flat
    pattern: PitchPattern
    pitch_deg: float
    hand: float

    @property
    def turned_deg(self) -> float:
        """How far the turning cap is turned, anticlockwise as it is seen: the leading edge goes up with the pitch."""
        return -self.hand * self.pitch_deg

    @property
    def called(self) -> str:
        """The pitch to fly at, with its letter where it has one."""
        return f"{self.pitch_deg:g} deg{'' if self.pattern.by_hole else f', {self.pattern.marked(self.pitch_deg)}'}"

    def bounds(self) -> Bounds:
        """Of both, put together [mm]."""
        outlines = self.turning.region.outer.turned(self.turned_deg), self.fixed.region.outer
        boxes = np.array([outline.bounds() for outline in outlines])
        (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
        return x0, y0, x1, y1

    def seen(self, places: FloatArray, *, turned: bool) -> FloatArray:
        """(n, 2) places of the twin's caps where they are seen [mm]."""
        mirrored = np.asarray(places).reshape(-1, 2) * (self.hand, 1.0)
        return np.asarray(mirrored @ rotation(self.turned_deg).T if turned else mirrored)

    def words(self, *, fixed: bool) -> list[Text]:
        """What stands beside a cap's holes, where it is seen."""
        flat, angle = (self.fixed, 0.0) if fixed else (self.turning, self.turned_deg)
        known = {
            self.pattern.written(q, pair[q][fixed], fixed=fixed)
            for pair in self.pattern.pairs
            for q in range(len(pair))
        }
        ways = rotation(angle)
        return [
            replace(text, at=tuple((ways @ np.array(text.at)).tolist()), turn_deg=text.turn_deg + angle)
            for text in flat.texts
            if text.text in known
        ]


def caps_of(craft: Craft) -> Caps:
    """The caps of a craft."""
    shapes = [part.shape for role in (Role.TURNING_CAP, Role.FIXED_CAP) for part in craft.finished_of(role)]
    turning_cap, fixed_cap = (shape for shape in shapes if isinstance(shape, Flat))
    hand = -1.0 if craft.design.rotor.turn == "clockwise" else 1.0
    return Caps(turning_cap, fixed_cap, craft.pattern, craft.design.pitch.set, hand)


def caps_together(caps: Caps, box: Bounds) -> Iterator[Drawn]:
    """The picture with a row of words above and one below, as large as there is room.

    box : what it may take of the page [mm]
    """
    (left, foot, right, top), (x0, y0, x1, y1) = box, caps.bounds()
    scale = min((right - left) / (x1 - x0), (top - foot - 2.0 * ROW) / (y1 - y0), LARGEST)
    middle = np.array(((left + right) / 2, (foot + top) / 2)) - scale * np.array(((x0 + x1) / 2, (y0 + y1) / 2))
    yield from _title(caps, box, scale)
    yield from _shapes(caps, scale, middle)
    yield from _letters(caps, scale, middle)
    yield from _signs(caps, left, foot)


def _title(caps: Caps, box: Bounds, scale: float) -> Iterator[Drawn]:
    """How it is seen, and which way the leading edge lies."""
    left, _, right, top = box
    nose, tail = (left, right) if caps.hand > 0.0 else (right, left)
    way, y = (1.0 if nose == left else -1.0), top - SIZE
    yield Line([(nose + way * 2.0, y + 2.0), (nose, y + 1.2), (nose + way * 2.0, y + 0.4)], "ink", 0.3)
    yield Line([(nose, y + 1.2), (nose + way * 7.0, y + 1.2)], "ink", 0.3)
    yield Words("leading edge", (nose + way * 8.5, y), SIZE, anchor="start" if way > 0.0 else "end")
    words = f"seen from the root side, the blade behind it; {scale:.2f} times as large as it is"
    yield Words(words, (tail, y), SIZE, "faint", "end" if way > 0.0 else "start")


def _shapes(caps: Caps, scale: float, middle: FloatArray) -> Iterator[Drawn]:
    """The turning cap turned to the pitch, the fixed one over it, the pins' holes of both, the pins and the stop."""
    to_page = np.array([[scale, 0.0, middle[0]], [0.0, scale, middle[1]], [0.0, 0.0, 1.0]])
    pattern, hole = caps.pattern, scale * caps.pattern.hole_mm / 2
    turned = to_page @ turning(caps.turned_deg)
    yield Shape((caps.turning.region.outer.transformed(turned),), "wood-fill ink", 0.3)
    yield Shape(tuple(loop.transformed(to_page) for loop in caps.fixed.region.loops()), "stripe-fill ink", 0.3)
    for center in _on(middle, scale, caps.seen(pattern.fixed(), turned=False)):
        yield Ring(center, hole, FIXED, 0.3)
    for center in _on(middle, scale, caps.seen(pattern.turning(), turned=True)):
        yield Ring(center, hole, TURNING, 0.25, DASHES)
    for center in _on(middle, scale, caps.seen(pattern.pins(caps.pitch_deg)[1], turned=False)):
        yield Ring(center, 0.8 * hole, PINNED, 0.2)
    if pattern.stop:
        for center in _on(middle, scale, caps.seen(np.array(pattern.stop.place()), turned=True)):
            yield Ring(center, 0.8 * hole, STOP, 0.2)


def _on(middle: FloatArray, scale: float, places: FloatArray) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in middle + scale * places]


def _letters(caps: Caps, scale: float, middle: FloatArray) -> Iterator[Drawn]:
    """What stands beside the holes, its middle where it is engraved."""
    for fixed, style in ((True, "ink"), (False, TURNING)):
        for text in caps.words(fixed=fixed):
            size, lean = PRINTED * scale * text.height_mm / CAPITAL, np.radians(text.turn_deg)
            down = CAPITAL * size / 2 * np.array((np.sin(lean), -np.cos(lean)))
            ((x, y),) = _on(middle + down, scale, np.array([text.at]))
            yield Words(text.text, (x, y), size, style, "middle", text.turn_deg, bold=True)


def _signs(caps: Caps, left: float, foot: float) -> Iterator[Drawn]:
    """What the rings mean."""
    signs = [
        ("fixed cap's hole", FIXED, ()),
        ("turning cap's, behind it", TURNING, DASHES),
        (f"pins at {caps.called}", PINNED, ()),
        *([("stop pin in its slot", STOP, ())] if caps.pattern.stop else []),
    ]
    x = left
    for words, style, dashes in signs:
        yield Ring((x + RING, foot + RING), RING, style, 0.3, dashes)
        yield Words(words, (x + 3.0 * RING, foot), SIZE)
        x += 3.0 * RING + LETTER * SIZE * len(words) + 5.0
