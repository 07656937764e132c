"""A figure of the catalogue: low, typical, high and where it comes from; and rows of them by thickness."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from geomgen.figures import mm

DESIGN_FILE = "design file"  # the source of what its maker states


@dataclass(frozen=True)
class Figure:
    """One figure as it is met, low to high, and where it comes from.

    low, typical, high : the figure [unit]
    unit               : "kg/m3", "g/m2", "mm", "%", "-" ...
    source             : in words that a stranger can follow; says so where it is from memory
    """

    low: float
    typical: float
    high: float
    unit: str
    source: str

    def times(self, other: Figure, unit: str) -> Figure:
        """Both figures multiplied end by end, low with low and high with high, in `unit`."""
        return Figure(
            self.low * other.low,
            self.typical * other.typical,
            self.high * other.high,
            unit,
            f"{self.source}; times {other.typical:g}: {other.source}",
        )


def worked_out(law: Callable[..., Any], *some: Figure, unit: str, source: str) -> Figure:
    """What a law makes of figures, their low ends together, their typical ones, their high ones.

    law    : from one number of each figure to a number
    source : of the law and of what it is made from
    """
    low, typical, high = (
        float(law(*ends)) for ends in zip(*((one.low, one.typical, one.high) for one in some), strict=True)
    )
    return Figure(low, typical, high, unit, source)


Rows = tuple[tuple[float, Figure], ...]
"""(thickness [mm], figure) by rising thickness."""


def read(entry: Mapping[str, Any], unit: str) -> Figure:
    """The figure that a table { low, typical, high, source } of the catalogue states, in `unit`."""
    return Figure(float(entry["low"]), float(entry["typical"]), float(entry["high"]), unit, str(entry["source"]))


def at_thickness(rows: Rows, thickness_mm: float) -> Figure:
    """The figure at a thickness: its row, straight between rows, held beyond the ends.

    rows         : at least one, all of one unit
    thickness_mm : [mm]
    returns      : in the rows' unit; between rows both sources are named, where they differ
    """
    thinnest, first = rows[0]
    thickest, last = rows[-1]
    if thickness_mm <= thinnest:
        return first
    if thickness_mm >= thickest:
        return last
    (below, a), (above, b) = next(pair for pair in pairwise(rows) if pair[0][0] <= thickness_mm <= pair[1][0])
    share = (thickness_mm - below) / (above - below)
    if a.source == b.source:
        return _between(a, b, share, a.source)
    return _between(a, b, share, f"between {mm(below)} ({a.source}) and {mm(above)} ({b.source})")


def _between(a: Figure, b: Figure, share: float, source: str) -> Figure:
    def mix(x: float, y: float) -> float:
        return x + share * (y - x)

    return Figure(mix(a.low, b.low), mix(a.typical, b.typical), mix(a.high, b.high), a.unit, source)
