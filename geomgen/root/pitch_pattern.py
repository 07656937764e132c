"""The plain pitch pattern: one set of holes a pitch, side by side on the index circle, the first set astern.

Pins end in or at the turning cap, so they may stand over the root rib: fore and aft the caps are lowest.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm
from geomgen.plane.polar import on_circle
from geomgen.root.pitch_bounds import (
    bounds_of,
    circle_too_large,
    circle_too_small,
    largest_circle,
    set_deg,
    skew_deg,
)
from geomgen.root.root_face import RootFace
from geomgen.root.seat import Seat

ROUND_UP_MM = 0.1  # an index circle found here is a whole multiple of this


@dataclass(frozen=True)
class PitchPattern:
    """Holes of both caps on the index circle, of the anticlockwise twin, in the caps' frame.

    settings_deg : pitches that pin up, rising [deg]
    circle_mm    : radius of the index circle [mm]
    hole_mm      : diameter of its holes [mm]
    web_mm       : least material round them [mm]
    turning_deg  : where the turning cap's holes stand at the reference pitch, anticlockwise from aft [deg]
    play_deg     : how far the pins' fit lets the blade turn either way [deg]
    notes        : what the maker should know
    """

    settings_deg: tuple[float, ...]
    circle_mm: float
    hole_mm: float
    web_mm: float
    turning_deg: tuple[float, ...]
    play_deg: float
    notes: tuple[str, ...] = ()

    @property
    def rim_mm(self) -> float:
        """How far from the feather axis a cap reaches round the holes [mm]; beyond lie the fixed cap's figures."""
        return self.circle_mm + self.hole_mm / 2 + self.web_mm

    def turning(self) -> FloatArray:
        """(pins, 2) the turning cap's holes at the reference pitch [mm]."""
        return on_circle(np.full(len(self.turning_deg), self.circle_mm), self.turning_deg)

    def fixed_deg(self) -> FloatArray:
        """(settings, pins) where the fixed cap's holes stand [deg]: leading edge up is clockwise here."""
        angles: FloatArray = np.array(self.turning_deg)[None, :] - np.array(self.settings_deg)[:, None]
        return angles

    def fixed(self) -> FloatArray:
        """(settings, pins, 2) the fixed cap's holes [mm]."""
        angles = self.fixed_deg()
        return on_circle(np.full(angles.shape, self.circle_mm), angles)


def settings_deg(design: Design) -> tuple[float, ...]:
    """Every pitch with a hole, from the lowest of the range upwards [deg].

    raises : MakeError where the pitch to fly at is none of them
    """
    (low, high), step = design.pitch.range, design.pitch.step
    settings = tuple(round(low + step * i, 6) for i in range(int(np.floor((high - low) / step + 1e-6)) + 1))
    if min(abs(pitch - design.pitch.set) for pitch in settings) > 1e-6:
        listed = ", ".join(f"{pitch:g}" for pitch in settings)
        remedy = "set one of these, or begin the range so that a whole number of steps leads there"
        value = f"{design.pitch.set:g} deg"
        raise MakeError(Fault("pitch.set", value, "no hole stands there", f"one of {listed} deg", remedy))
    return settings


def pitch_pattern(design: Design, face: RootFace, seat: Seat) -> PitchPattern:
    """The pattern on the circle asked for, or on the least that fits.

    raises : MakeError with the least circle for this step and the finest step for the circle there is
    """
    settings, pin = settings_deg(design), design.pitch.pin
    bounds = bounds_of(design, seat, settings=settings)
    limit = largest_circle(design, face)
    asked = design.pitch.index_circle
    least = max(bound.least_mm for bound in bounds)
    start = asked if asked is not None else round(float(np.ceil(least / ROUND_UP_MM - 1e-9)) * ROUND_UP_MM, 6)
    faults = circle_too_small(design, bounds, circle_mm=start) if asked is not None else []
    if start > limit.most_mm + 1e-9:
        faults += circle_too_large(design, bounds, circle_mm=start, limit=limit)
    if faults:
        raise MakeError(faults)
    aft = (settings[0] + settings[-1]) / 2  # the first pin: at the middle of the range on a level with the axis
    turning = tuple(float(angle) for angle in aft + set_deg(design))
    play = float(np.degrees(pin.fit / start))
    pattern = PitchPattern(
        settings_deg=settings,
        circle_mm=start,
        hole_mm=pin.diameter + pin.fit,
        web_mm=pin.web,
        turning_deg=turning,
        play_deg=play,
        notes=_notes(design, settings, play_deg=play),
    )
    _refuse_others(design, pattern)
    return pattern


def _notes(design: Design, settings: tuple[float, ...], *, play_deg: float) -> tuple[str, ...]:
    notes = [f"a pin's {mm(design.pitch.pin.fit)} of fit lets the pitch play {play_deg:.2f} deg either way"]
    if design.pitch.pin.count > 1:
        off = max(skew_deg(design))
        notes.append(f"one pin stands {off:g} deg off an even spacing: the blade can't be pinned any other way round")
    top = design.pitch.range[1]
    if settings[-1] < top - 1e-6:
        notes.append(f"steps of {design.pitch.step:g} deg end at {settings[-1]:g} deg, short of {top:g} deg")
    return tuple(notes)


def fitting_deg(pattern: PitchPattern, slack_mm: float) -> FloatArray:
    """(n,) every pitch, the whole turn round, at which all pins can be pushed in [deg].

    slack_mm : how far two holes may stand off one another for a pin still to pass [mm]
    """
    fixed = pattern.fixed_deg().ravel()
    turning = np.asarray(pattern.turning_deg)
    slack = np.degrees(slack_mm / pattern.circle_mm)
    pitches = turning[0] - fixed
    off = turning[None, :, None] - pitches[:, None, None] - fixed[None, None, :]
    off = (off + 180.0) % 360.0 - 180.0
    nearest = np.take_along_axis(off, np.abs(off).argmin(axis=2)[..., None], axis=2)[..., 0]
    fits = nearest.max(axis=1) - nearest.min(axis=1) <= 2.0 * slack
    return np.unique(np.round((pitches[fits] + 180.0) % 360.0 - 180.0, 6))


def _refuse_others(design: Design, pattern: PitchPattern) -> None:
    """Refuse a pattern that pins up at any pitch that isn't asked for."""
    found = fitting_deg(pattern, design.pitch.pin.fit)
    others = [pitch for pitch in found if min(abs(pitch - asked) for asked in pattern.settings_deg) > 1e-3]
    if others:
        wrong = f"the pins would also go in at {', '.join(f'{pitch:g}' for pitch in others[:6])} deg"
        remedy = "a larger step, a closer fit, or fewer pins"
        raise MakeError(Fault("pitch.pin.fit", mm(design.pitch.pin.fit), wrong, remedy=remedy))
