"""What every kind of spar does, behind one small protocol. Each kind is one module of `kinds`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import LengthStock, Run
from geomgen.errors import Fault
from geomgen.model.layout import Layout, Slice
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.structure.spars.cuts import Cuts
from geomgen.structure.spars.lying import SAME_MM

Table = TypeVar("Table", bound=Run)


@dataclass(frozen=True, eq=False)
class Member(Generic[Table]):
    """One spar of a blade.

    layout : the blade it runs through
    name   : of its table, [blade.spar.NAME]
    spar   : that table
    route  : its line
    """

    layout: Layout
    name: str
    spar: Table
    route: Route

    @property
    def path(self) -> str:
        """Key path of its table."""
        return f"blade.spar.{self.name}"

    @property
    def start_mm(self) -> float:
        """r where it begins [mm]."""
        return float(self.route.start[0])

    @property
    def end_mm(self) -> float:
        """r where it ends [mm]."""
        return float(self.route.end[0])

    @property
    def web_mm(self) -> float:
        """Least wood that the construction leaves [mm]."""
        return self.layout.design.blade.construction.web

    @property
    def sheet_mm(self) -> float:
        """Thickness of the sheet that it is cut from [mm]."""
        return self.layout.design.sheet(self.spar.stock).thickness

    @property
    def strip_mm(self) -> tuple[float, float]:
        """Width and height of the strip that it is cut from; the rules see to it that it is one [mm]."""
        stock = self.layout.design.stock[self.spar.stock]
        assert isinstance(stock, LengthStock)
        return stock.width or 0.0, stock.height or 0.0

    def x_mm(self, station: Station) -> float:
        """Where it crosses the chord of a station, from the nose [mm]."""
        return float(self.route.in_station(station)[0][0])

    def inside(self, r_mm: Sequence[float] | FloatArray) -> list[Slice | None]:
        """The inside of the cover at many radii [mm]; None where it leaves nothing."""
        return self.layout.inside(r_mm, self.path)

    def nodes(self, end_mm: float | None = None) -> FloatArray:
        """(n,) radii where it is held or ends: its two ends, and every rib between [mm].

        end_mm : where it ends, if that isn't its line's end
        """
        end = self.end_mm if end_mm is None else end_mm
        r = [rib.r_mm for rib in self.layout.ribs if self.start_mm + SAME_MM < rib.r_mm < end - SAME_MM]
        return np.array([self.start_mm, *r, end])

    def enters(self, rib: RibPlace) -> bool:
        """Whether it enters a rib anywhere in its thickness."""
        half = rib.thickness_mm / 2
        return self.start_mm < rib.r_mm + half - SAME_MM and self.end_mm > rib.r_mm - half + SAME_MM


@dataclass(frozen=True, eq=False)
class Passage:
    """Where a spar passes through a rib.

    rib     : the rib's place
    station : the section there
    cuts    : what is cut of the rib for it
    """

    rib: RibPlace
    station: Station
    cuts: Cuts


@dataclass(frozen=True, eq=False)
class Standing:
    """A piece of a spar that stands between ribs, at one of its ends.

    path  : key path of the table it comes from
    at    : the inside there
    shape : what it takes of it [mm]
    """

    path: str
    at: Slice
    shape: shapely.Polygon


def _none(member: Member[Any]) -> tuple[()]:
    return ()


@dataclass(frozen=True)
class SparKind(Generic[Table]):
    """A kind of spar: what it does, for a member of its kind.

    schema   : the class of its table
    cuts     : what is cut of a rib, whose edge before notches is the slice's; nothing where it doesn't fit
    shapes   : what it takes of a slice, in the station's frame [mm]
    faults   : why it doesn't fit: where it leaves the section, or leaves too little of a rib
    make     : its parts, what they touch, and what is wrong with them; it fits, and passes through the ribs as told
    steps    : how it is built in, given its parts
    standing : what of it stands between ribs, at both its ends
    half_mm  : half its least breadth, where it is a plain length that must stay under the cover all along [mm]
    """

    schema: type[Table]
    cuts: Callable[[Member[Table], RibPlace, Slice], Cuts]
    shapes: Callable[[Member[Table], Slice], Sequence[shapely.Polygon]]
    make: Callable[[Member[Table], Sequence[Passage]], Made]
    steps: Callable[[Member[Table], Sequence[Part]], Sequence[Task]]
    faults: Callable[[Member[Table]], Sequence[Fault]] = _none
    standing: Callable[[Member[Table]], Sequence[Standing]] = _none
    half_mm: Callable[[Member[Table]], float] | None = None


def task(phase: Phase, does: str, parts: Sequence[Part], *, role: Role = Role.SPAR) -> Task:
    """What is done at a phase with a spar's parts of one role."""
    return Task(phase, does, tuple(part.key for part in parts if part.role == role))
