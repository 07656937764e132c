"""Ducted fans by class, where nobody has weighed or measured the maker's own. The figures stand in power.toml."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from geomgen.materials.figure import Figure, read
from geomgen.materials.power import pick, power_table


@dataclass(frozen=True)
class FanClass:
    """Fans of one size.

    name       : by the duct's nominal inside, "40 mm"
    inside_mm  : of the duct [mm]
    centre_mm  : the body in its middle [mm]; what lies between is taken to be the exit
    mass       : with motor, without controller [g]
    power      : electrical, at full throttle at rest [W]
    voltage    : label of the packs it is run on [V]
    efficiency : power that the air takes up over electrical power, full throttle at rest, exit = annulus [-]
    inertia    : of what turns, about its axis [kg m2]
    """

    name: str
    inside_mm: float
    centre_mm: float
    mass: Figure
    power: Figure
    voltage: Figure
    efficiency: Figure
    inertia: Figure


def fan_names() -> tuple[str, ...]:
    """Names of all classes, small ones first."""
    return tuple(_fans())


def find_fan(name: str, path: str = "") -> FanClass:
    """The class of this name, "40 mm"; raises DesignError with the near miss, or the choice."""
    return pick(_fans(), name, path, "fan")


@cache
def _fans() -> dict[str, FanClass]:
    return {name: _fan(name, entry) for name, entry in power_table()["fan"].items()}


def _fan(name: str, entry: Mapping[str, Any]) -> FanClass:
    return FanClass(
        name,
        float(entry["inside_mm"]),
        float(entry["centre_mm"]),
        read(entry["mass"], "g"),
        read(entry["power"], "W"),
        read(entry["voltage"], "V"),
        read(entry["efficiency"], "-"),
        read(entry["inertia"], "kg m2"),
    )
