"""A picture that any medium can write: shapes, lines and words in mm, y up, each with the names of its style."""

from __future__ import annotations

from dataclasses import dataclass

from numpy.typing import ArrayLike

from geomgen.plane.path import Bounds, Loop, from_points

Point = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Shape:
    """Loops and paths with their arcs; a loop inside another is a hole in it. Width of their line [mm]."""

    loops: tuple[Loop, ...]
    style: str
    width: float


@dataclass(frozen=True, eq=False)
class Line:
    """Straight lines through (n, 2) points [mm]; dashes: lengths of line and gap in turn [mm]."""

    points: ArrayLike
    style: str
    width: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Ring:
    """A circle [mm]."""

    center: Point
    radius: float
    style: str
    width: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True)
class Quarters:
    """The filled quarters of the usual mark of a centre of gravity: right below, left above [mm]."""

    center: Point
    radius: float
    style: str


@dataclass(frozen=True)
class Words:
    """Words with their base line at a point; size of the letters [mm], anchor "start" | "middle" | "end"."""

    text: str
    at: Point
    size: float
    style: str = "ink"
    anchor: str = "start"
    turn_deg: float = 0.0
    bold: bool = False


Drawn = Shape | Line | Ring | Quarters | Words


@dataclass(frozen=True)
class Drawing:
    """A whole picture.

    box     : least x, least y, greatest x, greatest y [mm]
    title   : read out and shown as a tool tip
    about   : the same in a sentence, for those who can't see it
    items   : one over another in this order
    width   : on the screen [px]; None for full size, as printed
    unit    : the design's own unit of length, whose system words are spelled in
    colours : name, fill ("" for none) and stroke of styles of its own, alike on light and dark pages
    """

    box: Bounds
    title: str
    about: str
    items: tuple[Drawn, ...]
    width: float | None = None
    colours: tuple[tuple[str, str, str], ...] = ()
    unit: str = "mm"


def rectangle(x0: float, y0: float, x1: float, y1: float, style: str, width: float = 0.0) -> Shape:
    """An upright box [mm]."""
    return Shape((from_points([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], closed=True),), style, width)
