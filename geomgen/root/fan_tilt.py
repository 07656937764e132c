"""Which way fittings that are fixed to ribs point: they turn with the blade, and with the twist at their rib."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.model.layout import Layout
from geomgen.structure.ribs.mount import turned_deg


@dataclass(frozen=True)
class FanTilt:
    """A fitting that points along its rib's chord line, or where its mount is turned to.

    name, rib    : of the fitting, and of the rib that it is fixed to
    angle_deg    : of the section there against the reference pitch, leading edge up [deg]
    turned_deg   : how far its mount is turned, nose down against the chord line [deg]
    level_at_deg : pitch that its mount is turned for; None where it isn't
    mounted      : whether it has a mount to turn
    coning_deg   : how far the feather axis rises outward [deg]
    set_deg      : pitch to fly at [deg]
    settings_deg : pitches that the blade can be pinned at [deg]
    """

    name: str
    rib: str
    angle_deg: float
    turned_deg: float
    level_at_deg: float | None
    mounted: bool
    coning_deg: float
    set_deg: float
    settings_deg: tuple[float, ...]

    def tilt_deg(self, pitch_deg: float) -> float:
        """How far it points above the tangent of its circle at a pitch [deg]."""
        return pitch_deg + self.angle_deg - self.turned_deg

    def up(self, pitch_deg: float) -> float:
        """Share of its pull that points up along the rotor's axis; less than 0 where it points down [-]."""
        return math.sin(math.radians(self.tilt_deg(pitch_deg))) * math.cos(math.radians(self.coning_deg))

    def along(self, pitch_deg: float) -> float:
        """Share of its pull that points along the tangent [-]."""
        return math.cos(math.radians(self.tilt_deg(pitch_deg)))


def fan_tilts(design: Design, layout: Layout, *, settings_deg: tuple[float, ...]) -> tuple[FanTilt, ...]:
    """Every fitting that is fixed to a rib, from the root outwards.

    design : its coning, pitch to fly at, mounts and what they are turned for are read
    """
    stations = layout.blade.stations([place.r_mm for place in layout.ribs])
    return tuple(
        FanTilt(
            name=name,
            rib=place.name,
            angle_deg=station.angle_deg,
            turned_deg=turned_deg(design, name, station),
            level_at_deg=design.fitting[name].level_at,
            mounted=design.fitting[name].mount is not None,
            coning_deg=design.rotor.coning,
            set_deg=design.pitch.set,
            settings_deg=settings_deg,
        )
        for place, station in zip(layout.ribs, stations, strict=True)
        for name in place.fittings
    )
