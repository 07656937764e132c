"""Wood and ply under a pin: bearing by density, distances to edges."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


class Wood(Enum):
    """Kinds of solid wood; the value is what bearing across the grain is divided by, less .015 d."""

    SOFTWOOD = 1.35
    HARDWOOD = 0.90


@dataclass(frozen=True)
class EdgeRule:
    """Least distances about a pin, in its diameters.

    loaded_end, unloaded_end   : along the grain to the end it pulls towards, and away from [d]
    loaded_edge, unloaded_edge : across the grain to the edge it pulls towards, and away from [d]
    in_row, between_rows       : pin to pin along the grain and across it [d]
    source                     : where these come from
    """

    loaded_end: float
    unloaded_end: float
    loaded_edge: float
    unloaded_edge: float
    in_row: float
    between_rows: float
    source: str


PLY = EdgeRule(4.0, 3.0, 3.0, 3.0, 4.0, 3.0, "from memory")
PRINT = EdgeRule(2.5, 2.5, 2.5, 2.5, 5.0, 5.0, "from memory")
PRINT_LAYERS_PULLED = EdgeRule(3.0, 3.0, 3.0, 3.0, 6.0, 6.0, "from memory")


def timber_edges(angle_deg: float) -> EdgeRule:
    """Least distances about a pin in solid wood.

    angle_deg : between the force and the grain, 0 to 90 [deg]
    source    : EN 1995-1-1 table 8.5, read in a public copy; its least of 80 mm for large timber is left out
    """
    loaded = max(3.0, 2.0 + 2.0 * float(np.sin(np.radians(angle_deg))))
    return EdgeRule(7.0, 3.0, loaded, 3.0, 5.0, 3.0, "EN 1995-1-1, second hand")


def wood_bearing_mpa(density_kg_m3: Values, diameter: Values) -> FloatArray:
    """Bearing strength of solid wood along the grain under a pin in a drilled hole.

    density_kg_m3 : [kg/m3]; not for balsa, whose own figures are far lower
    diameter      : of the pin [mm]
    source        : EN 1995-1-1 8.5.1, second hand: .082 (1 - .01 d) rho
    """
    return 0.082 * (1.0 - 0.01 * array(diameter)) * density_kg_m3


def wood_bearing_at_mpa(density_kg_m3: Values, diameter: Values, angle_deg: Values, wood: Wood) -> FloatArray:
    """Bearing strength of solid wood under a pin, at an angle to the grain.

    density_kg_m3 : [kg/m3]; never balsa: the rule is some 25 times too strong across its grain
    diameter      : of the pin [mm]
    angle_deg     : between force and grain, 90 across [deg]
    wood          : kind [-]
    source        : EN 1995-1-1 8.5.1 and Hankinson, second hand
    """
    weaker = wood.value + 0.015 * array(diameter)
    turned = np.radians(angle_deg)
    return array(wood_bearing_mpa(density_kg_m3, diameter) / (weaker * np.sin(turned) ** 2 + np.cos(turned) ** 2))


def ply_bearing_mpa(density_kg_m3: Values, diameter: Values) -> FloatArray:
    """Bearing strength of ply under a pin, in any direction of its plane.

    density_kg_m3 : [kg/m3]
    diameter      : of the pin [mm]
    source        : EN 1995-1-1 8.5.1, second hand: .11 (1 - .01 d) rho
    """
    return 0.11 * (1.0 - 0.01 * array(diameter)) * density_kg_m3


def strength_at_mpa(along_mpa: Values, across_mpa: Values, angle_deg: Values) -> FloatArray:
    """Strength of wood at an angle to its grain.

    along_mpa, across_mpa : strengths [MPa]
    angle_deg             : between force and grain [deg]
    source                : Hankinson, closed form
    """
    turned = np.radians(angle_deg)
    mixed = array(along_mpa) * np.sin(turned) ** 2 + array(across_mpa) * np.cos(turned) ** 2
    return array(array(along_mpa) * across_mpa / mixed)
