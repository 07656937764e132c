"""Wedges: one flat piece for each pitch, keyed to a window of the fixed cap, with the pin's hole of that pitch in it.

A wedge's own frame, seen from the root side: x along the tangent, y outwards, origin on the index circle where the hole
stands at the middle of the range. All are of one outline, and go into every window.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.plane.letters import text_width
from geomgen.plane.path import Path, from_points
from geomgen.plane.polar import chord_deg, on_circle, rotation
from geomgen.root.paired_pattern import rounded_up
from geomgen.root.pitch_bounds import Bound, inner_bounds
from geomgen.root.seat import Seat

FIT_MM = 0.1  # how much larger a window is than a wedge, where the design doesn't say
LETTERS_MM = 3.5  # height of the figure on it, which reads well on caps
CLEAR_MM = 1.0  # from the figure to an edge
KEY_MM, KEY_FITS = 1.5, 4.0  # least leg of the clipped corner, and in fits: seen, felt, and no play lets it pass
SKEW_PLAYS = 3.0  # a pin stands so many plays off an even spacing, at least: the blade goes in one way only
LARGEST_MM = 500.0  # circles are looked for up to this
UNIT = "°"  # behind the figure: it tells 6 from 9


@dataclass(frozen=True)
class Wedge:
    """The outline of all wedges of a design, of the anticlockwise twin, and where their windows stand.

    circle_mm  : radius of the index circle [mm]
    middle_deg : pitch in the middle of the range [deg]
    stand_deg  : where each pin's hole stands at that pitch, anticlockwise from aft: middle of its window [deg]
    hole_mm    : diameter of the hole [mm]
    fit_mm     : how much larger a window is, in length and in width [mm]
    back_mm, ahead_mm   : from the origin to its ends, the one with the clipped corner and the one with the figure [mm]
    inner_mm, outer_mm  : and to its long sides [mm]
    clip_mm    : leg of the clipped corner [mm]
    figure_mm  : x of the figure's middle [mm]
    """

    circle_mm: float
    middle_deg: float
    stand_deg: tuple[float, ...]
    hole_mm: float
    fit_mm: float
    back_mm: float
    ahead_mm: float
    inner_mm: float
    outer_mm: float
    clip_mm: float
    figure_mm: float

    def outline(self, grown_mm: float = 0.0) -> Path:
        """Its five corners, every side shifted outwards by so much."""
        x0, x1 = -self.back_mm - grown_mm, self.ahead_mm + grown_mm
        y0, y1 = -self.inner_mm - grown_mm, self.outer_mm + grown_mm
        clip = self.clip_mm + (2.0 - np.sqrt(2.0)) * grown_mm
        return from_points([(x0, y0), (x1, y0), (x1, y1), (x0 + clip, y1), (x0, y1 - clip)], closed=True)

    def windows(self) -> tuple[Path, ...]:
        """The openings of the fixed cap, in the caps' frame."""
        loop = self.outline(self.fit_mm / 2)
        return tuple(loop.transformed(self.place(stand)) for stand in self.stand_deg)

    def place(self, stand_deg: float) -> FloatArray:
        """(3, 3) from its own frame into a window, in the caps' frame."""
        turn = np.eye(3)
        turn[:2, :2], turn[:2, 2] = rotation(stand_deg - 90.0), on_circle(self.circle_mm, stand_deg)
        return turn

    def hole(self, pitch_deg: float) -> tuple[float, float]:
        """Middle of the hole of the wedge for a pitch [mm]."""
        x, y = on_circle(self.circle_mm, 90.0 + self.middle_deg - pitch_deg) - (0.0, self.circle_mm)
        return float(x), float(y)

    @property
    def figure_at(self) -> tuple[float, float]:
        """Middle of the figure [mm]."""
        return self.figure_mm, (self.outer_mm - self.inner_mm) / 2

    @property
    def nearest_mm(self) -> float:
        """From the feather axis to a window [mm]."""
        return self.circle_mm - self.inner_mm - self.fit_mm / 2

    def reach_mm(self) -> float:
        """From the feather axis to the farthest corner of a window [mm]."""
        x, y = self.outline(self.fit_mm / 2).xy.T
        return float(np.hypot(x, y + self.circle_mm).max())

    def takes_deg(self, web_mm: float) -> float:
        """Angle of a window about the feather axis, half a web beyond it on either side [deg]."""
        grown, near = self.fit_mm / 2, self.nearest_mm
        ends = np.array((self.back_mm, self.ahead_mm)) + grown
        web = np.arcsin(np.minimum(1.0, web_mm / 2 / np.hypot(ends, near)))
        return float(np.degrees(np.arctan2(ends, near) + web).sum())


def figure(pitch_deg: float) -> str:
    """What is written on the wedge of a pitch."""
    return f"{pitch_deg:g}{UNIT}"


def made_of(design: Design) -> tuple[str, float]:
    """Stock of the wedges, and how thick they are [mm]: the fixed cap's where the design doesn't say."""
    wedge, cap = design.pitch.wedge, design.pitch.fixed_cap
    name = wedge.stock if wedge and wedge.stock else cap.stock
    stock = design.stock[name]
    usual = stock.thickness if isinstance(stock, SheetStock) else cap.thickness
    return name, wedge.thickness if wedge and wedge.thickness is not None else usual


def fit_mm(design: Design) -> float:
    """How much larger a window is than a wedge [mm]."""
    return design.pitch.wedge.fit if design.pitch.wedge else FIT_MM


def room_mm(fit: float, off_deg: float) -> float:
    """How far the hole of a wedge can move along the index circle, either way [mm].

    fit     : how much larger its window is [mm]
    off_deg : angle of the hole from the middle of its window [deg]
    source  : it moves by half the fit along its length and across, and the circle leans from its length by that angle;
              to turn in the window it gives up more of either than the turn moves the hole, which lies inside it
    """
    off = np.radians(abs(off_deg))
    return float(fit / 2 * (np.cos(off) + np.sin(off)))


def play_deg(design: Design, settings: Sequence[float], circle_mm: float) -> float:
    """How far pins' and wedges' fits let the blade turn, either way, at the setting where it is most [deg]."""
    moved = design.pitch.pin.fit + room_mm(fit_mm(design), (settings[-1] - settings[0]) / 2)
    return float(chord_deg(moved, circle_mm))


def wedge_on(design: Design, settings: Sequence[float], circle_mm: float) -> Wedge:
    """The least wedge for all settings on an index circle.

    settings : pitches, rising [deg]
    """
    pin, fit = design.pitch.pin, fit_mm(design)
    middle, half = (settings[0] + settings[-1]) / 2, np.radians((settings[-1] - settings[0]) / 2)
    hole = pin.diameter + pin.fit
    along, inwards = float(circle_mm * np.sin(half)), float(circle_mm * (1.0 - np.cos(half)))
    kept = hole / 2 + pin.web
    inner = inwards + kept
    outer = max(kept, LETTERS_MM + 2 * CLEAR_MM - inner)
    free = kept + outer + inwards - np.sqrt(2.0) * kept  # the largest leg that leaves the last hole its web
    clip = max(float(free), KEY_MM, KEY_FITS * fit)
    wide = max(text_width(figure(pitch), LETTERS_MM) for pitch in settings)
    begins = along + hole / 2 + max(pin.web, CLEAR_MM)
    return Wedge(
        circle_mm=circle_mm,
        middle_deg=middle,
        stand_deg=_stands(design, play_deg(design, settings, circle_mm)),
        hole_mm=hole,
        fit_mm=fit,
        back_mm=along + kept + clip - float(free),
        ahead_mm=begins + wide + CLEAR_MM,
        inner_mm=inner,
        outer_mm=outer,
        clip_mm=clip,
        figure_mm=begins + wide / 2,
    )


def _stands(design: Design, play: float) -> tuple[float, ...]:
    """(pins,) where each pin stands at the middle of the range [deg]."""
    pins = design.pitch.pin.count
    skew = np.where(np.arange(pins) == 1, SKEW_PLAYS * play, 0.0)
    return tuple(float(angle) for angle in 360.0 / pins * np.arange(pins) + skew)


def least_circle(design: Design, seat: Seat, settings: Sequence[float]) -> tuple[float, list[Bound]]:
    """The least index circle of a wedge pattern, and all that it must lie outside of.

    raises : MakeError where neighbouring windows meet on any circle
    """
    pin, span = design.pitch.pin, settings[-1] - settings[0]
    inwards = (pin.diameter + pin.fit) / 2 + pin.web + fit_mm(design) / 2  # of the holes at both ends
    keep_off = [
        replace(bound, least_mm=bound.least_mm / math.cos(math.radians(span / 2)))
        for bound in inner_bounds(design, seat, inwards)
    ]
    fewer, beside = "fewer pins, or a shorter range", _least_beside(design, settings)
    if beside is None:
        wrong = f"the windows of {pin.count} pins' wedges, each for {span:g} deg, run into each other"
        raise MakeError(Fault("pitch.pin.count", str(pin.count), wrong, remedy=fewer))
    keep_off.append(Bound(beside, "the windows of neighbouring pins", "pitch.pin.count", "pitch.pin.count", fewer))
    return float(rounded_up(max(bound.least_mm for bound in keep_off))), keep_off


def _least_beside(design: Design, settings: Sequence[float]) -> float | None:
    """The least circle on which neighbouring windows keep the cap's web [mm]; None where there is none."""

    def clear(circle: float) -> bool:
        wedge = wedge_on(design, settings, circle)
        apart = np.diff((*wedge.stand_deg, wedge.stand_deg[0] + 360.0)).min()
        return wedge.nearest_mm > 0.0 and wedge.takes_deg(design.pitch.pin.web) <= float(apart) + 1e-9

    low, high = 0.0, LARGEST_MM
    if not clear(high):
        return None
    while high - low > 1e-3:  # all circles larger than one that is clear are clear, too
        middle = (low + high) / 2
        low, high = (low, middle) if clear(middle) else (middle, high)
    return high
