"""What things weigh: the catalogue's records and how to look one up. The figures stand in catalogue.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Any, TypeVar

from geomgen.errors import DesignError, Fault

DENSITY, AREAL, SHARE = "kg/m3", "g/m2", "-"
_Entry = TypeVar("_Entry")


@dataclass(frozen=True)
class Figure:
    """One figure as it is met, low to high, and where it comes from.

    low, typical, high : the figure [unit]
    unit               : "kg/m3", "g/m2", "-" ...
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


@dataclass(frozen=True)
class Material:
    """One material of the catalogue.

    name         : generic name, "birch ply"
    kind         : "wood" | "ply" | "board" | "foam" | "film" | "fibre" | "metal" | "print" | "plate"
    figure       : density [kg/m3] of the material itself, or mass per area [g/m2] of what is known by area
    by_thickness : (thickness [mm], figure of that unit) by rising thickness; empty where thickness changes nothing
    """

    name: str
    kind: str
    figure: Figure
    by_thickness: tuple[tuple[float, Figure], ...] = ()

    @property
    def density(self) -> Figure | None:
        """Density [kg/m3]; None for what is known by area only."""
        return self.figure if self.figure.unit == DENSITY else None

    def at_thickness(self, thickness_mm: float) -> Figure:
        """The figure for a sheet of this thickness: its row, straight between rows, held beyond the ends.

        thickness_mm : sheet thickness [mm]
        returns      : [kg/m3] or [g/m2], as `unit` says
        """
        if not self.by_thickness:
            return self.figure
        thinnest, first = self.by_thickness[0]
        thickest, last = self.by_thickness[-1]
        if thickness_mm <= thinnest:
            return first
        if thickness_mm >= thickest:
            return last
        (below, a), (above, b) = next(
            pair for pair in pairwise(self.by_thickness) if pair[0][0] <= thickness_mm <= pair[1][0]
        )
        share = (thickness_mm - below) / (above - below)
        return _between(a, b, share, f"between {below:g} mm ({a.source}) and {above:g} mm ({b.source})")


@dataclass(frozen=True)
class Glue:
    """One kind of glue.

    name      : "wood glue"
    wet       : as spread on a joint, both faces together [g/m2]
    dry_share : what stays when it has set [-]
    """

    name: str
    wet: Figure
    dry_share: Figure

    @property
    def dry(self) -> Figure:
        """What a joint weighs when the glue has set [g/m2]."""
        return self.wet if self.dry_share.low == 1.0 else self.wet.times(self.dry_share, self.wet.unit)


def names() -> tuple[str, ...]:
    """Names of all materials, in the order of the catalogue."""
    return tuple(_catalogue()[0])


def glue_names() -> tuple[str, ...]:
    """Names of all kinds of glue, in the order of the catalogue."""
    return tuple(_catalogue()[1])


def find(name: str, path: str = "") -> Material:
    """The material of this name.

    name   : as `names()` has it
    path   : key path of the design that asks, for the fault
    raises : DesignError with the near miss where the catalogue has no such name
    """
    return _pick(_catalogue()[0], name, path, "material")


def find_glue(name: str, path: str = "") -> Glue:
    """The kind of glue of this name; raises DesignError like `find`."""
    return _pick(_catalogue()[1], name, path, "glue")


def _pick(table: Mapping[str, _Entry], name: str, path: str, sort: str) -> _Entry:
    if name in table:
        return table[name]
    folded = {known.casefold(): known for known in table}
    near = get_close_matches(name.casefold(), folded, n=1, cutoff=0.6)
    if near:
        allowed, remedy = "", f'did you mean "{folded[near[0]]}"?'
    else:
        allowed, remedy = "the catalogue has " + "; ".join(table), "or state its mass in the design file"
    raise DesignError(Fault(path, f'"{name}"', f"no {sort} of this name in the catalogue", allowed, remedy))


@cache
def _catalogue() -> tuple[dict[str, Material], dict[str, Glue]]:
    text = files(__package__).joinpath("catalogue.toml").read_text(encoding="utf-8")
    table = tomllib.loads(text)
    materials = {name: _material(name, entry) for name, entry in table["material"].items()}
    glues = {
        name: Glue(name, _figure(entry["wet"], AREAL), _figure(entry["dry_share"], SHARE))
        for name, entry in table["glue"].items()
    }
    return materials, glues


def _material(name: str, entry: Mapping[str, Any]) -> Material:
    rows = [(float(row["thickness_mm"]), _of(row)) for row in entry.get("by_thickness", ())]
    return Material(name, str(entry["kind"]), _of(entry), tuple(sorted(rows, key=lambda row: row[0])))


def _of(entry: Mapping[str, Any]) -> Figure:
    return _figure(entry["density"], DENSITY) if "density" in entry else _figure(entry["areal"], AREAL)


def _figure(entry: Mapping[str, Any], unit: str) -> Figure:
    return Figure(float(entry["low"]), float(entry["typical"]), float(entry["high"]), unit, str(entry["source"]))


def _between(a: Figure, b: Figure, share: float, source: str) -> Figure:
    def mix(x: float, y: float) -> float:
        return x + share * (y - x)

    return Figure(mix(a.low, b.low), mix(a.typical, b.typical), mix(a.high, b.high), a.unit, source)
