"""What a hot wire is set up by: the width that it melts away, and two pins through both templates of a piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Side
from geomgen.blade.station import Station
from geomgen.blade.under_skin import under_skins
from geomgen.design.schema import Half
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm

End = Literal["root", "tip"]

# Lengths below [mm] are ours.
THIN_MM = 0.4  # a template ends at the tail where it gets thinner than this
PIN_MM = 3.0  # diameter of the holes for pins
PIN_EDGE_MM = 4.0  # least from a pin's hole to the edge
PIN_APART_MM = 25.0  # least from pin to pin
PATH = "blade.construction.template"


@dataclass(frozen=True)
class Cutter:
    """Thickness of what covers the core, and width that the wire melts away [mm].

    The wire runs on the template's edge and melts half its width on either side, so the edge stands half that width
    proud of the core. The wire's own radius, some tenths, is left out: cut a slice and measure what `wire` must be.
    """

    cover_mm: float
    melt_mm: float

    @property
    def inwards_mm(self) -> float:
        """How far the template's edge lies inside the section; negative outside [mm]."""
        return self.cover_mm - self.melt_mm / 2


@dataclass(frozen=True)
class Datum:
    """Two pins that pass through both templates of a core, level at the reference pitch, in the blade frame.

    up_mm           : height above the feather axis [mm]
    fore_mm, aft_mm : the two, aft of the feather axis [mm]
    """

    up_mm: float
    fore_mm: float
    aft_mm: float

    def in_station(self, station: Station) -> FloatArray:
        """(2, 2) both, the one ahead first, in a station's own frame [mm]."""
        return station.from_blade(np.array([[0.0, -self.fore_mm, self.up_mm], [0.0, -self.aft_mm, self.up_mm]]))


def on_surface(station: Station, half: Half, share: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Places at shares (n,) of a surface's length from the nose (n, 2) [mm], and ways inwards there (n, 2)."""
    surface = station.section.upper if half == "upper" else station.section.lower
    xy, way = surface.at(share * surface.length)
    inwards = (1.0 if half == "upper" else -1.0) * np.column_stack([way[:, 1], -way[:, 0]])
    return station.chord_mm * xy, inwards


def datum(stations: Sequence[Station], cutter: Cutter, name: str) -> Datum:
    """The level pair of pins farthest apart that both templates have room for.

    raises : MakeError where they have not
    """
    outlines = [shapely.Polygon(station.to_blade(_points(station, cutter))[:, 1:]) for station in stations]
    room = shapely.intersection_all([outline.buffer(0) for outline in outlines]).buffer(-(PIN_MM / 2 + PIN_EDGE_MM))
    best: Datum | None = None
    if not room.is_empty:
        left, low, right, high = room.bounds
        for up in np.linspace(low, high, 43)[1:-1]:
            across = room.intersection(shapely.LineString([(left - 1.0, up), (right + 1.0, up)]))
            if not across.is_empty:
                x0, _, x1, _ = across.bounds
                if best is None or x1 - x0 > best.aft_mm - best.fore_mm:
                    best = Datum(float(up), -x1, -x0)
    if best is None or best.aft_mm - best.fore_mm < PIN_APART_MM:
        wrong = f"the two templates of {name} have no common place for two pins {mm(PIN_APART_MM)} apart"
        remedy = "a rib between that parts the core, less twist or taper, or a thicker section"
        raise MakeError(Fault(PATH, "", wrong, remedy=remedy))
    return best


@dataclass(frozen=True, eq=False)
class WireCut:
    """One end of a piece of foam, as its template is drawn from.

    core    : name of the piece
    number  : counted outwards from 1
    end     : which end of it
    station : the section there
    cutter  : what covers the core, and what the wire melts away
    pins    : two pins, the same at both ends
    rings   : what passes through the core there: middle (2,) in the station's frame and diameter [mm]
    stock   : sheet that the template is cut from
    """

    core: str
    number: int
    end: End
    station: Station
    cutter: Cutter
    pins: Datum
    rings: tuple[tuple[FloatArray, float], ...]
    stock: str


def wire_sides(station: Station, cutter: Cutter) -> tuple[Side, Side]:
    """The two surfaces that the wire runs along, nose to tail.

    raises : MakeError where the section is too thin
    """
    found = under_skins([station], [cutter.inwards_mm], THIN_MM, [PATH])[0]
    if found is None:
        wrong = f"at r {mm(station.r_mm, 1)} the section is nowhere {mm(THIN_MM)} deep"
        raise MakeError(Fault(PATH, "", wrong, remedy="a thicker section"))
    return found.upper, found.lower


def _points(station: Station, cutter: Cutter) -> FloatArray:
    upper, lower = wire_sides(station, cutter)
    return np.vstack([upper.xy[::-1], lower.xy])
