"""All that is known of whether a craft holds, as one result: what pages, pictures and tables are written from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.blade_loads import GREATEST, BladeLoads, Case
from geomgen.strength.cross_section import Stiffness
from geomgen.strength.margins import Judged, Margin


@dataclass(frozen=True, eq=False)
class Mode:
    """One way in which a blade swings.

    name : by where most of its motion is, and which of that kind: "flap 1", "lag 1", "twist 1"
    hz   : (k,) how often at each speed of `Frequencies.rpm` [1/s]
    """

    name: str
    hz: FloatArray


@dataclass(frozen=True, eq=False)
class Frequencies:
    """How fast a blade swings at each speed.

    rpm     : (k,) rising from 0 [1/min]
    modes   : lowest first
    working : speeds between which it works, (low, high) [1/min]
    blades  : of the rotor [-]
    words   : what it rests on, and what was left out
    """

    rpm: FloatArray
    modes: tuple[Mode, ...]
    working: tuple[float, float]
    blades: int
    words: tuple[str, ...] = ()

    def at(self, rpm: float) -> tuple[float, ...]:
        """How often in a second each mode swings at a speed [1/min], straight between those known [1/s]."""
        return tuple(float(np.interp(rpm, self.rpm, mode.hz)) for mode in self.modes)

    @property
    def per_turn(self) -> tuple[int, ...]:
        """How many times in a turn a blade is struck most: 1 to 4 times, and once by each blade."""
        return tuple(sorted({1, 2, 3, 4, self.blades}))


@dataclass(frozen=True)
class Crossing:
    """A speed at which a blade would swing so many times in a turn.

    mode     : name of it
    per_turn : how many times [-]
    rpm      : [1/min]
    near     : within 10 % of the working range
    """

    mode: str
    per_turn: int
    rpm: float
    near: bool


@dataclass(frozen=True, eq=False)
class Held:
    """All of it.

    judged           : every link's margin
    loads            : of one blade, in each case
    stiffness        : along r
    frequencies      : against speed
    crossings        : every one that there is up to the highest speed of `frequencies`
    divergence_rad_s : speed at which lift would twist a blade more than it stands against; None where none does [rad/s]
    words            : what all of it rests on, and how far it may be off
    """

    judged: Judged
    loads: BladeLoads
    stiffness: Stiffness
    frequencies: Frequencies
    crossings: tuple[Crossing, ...]
    divergence_rad_s: float | None
    words: tuple[str, ...] = ()

    @property
    def factor(self) -> float:
        """What the greatest load is taken times [-]."""
        return self.judged.factor

    @property
    def fastest(self) -> int:
        """Number of the case with the highest speed, steady before one that gains speed."""
        cases = self.loads.cases
        return max(range(len(cases)), key=lambda k: (cases[k].rad_s, -abs(cases[k].gains), -k))

    @property
    def shown(self) -> tuple[int, ...]:
        """Numbers of the cases that tables tell: of several of one name, as on a start, that which bends most."""
        across = self.loads.along
        bent = np.hypot(across.lag_nm, across.flap_nm)[GREATEST].max(axis=-1)
        names = [case.name for case in self.loads.cases]
        alike = {name: [k for k, each in enumerate(names) if each == name] for name in dict.fromkeys(names)}
        return tuple(max(some, key=lambda k: float(bent[k])) for some in alike.values())

    def case_of(self, margin: Margin) -> Case:
        """The case by which a margin is least."""
        return self.loads.cases[margin.case]


def rpm_of(rad_s: float) -> float:
    """A speed in [1/min] from [rad/s]."""
    return float(rad_s * 30.0 / np.pi)
