"""Single-stroke letters of lines and arcs, for engraving."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from functools import cache

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.plane.glyphs import BOX, CAPITAL, CEDILLA, GAP, GLYPHS, MARKS, SPACE, TAIL
from geomgen.plane.path import Bounds, Path

Stroke = tuple[FloatArray, FloatArray]  # (n, 2) points on the glyphs' grid, (n,) bulges

DESCENT = TAIL / CAPITAL  # how far tails hang below the line, over the height of a capital


def strokes(text: str, height_mm: float) -> list[Path]:
    """Open paths that write one line of text from (0, 0) to the right along y = 0.

    A character without a glyph becomes a box. Tails hang `DESCENT` heights below the line, accents stand above.

    height_mm : height of a capital, > 0 [mm]
    raises    : ValueError on another height
    """
    unit = _unit(height_mm)
    return [
        Path.trusted((xy + np.array((x, 0.0))) * unit, bulge, False)
        for x, character in _placed(text)
        for xy, bulge in _glyph(character)[0]
    ]


def text_width(text: str, height_mm: float) -> float:
    """Width of one line of text, spaces at its ends counted [mm]."""
    return max((x + _glyph(character)[1] for x, character in _placed(text)), default=0.0) * _unit(height_mm)


def _unit(height_mm: float) -> float:
    if not (np.isfinite(height_mm) and height_mm > 0.0):
        raise ValueError(f"letters must be higher than 0 mm, not {height_mm}")
    return float(height_mm) / CAPITAL


def _placed(text: str) -> Iterator[tuple[float, str]]:
    """Each character with where it begins on the grid."""
    x = 0.0
    for character in unicodedata.normalize("NFC", text):
        yield x, character
        x += _glyph(character)[1] + GAP


@cache
def _glyph(character: str) -> tuple[tuple[Stroke, ...], float]:
    """Strokes of one character from x = 0, and its width, on the grid."""
    if character.isspace():
        return (), SPACE
    drawn = _read(GLYPHS[character]) if character in GLYPHS else _marked(character)
    left, _, right, _ = _box(drawn)
    begin = min(left, 0.0)
    return tuple((xy - np.array((begin, 0.0)), bulge) for xy, bulge in drawn), right - begin


def _marked(character: str) -> tuple[Stroke, ...]:
    """A letter with its accents, put together from both; the box where one of them is not known."""
    letter, *marks = list(unicodedata.normalize("NFD", character))
    if letter not in GLYPHS or not marks or not all(mark in MARKS or mark == CEDILLA[0] for mark in marks):
        return _read(BOX)
    base = _read(GLYPHS[letter])
    if letter in "ij":
        base = base[:1]  # the mark stands for the dot
    left, _, right, top = _box(base)
    drawn = base
    for mark in marks:
        added, lift = (_read(CEDILLA[1]), 0.0) if mark == CEDILLA[0] else (_read(MARKS[mark]), top)
        drawn += tuple((xy + np.array((0.5 * (left + right), lift)), bulge) for xy, bulge in added)
    return drawn


def _box(drawn: tuple[Stroke, ...]) -> Bounds:
    boxes = np.array([Path(xy, bulge, False).bounds() for xy, bulge in drawn])
    (left, bottom), (right, top) = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    return float(left), float(bottom), float(right), float(top)


def _read(glyph: str) -> tuple[Stroke, ...]:
    """Strokes from a glyph's text, see `glyphs`."""
    drawn = []
    for stroke in glyph.split("|"):
        points = [[float(part) for part in point.split(",")] for point in stroke.split()]
        turns = np.array([point[2] if len(point) > 2 else 0.0 for point in points])
        drawn.append((np.array([point[:2] for point in points]), np.tan(np.radians(turns) / 4.0)))
    return tuple(drawn)
