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


def chord_deg(chord_mm: float, radius_mm: ArrayLike) -> FloatArray:
    """Angle that a chord takes of a circle, half a turn where it is no shorter than the diameter [deg].

    source : chord = 2 R sin(angle / 2)
    """
    share = np.minimum(1.0, chord_mm / (2.0 * np.asarray(radius_mm, dtype=np.float64)))
    return np.asarray(2.0 * np.degrees(np.arcsin(share)))


def chord_radius(chord_mm: float, angle_deg: ArrayLike) -> FloatArray:
    """Radius of the circle on which a chord takes an angle, half a turn at most, inf for none [mm]; the inverse of
    `chord_deg`."""
    half = np.sin(np.radians(np.minimum(angle_deg, 180.0)) / 2)
    with np.errstate(divide="ignore"):
        return np.asarray(chord_mm / (2.0 * half))
