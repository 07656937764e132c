"""What sheets, strips and foam have in a cross-section: walls along the section's outline, and what fills it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.blade.under_skin import moved
from geomgen.design.schema import HALVES, Half
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.part import Part, Shaped
from geomgen.model.role import Role
from geomgen.strength.sections.shapes import Shape, full_mm4, wall
from geomgen.structure.covers.slab import slab

POINTS = 40  # of a sheet's middle line, above and below
RIM = 60  # places round a strip or a core
ABOUT_CHORD = 0.5  # share of the chord at which it is asked which sheet lies there, where it goes to the tail


@dataclass(frozen=True, eq=False)
class Side:
    """One sheet's middle line above or below, in the station's frame.

    key          : of the sheet
    line         : (n, 2) from its foremost place to its aftmost [mm]
    thickness_mm : of the sheet [mm]
    to_tail      : whether it ends where it meets its counterpart at the tail, or on a tail strip
    """

    key: Key
    line: FloatArray
    thickness_mm: float
    to_tail: bool


def sides(
    layout: Layout, parts: Mapping[Key, Part], stations: Sequence[Station], film_mm: float
) -> list[dict[Half, Side]]:
    """The sheets above and below at each of k stations, under so much film.

    Where upper and lower sheet meet at the tail, each ends where their middle lines do: behind that they are bevelled.
    """
    known = [_over(layout, parts, station) for station in stations]
    chords = np.array([station.chord_mm for station in stations])
    lines = {}
    for half in HALVES:
        thick = np.array([some[half][1] if half in some else 0.0 for some in known])
        sign = 1.0 if half == "upper" else -1.0
        surfaces = [getattr(station.section, half) for station in stations]
        lines[half] = moved(surfaces, chords, sign * (film_mm + thick / 2.0)).aft()
    found = []
    for k, station in enumerate(stations):
        cover = layout.cover(station.r_mm)
        start = cover.nose_mm
        end = station.chord_mm * (cover.step or 1.0) if cover.step is not None else station.chord_mm - cover.tail_mm
        meet = _meet({half: (x[k], y[k]) for half, (x, y) in lines.items()}, end)
        there: dict[Half, Side] = {}
        for half, (key, thick_mm) in known[k].items():
            x, y = lines[half][0][k], lines[half][1][k]
            low = max(start, float(x[0]))
            at = low + (meet - low) * (1.0 - np.cos(np.linspace(0.0, np.pi / 2.0, POINTS)))
            line = np.column_stack([at, np.interp(at, x, y)])
            there[half] = Side(key, line, thick_mm, cover.step is None)
        found.append(there)
    return found


def _over(layout: Layout, parts: Mapping[Key, Part], station: Station) -> dict[Half, tuple[Key, float]]:
    """Which sheet lies above and below, and its thickness [mm]."""
    step, found = layout.cover(station.r_mm).step, dict[Half, tuple[Key, float]]()
    share = ABOUT_CHORD if step is None else step / 2.0
    for half in HALVES:
        key = layout.sheet_over(half, station.r_mm, share)
        if key is not None and key in parts:
            found[half] = key, layout.design.sheet(parts[key].stock).thickness
    return found


def _meet(lines: Mapping[Half, tuple[FloatArray, FloatArray]], end_mm: float) -> float:
    """The x at which two middle lines meet behind, or some x ahead of that [mm]."""
    (upper_x, upper_y), (lower_x, lower_y) = lines["upper"], lines["lower"]
    x = np.linspace(0.3 * end_mm, end_mm, 200)
    apart = np.interp(x, upper_x, upper_y) - np.interp(x, lower_x, lower_y)
    if apart[-1] >= 0.0 or not (apart > 0.0).any():
        return end_mm
    k = int(np.flatnonzero(apart > 0.0)[-1])
    return float(x[k] + (x[k + 1] - x[k]) * apart[k] / (apart[k] - apart[k + 1]))


def sheets(found: Mapping[Half, Side], station: Station) -> Iterator[tuple[Key, Shape]]:
    """Each sheet as a wall: one that goes round the nose in one piece."""
    whole: dict[Key, list[Half]] = {}
    for half, side in found.items():
        whole.setdefault(side.key, []).append(half)
    for key, halves in whole.items():
        if len(halves) == 1:
            line = found[halves[0]].line
        else:
            line = np.vstack([found["upper"].line[::-1], found["lower"].line])
        yield key, wall(station.to_blade(line)[:, 1:], found[halves[0]].thickness_mm)


def strips(
    layout: Layout, parts: Mapping[Key, Part], stations: Sequence[Station], film_mm: float
) -> list[list[tuple[Key, Shape, float]]]:
    """Strips along nose and tail at each of k stations, under film, and how much of the chord each takes [mm]."""
    found: list[list[tuple[Key, Shape, float]]] = [[] for _ in stations]
    covers = [layout.cover(station.r_mm) for station in stations]
    for part in parts.values():
        if part.role is Role.NOSE_STRIP:
            width = np.array([cover.nose_mm for cover in covers])
            cut = slab(stations, film_mm, to_mm=width)
        elif part.role is Role.TAIL_STRIP:
            width = np.array([cover.tail_mm for cover in covers])
            cut = slab(stations, film_mm, from_mm=np.array([station.chord_mm for station in stations]) - width)
        else:
            continue
        for k, station in enumerate(stations):
            shape = _filled(station, float(cut.area[k]), cut.centroid[k], cut.second[k], cut.ring(k))
            found[k].append((part.key, shape, float(width[k])))
    return found


def cores(parts: Mapping[Key, Part], stations: Sequence[Station], film_mm: float) -> list[list[tuple[Key, Shape]]]:
    """The foam at each of k stations, the nearest piece where a rib parts it; holes in it aren't taken off."""
    pieces = [part for part in parts.values() if part.role is Role.CORE]
    if not pieces:
        return [[] for _ in stations]
    cut, found = slab(stations, film_mm), []
    for k, station in enumerate(stations):
        away = [_away_mm(part, station.r_mm) for part in pieces]
        shape = _filled(station, float(cut.area[k]), cut.centroid[k], cut.second[k], cut.ring(k))
        found.append([(pieces[int(np.argmin(away))].key, shape)])
    return found


def _away_mm(part: Part, r_mm: float) -> float:
    """How far the end of a piece of foam lies from a radius; negative within it [mm]."""
    long = part.shape.length_mm if isinstance(part.shape, Shaped) else 0.0
    return abs(r_mm - float(part.spread[:, 0] @ part.spread[:, 1])) - long / 2.0


def _filled(station: Station, area: float, centroid: FloatArray, mean: FloatArray, ring: FloatArray) -> Shape:
    """A slab of the section; `mean` (2, 2) mean of place times place about its centroid [mm2]."""
    second = area * station.turned(mean)[1:, 1:]
    rim = station.to_blade(ring[:: max(len(ring) // RIM, 1)])[:, 1:]
    return Shape(area, station.to_blade(centroid)[0, 1:], second, full_mm4(area, second), rim)
