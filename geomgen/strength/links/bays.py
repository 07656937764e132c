"""The blade bay by bay: each rib with the stretch of blade that it holds, and what comes in from it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key
from geomgen.model.layout import rib_key
from geomgen.model.part import Part
from geomgen.strength.build import Build
from geomgen.strength.sections.stress import handed_on_n, twist_share
from geomgen.structure.ribs.blank import Blank


@dataclass(frozen=True, eq=False)
class Bay:
    """One rib and the stretch of blade that hangs on it: half way to its neighbours, or to the blade's end.

    rib             : as it is in the craft
    blank           : the same before lightening
    low_mm, high_mm : from where to where [mm]
    beside_mm       : the longer of the spaces to its neighbours, middle to middle [mm]
    """

    rib: Part
    blank: Blank
    low_mm: float
    high_mm: float
    beside_mm: float

    @property
    def key(self) -> Key:
        """The rib's."""
        return self.rib.key

    @property
    def r_mm(self) -> float:
        """Where the rib stands [mm]."""
        return self.blank.place.r_mm

    @property
    def every(self) -> str:
        """Key path of the greatest distance of its run's ribs."""
        return f"blade.ribs.{self.blank.place.run}.every"


def bays(build: Build) -> tuple[Bay, ...]:
    """Every rib, from the root out; the first one's stretch begins where the blade does, the last one's ends at the
    radius."""
    design = build.design
    r = np.array([blank.place.r_mm for blank in build.blanks])
    ends = np.concatenate([[design.rotor.root], (r[1:] + r[:-1]) / 2.0, [design.rotor.radius]])
    gaps = np.concatenate([[0.0], np.diff(r), [0.0]])
    return tuple(
        Bay(
            build.part(rib_key(blank.place)),
            blank,
            float(ends[k]),
            float(ends[k + 1]),
            float(max(gaps[k], gaps[k + 1])),
        )
        for k, blank in enumerate(build.blanks)
    )


def of_its_sheet(build: Build, bay: Bay) -> int:
    """How many sheets of a rib and its doublers are of the rib's stock."""
    own = bay.blank.place
    return 1 + sum(each.place.number == own.number and each.place.stock == own.stock for each in build.layout.doublers)


def lift_n(build: Build, bay: Bay) -> FloatArray:
    """(2, c) how much the air lifts or presses a bay [N]."""
    return np.abs(build.loads.air_between(bay.low_mm, bay.high_mm)[0])


def across_n(build: Build, bay: Bay) -> FloatArray:
    """(2, c) all that presses a rib across on what carries it, whichever way [N]."""
    return np.hypot(*across_each_n(build, bay)) + handed_n(build, bay)


def handed_n(build: Build, bay: Bay) -> FloatArray:
    """(2, c) by which the first two ribs press on the main spar besides, the one this way and the other that: so what
    begins at the root takes up its bending; 0 at all others [N]."""
    first, second = (rib_key(blank.place) for blank in build.blanks[:2])
    inner, outer = (blank.place.r_mm for blank in build.blanks[:2])
    if bay.key not in (first, second):
        return np.zeros_like(build.loads.fan_n)
    section = min(build.sections, key=lambda one: abs(one.r_mm - outer))
    there = build.loads.at(section.r_mm)
    return handed_on_n(section, there, pitch_deg=build.design.pitch.set, bay_mm=outer - inner)


def across_each_n(build: Build, bay: Bay) -> tuple[FloatArray, FloatArray]:
    """(2, c) forward, and up, what presses a rib on what carries it: the drop of either shear over its bay; air,
    weight, what is fixed to it and the pull's share across a coned blade [N]."""
    inner, outer = build.loads.at(bay.low_mm), build.loads.at(bay.high_mm)
    last = bay.high_mm >= build.design.rotor.radius
    lag, flap = (
        one - (0.0 if last else other) for one, other in _pairs(inner.lag_n, outer.lag_n, inner.flap_n, outer.flap_n)
    )
    return lag, flap


def turning_nm(build: Build, bay: Bay, spar: Key) -> FloatArray:
    """(2, c) moment about the feather axis that a rib hands on to a spar over its bay: what the spar has of the twist
    inboard, by stiffness beside all else that twists there, less what it has outboard [N m].

    Inboard of the root rib a spar that turns in its socket has none: caps and pins hold it. So that rib takes it all.
    """
    first, last = build.blanks[0].place.number, build.blanks[-1].place.number
    ends = ((bay.low_mm, first), (bay.high_mm, last))
    inner, outer = (
        0.0 if bay.blank.place.number == free else _share(build, spar, r_mm) * build.loads.at(r_mm).turn_nm
        for r_mm, free in ends
    )
    turned: FloatArray = np.abs(np.asarray(inner - outer))
    return turned


def _share(build: Build, spar: Key, r_mm: float) -> float:
    """Share of the twist that a spar takes by itself in the nearest section that has it [-]; 1 where none does."""
    some = [one for one in build.sections if any(piece.key == spar for piece in one.pieces)]
    if not some:
        return 1.0
    section = min(some, key=lambda one: abs(one.r_mm - r_mm))
    return sum(twist_share(section, piece) for piece in section.pieces if piece.key == spar)


def _pairs(*some: FloatArray) -> Iterator[tuple[FloatArray, FloatArray]]:
    return zip(some[::2], some[1::2], strict=True)
