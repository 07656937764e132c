"""Polymer packs by class: what they weigh, their voltage against charge, their resistance. Figures in power.toml."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from geomgen.materials.figure import Figure, read
from geomgen.materials.power import power_table

LABEL_V = 3.7  # of a cell, by which its energy is told: common practice


@dataclass(frozen=True)
class CellVoltage:
    """Voltage of a cell at rest against the charge left in it; straight between entries.

    charge             : by rising share of a full charge, 0 .. 1 [-]
    low, typical, high : [V]
    source             : in words
    """

    charge: tuple[float, ...]
    low: tuple[float, ...]
    typical: tuple[float, ...]
    high: tuple[float, ...]
    source: str


@cache
def cell_voltage() -> CellVoltage:
    """The table that stands in power.toml."""
    entry = power_table()["cell"]
    charge = tuple(float(per_cent) / 100 for per_cent in reversed(entry["charge_pct"]))
    low, typical, high = (tuple(map(float, reversed(entry[f"{which}_v"]))) for which in ("low", "typical", "high"))
    return CellVoltage(charge, low, typical, high, str(entry["source"]))


def energy_wh(cells: int, capacity_ah: float) -> float:
    """Energy on a pack's label [Wh]."""
    return LABEL_V * cells * capacity_ah


def pack_mass_g(cells: int, capacity_ah: float) -> Figure:
    """What a pack weighs, with leads and plug, by its class of energy [g]; outside 2 .. 80 Wh by the next class."""
    rows, energy = power_table()["pack"], energy_wh(cells, capacity_ah)
    row = next((one for one in rows if energy <= one["to_wh"]), rows[-1])
    each = read(row["wh_kg"], "Wh/kg")
    low, typical, high = (energy / one * 1e3 for one in (each.high, each.typical, each.low))
    beyond = "" if rows[0]["from_wh"] <= energy <= rows[-1]["to_wh"] else "; outside the classes known"
    return Figure(low, typical, high, "g", f"{each.source}{beyond}")


def cell_resistance_ohm(capacity_ah: float, temperature_deg_c: float = 25.0, worn: bool = False) -> Figure:
    """Resistance of one cell to a current that lasts seconds [ohm].

    capacity_ah       : [Ah], > 0
    temperature_deg_c : of the cell [degC]; held beyond 0 and 40
    worn              : at the end of its life
    """
    entry = power_table()["cell"]["resistance"]
    each = read(entry["new"], "mohm Ah").times(cold_factor(temperature_deg_c), "mohm Ah")
    if worn:
        each = each.times(read(entry["worn"], "-"), "mohm Ah")
    low, typical, high = (one / capacity_ah * 1e-3 for one in (each.low, each.typical, each.high))
    return Figure(low, typical, high, "ohm", each.source)


def cold_factor(temperature_deg_c: float) -> Figure:
    """Resistance over that at 25 degC [-], straight between entries, held beyond the ends."""
    rows = [(float(row["deg_c"]), read(row["factor"], "-")) for row in power_table()["cell"]["cold"]]
    if temperature_deg_c <= rows[0][0]:
        return rows[0][1]
    for (below, a), (above, b) in pairwise(rows):
        if temperature_deg_c <= above:
            share = (temperature_deg_c - below) / (above - below)
            low, typical, high = (
                x + share * (y - x) for x, y in ((a.low, b.low), (a.typical, b.typical), (a.high, b.high))
            )
            return Figure(low, typical, high, "-", a.source)
    return rows[-1][1]
