"""The level frame of a station: x aft of the feather axis, y up, the building board level in it."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station


def to_level(station: Station) -> FloatArray:
    """(3, 3) matrix from a station's own frame to its level frame: x is -y, y is z of the blade frame [mm].

    Both are seen from the root side; the blade is at its reference pitch.
    """
    c, s = np.cos(np.radians(station.angle_deg)), np.sin(np.radians(station.angle_deg))
    x, y = station.axis_mm
    return np.array([[c, s, -c * x - s * y], [-s, c, s * x - c * y], [0.0, 0.0, 1.0]])


def from_level(station: Station) -> FloatArray:
    """(3, 3) matrix from a station's level frame to its own."""
    return np.asarray(np.linalg.inv(to_level(station)))


def level_to_blade(r_mm: float) -> FloatArray:
    """(4, 4) matrix from a level frame at a radius, its z towards the rotor axis, to the blade frame."""
    place = np.zeros((4, 4))
    place[1, 0], place[2, 1], place[0, 2], place[0, 3], place[3, 3] = -1.0, 1.0, -1.0, r_mm, 1.0
    return place


def moved(matrix: FloatArray, points: FloatArray) -> FloatArray:
    """(n, 2) points taken through a (3, 3) matrix [mm]."""
    return np.asarray(np.atleast_2d(points) @ matrix[:2, :2].T + matrix[:2, 2])
