"""What a material lets be done with it: bent, stretched, laser-cut, scarfed. The figures stand in catalogue.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from geomgen.materials.figure import Figure, Rows, at_thickness, read

Grain = Literal["round", "along"]
LENGTH, PER_CENT, RATIO = "mm", "%", "-"
INCH = 25.4


@dataclass(frozen=True)
class Laser:
    """What laser shops say to a material.

    verdict : "yes" | "ask" (shops disagree, or it hangs on the piece) | "no"
    reason  : in words
    source  : in words; says so where it is from memory
    """

    verdict: str
    reason: str
    source: str


@dataclass(frozen=True)
class Bend:
    """Least inside radius a sheet will take, over its thickness [-], in rows by thickness.

    note          : in words, what is known and what isn't
    round, along  : dry, with the grain running round the bend, or along its axis; alike where there is no grain;
                    empty where no figure is known
    round_soaked,
    along_soaked  : the same after a thorough soaking in hot water
    up_to_mm      : thickest sheet the figures hold for [mm]; None for any
    """

    note: str
    round: Rows = ()
    along: Rows = ()
    round_soaked: Rows = ()
    along_soaked: Rows = ()
    up_to_mm: float | None = None

    def radius(self, thickness_mm: float, grain: Grain | None, soaked: bool = False) -> Figure | None:
        """Least inside radius [mm], see `Material.bend`."""
        if grain == "along":
            rows = self.along_soaked if soaked else self.along
        else:
            rows = self.round_soaked if soaked else self.round
        if not rows or (self.up_to_mm is not None and thickness_mm > self.up_to_mm):
            return None
        ratio = at_thickness(rows, thickness_mm)
        return Figure(
            ratio.low * thickness_mm, ratio.typical * thickness_mm, ratio.high * thickness_mm, LENGTH, ratio.source
        )


@dataclass(frozen=True)
class Working:
    """What can be done with a material.

    laser   : what laser shops say to it
    bend    : least radii
    stretch : greatest strain in its own plane as a flat pattern is wrapped [%]; None where no figure is known
    scarf   : n of a scarf joint of slope 1 in n [-]: low is the steepest; None where it isn't scarfed
    soft    : whether it crushes under a screw's head (common practice)
    """

    laser: Laser
    bend: Bend
    stretch: Figure | None
    scarf: Figure | None
    soft: bool = False


def read_workings(table: Mapping[str, Any], bend_tables: Mapping[str, Any]) -> dict[str, Working]:
    """All tables [working.*] of the catalogue by name, with the [bend_table.*] they refer to."""
    return {name: _working(entry, bend_tables) for name, entry in table.items()}


def _working(entry: Mapping[str, Any], bend_tables: Mapping[str, Any]) -> Working:
    laser = entry["laser"]
    return Working(
        Laser(str(laser["verdict"]), str(laser["reason"]), str(laser["source"])),
        _bend(entry["bend"], bend_tables),
        read(entry["stretch"], PER_CENT) if "stretch" in entry else None,
        read(entry["scarf"], RATIO) if "scarf" in entry else None,
        bool(entry.get("soft", False)),
    )


def _bend(entry: Mapping[str, Any], bend_tables: Mapping[str, Any]) -> Bend:
    note = str(entry["note"])
    if "table" in entry:
        return _from_table(note, entry, bend_tables[entry["table"]])
    up_to = entry.get("up_to_mm")

    def rows(grain: Grain) -> Rows:
        found = entry.get(grain, entry.get("any"))
        return () if found is None else ((0.0, read(found, RATIO)),)

    return Bend(note, rows("round"), rows("along"), up_to_mm=None if up_to is None else float(up_to))


def _from_table(note: str, entry: Mapping[str, Any], table: Mapping[str, Any]) -> Bend:
    """Rows of a published table [in] as radius over thickness, with the material's own spread about them.

    The table's two headings give the angle between the bend's axis and the face grain, so the column at 90 deg is
    for grain running round the bend. As the words can be read the other way round too, the high end for grain along
    the axis is never less than that column.
    """
    low, high, spread = float(entry["low"]), float(entry["high"]), str(entry["source"])

    def rows(state: str, grain: Grain) -> Rows:
        angle = "90" if grain == "round" else "0_or_45"
        source = f"{table['source']}, {table[state]}, {table[f'heading_{angle}']}; {spread}"
        found = []
        for row in table["rows"]:
            thickness, across = float(row["thickness"]), float(row[f"{state}_90"]) / float(row["thickness"])
            ratio = float(row[f"{state}_{angle}"]) / thickness
            figure = Figure(ratio * low, ratio, max(ratio * high, across), RATIO, source)
            found.append((thickness * INCH, figure))
        return tuple(found)

    return Bend(note, rows("dry", "round"), rows("dry", "along"), rows("soaked", "round"), rows("soaked", "along"))
