"""What is on a page, as data: lines in a few styles, words, filled areas, each at its place."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from geomgen.paper.sizes import Page
from geomgen.plane.path import Path


class Style(Enum):
    """How a line is drawn: width [mm], colour (red, green, blue, each 0 to 1), dashes [mm]."""

    CUT = 0.2, (0.0, 0.0, 0.0), ()
    FOLD = 0.2, (0.0, 0.0, 0.0), (5.0, 2.0)
    MARK = 0.15, (0.45, 0.45, 0.45), ()
    REFERENCE = 0.2, (0.45, 0.45, 0.45), (0.3, 1.2)
    GUIDE = 0.12, (0.1, 0.35, 0.85), ()
    SEAM = 0.12, (0.1, 0.35, 0.85), (3.0, 1.0, 0.5, 1.0)
    PLAIN = 0.2, (0.0, 0.0, 0.0), ()

    @property
    def width_mm(self) -> float:
        """Of the line [mm]."""
        return self.value[0]

    @property
    def colour(self) -> tuple[float, float, float]:
        """Red, green, blue [-]."""
        return self.value[1]

    @property
    def dashes_mm(self) -> tuple[float, ...]:
        """Dash, gap, dash ...; none for a whole line [mm]."""
        return self.value[2]


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
