"""How small and how large an index circle can be, and what is said where neither will do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, at_most, mm
from geomgen.materials.screws import SCREWS
from geomgen.plane.polar import chord_deg, chord_radius
from geomgen.root.root_face import RootFace
from geomgen.root.seat import CLEARANCE_MM, Seat, seat_mm

LABEL_RING_MM = 6.0  # beyond the turning cap's rim, for the engraved pitch


@dataclass(frozen=True)
class Bound:
    """Something the index circle must lie outside of.

    least_mm : least radius for it [mm]
    why      : what it is, in the plural
    path     : key path to change where a circle asked for is too small for it
    cause    : key path of what makes it so large
    remedy   : what would make it smaller
    """

    least_mm: float
    why: str
    path: str
    cause: str
    remedy: str


@dataclass(frozen=True)
class Limit:
    """The largest index circle for which the caps can be made and put on.

    most_mm : its radius [mm]; less than 0 where no cap can be
    what    : what limits it
    path    : key path of that
    beyond_mm : the largest that may be asked for, where the blade's width alone limits it [mm]
    """

    most_mm: float
    what: str
    path: str
    beyond_mm: float


def spacing_mm(design: Design) -> float:
    """Least distance between the middles of two index holes [mm]."""
    pin = design.pitch.pin
    return pin.diameter + pin.fit + pin.web


def finest_step_deg(design: Design, circle_mm: float) -> float:
    """Finest step that a plain pattern allows on a circle [deg]."""
    return float(chord_deg(spacing_mm(design), circle_mm))


def least_circle_mm(design: Design, step_deg: float) -> float:
    """Least circle on which holes one step apart keep their web [mm]; the inverse of `finest_step_deg`."""
    return float(chord_radius(spacing_mm(design), step_deg))


def skew_deg(design: Design) -> FloatArray:
    """(pins,) how far each pin stands off an even spacing [deg]; no turn then brings one set of holes onto another."""
    count = design.pitch.pin.count
    skew = np.zeros(count)
    if count > 1:
        skew[1] = design.pitch.step / (4.0 if count == 2 else 2.0)
    return skew


def set_deg(design: Design) -> FloatArray:
    """(pins,) where the pins of one set stand, from the first of them on [deg]."""
    count = design.pitch.pin.count
    return 360.0 / count * np.arange(count) + skew_deg(design)


def bounds_of(design: Design, seat: Seat, *, settings: tuple[float, ...]) -> list[Bound]:
    """Everything the index circle must lie outside of.

    raises : MakeError where the sets of two pins run into each other on any circle
    """
    least = least_circle_mm(design, _set_gap(design, settings))
    fewer = "fewer pins, or a shorter range"
    bounds = [Bound(least, "the sets of neighbouring pins", "pitch.pin.count", "pitch.pin.count", fewer)]
    if len(settings) > 1:
        why = f"holes {design.pitch.step:g} deg apart, {mm(spacing_mm(design))} from middle to middle,"
        least = least_circle_mm(design, design.pitch.step)
        bounds.append(Bound(least, why, "pitch.step", "pitch.step", "thinner pins, a smaller web or a closer fit"))
    return bounds + inner_bounds(design, seat)


def inner_bounds(design: Design, seat: Seat, inwards_mm: float | None = None) -> list[Bound]:
    """What lies inside any circle of holes: screws, the hub's flange, wires.

    inwards_mm : how far what is on the circle reaches inwards; None for the holes themselves [mm]
    """
    pin, wall = design.pitch.pin, design.hub.wall
    hole = (pin.diameter + pin.fit) / 2 if inwards_mm is None else inwards_mm
    heads = float(np.hypot(*seat.screws[0])) + SCREWS[seat.screw].head / 2 + pin.web
    behind = max(hole, pin.clip.outside / 2 if pin.clip else 0.0)  # pins stand out behind the fixed cap, with clips
    smaller, flange = "smaller or fewer screws", "a thinner hub.wall, smaller or fewer screws"
    keep_off = [
        ("the fixed cap's screws", heads + hole, "pitch.fixing.screw", smaller),
        ("the pins, beside the hub's flange,", seat.radius_mm + CLEARANCE_MM + behind, "pitch.fixing.screw", flange),
    ]
    for slot in seat.slots:  # its duct has a wall there
        nearer, reach = "a channel nearer to the feather axis, or a narrower one", slot.outer_mm + wall + CLEARANCE_MM
        tied = slot.radius_mm + slot.tied_mm + pin.web + hole
        keep_off.append((f"the wires of {slot.path}", max(reach + behind, tied), f"{slot.path}.chord", nearer))
    return [Bound(least, why, "pitch.index_circle", cause, remedy) for why, least, cause, remedy in keep_off]


def _set_gap(design: Design, settings: tuple[float, ...]) -> float:
    """Angle between the last hole for one pin and the first for the next [deg]."""
    stand, span = set_deg(design), settings[-1] - settings[0]
    gap = float(np.diff(np.append(stand, stand[0] + 360.0)).min()) - span
    if gap > 0.0:
        return gap
    pins = design.pitch.pin.count
    wrong = (
        f"{pins} pins stand {360 / pins:g} deg apart, and each has holes over {span:g} deg: they run into each other"
    )
    raise MakeError(Fault("pitch.pin.count", str(pins), wrong, remedy="fewer pins, or a shorter range"))


def largest_circle(design: Design, face: RootFace, beyond_mm: float) -> Limit:
    """Largest index circle for which the caps can be made and put on, and what limits it.

    beyond_mm : how far the larger cap reaches beyond the circle [mm]
    """
    rims = [(np.inf, "nothing", "pitch.index_circle")]
    for cap in (design.pitch.turning_cap, design.pitch.fixed_cap):
        stock, size = design.stock[cap.stock], f"stock.{cap.stock}.size"
        if isinstance(stock, SheetStock):
            rims += [(min(stock.size) / 2, size, size)] if stock.size else []
        elif design.printer.bed:
            rims.append((min(design.printer.bed) / 2, "printer.bed", "printer.bed"))
    if design.rotor.blades > 2:
        room = seat_mm(design, face) * np.tan(np.pi / design.rotor.blades) - CLEARANCE_MM
        rims.append((float(room), "the next blade's cap", "rotor.root"))
    if design.pitch.rim is not None:
        rims.append((design.pitch.rim, "pitch.rim", "pitch.rim"))
    unasked = min(rims)[0] - beyond_mm
    if design.pitch.index_circle is None and design.pitch.rim is None:  # unasked, within the blade's width
        left, _, right, _ = face.outline().bounds
        rims.append(((right - left) / 2, "the width of the blade's root section", "blade.along[0].chord"))
    rim, what, path = min(rims)
    return Limit(rim - beyond_mm, what, path, unasked)


def rim_beyond(design: Design, rings: int = 1) -> float:
    """From the index circle to the rim of the larger cap [mm].

    rings : of figures round the holes: one on the fixed cap, and in a paired pattern one on the turning cap beyond it
    """
    pin = design.pitch.pin
    return (pin.diameter + pin.fit) / 2 + pin.web + rings * LABEL_RING_MM


def circle_too_small(design: Design, bounds: list[Bound], *, circle_mm: float) -> list[Fault]:
    """One fault for each bound that a circle asked for breaks."""
    faults = []
    for bound in bounds:
        if bound.least_mm <= circle_mm + 1e-9:
            continue
        least = at_least(bound.least_mm, 1)
        wrong = f"{bound.why} need an index circle of at least {least} radius, not {mm(circle_mm)}"
        value, remedy = mm(circle_mm), f"set pitch.index_circle to {least}, or leave it out"
        if bound.path == "pitch.step":
            value = f"{design.pitch.step:g} deg"
            remedy = f"the finest step on {mm(circle_mm)} is {_tenth_up(finest_step_deg(design, circle_mm)):g} deg"
        elif bound.path == "pitch.pin.count":
            value = str(design.pitch.pin.count)
        faults.append(Fault(bound.path, value, wrong, remedy=remedy))
    return faults


def circle_too_large(
    design: Design,
    bounds: list[Bound],
    *,
    circle_mm: float,
    limit: Limit,
    beyond_mm: float,
    key: Literal["pitch.index_circle", "pitch.rim"] = "pitch.rim",
) -> list[Fault]:
    """The faults of a circle for which the caps can't be made: one for each thing that asks for so large a one.

    beyond_mm : how far the larger cap reaches beyond the circle [mm]
    key       : what asks for a larger cap
    """
    asked, across = design.pitch.index_circle, 2 * (circle_mm + beyond_mm)
    if limit.most_mm <= 0:
        wrong = f"{limit.what} leaves no room for any cap: the least would be {mm(across, 0)} across"
        return [Fault(limit.path, "", wrong, remedy="more room for it, or smaller pins and a smaller web")]
    if limit.path == "pitch.rim" and design.pitch.rim is not None:
        why = max(bounds, key=lambda bound: bound.least_mm).why
        wrong = f"{why} need an index circle of {at_least(circle_mm, 1)} radius, and a cap {mm(across, 0)} across"
        return [Fault(limit.path, mm(design.pitch.rim), wrong, f"at least {at_least(circle_mm + beyond_mm, 1)}")]
    allowed = f"{limit.what} leaves room for a circle of {at_most(limit.most_mm, 1)}"
    if asked is not None:
        wrong = f"this index circle needs a cap {mm(across, 0)} across"
        return [Fault("pitch.index_circle", mm(asked), wrong, allowed, "a smaller circle")]
    wider = ""
    if limit.beyond_mm >= circle_mm:
        wide = circle_mm if key == "pitch.index_circle" else circle_mm + beyond_mm
        wider = f'; or write {key} = "{at_least(wide)}", and the cap stands out beyond the blade'
    pitch, faults = design.pitch, []
    said = {
        "pitch.step": f"{pitch.step:g} deg",
        "pitch.pin.count": str(pitch.pin.count),
        "pitch.fixing.screw": pitch.fixing.screw,
    }
    for bound in bounds:
        if _tenth_up(bound.least_mm) > limit.most_mm + 1e-9:  # as it is rounded for a pattern
            across = 2 * (bound.least_mm + beyond_mm)
            wrong = f"{bound.why} need an index circle of {at_least(bound.least_mm, 1)} radius here"
            wrong += f", and a cap {mm(across, 0)} across"
            told = _finest(design, limit.most_mm) if bound.cause == "pitch.step" else ""
            faults.append(Fault(bound.cause, said.get(bound.cause, ""), wrong, allowed, f"{told}{bound.remedy}{wider}"))
    return faults


def _tenth_up(value: float) -> float:
    return math.ceil(value * 10.0 - 1e-9) / 10.0


def _finest(design: Design, circle_mm: float) -> str:
    """The finest step on a circle, and the finest of whole steps in the range that there is."""
    (low, high), finest = design.pitch.range, _tenth_up(finest_step_deg(design, circle_mm))
    steps = int((high - low) / finest + 1e-9)
    whole = f", and {(high - low) / steps:.6g} deg of whole steps in this range" if steps else ""
    return f"the finest step there is {finest:g} deg{whole}; "
