"""What nearly every part of a blade is drawn from."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.cover import Cover
from geomgen.blade.doubler_places import DoublerPlace
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.blade.under_cover import under_covers
from geomgen.blade.under_skin import Outline
from geomgen.design.schema import Design, Half
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.tolerances import Tolerances


@dataclass(frozen=True, eq=False)
class Slice:
    """The inside of what covers the blade at one radius.

    station : the placed section
    outline : the edge that a rib has there, before notches
    """

    station: Station
    outline: Outline


@dataclass(frozen=True, eq=False)
class Layout:
    """One blade laid out: where ribs stand and spars and channels run, under what.

    design     : what of the design its geometry is drawn from
    blade      : chord, angle and section along r
    ribs       : where ribs stand, from the root out
    doublers   : which rib each doubler is glued to
    spars      : each spar's line, by name
    channels   : each channel's line, by name
    cover      : r [mm] -> what lies over the ribs there
    sheet_over : side, r [mm], share of the chord from the nose [-] -> the sheet over the ribs' edges there
    tol        : geometric tolerances
    """

    design: Design
    blade: Blade
    ribs: tuple[RibPlace, ...]
    doublers: tuple[DoublerPlace, ...]
    spars: Mapping[str, Route]
    channels: Mapping[str, Route]
    cover: Callable[[float], Cover]
    sheet_over: Callable[[Half, float, float], Key | None]
    tol: Tolerances
    # what has been cut already, by radius
    _slices: dict[float, Slice | None] = field(default_factory=dict, repr=False, compare=False)

    def inside(self, r_mm: Sequence[float] | FloatArray, path: str) -> list[Slice | None]:
        """The inside of the cover at many radii [mm]; None where it leaves nothing.

        path : key path to blame where an edge can't be drawn
        """
        radii = [float(r) for r in r_mm]
        fresh = [r for r in dict.fromkeys(radii) if r not in self._slices]
        if fresh:
            stations = self.blade.stations(fresh)
            covers = [self.cover(station.r_mm) for station in stations]
            least = self.design.blade.construction.least_tail
            outlines = under_covers(stations, covers, least, [path] * len(stations))
            made = [Slice(at, edge) if edge is not None else None for at, edge in zip(stations, outlines, strict=True)]
            self._slices.update(zip(fresh, made, strict=True))
        return [self._slices[r] for r in radii]

    def through_mm(self, rib: RibPlace) -> float:
        """Thickness of a rib with its doublers [mm]."""
        own = (each.place.thickness_mm for each in self.doublers if each.place.number == rib.number)
        return rib.thickness_mm + sum(own)


def rib_key(place: RibPlace) -> Key:
    """Which part stands at a rib's place; at a doubler's, the rib it is glued to."""
    return Key(Role.RIB, f"blade.ribs.{place.run}", (place.number,))
