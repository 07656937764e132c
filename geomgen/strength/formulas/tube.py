"""Round tubes: section, stress in bending, twist and shear, as a column, and with a hole drilled across."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


@dataclass(frozen=True, eq=False)
class TubeSection:
    """A round tube cut across.

    area_mm2    : [mm2]
    second_mm4  : about any line through its middle [mm4]
    torsion_mm4 : torsion constant [mm4]
    """

    area_mm2: FloatArray
    second_mm4: FloatArray
    torsion_mm4: FloatArray


@dataclass(frozen=True, eq=False)
class PiercedTube:
    """A round tube cut through the middle of a round hole that crosses it.

    area_mm2      : [mm2]
    across_mm4    : second moment about the line across the hole, which lies where the bent tube is stretched most [mm4]
    along_mm4     : second moment about the hole's own axis: the hole lies where nothing is stretched [mm4]
    """

    area_mm2: FloatArray
    across_mm4: FloatArray
    along_mm4: FloatArray


def tube_section(outside: Values, inside: Values) -> TubeSection:
    """Section of a round tube; a rod's inside is 0.

    outside, inside : diameters [mm]
    source          : closed form
    """
    second = np.pi * (array(outside) ** 4 - array(inside) ** 4) / 64.0
    return TubeSection(np.pi * (array(outside) ** 2 - array(inside) ** 2) / 4.0, second, 2.0 * second)


def tube_bending_mpa(moment_nmm: Values, outside: Values, inside: Values) -> FloatArray:
    """Greatest stress along a bent tube. Hold it against compression, never against a flexure of the fibres.

    moment_nmm      : bending moment [N mm]
    outside, inside : diameters [mm]
    source          : closed form, M D / (2 I)
    """
    return array(moment_nmm) * outside / (2.0 * tube_section(outside, inside).second_mm4)


def tube_twist_mpa(torque_nmm: Values, outside: Values, inside: Values) -> FloatArray:
    """Greatest shear of a twisted tube, at its outside.

    torque_nmm      : twisting moment [N mm]
    outside, inside : diameters [mm]
    source          : closed form, T D / (2 J)
    """
    return array(torque_nmm) * outside / (2.0 * tube_section(outside, inside).torsion_mm4)


def tube_pull_mpa(pull_n: Values, outside: Values, inside: Values) -> FloatArray:
    """Even stress of a tube under a force along it.

    pull_n          : force along the tube [N]
    outside, inside : diameters [mm]
    source          : closed form
    """
    return array(pull_n) / tube_section(outside, inside).area_mm2


def tube_shear_mpa(force_n: Values, outside: Values, inside: Values, poisson: float = 0.3) -> FloatArray:
    """Greatest shear of a tube under a force across it: at its middle line, on the wall's inside.

    force_n         : force across the tube [N]
    outside, inside : diameters [mm]
    poisson         : [-]
    source          : hollow circle, closed form, Love; V Q / (I b) is a tenth less at a mean radius of 4.5 walls
    """
    out, within = array(outside) ** 2 / 4.0, array(inside) ** 2 / 4.0
    less = (1.0 - 2.0 * poisson) / (3.0 + 2.0 * poisson) * within
    spread = np.where(within > 0.0, 2.0 * out + within - less, out)
    share = (3.0 + 2.0 * poisson) / (8.0 * (1.0 + poisson))
    return array(share * array(force_n) * spread / tube_section(outside, inside).second_mm4)


def column_n(modulus_mpa: Values, second_mm4: Values, length: Values, ends: Values = 1.0) -> FloatArray:
    """Force at which a slender bar bows out.

    modulus_mpa : along it [MPa]
    second_mm4  : least second moment [mm4]
    length      : between its ends [mm]
    ends        : effective length over length: 1 both ends free to turn, .5 both held, .7 one held, 2 one held and
                  the other free to move [-]
    returns     : [N]
    source      : Euler, closed form
    """
    return np.pi**2 * array(modulus_mpa) * second_mm4 / (array(ends) * length) ** 2


def pierced_tube(outside: Values, inside: Values, hole: Values) -> PiercedTube:
    """Net section of a tube with a round hole straight across it, through both walls and its axis.

    outside, inside : diameters [mm]
    hole            : its diameter, no larger than the tube's inside [mm]
    source          : closed form: each circle less a strip as wide as the hole
    """
    whole = tube_section(outside, inside)
    big, small = _strip(array(outside) / 2.0, array(hole) / 2.0), _strip(array(inside) / 2.0, array(hole) / 2.0)
    area, along, across = (full - hollow for full, hollow in zip(big, small, strict=True))
    return PiercedTube(whole.area_mm2 - area, whole.second_mm4 - across, whole.second_mm4 - along)


def _strip(radius: FloatArray, half: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Of a circle's strip within `half` of a middle line: area, second moments about that line and across it."""
    angle = np.arcsin(half / radius)
    area = 2.0 * radius**2 * (angle + np.sin(angle) * np.cos(angle))
    along = radius**4 / 2.0 * (angle - np.sin(4.0 * angle) / 4.0)
    across = radius**4 / 24.0 * (12.0 * angle + 8.0 * np.sin(2.0 * angle) + np.sin(4.0 * angle))
    return area, along, across
