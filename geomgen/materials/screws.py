"""Metric screws: clearance holes, countersunk heads, nuts and what they weigh."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

STEEL_G_PER_MM3 = 7.85e-3  # carbon steel; common practice
PILOT_SHARE = 0.8  # pilot hole of a self-tapping screw over its diameter; 0.75 to 0.85 is common practice
ENGAGEMENT = 2.5  # length in the plastic over the diameter; 2 to 3 is common practice
BAND = 0.1  # of their masses: heads and lengths differ between makers; from memory
BEYOND_NUT_MM = 1.0  # of a screw
LENGTHS_MM = (5, 6, 8, 10, 12, 14, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80)  # as sold; from memory


@dataclass(frozen=True)
class Screw:
    """One size of screw. All lengths [mm].

    diameter                : of the thread
    fine, medium, coarse    : clearance hole by series
    head, head_height       : countersunk head of 90 deg: diameter and height
    washer                  : outside of a plain washer
    nut_across, nut_height  : hexagon nut: across flats, height
    """

    diameter: float
    fine: float
    medium: float
    coarse: float
    head: float
    head_height: float
    washer: float
    nut_across: float
    nut_height: float

    def clearance(self, series: str = "medium") -> float:
        """Diameter of the clearance hole in a series, "fine", "medium" or "coarse" [mm]."""
        return {"fine": self.fine, "medium": self.medium, "coarse": self.coarse}[series]

    @property
    def pilot(self) -> float:
        """Diameter of the hole in which it cuts its own thread in plastic [mm]."""
        return PILOT_SHARE * self.diameter

    @property
    def grip(self) -> float:
        """Length of thread it wants in plastic [mm]."""
        return ENGAGEMENT * self.diameter

    def mass_g(self, length_mm: float) -> float:
        """A countersunk steel screw, from its shapes: a cone and a shank at 0.9 of the thread's diameter [g].

        length_mm : over all, head included [mm]
        """
        r, top, bottom = 0.45 * self.diameter, self.head / 2, self.diameter / 2
        cone = np.pi / 3 * self.head_height * (top * top + top * bottom + bottom * bottom)
        return float(STEEL_G_PER_MM3 * (cone + np.pi * r * r * (length_mm - self.head_height)))

    def length_with_nut(self, through_mm: float) -> float:
        """Length as sold of one that goes through so much, and then through a nut [mm]."""
        return length_as_sold(through_mm + self.nut_height + BEYOND_NUT_MM)

    def nut_g(self) -> float:
        """A steel hexagon nut, from its shapes [g]."""
        hexagon = np.sqrt(0.75) * self.nut_across**2
        return float(STEEL_G_PER_MM3 * self.nut_height * (hexagon - np.pi / 4 * (0.95 * self.diameter) ** 2))


# Clearance: ISO 273 (read in a public copy). Washers: ISO 7089; nuts: ISO 4032, greatest height (second-hand copies).
# Countersunk heads: ISO 7046, greatest diameter and height as made (from memory).
SCREWS = {
    "M2": Screw(2.0, 2.2, 2.4, 2.6, 3.8, 1.2, 5.0, 4.0, 1.6),
    "M2.5": Screw(2.5, 2.7, 2.9, 3.1, 4.7, 1.5, 6.0, 5.0, 2.0),
    "M3": Screw(3.0, 3.2, 3.4, 3.6, 5.5, 1.65, 7.0, 5.5, 2.4),
    "M4": Screw(4.0, 4.3, 4.5, 4.8, 8.4, 2.7, 9.0, 7.0, 3.2),
    "M5": Screw(5.0, 5.3, 5.5, 5.8, 9.3, 2.7, 10.0, 8.0, 4.7),
    "M6": Screw(6.0, 6.4, 6.6, 7.0, 11.3, 3.3, 12.0, 10.0, 5.2),
    "M8": Screw(8.0, 8.4, 9.0, 10.0, 15.8, 4.65, 16.0, 13.0, 6.8),
}


def length_as_sold(least_mm: float) -> float:
    """The shortest length sold that is at least this long; beyond the longest, itself rounded up [mm]."""
    return float(next((length for length in LENGTHS_MM if length >= least_mm - 1e-9), np.ceil(least_mm)))
