"""How one figure of strength.toml goes with density: not at all, by a power of it, or by rows."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Any

from geomgen.materials.figure import Figure

Law = Callable[[Figure], Figure]
"""From the density of a stock [kg/m3], or its mass per area [g/m2], to a figure; low goes with the low end of it."""


def read_law(entry: Mapping[str, Any], unit: str) -> Law:
    """The law that a table of strength.toml states, see there.

    unit : of its figures, "MPa" or "N/mm"
    """
    source = str(entry["source"])
    if "times" in entry:
        return _power(entry, unit, source)
    if "rows" in entry:
        return _rows(entry["rows"], unit, source)
    low, typical, high = map(float, entry["n_mm"] if unit == "N/mm" else entry["mpa"])
    figure = Figure(low, typical, high, unit, source)
    return lambda density: figure


def _power(entry: Mapping[str, Any], unit: str, source: str) -> Law:
    """times (density / over)^power, with its ends; the density's low end at low, its high end at high."""
    times, power, over = float(entry["times"]), float(entry.get("power", 1)), float(entry.get("over", 1))
    least, most = map(float, entry["ends"])

    def at(density: float) -> float:
        return float(times * (density / over) ** power)

    return lambda rho: Figure(least * at(rho.low), at(rho.typical), most * at(rho.high), unit, source)


def _rows(rows: Sequence[Sequence[float]], unit: str, source: str) -> Law:
    """Straight between rows [density, low, typical, high], held beyond the ends."""

    def at(density: float, column: int) -> float:
        if density <= rows[0][0]:
            return float(rows[0][column])
        for below, above in pairwise(rows):
            if density <= above[0]:
                share = (density - below[0]) / (above[0] - below[0])
                return float(below[column] + share * (above[column] - below[column]))
        return float(rows[-1][column])

    return lambda rho: Figure(at(rho.low, 1), at(rho.typical, 2), at(rho.high, 3), unit, source)
