"""Bought fittings: fans, lights, packs, receivers, each with the mass and place the design file gives it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.design.schema import Design
from geomgen.model.part import Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point

FloatArray = NDArray[np.float64]


def fittings(design: Design, blade: Blade, floor_z_mm: float) -> list[Part]:
    """One part for each [fitting.*] table.

    floor_z_mm : upper face of the hub's floor in the rotor frame [mm]
    """
    return [
        _part(design, name, point(place_on_blade(design, blade, name)))
        if fitting.on == "blade"
        else _on_hub(design, name, floor_z_mm)
        for name, fitting in design.fitting.items()
    ]


def mass_band(mass_g: float, plus_minus: float) -> tuple[float, float, float]:
    """(low, typical, high) of a stated mass [g] and its share of doubt [-]."""
    return mass_g * (1 - plus_minus), mass_g, mass_g * (1 + plus_minus)


def place_on_blade(design: Design, blade: Blade, name: str) -> FloatArray:
    """(3,) where a fitting sits on a blade, in the blade frame [mm]."""
    fitting = design.fitting[name]
    station = blade.station(design.r(fitting.at))
    on_axis = fitting.chord is None and fitting.height is None
    chord = station.axis_mm[0] / station.chord_mm if fitting.chord is None else fitting.chord
    place = station.axis_mm if on_axis else station.place(chord, "camber" if fitting.height is None else fitting.height)
    placed: FloatArray = station.to_blade(np.array([place]))[0]
    return placed


def _on_hub(design: Design, name: str, floor_z_mm: float) -> Part:
    """On the hub, `count` of them stand evenly round the axis from `azimuth` on."""
    fitting = design.fitting[name]
    hand = -1.0 if design.rotor.turn == "clockwise" else 1.0  # the design says azimuth as seen, the twin is mirrored
    azimuth = np.radians(hand * (fitting.azimuth or 0.0) + 360.0 / fitting.count * np.arange(fitting.count))
    r = design.r(fitting.at)
    z = floor_z_mm + (fitting.height if isinstance(fitting.height, float | int) else 0.0)
    return _part(design, name, np.array([[1.0 / fitting.count, r * np.cos(a), r * np.sin(a), z] for a in azimuth]))


def _part(design: Design, name: str, spread: FloatArray) -> Part:
    fitting = design.fitting[name]
    return Part(
        name=f"fitting {name}",
        role=Role.FITTING,
        stock="",
        path=f"fitting.{name}",
        shape=Bought(mass_band(fitting.mass, fitting.plus_minus)),
        assembly=Assembly(fitting.on),
        count=fitting.count,
        spread=spread,
    )
