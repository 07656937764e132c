"""The kerf taken off: where the middle of a beam of some width runs, so that what is left has the size that is drawn.

What a round beam can't do is told, too: corners where it leaves a radius, and places that it doesn't get into.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

import numpy as np
import shapely

from geomgen.plane.offset import offsets
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region

Point = tuple[float, float]

KINK_DEG = 10.0  # a corner that turns by less keeps all but 1/250 of the beam's radius
_CHORDAL_MM = 5e-4  # of what is looked through for narrow places
_NO_CORNER = 2.0  # what stays uncut is a narrow place where it is longer than so many kerfs, else a corner
_THIN_MM = 0.004  # and wider than chords make it


@dataclass(frozen=True, eq=False)
class BeamPath:
    """Where the middle of the beam runs.

    region : its path: the outline, and the inside cuts
    missed : places that stay uncut, as the beam is wider: middles of small holes, narrow notches and necks [mm]
    """

    region: Region
    missed: tuple[Point, ...] = ()


def kerf_taken_off(region: Region, kerf_mm: float) -> BeamPath:
    """The outline moved out by half the kerf, and holes in by as much.

    region  : as it is to be when it is cut
    kerf_mm : width that the beam takes away, >= 0 [mm]
    raises  : ValueError on a kerf below 0, or a loop that crosses itself
    """
    if not kerf_mm >= 0.0:
        raise ValueError(f"a kerf is 0 mm or more, not {kerf_mm}")
    if kerf_mm == 0.0:
        return BeamPath(region)
    outer = offsets(region.outer, 0.5 * kerf_mm)[0]  # what lies within it is behind a mouth too narrow
    moved = [offsets(hole, -0.5 * kerf_mm) for hole in region.holes]
    small = [hole for hole, found in zip(region.holes, moved, strict=True) if not found]
    entered = [hole for hole, found in zip(region.holes, moved, strict=True) if found]
    narrow = _narrow(Region(region.outer, tuple(entered)), kerf_mm)
    return BeamPath(Region(outer, tuple(chain(*moved))), (*map(_middle, small), *narrow))


def sharp_inside(region: Region, radius_mm: float = 0.0) -> tuple[Point, ...]:
    """Corners that a round beam can't cut sharp: where the material turns inward, as at the bottom of a notch.

    radius_mm : the beam's own radius; arcs that turn inward and are sharper count, too, but no circles [mm]
    returns   : each corner, or the middle of each such arc, outline before holes [mm]
    """
    loops = [(region.outer, -1.0), *((hole, 1.0) for hole in region.holes)]
    return tuple(place for loop, inward in loops for place in _sharp(loop, inward, radius_mm))


def _sharp(loop: Loop, inward: float, radius_mm: float) -> Iterator[Point]:
    """inward : 1 where the material lies outside the loop, -1 where it lies within."""
    if isinstance(loop, Circle):
        return
    way = inward * np.sign(loop.area())
    segments = loop.segments()
    begin, end = segments.directions()
    turn = np.mod(begin - np.roll(end, 1) + np.pi, 2.0 * np.pi) - np.pi
    corner = way * turn > np.radians(KINK_DEG)
    tight = (way * segments.angle > np.radians(KINK_DEG)) & (segments.radius() < radius_mm * (1.0 - 1e-9))
    middle = segments.points(np.full(len(tight), 0.5))
    for k in range(len(corner)):
        if corner[k]:
            yield float(segments.start[k, 0]), float(segments.start[k, 1])
        if tight[k]:
            yield float(middle[k, 0]), float(middle[k, 1])


def _narrow(region: Region, kerf_mm: float) -> list[Point]:
    """Middles of places that no disc as wide as the beam gets into, corners left out."""
    nominal = region.to_shapely(min(_CHORDAL_MM, 0.01 * kerf_mm))
    uncut = nominal.buffer(0.5 * kerf_mm).buffer(-0.5 * kerf_mm).difference(nominal).buffer(-0.5 * _THIN_MM)
    found = []
    for piece in shapely.get_parts(uncut):
        x0, y0, x1, y1 = piece.bounds
        if not piece.is_empty and np.hypot(x1 - x0, y1 - y0) > _NO_CORNER * kerf_mm:
            place = piece.representative_point()
            found.append((float(place.x), float(place.y)))
    return found


def _middle(loop: Loop) -> Point:
    x0, y0, x1, y1 = loop.bounds()
    return 0.5 * (x0 + x1), 0.5 * (y0 + y1)
