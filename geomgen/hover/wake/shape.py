"""Where the wake of a hovering blade lies, all of it scaled by one speed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.hover.panels import Panels

NEAR_DEG = (0.0, 0.5, 1.0, 2.0, 3.5, 5.5, 8.0, 11.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0)
STEP_DEG, TURNS = 10.0, 2


@dataclass(frozen=True)
class Shape:
    """The constants of the wake's shape; speeds are multiples of the wake's own, u0.

    contracted     : radius to which the tip vortex contracts [R]
    contraction    : how fast, by age and u0 [1/rad]
    tip_first      : descent of the tip vortex until the next blade, by the root of u0, of one blade [-]
    tip_by_blades  : the power of the number of blades in it [-]
    tip_after      : its descent after that [-]; 1 is a vortex tube's own
    sheet_first    : descent of the inboard sheet at the tip, growing from nothing at the axis, until the next blade [-]
    sheet_after    : after that [-]
    far            : density of the cylinders below the last turn, by that of the helices above [-]
    source         : contraction and tip_first's law as Landgrebe (1972) and Kocurek and Tangler (1977) write them,
                     their constants and far from runs of a free wake of vortex lattices; sheets by Landgrebe
    """

    contracted: float = 0.80
    contraction: float = 4.3
    tip_first: float = 2.2
    tip_by_blades: float = -0.6
    tip_after: float = 1.0
    sheet_first: float = 1.7
    sheet_after: float = 2.1
    far: float = 1.1


SHAPE = Shape()


class Filaments(NamedTuple):
    """Nodes of the vortices that leave one blade along +x, which moves towards +y; z is up. [R]

    near : (n + 1, k, 3) from every edge: quarter chord, trailing edge, then to 45 deg of age
    far  : (m + 1, l, 3) from there on, of the m edges inboard of the roll-up and, last, of the tip vortex
    """

    near: FloatArray
    far: FloatArray


def contraction(age_rad: FloatArray, u0: float, shape: Shape = SHAPE) -> FloatArray:
    """Radius of a wake vortex over that at which it left, at ages [rad]."""
    narrowed: FloatArray = shape.contracted + (1.0 - shape.contracted) * np.exp(-shape.contraction * u0 * age_rad)
    return narrowed


def tip_height(age_rad: FloatArray, u0: float, blades: int, shape: Shape = SHAPE) -> FloatArray:
    """Height of the tip vortex [R], < 0 below the blade, at ages [rad]."""
    first = shape.tip_first * np.sqrt(u0) * blades**shape.tip_by_blades
    return _descent(age_rad, u0, blades, float(first), shape.tip_after)


def sheet_height(age_rad: FloatArray, u0: float, blades: int, shape: Shape = SHAPE) -> FloatArray:
    """Height of the inboard sheet [R], extended to the tip, at ages [rad]; nearer the axis it falls in proportion."""
    return _descent(age_rad, u0, blades, shape.sheet_first, shape.sheet_after)


def _descent(age_rad: FloatArray, u0: float, blades: int, first: float, after: float) -> FloatArray:
    until = 2.0 * np.pi / blades
    down: FloatArray = -u0 * (first * np.minimum(age_rad, until) + after * np.maximum(age_rad - until, 0.0))
    return down


def far_ages() -> FloatArray:
    """Ages of the far wake's nodes [rad]."""
    return np.radians(NEAR_DEG[-1] + np.arange(0.0, 360.0 * TURNS + STEP_DEG / 2, STEP_DEG))


def filaments(blade: Panels, u0: float, shape: Shape = SHAPE) -> Filaments:
    """The nodes of one blade's trailing vortices at a wake speed u0 [Omega R]."""
    age, edge, lag = np.radians(NEAR_DEG), blade.edge[:, None], 0.75 * blade.edge_chord[:, None] / blade.edge[:, None]
    sheet, tip = sheet_height(age, u0, blade.blades, shape), tip_height(age, u0, blade.blades, shape)
    share = ((edge - edge[0]) / (1.0 - edge[0])) ** 8
    fade = np.exp(-age / 0.3)
    radius = edge * (fade * np.sqrt(1.0 + lag**2) + (1.0 - fade) * contraction(age, u0, shape))
    shed = _helix(radius, np.arctan(lag) + age, (1.0 - share) * edge * sheet + share * tip)
    start = np.stack((edge, np.zeros_like(edge), np.zeros_like(edge)), axis=-1)
    return Filaments(np.concatenate((start, shed), axis=1), _far(blade, u0, shape))


def _far(blade: Panels, u0: float, shape: Shape) -> FloatArray:
    """The nodes from 45 deg on: each inboard edge's, then the tip vortex's."""
    age, inboard = far_ages(), slice(None, blade.rolled + 1)
    edge = np.append(blade.edge[inboard], 1.0)[:, None]
    chord = np.append(blade.edge_chord[inboard], blade.edge_chord[-1])[:, None]
    height = edge * sheet_height(age, u0, blade.blades, shape)
    height[-1] = tip_height(age, u0, blade.blades, shape)
    return _helix(edge * contraction(age, u0, shape), np.arctan(0.75 * chord / edge) + age, height)


def _helix(radius: FloatArray, azimuth_rad: FloatArray, height: FloatArray) -> FloatArray:
    return np.stack((radius * np.cos(azimuth_rad), -radius * np.sin(azimuth_rad), height), axis=-1)
