"""What a pattern of pitch is: holes of both caps, which of them take the pins at each setting, how they are marked."""

from __future__ import annotations

import itertools
from collections import Counter
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.plane.polar import on_circle
from geomgen.root.paired_pattern import Hole, Stop
from geomgen.root.wedge_pattern import Wedge

LETTERS = "ABCDEFGHJKLMNPRTUVWXY"
MOST_LETTERS = 3  # beside a hole: more would be too small to read
Kind = Literal["plain", "paired", "wedge"]


@dataclass(frozen=True)
class PitchPattern:
    """Holes of both caps, of the anticlockwise twin, in the caps' frame: each (radius [mm], angle [deg]), anticlockwise
    from aft, those of the turning cap at the reference pitch.

    kind         : how a pitch is locked
    settings_deg : pitches asked for, rising [deg]
    turning_holes, fixed_holes : of either cap; in a wedge pattern the fixed ones are those of all wedges in place
    pairs        : (settings, pins) which of the turning, and which of the fixed holes takes each pin
    hole_mm      : diameter of the holes [mm]
    web_mm       : least material round them [mm]
    play_deg     : how far the pins' fit, and that of wedges, lets the blade turn either way [deg]
    wedge        : outline of the wedges that carry the fixed holes, and where their windows stand; None where none do
    stop         : what ends the turning where pins go in beyond the range
    inside_deg, outside_deg : pitches not asked for at which all pins go in too, in the range and beyond the stop [deg]
    why          : why no simpler pattern was taken; "" where this one was asked for, or is the simplest
    notes        : what the maker should know
    """

    kind: Kind
    settings_deg: tuple[float, ...]
    turning_holes: tuple[Hole, ...]
    fixed_holes: tuple[Hole, ...]
    pairs: tuple[tuple[tuple[int, int], ...], ...]
    hole_mm: float
    web_mm: float
    play_deg: float
    wedge: Wedge | None = None
    stop: Stop | None = None
    inside_deg: tuple[float, ...] = ()
    outside_deg: tuple[float, ...] = ()
    why: str = ""
    notes: tuple[str, ...] = ()

    @property
    def circle_mm(self) -> float:
        """Radius of the inmost circle of holes [mm]."""
        return min(radius for radius, _ in self.turning_holes)

    @property
    def rim_mm(self) -> float:
        """How far from the feather axis a cap reaches round the holes [mm]; beyond lie the figures."""
        circles = [radius for radius, _ in self.turning_holes] + ([self.stop.circle_mm] if self.stop else [])
        return max(max(circles) + self.hole_mm / 2, self.wedge.reach_mm() if self.wedge else 0.0) + self.web_mm

    def turning(self) -> FloatArray:
        """(n, 2) the turning cap's holes at the reference pitch [mm]."""
        return _places(self.turning_holes)

    def fixed(self) -> FloatArray:
        """(m, 2) the fixed cap's holes [mm]."""
        return _places(self.fixed_holes)

    @property
    def lettered(self) -> bool:
        """Whether holes carry letters for their settings, as some serve several."""
        columns = [zip(*each, strict=True) for each in zip(*self.pairs, strict=True)]
        return self.kind == "paired" and any(len(set(used)) < len(used) for column in columns for used in column)

    @property
    def by_hole(self) -> bool:
        """Whether each hole has a letter of its own instead, as letters for settings would be too many to be read."""
        columns = [zip(*each, strict=True) for each in zip(*self.pairs, strict=True)]
        served = max(max(Counter(used).values()) for column in columns for used in column)
        return self.lettered and (served > MOST_LETTERS or len(self.settings_deg) > len(LETTERS))

    def names(self) -> tuple[str, ...]:
        """What each setting is called: its pitch, or where holes serve several settings a letter."""
        if self.lettered and not self.by_hole:
            return _letters(len(self.settings_deg))
        return tuple(f"{pitch:g}" for pitch in self.settings_deg)

    def marked(self, pitch_deg: float) -> str:
        """What stands beside the fixed cap's holes that take the pins at a setting; also beside the turning cap's where
        each hole has a letter of its own."""
        setting = self.setting(pitch_deg)
        if not self.by_hole:
            return self.names()[setting]
        turning, fixed = (
            " and ".join(self.written(q, pair[cap], fixed=bool(cap)) for q, pair in enumerate(self.pairs[setting]))
            for cap in (0, 1)
        )
        return f"{fixed} (its own {turning}, see pitch_card.svg)"

    def setting(self, pitch_deg: float) -> int:
        """Number of the setting next to a pitch."""
        return int(np.argmin(np.abs(np.array(self.settings_deg) - pitch_deg)))

    def written(self, pin: int, hole: int, *, fixed: bool) -> str:
        """What stands beside a hole of one pin's: the pitch that it sets, the letters of its settings, or its own."""
        if self.by_hole:
            own = sorted({pair[pin][fixed] for pair in self.pairs})
            return _letters(len(own))[own.index(hole)]
        return "".join(name for name, pair in zip(self.names(), self.pairs, strict=True) if pair[pin][fixed] == hole)

    def pins(self, pitch_deg: float) -> tuple[FloatArray, FloatArray]:
        """(pins, 2) holes of turning cap and of fixed cap that take the pins at a setting [mm]."""
        turning, fixed = zip(*self.pairs[self.setting(pitch_deg)], strict=True)
        return self.turning()[list(turning)], self.fixed()[list(fixed)]


def _letters(count: int) -> tuple[str, ...]:
    """So many letters, none that is easily taken for another; two each where there are many."""
    if count <= len(LETTERS):
        return tuple(LETTERS[:count])
    return tuple(itertools.islice((one + other for one in LETTERS for other in LETTERS), count))


def _places(holes: tuple[Hole, ...]) -> FloatArray:
    radius, angle = np.array(holes).T
    return on_circle(radius, angle)
