"""Screws, metric and in inches: clearance holes, countersunk heads, nuts and what they weigh."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.figures import mm

STEEL_G_PER_MM3 = 7.85e-3  # carbon steel; common practice
PILOT_SHARE = 0.8  # pilot hole of a self-tapping screw over its diameter; 0.75 to 0.85 is common practice
ENGAGEMENT = 2.5  # length in the plastic over the diameter; 2 to 3 is common practice
BAND = 0.1  # of their masses: heads and lengths differ between makers; from memory
BEYOND_NUT_MM = 1.0  # of a screw
METRIC_HEAD_DEG, INCH_HEAD_DEG = 90.0, 82.0  # of a countersunk head
_IN = 25.4  # [mm]


@dataclass(frozen=True)
class Lengths:
    """The lengths that screws are sold in.

    sold_mm : by rising length [mm]
    step_mm : beyond the longest, they are rounded up to this [mm]
    inch    : whether they are told in inches, else in mm
    """

    sold_mm: tuple[float, ...]
    step_mm: float
    inch: bool = False

    def at_least(self, least_mm: float) -> float:
        """The shortest that is at least this long [mm]."""
        longer = (length for length in self.sold_mm if length >= least_mm - 1e-9)
        return float(next(longer, self.step_mm * math.ceil(least_mm / self.step_mm - 1e-9)))

    def at_most(self, most_mm: float) -> float:
        """The longest that is at most this long [mm]."""
        return float(max(length for length in self.sold_mm if length <= most_mm + 1e-9))

    def text(self, length_mm: float) -> str:
        """A length as the trade writes it: "10", or "3/8 in"."""
        if not self.inch:
            return f"{length_mm:g}"
        whole, part = divmod(round(16 * length_mm / _IN), 16)
        least = math.gcd(part, 16)
        fraction = f"{part // least}/{16 // least}" if part else ""
        return " ".join(word for word in (f"{whole}" if whole else "", fraction, "in") if word)


_SIXTEENTHS = (2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24, 28, 32, 36, 40, 44, 48)
METRIC = Lengths((5, 6, 8, 10, 12, 14, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80), 1.0)  # from memory
INCH = Lengths(tuple(n * _IN / 16 for n in _SIXTEENTHS), _IN / 4, inch=True)  # from memory


@dataclass(frozen=True)
class Screw:
    """One size of screw. All lengths [mm].

    diameter                : of the thread
    fine, medium, coarse    : clearance hole by series; of inch screws these are called close, normal, loose
    head, head_height       : countersunk head: diameter and height
    washer                  : outside of a plain washer
    nut_across, nut_height  : hexagon nut: across flats, height
    head_deg                : angle of the head's cone, tip to tip [deg]
    lengths                 : in which it is sold
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
    head_deg: float = METRIC_HEAD_DEG
    lengths: Lengths = METRIC

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
        cone = math.pi / 3 * self.head_height * (top * top + top * bottom + bottom * bottom)
        return float(STEEL_G_PER_MM3 * (cone + math.pi * r * r * (length_mm - self.head_height)))

    def bolt_g(self, length_mm: float) -> float:
        """The same with a hexagon head, as wide as the nut and 0.7 diameters high (ISO 4017, from memory) [g].

        length_mm : below the head [mm]
        """
        head = math.sqrt(0.75) * self.nut_across**2 * 0.7 * self.diameter
        return float(STEEL_G_PER_MM3 * (head + math.pi * (0.45 * self.diameter) ** 2 * length_mm))

    def length_with_nut(self, through_mm: float) -> float:
        """Length as sold of one that goes through so much, and then through a nut [mm]."""
        return self.lengths.at_least(through_mm + self.nut_height + BEYOND_NUT_MM)

    def countersink(self) -> str:
        """What its head wants countersunk: "5.5 mm", of 90 deg unless it says so."""
        return mm(self.head, significant=3) + f" at {self.head_deg:g} deg" * (self.head_deg != METRIC_HEAD_DEG)

    def countersink_mm3(self) -> float:
        """What a countersink for its head takes beside the clearance hole: a cone's frustum less a cylinder."""
        top, hole = self.head / 2, self.clearance() / 2
        deep = (top - hole) / math.tan(math.radians(self.head_deg / 2))
        return math.pi * deep * ((top * top + top * hole + hole * hole) / 3 - hole * hole)

    def nut_g(self) -> float:
        """A steel hexagon nut, from its shapes [g]."""
        hexagon = math.sqrt(0.75) * self.nut_across**2
        return float(STEEL_G_PER_MM3 * self.nut_height * (hexagon - math.pi / 4 * (0.95 * self.diameter) ** 2))


# Clearance: ISO 273 (read in a public copy). Washers: ISO 7089; nuts: ISO 4032, greatest height (second-hand copies).
# Countersunk heads: ISO 7046, greatest diameter and height as made (from memory).
_METRIC = {
    "M2": Screw(2.0, 2.2, 2.4, 2.6, 3.8, 1.2, 5.0, 4.0, 1.6),
    "M2.5": Screw(2.5, 2.7, 2.9, 3.1, 4.7, 1.5, 6.0, 5.0, 2.0),
    "M3": Screw(3.0, 3.2, 3.4, 3.6, 5.5, 1.65, 7.0, 5.5, 2.4),
    "M4": Screw(4.0, 4.3, 4.5, 4.8, 8.4, 2.7, 9.0, 7.0, 3.2),
    "M5": Screw(5.0, 5.3, 5.5, 5.8, 9.3, 2.7, 10.0, 8.0, 4.7),
    "M6": Screw(6.0, 6.4, 6.6, 7.0, 11.3, 3.3, 12.0, 10.0, 5.2),
    "M8": Screw(8.0, 8.4, 9.0, 10.0, 15.8, 4.65, 16.0, 13.0, 6.8),
}


def _inch(*inches: float) -> Screw:
    """A size whose figures are given in inches, in the order of `Screw`."""
    diameter, fine, medium, coarse, head, height, washer, across, nut = (figure * _IN for figure in inches)
    return Screw(diameter, fine, medium, coarse, head, height, washer, across, nut, INCH_HEAD_DEG, INCH)


# Diameter: 0.060 in and 0.013 in more for each number, exact. Clearance, ASME B18.2.8 close, normal, loose: as the
# tables of fasteners and of number drills in an open-source modelling package have it (read). Countersunk heads of
# 82 deg, ASME B18.6.3: greatest diameter, to a sharp edge, and height (from memory; checked against the cone, within
# 5 %). Washers, ASME B18.21.1 type A, the narrow ones (from memory). Nuts, ASME B18.6.3 machine screw nuts, greatest
# height (from memory). Threads of one diameter share their figures.
_NO_10 = _inch(0.190, 0.2055, 0.221, 0.238, 0.385, 0.116, 0.500, 0.375, 0.130)
_QUARTER = _inch(0.250, 17 / 64, 9 / 32, 19 / 64, 0.507, 0.153, 0.625, 0.4375, 0.193)
_INCH = {
    "#0-80": _inch(0.060, 0.067, 0.076, 0.094, 0.119, 0.035, 0.188, 0.15625, 0.050),
    "#1-72": _inch(0.073, 0.081, 0.089, 0.104, 0.146, 0.043, 0.188, 0.15625, 0.050),
    "#2-56": _inch(0.086, 0.094, 0.1015, 0.116, 0.172, 0.051, 0.250, 0.1875, 0.066),
    "#3-48": _inch(0.099, 0.1065, 0.116, 0.1285, 0.199, 0.059, 0.312, 0.1875, 0.066),
    "#4-40": _inch(0.112, 0.120, 0.1285, 0.144, 0.225, 0.067, 0.312, 0.250, 0.098),
    "#5-40": _inch(0.125, 9 / 64, 5 / 32, 11 / 64, 0.252, 0.075, 0.375, 0.3125, 0.114),
    "#6-32": _inch(0.138, 0.154, 0.1695, 0.185, 0.279, 0.083, 0.375, 0.3125, 0.114),
    "#8-32": _inch(0.164, 0.180, 0.196, 0.213, 0.332, 0.100, 0.438, 0.34375, 0.130),
    "#10-24": _NO_10,
    "#10-32": _NO_10,
    "1/4-20": _QUARTER,
    "1/4-28": _QUARTER,
    "5/16-18": _inch(0.3125, 21 / 64, 11 / 32, 23 / 64, 0.635, 0.191, 0.688, 0.5625, 0.225),
}
SCREWS = _METRIC | _INCH
