"""What is on a page, as data: lines in a few styles, words, filled areas, each at its place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geomgen.paper.sizes import Page
from geomgen.plane.path import Path


class Style(StrEnum):
    """What a line is for."""

    CUT = "cut"
    FOLD = "fold"
    MARK = "mark"
    REFERENCE = "reference"
    GUIDE = "guide"  # to measure and to join by
    SEAM = "seam"
    PLAIN = "plain"  # arrows, words, maps


@dataclass(frozen=True)
class Pen:
    """How a line is drawn.

    width_mm  : [mm]
    colour    : red, green, blue, each 0 to 1
    dashes_mm : dash, gap, dash ...; none for a whole line [mm]
    """

    width_mm: float
    colour: tuple[float, float, float]
    dashes_mm: tuple[float, ...] = ()


BLACK, GREY, BLUE = (0.0, 0.0, 0.0), (0.4, 0.4, 0.4), (0.1, 0.35, 0.85)
PENS = {
    Style.CUT: Pen(0.2, BLACK),
    Style.FOLD: Pen(0.2, BLACK, (5.0, 2.0)),
    Style.MARK: Pen(0.18, GREY),
    Style.REFERENCE: Pen(0.2, GREY, (0.3, 1.2)),
    Style.GUIDE: Pen(0.15, BLUE),
    Style.SEAM: Pen(0.15, BLUE, (3.0, 1.0, 0.5, 1.0)),
    Style.PLAIN: Pen(0.2, BLACK),
}


@dataclass(frozen=True)
class Line:
    """Paths in the page's frame. [mm]."""

    paths: tuple[Path, ...]
    style: Style


@dataclass(frozen=True)
class Words:
    """One line of words.

    text     : figures in it are spelled already
    at       : left end of its base line; its middle where `middle` [mm]
    size_mm  : of the letters, some 1.4 times the height of a capital [mm]
    turn_deg : of the base line, anticlockwise [deg]
    """

    text: str
    at: tuple[float, float]
    size_mm: float
    bold: bool = False
    middle: bool = False
    turn_deg: float = 0.0
    style: Style = Style.PLAIN


@dataclass(frozen=True)
class Filled:
    """A closed area. corners : [mm]."""

    corners: tuple[tuple[float, float], ...]
    style: Style = Style.PLAIN


Item = Line | Words | Filled


@dataclass(frozen=True)
class Drawn:
    """A page and all that is on it, in the order in which it is drawn."""

    page: Page
    items: tuple[Item, ...]
