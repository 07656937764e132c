"""How small and how large an index circle can be, and what is said where neither will do."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError, at_least, at_most
from geomgen.materials.screws import SCREWS
from geomgen.root.root_face import RootFace
from geomgen.root.seat import CLEARANCE_MM, Seat, seat_mm

LABEL_RING_MM = 6.0  # beyond the turning cap's rim, for the engraved pitch


@dataclass(frozen=True)
class Bound:
    """Something the index circle must lie outside of.

    least_mm : least radius for it [mm]
    why      : what it is, in the plural
    path     : key path to change
    """

    least_mm: float
    why: str
    path: str


def spacing_mm(design: Design) -> float:
    """Least distance between the middles of two index holes [mm]."""
    pin = design.pitch.pin
    return pin.diameter + pin.fit + pin.web


def finest_step_deg(design: Design, circle_mm: float) -> float:
    """Finest step that a plain pattern allows on a circle [deg].

    source : chord of two neighbouring holes, 2 R sin(step / 2)
    """
    return float(2.0 * np.degrees(np.arcsin(min(1.0, spacing_mm(design) / (2.0 * circle_mm)))))


def least_circle_mm(design: Design, step_deg: float) -> float:
    """Least circle on which holes one step apart keep their web [mm]; the inverse of `finest_step_deg`."""
    return spacing_mm(design) / (2.0 * float(np.sin(np.radians(min(step_deg, 180.0)) / 2)))


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
    pin, wall = design.pitch.pin, design.hub.wall
    hole = (pin.diameter + pin.fit) / 2
    bounds = [
        Bound(least_circle_mm(design, _set_gap(design, settings)), "the sets of neighbouring pins", "pitch.pin.count")
    ]
    if len(settings) > 1:
        why = f"holes {design.pitch.step:g} deg apart, {spacing_mm(design):g} mm from middle to middle,"
        bounds.append(Bound(least_circle_mm(design, design.pitch.step), why, "pitch.step"))
    heads = float(np.hypot(*seat.screws[0])) + SCREWS[seat.screw].head / 2 + pin.web
    keep_off = {"the fixed cap's screws": heads, "the pins, beside the hub's flange,": seat.radius_mm + CLEARANCE_MM}
    for slot in seat.slots:  # pins stand out behind the fixed cap, where the duct has a wall
        keep_off[f"the wires of {slot.path}"] = slot.outer_mm + wall + CLEARANCE_MM
    return bounds + [Bound(inside + hole, why, "pitch.index_circle") for why, inside in keep_off.items()]


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


def largest_circle(design: Design, face: RootFace) -> tuple[float, str]:
    """Largest index circle for which the caps can be made and put on, and what limits it [mm]."""
    rims = [(np.inf, "nothing")]
    if design.pitch.index_circle is None:  # asked for by nobody, a cap stays within the blade's width
        left, _, right, _ = face.outline().bounds
        rims.append(((right - left) / 2, "the width of the blade's root section"))
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
    return rim - _rim_beyond(design), limit


def _rim_beyond(design: Design) -> float:
    """From the index circle to the fixed cap's rim [mm]."""
    pin = design.pitch.pin
    return (pin.diameter + pin.fit) / 2 + pin.web + LABEL_RING_MM


def circle_too_small(design: Design, bounds: list[Bound], *, circle_mm: float) -> list[Fault]:
    """One fault for each bound that a circle asked for breaks."""
    faults = []
    for bound in bounds:
        if bound.least_mm <= circle_mm + 1e-9:
            continue
        least = at_least(bound.least_mm)
        wrong = f"{bound.why} need an index circle of at least {least} mm radius, not {circle_mm:g} mm"
        value, remedy = f"{circle_mm:g} mm", f"set pitch.index_circle to {least} mm, or leave it out"
        if bound.path == "pitch.step":
            value = f"{design.pitch.step:g} deg"
            remedy = f"the finest step on {circle_mm:g} mm is {at_least(finest_step_deg(design, circle_mm))} deg"
        elif bound.path == "pitch.pin.count":
            value = str(design.pitch.pin.count)
        faults.append(Fault(bound.path, value, wrong, remedy=remedy))
    return faults


def circle_too_large(design: Design, circle_mm: float, *, most_mm: float, limit: str) -> Fault:
    """The fault of a circle for which the caps can't be made."""
    asked, across = design.pitch.index_circle, 2 * (circle_mm + _rim_beyond(design))
    path, value = (
        ("pitch.step", f"{design.pitch.step:g} deg") if asked is None else ("pitch.index_circle", f"{asked:g} mm")
    )
    wrong = f"a plain pattern needs an index circle of {circle_mm:.1f} mm radius here, and a cap {across:.0f} mm across"
    if asked is not None:
        wrong = f"this index circle needs a cap {across:.0f} mm across"
    if most_mm <= 0:
        return Fault(path, value, wrong, f"{limit} leaves no room for any cap")
    finest = at_least(finest_step_deg(design, most_mm))
    remedy = f"the finest step there is {finest} deg; thinner pins, a smaller web or a closer fit make it finer"
    return Fault(path, value, wrong, f"{limit} leaves room for a circle of {at_most(most_mm)} mm", remedy)
