"""Skins as areas of sheet, taken at half their thickness from tail round the nose to tail."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.station import Station
from geomgen.design.schema import Design
from geomgen.parts.curve import Curve
from geomgen.parts.part import Area, Part
from geomgen.parts.spread import along_r
from geomgen.section import hermite
from geomgen.section.section import Surface

FloatArray = NDArray[np.float64]


def skins(design: Design, blade: Blade, ribs: Sequence[RibPlace]) -> list[Part]:
    """One part for each [blade.skin.*] run.

    ribs : where ribs stand, to say where a skin ends on none

    The area is that of the sheet at half its thickness, which neither stretches nor shrinks much as it bends, from
    trailing edge round the nose to trailing edge; slopes along the span (some hundredths of a percent) are left out.
    """
    parts = []
    for name, run in design.blade.skin.items():
        thickness = sheet_mm(design, run.stock)
        start, end = design.r(run.from_), design.r(run.to)
        breaks = blade.breaks()
        breaks = np.unique([start, *breaks[(breaks > start) & (breaks < end)], end])

        def girth(r: float, thickness: float = thickness) -> tuple[float, FloatArray]:
            station = blade.station(r)
            length, centre = _girth(station, thickness)
            return length, station.to_blade(centre)[0]

        area, spread = along_r(breaks, girth)
        parts.append(
            Part(
                name=f"skin {name}",
                what="skin",
                stock=run.stock,
                path=f"blade.skin.{name}",
                shape=Area(area),
                on="blade",
                count=1,
                spread=spread,
                notes=("area only; its flat pattern is not drawn yet", *_loose_ends((start, end), ribs)),
            )
        )
    return parts


def _loose_ends(ends: tuple[float, float], ribs: Sequence[RibPlace]) -> list[str]:
    """Notes on ends of a skin that lie on no rib."""
    held = [any(abs(rib.r_mm - end) <= rib.thickness_mm / 2 + 1e-6 for rib in ribs) for end in ends]
    return [f"its end at r {end:.1f} mm lies on no rib" for end, rib in zip(ends, held, strict=True) if not rib]


def _girth(station: Station, skin_mm: float) -> tuple[float, FloatArray]:
    """Length of the skin's middle round a section [mm], and its centroid in the station's frame (2,) [mm].

    A curve moved inwards by d is shorter than it was by d times the angle it turns through.
    """
    lengths, moments = 0.0, np.zeros(2)
    for surface, up in ((station.section.upper, 1), (station.section.lower, -1)):
        for outer, middle in zip(surface.runs(), _inside(surface, station.chord_mm, skin_mm / 2, up), strict=True):
            a, b = outer.tangent[:-1], outer.tangent[1:]
            bend = -up * np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], np.einsum("ij,ij->i", a, b))
            step = station.chord_mm * hermite.steps(outer.xy, outer.tangent) - skin_mm / 2 * bend
            lengths += float(step.sum())
            moments += step @ ((middle.xy[1:] + middle.xy[:-1]) / 2)
    return lengths, moments / lengths


def _inside(surface: Surface, chord_mm: float, skin_mm: float, up: int) -> list[Curve]:
    """The smooth runs of one surface, scaled and moved inwards along the normal, nose to tail.

    skin_mm : how far [mm]
    up      : +1 for the upper surface, -1 for the lower
    """
    runs = []
    for xy, tangent in surface.runs():
        inwards = up * np.column_stack([tangent[:, 1], -tangent[:, 0]])
        runs.append(Curve(chord_mm * xy + skin_mm * inwards, tangent))
    return runs
