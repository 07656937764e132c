"""Lightening holes: the largest circles along a rib's middle that keep a stated web to everything else."""

from __future__ import annotations

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.plane.clearance import clearance
from geomgen.plane.path import Circle
from geomgen.plane.region import Region

PLACES = 600  # candidates along the middle of a rib
ROUND_DOWN_MM = 0.1  # hole diameters are whole multiples of this
ROUGHLY_MM = 0.01  # chords stand in for arcs as near as this where the best places are looked for


def lightening_holes(region: Region, middle: FloatArray, web_mm: float, least_mm: float) -> tuple[Circle, ...]:
    """Circles, largest first, each as large as the web lets it be.

    region   : the rib with the holes it has already [mm]
    middle   : (n, 2) the line that the holes' centres lie on, nose to tail [mm]
    web_mm   : least wood between a hole and the edge, another hole or another lightening hole [mm]
    least_mm : least diameter worth cutting [mm]
    """
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(middle, axis=0).T))])
    places = np.linspace(0.0, along[-1], PLACES)
    centres = np.column_stack([np.interp(places, along, middle[:, i]) for i in (0, 1)])
    rough = _roughly(region, centres) - web_mm
    exact, taken = np.full(PLACES, np.nan), np.full(PLACES, np.inf)
    holes: list[Circle] = []
    while True:
        guess = np.minimum(rough, taken)
        near = np.flatnonzero(guess >= guess.max() - 2.0 * ROUGHLY_MM)  # no other can have more room
        unknown = near[np.isnan(exact[near])]
        exact[unknown] = clearance(region, centres[unknown]) - web_mm
        room = np.minimum(exact[near], taken[near])
        best = int(near[np.argmax(room)])
        radius = float(np.floor(2 * room.max() / ROUND_DOWN_MM + 1e-9) * ROUND_DOWN_MM / 2)
        if 2 * radius < least_mm:
            return tuple(holes)
        holes.append(Circle((float(centres[best, 0]), float(centres[best, 1])), radius))
        taken = np.minimum(taken, np.hypot(*(centres - centres[best]).T) - radius - web_mm)


def _roughly(region: Region, points: FloatArray) -> FloatArray:
    """(k,) distance of points from the region's nearest edge, negative outside it, within `ROUGHLY_MM` [mm]."""
    shape, at = region.to_shapely(0.9 * ROUGHLY_MM), shapely.points(points)
    shapely.prepare(shape)
    away = shapely.distance(shape.boundary, at)
    return np.asarray(np.where(shapely.contains(shape, at), away, -away))
