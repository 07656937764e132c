"""Papers that a home printer or a copy shop takes, and what of a page can be drawn on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from geomgen.plane.path import Bounds

MARGIN_MM = 10.0  # left free on every side, which printers can't reach; common practice
ROLL_MM = 914.0  # width of a common roll (36 in)
MOST_MM = 5000.0  # longest page that is asked of a roll; common practice of copy shops
LIMIT_MM = 5080.0  # longest page of the file's format: 14400 units of 1/72 in
BAND_MM = 30.0  # height of the words below a drawing
GAP_MM = 2.0  # between them
LEAST_MM = 5.0 * BAND_MM  # shortest page of a roll: its band and the square find room


@dataclass(frozen=True)
class Paper:
    """A paper to print on.

    name    : "A4"
    wide_mm : its shorter side; of a roll, its width [mm]
    long_mm : its longer side; of a roll, the longest page that is asked for [mm]
    roll    : whether a page may be any length up to that
    raises  : ValueError where a page is too small for the square that a printer is measured by, or too long
    """

    name: str
    wide_mm: float
    long_mm: float
    roll: bool = False

    def __post_init__(self) -> None:
        if not LEAST_MM <= self.wide_mm <= self.long_mm <= LIMIT_MM:
            bounds = f"at least {LEAST_MM:g} mm wide and at most {LIMIT_MM:g} mm long"
            raise ValueError(f"a page is {bounds}, no wider than long, not {self}")

    def pages(self) -> Iterator[Page]:
        """The page upright, then lying."""
        yield Page(self.wide_mm, self.long_mm)
        yield Page(self.long_mm, self.wide_mm)


@dataclass(frozen=True)
class Page:
    """A page as it is looked at, its lower left corner at (0, 0). [mm]."""

    wide_mm: float
    high_mm: float

    @property
    def printable(self) -> Bounds:
        """What a printer reaches [mm]."""
        return MARGIN_MM, MARGIN_MM, self.wide_mm - MARGIN_MM, self.high_mm - MARGIN_MM

    @property
    def band(self) -> Bounds:
        """Where the words stand [mm]."""
        x0, y0, x1, _ = self.printable
        return x0, y0, x1, y0 + BAND_MM

    @property
    def window(self) -> Bounds:
        """What is left to draw in at full size: a line's own width within what is printable [mm]."""
        x0, y0, x1, y1 = self.printable
        return x0 + 0.5, y0 + BAND_MM + GAP_MM, x1 - 0.5, y1 - 0.5

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of that [mm]."""
        x0, y0, x1, y1 = self.window
        return x1 - x0, y1 - y0


A4 = Paper("A4", 210.0, 297.0)  # ISO 216
A3 = Paper("A3", 297.0, 420.0)
LETTER = Paper("Letter", 8.5 * 25.4, 11.0 * 25.4)  # ANSI/ASME Y14.1


def roll(wide_mm: float = ROLL_MM, most_mm: float = MOST_MM) -> Paper:
    """A roll of a width, its pages as long as what is drawn on them, `most_mm` at most [mm]."""
    return Paper("roll", wide_mm, most_mm, roll=True)


PAPERS = {"a4": A4, "a3": A3, "letter": LETTER, "roll": roll()}  # by the word that asks for it
