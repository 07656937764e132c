"""Words as wide as they will be on the page: measured, broken into lines, cut off where there is no room."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

PLAIN, BOLD = "Helvetica", "Helvetica-Bold"  # known to every reader of such files
ENCODING = "cp1252"  # what those fonts hold
CAPITAL = 0.718  # height of their capitals over their size
LEADING = 1.3  # from line to line, over their size
_CUT_OFF = "…"


@lru_cache(maxsize=4096)
def latin(text: str) -> str:
    """A text in letters that the fonts hold: without an accent where they lack it, "?" where they lack the letter."""
    return "".join(each if _held(each) else _bare(each) for each in unicodedata.normalize("NFC", text))


def _held(letter: str) -> bool:
    try:
        letter.encode(ENCODING)
    except UnicodeEncodeError:
        return False
    return True


def _bare(letter: str) -> str:
    base = unicodedata.normalize("NFD", letter)[0]
    return base if _held(base) else "?"


@lru_cache(maxsize=4096)
def width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Width of one line of words [mm]."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(latin(text), BOLD if bold else PLAIN, size_mm))


def broken(text: str, wide_mm: float, size_mm: float, bold: bool = False) -> list[str]:
    """Words in as many lines as they take; a single word that is too wide is cut off."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_mm, bold) <= wide_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return [cut_off(line, wide_mm, size_mm, bold) for line in lines]


def cut_off(text: str, wide_mm: float, size_mm: float, bold: bool = False) -> str:
    """As much of one line as there is room for, an ellipsis where some is missing."""
    if width_mm(text, size_mm, bold) <= wide_mm:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        fits = width_mm(text[:middle].rstrip() + _CUT_OFF, size_mm, bold) <= wide_mm
        low, high = (middle, high) if fits else (low, middle - 1)
    return text[:low].rstrip() + _CUT_OFF


def fitting_mm(text: str, wide_mm: float, most_mm: float, least_mm: float, bold: bool = False) -> float:
    """The size at which a line is as wide as there is room, within bounds [mm]."""
    return max(least_mm, min(most_mm, most_mm * wide_mm / max(width_mm(text, most_mm, bold), 1e-9)))
