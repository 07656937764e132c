"""What walls, infill and corners leave of a print's strength. All from memory."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array

SHARP_CORNER, ROUND_ENOUGH = 2.0, 1.5  # rise of stress at a sharp inside corner [-], radius that has none [mm]


def print_share(walls: Values, infill: Values) -> FloatArray:
    """Share of a solid print's strength that one of walls and infill has; across its layers, only walls count.

    walls  : share of the section in walls and skins, 0 to 1 [-]
    infill : density of the infill, 0 to 1 [-]
    source : w + (1 - w) f (.5 + .4 f), from memory
    """
    return array(walls) + (1.0 - array(walls)) * infill * (0.5 + 0.4 * array(infill))


def wall_share(width: Values, height: Values, wall: Values, skin: Values) -> FloatArray:
    """Share of a rectangular section that lies in a print's walls and skins.

    width  : between the walls [mm]
    height : between the skins [mm]
    wall   : thickness of the walls at either side [mm]
    skin   : thickness of the skins above and below [mm]
    source : plane geometry
    """
    inside = np.maximum(width - 2.0 * array(wall), 0.0) * np.maximum(height - 2.0 * array(skin), 0.0)
    return array(1.0 - inside / (array(width) * height))


def corner_rise(radius: Values) -> FloatArray:
    """How much stress rises at an inside corner.

    radius : of the corner [mm]
    source : 2 where it is sharp, 1 from 1.5 mm on, a straight line between; from memory
    """
    return array(np.interp(radius, (0.0, ROUND_ENOUGH), (SHARP_CORNER, 1.0)))
