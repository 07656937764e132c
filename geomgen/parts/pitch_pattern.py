"""The plain pitch pattern: one set of holes a pitch, side by side on the index circle."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.parts.fasteners import SCREWS
from geomgen.parts.root_face import RootFace, on_circle
from geomgen.parts.seat import CLEARANCE_MM, Seat, Slot, seat_mm

FloatArray = NDArray[np.float64]

ROUND_UP_MM = 0.1  # an index circle found here is a whole multiple of this
LABEL_RING_MM = 6.0  # beyond the turning cap's rim, for the engraved pitch
PHASE_DEG = 5.0  # how finely places for the pins are tried


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
    def turning_rim_mm(self) -> float:
        """Radius of the turning cap [mm]."""
        return self.circle_mm + self.hole_mm / 2 + self.web_mm

    @property
    def fixed_rim_mm(self) -> float:
        """Radius of the fixed cap, which the letters make larger [mm]."""
        return self.turning_rim_mm + LABEL_RING_MM

    def turning(self) -> FloatArray:
        """(pins, 2) the turning cap's holes at the reference pitch [mm]."""
        return on_circle(np.full(len(self.turning_deg), self.circle_mm), self.turning_deg)

    def fixed_deg(self) -> FloatArray:
        """(settings, pins) where the fixed cap's holes stand [deg]: leading edge up is clockwise here."""
        return np.asarray(self.turning_deg)[None, :] - np.asarray(self.settings_deg)[:, None]

    def fixed(self) -> FloatArray:
        """(settings, pins, 2) the fixed cap's holes [mm]."""
        angles = self.fixed_deg()
        return on_circle(np.full(angles.shape, self.circle_mm), angles)


@dataclass(frozen=True)
class Bound:
    """Something the index circle must lie outside of.

    least_mm : least radius for it [mm]
    why      : what it is
    path     : key path to change
    """

    least_mm: float
    why: str
    path: str


def settings_deg(design: Design) -> tuple[float, ...]:
    """Every pitch with a hole, from the lowest of the range upwards [deg].

    raises : MakeError where the pitch to fly at is none of them
    """
    (low, high), step = design.pitch.range, design.pitch.step
    settings = tuple(round(low + step * i, 6) for i in range(int(np.floor((high - low) / step + 1e-6)) + 1))
    if min(abs(pitch - design.pitch.set) for pitch in settings) > 1e-6:
        listed = ", ".join(f"{pitch:g}" for pitch in settings)
        remedy = "set one of these, or begin the range so that a whole number of steps leads there"
        raise MakeError(Fault("pitch.set", f"{design.pitch.set:g} deg", "no hole stands there", f"one of {listed} deg", remedy))
    return settings


def pitch_pattern(design: Design, face: RootFace, seat: Seat) -> PitchPattern:
    """The pattern on the circle asked for, or on the least that fits.

    raises : MakeError with the least circle for this step and the finest step for the circle there is
    """
    settings, pin = settings_deg(design), design.pitch.pin
    hole = pin.diameter + pin.fit
    bounds = _bounds(design, face, seat, settings)
    most, limit = _largest(design, face, seat, hole)
    asked = design.pitch.index_circle
    least = max(bound.least_mm for bound in bounds)
    start = asked if asked is not None else float(np.ceil(least / ROUND_UP_MM - 1e-9)) * ROUND_UP_MM
    faults = _too_small(design, bounds, start) if asked is not None else []
    if start > most + 1e-9:
        faults.append(_too_large(design, start, most, limit, hole))
    if faults:
        raise MakeError(faults)
    circle, phase = _place(design, face, settings, start, most, hole)
    turning = tuple(float(a) for a in phase + _set_deg(design))
    play = float(np.degrees(pin.fit / circle))
    notes = [f"a pin's {pin.fit:g} mm of fit lets the pitch play {play:.2f} deg either way"]
    if pin.count > 1:
        off = max(_skew(design))
        notes.append(f"one pin stands {off:g} deg off an even spacing, so that the blade can't be pinned any other way round")
    top = design.pitch.range[1]
    if settings[-1] < top - 1e-6:
        notes.append(f"steps of {design.pitch.step:g} deg end at {settings[-1]:g} deg, short of {top:g} deg")
    pattern = PitchPattern(settings, circle, hole, pin.web, turning, play, tuple(notes))
    _only_wanted(design, pattern)
    return pattern


def spacing_mm(design: Design) -> float:
    """Least distance between the middles of two index holes [mm]."""
    pin = design.pitch.pin
    return pin.diameter + pin.fit + pin.web


def finest_step_deg(design: Design, circle_mm: float) -> float:
    """Finest step that a plain pattern allows on a circle [deg]."""
    return float(2.0 * np.degrees(np.arcsin(min(1.0, spacing_mm(design) / (2.0 * circle_mm)))))


def least_circle_mm(design: Design) -> float:
    """Least circle on which neighbouring holes of this step keep their web [mm]."""
    return spacing_mm(design) / (2.0 * float(np.sin(np.radians(min(design.pitch.step, 180.0)) / 2)))


def _skew(design: Design) -> FloatArray:
    """(pins,) how far each stands off an even spacing [deg]: no turn then brings one set onto another."""
    count = design.pitch.pin.count
    skew = np.zeros(count)
    if count > 1:
        skew[1] = design.pitch.step / (4.0 if count == 2 else 2.0)
    return skew


def _set_deg(design: Design) -> FloatArray:
    count = design.pitch.pin.count
    return 360.0 / count * np.arange(count) + _skew(design, settings)


def _bounds(design: Design, face: RootFace, seat: Seat, settings: tuple[float, ...]) -> list[Bound]:
    pin, wall = design.pitch.pin, design.hub.wall
    hole = (pin.diameter + pin.fit) / 2
    screw = SCREWS[design.pitch.fixing.screw]
    bounds = []
    if len(settings) > 1:
        why = f"holes {design.pitch.step:g} deg apart, {spacing_mm(design):g} mm from middle to middle"
        bounds.append(Bound(least_circle_mm(design), why, "pitch.step"))
    bounds += _sets_apart(design, settings)
    heads = float(np.hypot(*seat.screws[0])) + screw.head / 2 + pin.web + hole
    bounds.append(Bound(heads, "the fixed cap's screws", "pitch.index_circle"))
    bounds.append(Bound(seat.radius_mm + CLEARANCE_MM + hole, "the hub's flange", "pitch.index_circle"))
    bounds += [Bound(_behind(slot, wall) + hole, f"the wires of {slot.path}", "pitch.index_circle") for slot in seat.slots]
    return bounds


def _behind(slot: Slot, wall_mm: float) -> float:
    """Outside of a duct, with room for a pin that stands out behind the fixed cap [mm]."""
    return slot.outer_mm + wall_mm + CLEARANCE_MM


def _sets_apart(design: Design, settings: tuple[float, ...]) -> list[Bound]:
    """Where the sets of neighbouring pins would run into each other."""
    stand = _set_deg(design)
    gaps = np.diff(np.append(stand, stand[0] + 360.0)) - (settings[-1] - settings[0])
    if gaps.min() <= 0.0:
        pins, span = design.pitch.pin.count, settings[-1] - settings[0]
        wrong = f"{pins} pins stand {360 / pins:g} deg apart, and each has holes over {span:g} deg: the sets run into each other"
        raise MakeError(Fault("pitch.pin.count", str(pins), wrong, remedy="fewer pins, or a shorter range"))
    half = np.radians(min(float(gaps.min()), 180.0)) / 2
    return [Bound(spacing_mm(design) / (2.0 * float(np.sin(half))), "the sets of neighbouring pins", "pitch.pin.count")]


def _largest(design: Design, face: RootFace, seat: Seat, hole: float) -> tuple[float, str]:
    """Largest index circle for which the fixed cap can be made and put on, and what limits it [mm]."""
    rims = [(np.inf, "nothing")]
    for cap in (design.pitch.turning_cap, design.pitch.fixed_cap):
        stock = design.stock[cap.stock]
        if isinstance(stock, SheetStock):
            rims += [(min(stock.size) / 2, f"stock.{cap.stock}.size")] if stock.size else []
        elif design.printer.bed:
            rims.append((min(design.printer.bed) / 2, "printer.bed"))
    if design.rotor.blades > 2:
        room = seat_mm(design, face) * np.tan(np.pi / design.rotor.blades) - CLEARANCE_MM
        rims.append((float(room), "the next blade's cap"))
    rim, limit = min(rims)
    return rim - LABEL_RING_MM - design.pitch.pin.web - hole / 2, limit


def _too_small(design: Design, bounds: list[Bound], circle_mm: float) -> list[Fault]:
    """One fault for each bound that a circle asked for breaks."""
    faults = []
    for bound in bounds:
        if bound.least_mm <= circle_mm + 1e-9:
            continue
        finest = finest_step_deg(design, circle_mm)
        wrong = f"{bound.why} need an index circle of at least {_up(bound.least_mm):g} mm radius, not {circle_mm:g} mm"
        if bound.path == "pitch.step":
            value, remedy = f"{design.pitch.step:g} deg", f"the finest step on {circle_mm:g} mm is {_up(finest):g} deg"
        else:
            value, remedy = "", f"set pitch.index_circle to {_up(bound.least_mm):g} mm, or leave it out"
        if bound.path == "pitch.index_circle":
            value = f"{circle_mm:g} mm"
        faults.append(Fault(bound.path, value, wrong, remedy=remedy))
    return faults


def _too_large(design: Design, circle_mm: float, most_mm: float, limit: str, hole: float) -> Fault:
    rim = circle_mm + hole / 2 + design.pitch.pin.web + LABEL_RING_MM
    wrong = f"a plain pattern with this step wants an index circle of {circle_mm:.1f} mm radius and a cap {2 * rim:.0f} mm across"
    if design.pitch.index_circle is not None:
        wrong = f"an index circle of {circle_mm:g} mm wants a cap {2 * rim:.0f} mm across"
    if most_mm <= 0:
        return Fault("pitch.step", f"{design.pitch.step:g} deg", wrong, f"{limit} has no room for any cap", "make that room")
    allowed = f"{limit} allows a circle of {most_mm:.1f} mm"
    remedy = f"the finest step there is {_up(finest_step_deg(design, most_mm)):g} deg; a thinner pin or web makes it finer"
    return Fault("pitch.step", f"{design.pitch.step:g} deg", wrong, allowed, remedy)


def _up(value: float) -> float:
    """Rounded up to one decimal."""
    return float(np.ceil(value * 10.0 - 1e-9) / 10.0)


def _place(
    design: Design, face: RootFace, settings: tuple[float, ...], start_mm: float, most_mm: float, hole: float
) -> tuple[float, float]:
    """Circle and first angle at which every pin passes outside blade and skin, as near straight up as that goes."""
    blade = face.outline()
    needed = face.skin_mm + hole / 2 + CLEARANCE_MM
    upright = 90.0 + (settings[0] + settings[-1]) / 2
    tries = np.arange(0.0, 180.0, PHASE_DEG)
    phases = upright + np.ravel(np.column_stack([tries, -tries]))
    angles = phases[:, None] + _set_deg(design)
    asked = design.pitch.index_circle is not None
    circles = np.array([start_mm]) if asked else np.arange(start_mm, min(most_mm, 3 * start_mm) + 1e-9, 5 * ROUND_UP_MM)
    for circle in circles:
        places = shapely.points(on_circle(np.full(angles.shape, circle), angles))
        clear = (shapely.distance(blade, places) >= needed).all(axis=1)
        if clear.any():
            return float(circle), float(phases[int(np.argmax(clear))])
    wrong = f"{design.pitch.pin.count} pins on a circle of {circles[-1]:.1f} mm don't all pass outside the blade's root section"
    raise MakeError(Fault("pitch.pin.count", str(design.pitch.pin.count), wrong, remedy="fewer pins, or a larger index circle"))


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


def _only_wanted(design: Design, pattern: PitchPattern) -> None:
    found = fitting_deg(pattern, design.pitch.pin.fit)
    others = [pitch for pitch in found if min(abs(pitch - wanted) for wanted in pattern.settings_deg) > 1e-3]
    if others:
        listed = ", ".join(f"{pitch:g}" for pitch in others[:6])
        remedy = "a larger step, a closer fit, or fewer pins"
        raise MakeError(Fault("pitch.pin.fit", f"{design.pitch.pin.fit:g} mm", f"the pins would also go in at {listed} deg", remedy=remedy))
