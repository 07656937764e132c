"""Places and turns about the origin, by angle."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray


def rotation(deg: float) -> FloatArray:
    """(2, 2) turn, anticlockwise positive [deg]."""
    c, s = np.cos(np.radians(deg)), np.sin(np.radians(deg))
    return np.array([[c, -s], [s, c]])


def on_circle(radius_mm: ArrayLike, angle_deg: ArrayLike) -> FloatArray:
    """(..., 2) points at radii and angles [mm], [deg]."""
    angle = np.radians(np.asarray(angle_deg, dtype=np.float64))
    points = np.asarray(radius_mm, dtype=np.float64)[..., None] * np.stack([np.cos(angle), np.sin(angle)], axis=-1)
    return np.asarray(points)
