"""Lightening holes: the largest circles along a rib's middle that keep a stated web to everything else."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.plane.clearance import clearance
from geomgen.plane.path import Circle
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

PLACES = 600  # candidates along the middle of a rib
ROUND_DOWN_MM = 0.1  # hole diameters are whole multiples of this


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
    room = clearance(region, centres) - web_mm
    holes: list[Circle] = []
    while True:
        best = int(np.argmax(room))
        radius = float(np.floor(2 * room[best] / ROUND_DOWN_MM + 1e-9) * ROUND_DOWN_MM / 2)
        if 2 * radius < least_mm:
            return tuple(holes)
        holes.append(Circle((float(centres[best, 0]), float(centres[best, 1])), radius))
        room = np.minimum(room, np.hypot(*(centres - centres[best]).T) - radius - web_mm)
