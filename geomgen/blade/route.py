"""Straight lines in space along which spars and channels run, and where each meets a station."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.station import Station
from geomgen.design.schema import Design


@dataclass(frozen=True, eq=False)
class Route:
    """A straight line in the blade frame between two radii.

    path   : key path of the spar or channel
    start  : (3,) inner end [mm]
    end    : (3,) outer end [mm]
    """

    path: str
    start: FloatArray
    end: FloatArray

    @property
    def slope(self) -> FloatArray:
        """(2,) change of (y, z) for each mm of r [-]."""
        return np.asarray((self.end[1:] - self.start[1:]) / (self.end[0] - self.start[0]))

    @property
    def length_mm(self) -> float:
        """Length in space [mm]."""
        return float(np.linalg.norm(self.end - self.start))

    def at(self, r_mm: float) -> FloatArray:
        """(3,) the point of the line, drawn on if need be, at a radius [mm]."""
        return np.array([r_mm, *(self.start[1:] + self.slope * (r_mm - self.start[0]))])

    def passes(self, r_mm: float) -> bool:
        """Whether the line reaches that radius."""
        slack = 1e-6
        return bool(self.start[0] - slack <= r_mm <= self.end[0] + slack)

    def in_station(self, station: Station) -> tuple[FloatArray, FloatArray]:
        """Where the line meets a station, (2,) [mm], and its slope there, (2,) [-], both in the station's own frame."""
        return station.from_blade(self.at(station.r_mm))[0], station.directions_from_blade(self.slope)[0]


def along_axis(path: str, from_mm: float, to_mm: float) -> Route:
    """A route on the feather axis itself."""
    return Route(path, np.array([from_mm, 0.0, 0.0]), np.array([to_mm, 0.0, 0.0]))


def between(
    blade: Blade,
    path: str,
    from_mm: float,
    to_mm: float,
    chord: tuple[float, float],
    height: tuple[str | float, str | float],
) -> Route:
    """A straight route placed by chord fraction and height at its two ends.

    from_mm, to_mm : radii of the ends [mm]; an end beyond the blade is placed by the blade's own end station
    chord          : chord fractions at the two ends [-]
    height         : heights at the two ends: "camber", "chord" or above the chord line [mm]
    """
    ends = []
    for r, x, h in zip((from_mm, to_mm), chord, height, strict=True):
        station = blade.station(float(np.clip(r, blade.root_mm, blade.radius_mm)))
        point = station.to_blade(np.array([station.place(x, h)]))[0]
        ends.append(np.array([r, point[1], point[2]]))
    return Route(path, ends[0], ends[1])


def spar_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each spar's straight line, by name."""
    routes = {}
    for name, spar in design.blade.spar.items():
        path, start, end = f"blade.spar.{name}", design.r(spar.from_), design.r(spar.to)
        if spar.chord is None:
            routes[name] = along_axis(path, start, end)
        else:
            routes[name] = between(blade, path, start, end, spar.chord, spar.heights())
    return routes


def channel_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each channel's straight line, by name."""
    routes = {}
    for name, channel in design.blade.channel.items():
        ends = design.r(channel.from_), design.r(channel.to)
        routes[name] = between(blade, f"blade.channel.{name}", *ends, channel.chord, channel.height)
    return routes
