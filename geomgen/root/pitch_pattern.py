"""Which pattern locks a blade's pitch, and where its holes stand: the one asked for, else the first that fits.

A plain pattern has one set of holes a pitch, side by side on one circle; a paired one two sets of differing spacings;
a third has its fixed holes in wedges, one for each pitch, that go into windows of the fixed cap.
Pins end in or at the turning cap, so they may stand over the root rib: fore and aft the caps are lowest.
"""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_most, mm
from geomgen.root import pitch_bounds as bounds
from geomgen.root.paired_pattern import Ask, middles_deg, rounded_up
from geomgen.root.paired_search import nearest, paired
from geomgen.root.pattern import PitchPattern
from geomgen.root.pinned import not_asked, pinned_deg
from geomgen.root.root_face import RootFace
from geomgen.root.seat import Seat
from geomgen.root.wedge_pattern import fit_mm, least_circle, play_deg, room_mm, wedge_on


def settings_deg(design: Design) -> tuple[float, ...]:
    """Every pitch with a hole, from the lowest of the range upwards [deg].

    raises : MakeError where the pitch to fly at is none of them
    """
    (low, high), step = design.pitch.range, design.pitch.step
    settings = tuple(round(low + step * i, 6) for i in range(int(np.floor((high - low) / step + 1e-6)) + 1))
    if min(abs(pitch - design.pitch.set) for pitch in settings) > 1e-6:
        near = sorted(sorted(settings, key=lambda pitch: abs(pitch - design.pitch.set))[:2])
        allowed = f"{' or '.join(f'{pitch:g}' for pitch in near)} deg, the nearest"
        remedy = "set one of these, or begin the range so that a whole number of steps leads there"
        value = f"{design.pitch.set:g} deg"
        raise MakeError(Fault("pitch.set", value, "no hole stands there", allowed, remedy))
    return settings


def pitch_pattern(design: Design, face: RootFace, seat: Seat) -> PitchPattern:
    """The pattern asked for; else the first that fits: a plain one, a paired one, wedges.

    raises : MakeError with what is too large or too small, and the nearest that would do
    """
    settings_deg(design)
    asked = design.pitch.pattern or ("plain" if design.pitch.index_circle is not None else None)
    if asked == "plain":
        return _plain(design, face, seat)
    if asked == "paired":
        return _paired(design, face, seat, why="")
    if asked == "wedge":
        return _wedge(design, face, seat, why="")
    try:
        return _plain(design, face, seat)
    except MakeError as error:
        why = f"a plain pattern doesn't fit: {error.faults[0].wrong}"
    try:
        return _paired(design, face, seat, why=why)
    except MakeError as error:
        why = f"{why}; nor does a paired one: {error.faults[0].wrong}"
    return _wedge(design, face, seat, why=why)


def _plain(design: Design, face: RootFace, seat: Seat) -> PitchPattern:
    """The plain pattern on the circle asked for, or on the least that fits.

    raises : MakeError with the least circle for this step and the finest step for the circle there is
    """
    settings, pin = settings_deg(design), design.pitch.pin
    keep_off = bounds.bounds_of(design, seat, settings=settings)
    beyond = bounds.rim_beyond(design)
    limit = bounds.largest_circle(design, face, beyond)
    asked = design.pitch.index_circle
    least = max(bound.least_mm for bound in keep_off)
    start = asked if asked is not None else float(rounded_up(least))
    faults = bounds.circle_too_small(design, keep_off, circle_mm=start) if asked is not None else []
    if start > limit.most_mm + 1e-9:
        faults += bounds.circle_too_large(
            design, keep_off, circle_mm=start, limit=limit, beyond_mm=beyond, key="pitch.index_circle"
        )
    if faults:
        raise MakeError(faults)
    aft = (settings[0] + settings[-1]) / 2  # the first pin: at the middle of the range on a level with the axis
    turning = [float(angle) for angle in aft + bounds.set_deg(design)]
    play = float(np.degrees(pin.fit / start))
    pattern = PitchPattern(
        kind="plain",
        settings_deg=settings,
        turning_holes=tuple((start, angle) for angle in turning),
        fixed_holes=tuple((start, angle - pitch) for pitch in settings for angle in turning),
        pairs=tuple(tuple((q, i * pin.count + q) for q in range(pin.count)) for i in range(len(settings))),
        hole_mm=pin.diameter + pin.fit,
        web_mm=pin.web,
        play_deg=play,
        notes=_notes(design, play_deg=play),
    )
    _refuse_others(design, pattern)
    return pattern


def _notes(design: Design, *, play_deg: float) -> tuple[str, ...]:
    return (*_play_notes(design, play_deg=play_deg), *_one_way(design, float(max(bounds.skew_deg(design)))))


def _one_way(design: Design, off: float) -> tuple[str, ...]:
    """Why a blade goes in one way only; a single pin's sees to that by itself."""
    said = f"one pin stands {off:.3g} deg off an even spacing: the blade can't be pinned any other way round"
    return (said,) if design.pitch.pin.count > 1 else ()


def _play_notes(design: Design, *, play_deg: float, said: str = "") -> list[str]:
    """What fits leave. said : whose they are, where it isn't the pins' alone"""
    pin, step = design.pitch.pin, design.pitch.step
    said = said or f"a pin's {mm(pin.fit)} of fit lets"
    notes = [f"{said} the pitch play {play_deg:.2f} deg either way"]
    if 2.0 * play_deg > step and len(settings_deg(design)) > 1:
        notes.append(f"that is more than half the step of {step:g} deg: what one setting allows the next does too")
    return notes


def fitting_deg(pattern: PitchPattern, fit_mm: float) -> FloatArray:
    """(n, 2) every stretch of pitch, the whole turn round, at which all pins can be pushed in [deg].

    fit_mm : how far two holes may stand off one another for a pin still to pass [mm]
    """
    pins = len(pattern.pairs[0])
    return pinned_deg(pattern.turning_holes, pattern.fixed_holes, pins=pins, fit_mm=fit_mm)


def _refuse_others(design: Design, pattern: PitchPattern) -> None:
    """Refuse a plain pattern that pins up at any pitch that isn't asked for."""
    _refuse(design, not_asked(fitting_deg(pattern, design.pitch.pin.fit), pattern.settings_deg))


def _refuse(design: Design, others: FloatArray) -> None:
    """Refuse what pins up at pitches that nobody asked for. others : (n, 2) stretches of them [deg]"""
    if len(others):
        wrong = f"the pins would also go in at {', '.join(f'{pitch:.4g}' for pitch in others[:6].mean(axis=1))} deg"
        remedy = "a larger step, a closer fit, or fewer pins"
        raise MakeError(Fault("pitch.pin.fit", mm(design.pitch.pin.fit), wrong, remedy=remedy))


def _paired(design: Design, face: RootFace, seat: Seat, *, why: str) -> PitchPattern:
    """The paired pattern with the smallest caps.

    why    : why no other pattern was taken
    raises : MakeError where none fits below the largest rim
    """
    settings, pin = settings_deg(design), design.pitch.pin
    keep_off = bounds.inner_bounds(design, seat)
    beyond = bounds.rim_beyond(design, rings=2)
    limit = bounds.largest_circle(design, face, beyond)
    least = max(bound.least_mm for bound in keep_off)
    if least > limit.most_mm + 1e-9:
        raise MakeError(bounds.circle_too_large(design, keep_off, circle_mm=least, limit=limit, beyond_mm=beyond))
    skew = tuple(float(angle) for angle in bounds.skew_deg(design))
    ask = Ask(settings, design.pitch.step, pin.count, bounds.spacing_mm(design), pin.fit, skew, least, limit.most_mm)
    found = paired(ask)
    if found is None:
        raise MakeError(_none_fits(design, ask, limit))
    inside, outside = (tuple(middles_deg(some).round(4).tolist()) for some in (found.inside, found.outside))
    play = float(np.degrees(pin.fit / found.circle_mm))
    return PitchPattern(
        kind="paired",
        settings_deg=settings,
        turning_holes=found.turning,
        fixed_holes=found.fixed,
        pairs=found.pairs,
        hole_mm=pin.diameter + pin.fit,
        web_mm=pin.web,
        play_deg=play,
        stop=found.stop,
        inside_deg=inside,
        outside_deg=outside,
        why=why,
        notes=_paired_notes(design, inside, outside, play_deg=play),
    )


def _paired_notes(
    design: Design, inside: tuple[float, ...], outside: tuple[float, ...], *, play_deg: float
) -> tuple[str, ...]:
    notes = _play_notes(design, play_deg=play_deg)
    if inside:
        some = ", ".join(f"{pitch:g}" for pitch in inside)
        notes.append(f"the pins also go in at {some} deg, which nobody asked for")
    notes.append(
        f"the pins would go in at {len(outside)} pitches beyond the range: the stop pin in its slot keeps the blade "
        "from them, from upside down and from back to front"
    )
    return tuple(notes)


def _none_fits(design: Design, ask: Ask, limit: bounds.Limit) -> Fault:
    """No paired pattern up to the largest circle: what step of this range would fit."""
    step = nearest(ask)
    told = f"a step of {step:.6g} deg fits in this range; or " if step else ""
    wrong = f"two sets of holes {design.pitch.step:g} deg apart find no room round the caps"
    allowed = f"{limit.what} leaves room for a circle of {at_most(limit.most_mm, 1)}"
    remedy = f"{told}a shorter range, fewer or thinner pins, a closer fit, or a larger pitch.rim"
    return Fault("pitch.step", f"{design.pitch.step:g} deg", wrong, allowed, remedy)


def _wedge(design: Design, face: RootFace, seat: Seat, *, why: str) -> PitchPattern:
    """Wedges on the least circle that takes their windows.

    why    : why no other pattern was taken
    raises : MakeError where their windows, or the caps round them, find no room
    """
    settings = settings_deg(design)
    circle, keep_off = least_circle(design, seat, settings)
    wedge = wedge_on(design, settings, circle)
    beyond = wedge.reach_mm() + design.pitch.pin.web - circle
    limit = bounds.largest_circle(design, face, beyond)
    if circle > limit.most_mm + 1e-9:
        raise MakeError(bounds.circle_too_large(design, keep_off, circle_mm=circle, limit=limit, beyond_mm=beyond))
    stand, pins, play = wedge.stand_deg, len(wedge.stand_deg), play_deg(design, settings, circle)
    if len(settings) > 1 and design.pitch.step < play:
        raise MakeError(_finer_than_play(design, play))
    said = f"fits of pins and wedges, {mm((design.pitch.pin.fit, wedge.fit_mm))}, let"
    skew = float(np.max(stand - 360.0 / pins * np.arange(pins)))
    pattern = PitchPattern(
        kind="wedge",
        settings_deg=settings,
        turning_holes=tuple((circle, angle + wedge.middle_deg) for angle in stand),
        fixed_holes=tuple((circle, angle + wedge.middle_deg - pitch) for pitch in settings for angle in stand),
        pairs=tuple(tuple((q, i * pins + q) for q in range(pins)) for i in range(len(settings))),
        hole_mm=wedge.hole_mm,
        web_mm=design.pitch.pin.web,
        play_deg=play,
        wedge=wedge,
        why=why,
        notes=(*_play_notes(design, play_deg=play, said=said), *_one_way(design, skew)),
    )
    moved = design.pitch.pin.fit + room_mm(wedge.fit_mm, settings[-1] - wedge.middle_deg)
    for pitch, pairs in zip(settings, pattern.pairs, strict=True):  # of each pitch there is but its own set in place
        fixed = [pattern.fixed_holes[hole] for _, hole in pairs]
        found = pinned_deg(pattern.turning_holes, fixed, pins=pins, fit_mm=moved)
        _refuse(design, not_asked(found, (pitch,)))
    return pattern


def _finer_than_play(design: Design, play: float) -> Fault:
    """Neighbouring settings that fits let run into each other: the finest whole step of this range that is one."""
    (low, high), fits = design.pitch.range, (design.pitch.pin.fit, fit_mm(design))
    steps = int((high - low) / play)
    told = f"a step of {(high - low) / steps:.6g} deg fits in this range; or " if steps else ""
    wrong = f"fits of pins and wedges, {mm(fits)}, let the pitch play {play:.2f} deg either way: more than a step"
    return Fault("pitch.step", f"{design.pitch.step:g} deg", wrong, remedy=f"{told}closer fits, or a larger circle")
