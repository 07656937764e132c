"""Bought fittings: fans, lights, packs, receivers, each with the mass and place the design file gives it."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import Design
from geomgen.model.groups import is_cover
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.model.part import Bought, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point


def fittings(design: Design, layout: Layout, *, floor_z_mm: float) -> Made:
    """One part for each [fitting.*] table, and what it lies on where that is the hub.

    What lies on a blade is held by the rib that is made for it (`mounts`), by the cover that it sticks to (`stuck_on`),
    or by nothing.

    design     : its fittings and the rotor's turn are read
    floor_z_mm : upper face of the hub's floor in the rotor frame [mm]
    """
    parts, joints = list[Part](), list[Joint]()
    for name, fitting in design.fitting.items():
        if fitting.on == "blade":
            parts.append(_part(design, name, point(place_on_blade(layout, name))))
            continue
        part = _part(design, name, _on_hub(design, name, floor_z_mm=floor_z_mm))
        parts.append(part)
        joints.append(touching(part.key, Key(Role.HUB, "hub"), Bond.BEARING, part.path, part.spread[:, 1:]))
    return Made(tuple(parts), tuple(joints))


def stuck_on(layout: Layout, covering: Made) -> Made:
    """What fittings that stick to the cover hold on by: the first sheet, film or foam that reaches over their place."""
    joints = list[Joint]()
    for name, fitting in layout.design.fitting.items():
        if fitting.on == "blade" and fitting.stuck:
            place = place_on_blade(layout, name)
            under = next((part for part in covering if _reaches(part, float(place[0]))), None)
            if under is not None:
                key = Key(Role.FITTING, f"fitting.{name}")
                joints.append(touching(key, under.key, Bond.SEALED, f"{key.path}.stuck", [place]))
    return Made((), tuple(joints))


def _reaches(part: Part, r_mm: float) -> bool:
    out = part.spread[:, 1]
    return (is_cover(part.role) or part.role is Role.CORE) and float(out.min()) <= r_mm <= float(out.max())


def place_in_section(design: Design, name: str, station: Station) -> tuple[float, float]:
    """Where a fitting sits in a section, in the station's own frame [mm]."""
    fitting = design.fitting[name]
    if fitting.chord is None and fitting.height is None:
        return station.axis_mm
    chord = station.axis_mm[0] / station.chord_mm if fitting.chord is None else fitting.chord
    return station.place(chord, "camber" if fitting.height is None else fitting.height)


def place_on_blade(layout: Layout, name: str) -> FloatArray:
    """(3,) where a fitting sits on a blade, in the blade frame [mm]."""
    station = layout.blade.station(layout.design.r(layout.design.fitting[name].at))
    placed: FloatArray = station.to_blade(np.array([place_in_section(layout.design, name, station)]))[0]
    return placed


def _on_hub(design: Design, name: str, *, floor_z_mm: float) -> FloatArray:
    """(n, 4) on the hub, `count` of them stand evenly round the axis from `azimuth` on."""
    fitting = design.fitting[name]
    hand = -1.0 if design.rotor.turn == "clockwise" else 1.0  # the design says azimuth as seen, the twin is mirrored
    azimuth = np.radians(hand * (fitting.azimuth or 0.0) + 360.0 / fitting.count * np.arange(fitting.count))
    r = design.r(fitting.at)
    z = floor_z_mm + (fitting.height if isinstance(fitting.height, float | int) else 0.0)
    return np.array([[1.0 / fitting.count, r * np.cos(a), r * np.sin(a), z] for a in azimuth])


def _part(design: Design, name: str, spread: FloatArray) -> Part:
    fitting = design.fitting[name]
    return Part(
        name=f"fitting {name}",
        role=Role.FITTING,
        stock="",
        path=f"fitting.{name}",
        shape=Bought.about(fitting.mass, fitting.plus_minus),
        assembly=Assembly(fitting.on),
        count=fitting.count,
        spread=spread,
    )
