"""What a fan's housing drags."""

from __future__ import annotations

import math

from geomgen.materials.figure import Figure

DRAG_COEFFICIENT = Figure(
    0.2,
    0.35,
    0.5,
    "-",
    "duct or nacelle with blunt ends, on its frontal area, Reynolds number 1e4 to 2e5: rule of thumb, from memory",
)
_OUTSIDE = 1.1  # a duct's outside over its inside: common practice


def frontal_area_m2(inside_mm: float) -> float:
    """Frontal area of a duct whose outside is a tenth larger than its inside [m2]; inside [mm]."""
    return math.pi / 4 * (_OUTSIDE * inside_mm * 1e-3) ** 2


def drag_n(speed_m_s: float, density_kg_m3: float, drag_area_m2: float) -> float:
    """Drag of a housing [N]: 1/2 rho V^2 times drag area, its coefficient times its area [m2]."""
    return 0.5 * density_kg_m3 * speed_m_s**2 * drag_area_m2
