"""The seat of the fixed cap on the hub: what has to pass it, and the screws that hold it. In the caps' frame."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, mm
from geomgen.materials.screws import SCREWS
from geomgen.plane.arcs import arc_slot
from geomgen.plane.path import Circle, Loop
from geomgen.plane.polar import on_circle
from geomgen.root.root_face import FLATTEN_MM, Crossing, RootFace

RUNNING_GAP_MM = 0.3  # between the caps, so that they don't rub; common practice
CLEARANCE_MM = 0.5  # between printed parts that must not touch; common practice
PHASE_DEG, STEP_MM, OUTWARD_MM = 1.0, 0.25, 15.0  # how finely, and how far out, places for the screws are tried


@dataclass(frozen=True)
class Slot:
    """An arc slot through which a channel's wires pass at every pitch.

    path           : key path of the channel
    radius_mm      : of its middle line about the feather axis [mm]
    width_mm       : its width [mm]
    from_deg, to_deg : where the middles of its round ends lie, anticlockwise [deg]
    tied_mm        : how far from the channel's middle the turning cap may be open [mm]
    """

    path: str
    radius_mm: float
    width_mm: float
    from_deg: float
    to_deg: float
    tied_mm: float = 0.0

    @property
    def outer_mm(self) -> float:
        """Its greatest distance from the feather axis [mm]."""
        return self.radius_mm + self.width_mm / 2

    def outline(self) -> Loop:
        """Its outline about the feather axis; a circle where there is but one pitch."""
        if self.to_deg - self.from_deg < 1e-6:
            x, y = on_circle(self.radius_mm, self.from_deg)
            return Circle((float(x), float(y)), self.width_mm / 2)
        return arc_slot((0.0, 0.0), self.radius_mm, self.width_mm, self.from_deg, self.to_deg)

    def shape(self) -> shapely.Polygon:
        """The same as a polygon."""
        return shapely.Polygon(self.outline().flattened(FLATTEN_MM))


@dataclass(frozen=True)
class Seat:
    """The hub's flat face behind the fixed cap.

    slots     : one for each channel
    central_mm : diameter of the fixed cap's hole for the spar [mm]
    screw     : size of the screws
    screws    : (x, y) of each [mm]
    radius_mm : of the flange round the screws [mm]
    """

    slots: tuple[Slot, ...]
    central_mm: float
    screw: str
    screws: tuple[tuple[float, float], ...]
    radius_mm: float


def seat_mm(design: Design, face: RootFace) -> float:
    """r of the hub's seat, on which the fixed cap lies [mm]."""
    return face.r_mm - design.pitch.turning_cap.thickness - RUNNING_GAP_MM - design.pitch.fixed_cap.thickness


def cap_to_blade(r_mm: float) -> FloatArray:
    """(4, 4) from the caps' frame, z towards the rotor axis, to the blade frame at the reference pitch.

    r_mm : of the plane z = 0 [mm]
    """
    return np.array([[0.0, 0.0, -1.0, r_mm], [-1.0, 0.0, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 0.0, 1.0]])


def seat(design: Design, face: RootFace) -> Seat:
    """The seat of the anticlockwise twin.

    raises : MakeError where a channel runs too near the spar or another channel, or the screws find no room
    """
    central = socket_mm(design, face) + CLEARANCE_MM
    slots = tuple(_slot(design, crossing) for crossing in face.channels)
    if faults := _crowded(design, slots, central_mm=central):
        raise MakeError(faults)
    name, wall = design.pitch.fixing.screw, design.hub.wall
    apart = max(SCREWS[name].pilot / 2 + wall, SCREWS[name].head / 2 + design.pitch.pin.web)
    radius, screws = _screws(design, slots, central_mm=central, apart_mm=apart)
    return Seat(slots, central, name, screws, max(radius + apart, socket_mm(design, face) / 2 + wall))


def socket_mm(design: Design, face: RootFace) -> float:
    """Diameter of the hub's bore for the spar [mm]."""
    return face.spar_outside_mm + design.hub.socket.fit


def _slot(design: Design, crossing: Crossing) -> Slot:
    """The way of a channel's end from the lowest pitch to the highest: leading edge up is clockwise here."""
    low, high = design.pitch.range
    angle = float(np.degrees(np.arctan2(crossing.at[1], crossing.at[0])))
    width = crossing.diameter_mm + 2 * design.pitch.wire_clearance
    return Slot(crossing.path, float(np.hypot(*crossing.at)), width, angle - high, angle - low, crossing.tied_mm)


def _crowded(design: Design, slots: tuple[Slot, ...], *, central_mm: float) -> list[Fault]:
    wall, faults = design.hub.wall, []
    for slot in slots:
        least = central_mm / 2 + wall + slot.width_mm / 2
        if slot.radius_mm < least:
            wrong = (
                f"it crosses the root face {mm(slot.radius_mm, 1)} from the feather axis; hub and caps need "
                f"{at_least(least, 1)} for the spar, a wall of {mm(wall)} and the wires"
            )
            faults.append(Fault(f"{slot.path}.chord", "", wrong, remedy="move the channel away from the feather axis"))
    if faults:
        return faults
    shapes = [slot.shape() for slot in slots]
    for i, j in zip(*np.triu_indices(len(slots), 1), strict=True):
        gap = float(shapes[i].distance(shapes[j]))
        if gap < wall:
            wrong = f"its slot comes within {mm(gap, 1)} of that of {slots[i].path}; the hub's wall is {mm(wall)}"
            remedy = "move the channels apart, or lead both in one channel"
            faults.append(Fault(f"{slots[j].path}.chord", "", wrong, remedy=remedy))
    return faults


def _screws(
    design: Design, slots: tuple[Slot, ...], *, central_mm: float, apart_mm: float
) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Circle and places of the screws: even, as near the spar as they go, and there as far from the slots.

    apart_mm : least from their middles to anything else [mm]
    """
    count = design.pitch.fixing.count
    least = max(central_mm / 2 + apart_mm, apart_mm / np.sin(np.pi / count) if count > 1 else 0.0)
    phases = np.arange(0.0, 360.0 / count, PHASE_DEG)
    ways = shapely.union_all([slot.shape() for slot in slots])
    for radius in np.arange(least, least + OUTWARD_MM, STEP_MM):
        centres = on_circle(np.full((len(phases), count), radius), phases[:, None] + 360.0 / count * np.arange(count))
        room = shapely.distance(ways, shapely.points(centres)).min(axis=1) if slots else np.full(len(phases), np.inf)
        if room.max() >= apart_mm + FLATTEN_MM:
            # where many phases do equally well, the middle of them
            best = np.flatnonzero(room >= min(room.max(), 2 * apart_mm) - 1e-9)
            chosen = centres[best[len(best) // 2]]
            return float(radius), tuple((float(x), float(y)) for x, y in chosen)
    raise MakeError(
        Fault(
            "pitch.fixing.count",
            str(count),
            f"{count} {design.pitch.fixing.screw} screws don't go beside spar and wires' slots in the fixed cap",
            remedy="fewer or smaller screws, a shorter range of pitch, or channels further from the feather axis",
        )
    )
