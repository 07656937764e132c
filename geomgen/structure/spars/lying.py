"""How flat things lie inside the edge that a rib has: seated on it, or standing between its sides."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Side
from geomgen.blade.under_skin import Outline
from geomgen.design.schema import Half
from geomgen.plane.biarc import unit

SAME_MM = 1e-6  # radii nearer than this are one
ROUNDS = 12  # of the search for how a strip lies; each takes the angle's error to a hundredth


@dataclass(frozen=True, eq=False)
class Oblong:
    """A rectangle at one radius, in the station's frame: of what lies on an edge, or stands on its foot.

    at       : (2,) middle of the side that it begins with [mm]
    way      : (2,) unit vector square to that side, through it
    width_mm : along that side [mm]
    depth_mm : along the way [mm]
    """

    at: FloatArray
    way: FloatArray
    width_mm: float
    depth_mm: float

    @property
    def end(self) -> FloatArray:
        """(2,) middle of the opposite side [mm]."""
        return self.at + self.depth_mm * self.way

    def corners(self, out_mm: float = 0.0) -> FloatArray:
        """(4, 2) corners, those of the first side first; drawn on beyond that by so much [mm]."""
        across, start, end = aft_of(self.way) * self.width_mm / 2, self.at - out_mm * self.way, self.end
        return np.array([start - across, start + across, end + across, end - across])

    def within(self, wall_mm: float) -> Oblong:
        """What a wall all round leaves inside [mm]."""
        at = self.at + wall_mm * self.way
        return Oblong(at, self.way, self.width_mm - 2 * wall_mm, self.depth_mm - 2 * wall_mm)


def aft_of(way: FloatArray) -> FloatArray:
    """(2,) unit vector square to an upward one, towards the tail."""
    return np.array([way[1], -way[0]])


def edge_over(side: Side, point: FloatArray, up: FloatArray, low: float, high: float) -> FloatArray | None:
    """Heights of an edge above a point over a stretch to both sides of it.

    point, up : (2,) point [mm] and unit direction
    low, high : ends of the stretch, along `aft_of(up)` from the point [mm]
    returns   : (n,) heights at the stretch's two ends, then at the edge's own points between [mm]; None where the edge
                doesn't reach over all of it. Straight between the edge's points, which is good to 3 µm
    """
    xy = side.xy - point
    along, height = xy @ aft_of(up), xy @ up
    start = int(np.argmin(along))
    along, height = np.maximum.accumulate(along[start:]), height[start:]  # a step in the edge may lean back
    if not along[0] <= low <= high <= along[-1]:
        return None
    between = (along > low) & (along < high)
    return np.concatenate([np.interp([low, high], along, height), height[between]])


def room_over(
    outline: Outline, point: FloatArray, up: FloatArray, low: float, high: float
) -> tuple[float, float] | None:
    """Bottom and top, along `up` from a point, of the tallest rectangle of a given width that lies in an outline [mm].

    low, high : its sides, along `aft_of(up)` from the point [mm]
    returns   : None where the outline doesn't reach over all of its width
    """
    lower, upper = (edge_over(side, point, up, low, high) for side in (outline.lower, outline.upper))
    return None if lower is None or upper is None else (float(lower.max()), float(upper.min()))


def seated(outline: Outline, half: Half, x_mm: float, width_mm: float) -> tuple[FloatArray, FloatArray] | None:
    """A flat face as near an edge as a straight one can lie inside: on a round edge by its corners, under a hollow one.

    x_mm, width_mm : where it is along the chord, and how wide it is [mm]
    returns        : (2,) its middle [mm] and (2,) the unit vector square to it, into the section; None where the edge
                     doesn't reach over all of its width
    """
    side, up, point = outline.side(half), np.array([0.0, 1.0]), np.array([x_mm, 0.0])
    found = edge_over(side, point, up, 0.0, 0.0)
    if found is None:
        return None
    point = np.array([x_mm, found[0]])
    for _ in range(ROUNDS):
        found = edge_over(side, point, up, -width_mm / 2, width_mm / 2)
        if found is None:
            return None
        tilt = (found[1] - found[0]) / width_mm
        up = unit(up - tilt * aft_of(up))
        if abs(tilt) < 1e-10:
            break
    inwards = -up if half == "upper" else up
    return point + float(found.min() if half == "upper" else found.max()) * up, inwards
