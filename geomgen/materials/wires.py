"""Wires by gauge, and speed controllers by class. The figures stand in power.toml."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from geomgen.materials.figure import Figure, read
from geomgen.materials.power import pick, power_table


@dataclass(frozen=True)
class WireClass:
    """Fine-stranded silicone wire of one gauge.

    name       : "22 AWG"
    copper_mm2 : copper that is in it, strand by strand [mm2]
    nominal_mm2: copper by its gauge's formula [mm2]
    outside_mm : over the insulation [mm]
    mass_g_m   : [g/m]
    free_a     : what a handbook grants a single ordinary wire in free air [A]; None where its table ends
    enclosed_a : what it grants in a bundle or a box [A]
    source     : of the copper, and of the currents
    """

    name: str
    copper_mm2: float
    nominal_mm2: float
    outside_mm: float
    mass_g_m: float
    free_a: float | None
    enclosed_a: float | None
    source: str


@dataclass(frozen=True)
class ControllerClass:
    """Speed controllers of one rating.

    name     : "20 A"
    rating_a : on the label, in moving air [A]
    mass     : with leads [g]; low is a bare board
    """

    name: str
    rating_a: float
    mass: Figure


def gauge_diameter_mm(gauge: float) -> float:
    """Diameter of a solid wire of this gauge [mm]: 0.127 mm times 92^((36 - n) / 39) (ASTM B258)."""
    return float(0.127 * 92.0 ** ((36.0 - gauge) / 39.0))


def gauge_mm2(gauge: float) -> float:
    """Copper of a solid wire of this gauge [mm2]."""
    return math.pi / 4 * gauge_diameter_mm(gauge) ** 2


def wire_names() -> tuple[str, ...]:
    """Names of all gauges, thin ones first."""
    return tuple(_wires())


def find_wire(name: str, path: str = "") -> WireClass:
    """The gauge of this name, "22 AWG"; raises DesignError with the near miss, or the choice."""
    return pick(_wires(), name, path, "wire")


def find_controller(name: str, path: str = "") -> ControllerClass:
    """The controller of this name, "20 A"; raises DesignError with the near miss, or the choice."""
    return pick(_controllers(), name, path, "controller")


@cache
def _wires() -> dict[str, WireClass]:
    source = "; ".join(power_table()["wire_source"].values())
    return {
        name: WireClass(
            name,
            float(entry["copper_mm2"]),
            gauge_mm2(float(name.split()[0])),
            float(entry["outside_mm"]),
            float(entry["g_m"]),
            entry.get("free_a"),
            entry.get("enclosed_a"),
            source,
        )
        for name, entry in power_table()["wire"].items()
    }


@cache
def _controllers() -> dict[str, ControllerClass]:
    table = power_table()["controller"]
    return {
        name: ControllerClass(name, float(entry["rating_a"]), read(entry["mass"], "g")) for name, entry in table.items()
    }
