"""Unbalance of what turns: how far its mass lies off the axis, what couple it makes, and what pulls at the mast.

Azimuths are from blade 1, anticlockwise seen from above, whichever way the craft turns. Grades are those of
ISO 21940-11, which is made for stiff rotors in bearings, not for blades in air: a yardstick, no requirement.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.element import Element

GRADES_MM_S = (
    6.3,
    16.0,
    40.0,
)  # usual grades: fans; parts of farm machines; engines of cars, ISO 21940-11, from memory
NOTHING_G_MM = 1e-3  # a vector shorter than this points nowhere: sums over solids leave some 1e-5


@dataclass(frozen=True)
class Vector:
    """A vector in the plane of the hub: x along blade 1, y anticlockwise of it seen from above. [any]."""

    x: float
    y: float

    @property
    def size(self) -> float:
        """Its length."""
        return math.hypot(self.x, self.y)

    @property
    def azimuth_deg(self) -> float | None:
        """Where it points, from blade 1, anticlockwise seen from above, 0 to 360; None where it has no length [deg]."""
        if self.size < NOTHING_G_MM:
            return None
        return round(math.degrees(math.atan2(self.y, self.x)), 9) % 360.0

    @property
    def whole_deg(self) -> int:
        """The same to a whole degree, 0 to 359; 0 for a vector of no length, to be read beside it [deg]."""
        return round(self.azimuth_deg or 0.0) % 360

    def plus(self, other: Vector, times: float = 1.0) -> Vector:
        """The sum of it and so many times another."""
        return Vector(self.x + times * other.x, self.y + times * other.y)


@dataclass(frozen=True)
class Unbalance:
    """Of all that turns.

    mass_g : [g]
    static : integral of (x, y) over the mass: where it is heavy [g mm]
    couple : integral of z (x, y), z above where the feather axes meet: what tips the mast over [g mm2]
    """

    mass_g: float
    static: Vector
    couple: Vector

    @property
    def eccentricity_mm(self) -> float:
        """How far the centre lies off the axis [mm]."""
        return self.static.size / self.mass_g if self.mass_g > 0.0 else 0.0

    def force_n(self, rpm: float) -> float:
        """What pulls at the mast, going round with it, by U w2 [N]. rpm : [1/min]"""
        return self.static.size * 1e-6 * rad_s(rpm) ** 2

    def couple_nm(self, rpm: float) -> float:
        """The moment at the mast where the feather axes meet, going round with it [N m]. rpm : [1/min]"""
        return self.couple.size * 1e-9 * rad_s(rpm) ** 2

    def grade_mm_s(self, rpm: float) -> float:
        """Eccentricity times angular speed, by which ISO 21940-11 grades stiff rotors in bearings [mm/s]."""
        return self.eccentricity_mm * rad_s(rpm)

    def plus(self, mass_g: float, place: FloatArray) -> Unbalance:
        """With a mass more at a place (3,) of the rotor frame [g], [mm]."""
        x, y, z = (float(each) for each in place)
        static, couple = Vector(mass_g * x, mass_g * y), Vector(mass_g * x * z, mass_g * y * z)
        return Unbalance(self.mass_g + mass_g, self.static.plus(static), self.couple.plus(couple))


def unbalance(placed: Sequence[Element]) -> Unbalance:
    """Of elements in the rotor frame, as `mass.elements.of_craft` places them."""
    static, couple, mass = np.zeros(2), np.zeros(2), 0.0
    for each in placed:
        mass += each.mass_g
        static += each.mass_g * each.centre[:2]
        couple += each.mass_g * each.centre[2] * each.centre[:2] - each.inertia[:2, 2]
    return Unbalance(mass, Vector(*static.tolist()), Vector(*couple.tolist()))


def permissible_g_mm(grade_mm_s: float, mass_g: float, rpm: float) -> float:
    """Unbalance that a grade of ISO 21940-11 lets a stiff rotor in bearings have, U = G m / w [g mm].

    grade_mm_s : [mm/s]
    mass_g     : [g]
    rpm        : [1/min], > 0
    """
    return grade_mm_s * mass_g / rad_s(rpm)


def two_planes(found: Unbalance, low_mm: float, high_mm: float) -> tuple[Vector, Vector]:
    """The same unbalance as two, one in each of two planes across the axis, at z [mm]: U1 + U2 is the static one, and
    z1 U1 + z2 U2 the couple [g mm]. raises : ValueError where the planes are one"""
    if high_mm == low_mm:
        raise ValueError("two planes stand apart")
    above = found.couple.plus(found.static, -low_mm)
    upper = Vector(above.x / (high_mm - low_mm), above.y / (high_mm - low_mm))
    return found.static.plus(upper, -1.0), upper


def rad_s(rpm: float) -> float:
    """Angular speed [rad/s] of an rpm [1/min]."""
    return rpm * math.pi / 30.0
