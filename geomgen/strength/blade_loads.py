"""What one blade carries along r, in each case that it is looked at: plain data that links are judged by."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.joint import Key

TYPICAL, GREATEST = 0, 1  # first index of every array: masses and air as typical, or all at their high end


class State(StrEnum):
    """What kind of state; its value is what it is called."""

    REST = "at rest"
    HOVER = "in hover"
    FASTEST = "at rpm_max"
    START = "on the start"


@dataclass(frozen=True)
class Case:
    """A state of the rotor.

    name       : a `State`, or other words
    rad_s      : speed [rad/s]
    gains      : how fast that grows [rad/s2]
    fan_n      : pull of one blade's fans, along `FanPull.forward` [N]
    time_s     : since the throttle was opened; None in a state that stays [s]
    """

    name: str
    rad_s: float
    gains: float = 0.0
    fan_n: float = 0.0
    time_s: float | None = None


@dataclass(frozen=True, eq=False)
class Resultants:
    """What goes through one or many cross-sections, outboard on inboard, in the rotor's axes of that blade: out along
    the feather axis, forward in the rotor's plane, up.

    pull_n     : along the blade, + where it is pulled outwards [N]
    lag_n      : shear, + forward [N]
    flap_n     : shear, + up [N]
    lag_nm     : bending in the rotor's plane, + where it bends the tip forward [N m]
    flap_nm    : bending, + where it bends the tip up [N m]
    turn_nm    : twist about the feather axis, + nose up [N m]
    """

    pull_n: FloatArray
    lag_n: FloatArray
    flap_n: FloatArray
    lag_nm: FloatArray
    flap_nm: FloatArray
    turn_nm: FloatArray

    def each(self, change: Callable[[FloatArray], FloatArray]) -> Resultants:
        """The same with something done to every array."""
        return Resultants(*(change(getattr(self, name)) for name in self.__dataclass_fields__))


@dataclass(frozen=True, eq=False)
class SocketForces:
    """What the round spar does to its socket and its locks; arrays are (2, c) by case.

    inner_n, outer_n : (2, c, 2) forward and up, of the spar on the socket's inner and outer end [N]
    collar_n         : of the collar on the hub, outwards [N]
    pins_nm          : moment that the pins hold, of the blade on them, + nose up [N m]
    """

    inner_n: FloatArray
    outer_n: FloatArray
    collar_n: FloatArray
    pins_nm: FloatArray


@dataclass(frozen=True, eq=False)
class BladeLoads:
    """All loads on one blade.

    cases    : (c,) in order
    r_mm     : (k,) where resultants are told, rising [mm]
    along    : (2, c, k) through the section at each
    socket   : what they come to at the hub
    pulls_n  : part -> (2, c) outward pull of that part alone, mass times radius times speed squared [N]
    centres_mm : part -> r of its centre [mm]
    air_up_n : (2, c, k-1) upward force of the air between neighbouring r [N]
    air_back_n : (2, c, k-1) backward force of the air [N]
    fan_n    : (2, c) pull of the fans [N]
    droop_mm : (2, c) how far the tip lies above the built-in cone (below where < 0), play in the socket included [mm]
    twist_deg: (2, c, k) elastic twist, nose up [deg]
    """

    cases: tuple[Case, ...]
    r_mm: FloatArray
    along: Resultants
    socket: SocketForces
    pulls_n: Mapping[Key, FloatArray]
    centres_mm: Mapping[Key, float]
    air_up_n: FloatArray
    air_back_n: FloatArray
    fan_n: FloatArray
    droop_mm: FloatArray
    twist_deg: FloatArray

    def at(self, r_mm: float) -> Resultants:
        """(2, c) resultants at a radius [mm], straight between those told, held beyond the ends."""
        k = int(np.clip(np.searchsorted(self.r_mm, r_mm) - 1, 0, len(self.r_mm) - 2))
        share = float(np.clip((r_mm - self.r_mm[k]) / (self.r_mm[k + 1] - self.r_mm[k]), 0.0, 1.0))
        return self.along.each(lambda each: (1.0 - share) * each[..., k] + share * each[..., k + 1])

    def pull_of(self, *keys: Key) -> FloatArray:
        """(2, c) outward pull of some parts together [N]."""
        none = np.zeros((2, len(self.cases)))
        return np.asarray(sum((self.pulls_n.get(key, none) for key in dict.fromkeys(keys)), none))

    def air_between(self, from_mm: float, to_mm: float) -> tuple[FloatArray, FloatArray]:
        """(2, c) upward, and backward, force of the air between two radii, spread evenly within each piece [N]."""
        low, high = np.maximum(self.r_mm[:-1], from_mm), np.minimum(self.r_mm[1:], to_mm)
        share = np.maximum(high - low, 0.0) / np.diff(self.r_mm)
        return np.asarray(self.air_up_n @ share), np.asarray(self.air_back_n @ share)
