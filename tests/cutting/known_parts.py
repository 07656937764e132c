"""Flat parts whose area and centroid are known in closed form, worked out here and not by the code under test."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from geomgen.model.part import Flat, Part, Text
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.plane.region import Region

COLOURS = {"inside": "red", "outside": "blue", "mark": "green", "reference": "grey"}
QUARTER = math.tan(math.pi / 8)  # bulge of a quarter circle


@dataclass(frozen=True)
class Known:
    """A loop with its area [mm2] and centroid [mm]."""

    loop: Loop
    area: float
    centroid: tuple[float, float]


def circle(x: float, y: float, radius: float) -> Known:
    return Known(Circle((x, y), radius), math.pi * radius**2, (x, y))


def obround(x: float, y: float, long: float, wide: float) -> Known:
    """Two half circles and two lines, along x."""
    a, r = 0.5 * (long - wide), 0.5 * wide
    xy = np.array([(x - a, y - r), (x + a, y - r), (x + a, y + r), (x - a, y + r)])
    return Known(Path(xy, np.array([0.0, 1.0, 0.0, 1.0]), True), 2 * a * wide + math.pi * r**2, (x, y))


def slot(x: float, y: float, wide: float, high: float) -> Known:
    xy = np.array([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)])
    return Known(from_points(xy, closed=True), wide * high, (x + 0.5 * wide, y + 0.5 * high))


def bitten_plate() -> Known:
    """A plate of 160 x 60 with corners of radius 12, and a half circle of radius 10 bitten out of its upper edge.

    source : corners and a half disc taken from a rectangle; centroid of a half disc 4 r / 3 pi from its straight side
    """
    w, h, r, bite, at = 160.0, 60.0, 12.0, 10.0, 110.0
    xy = [
        (r, 0),
        (w - r, 0),
        (w, r),
        (w, h - r),
        (w - r, h),
        (at + bite, h),
        (at - bite, h),
        (r, h),
        (0, h - r),
        (0, r),
    ]
    bulge = [0, QUARTER, 0, QUARTER, 0, -1, 0, QUARTER, 0, QUARTER]
    plate, disc = w * h - (4 - math.pi) * r**2, 0.5 * math.pi * bite**2
    area = plate - disc
    x = (plate * w / 2 - disc * at) / area
    y = (plate * h / 2 - disc * (h - 4 * bite / (3 * math.pi))) / area
    return Known(Path(np.array(xy, float), np.array(bulge, float), True), area, (x, y))


OUTER = bitten_plate()
HOLES = (circle(30, 30, 5.05), circle(52.5, 31.25, 4.5), obround(80, 20, 18, 6), slot(130, 22, 3.1, 6.2))


def known_part(name: str = "rib R3", assembly: str = "blade", stock: str = "balsa_3") -> Part:
    flat = Flat(
        region=Region(OUTER.loop, tuple(hole.loop for hole in HOLES)),
        thickness_mm=3.0,
        marks=(from_points([(20.0, 50.0), (40.0, 50.0)], closed=False),),
        texts=(Text("R3 r 200", (60.0, 48.0), 4.0),),
        reference=(from_points([(0.0, 30.0), (160.0, 30.0)], closed=False),),
        face="root side",
    )
    return Part(
        name, "rib", stock, "blade.ribs.rest", flat, assembly, 1, np.array([[1.0, 200.0, 0.0, 0.0]]), r_mm=200.0
    )


def net_area_and_centroid() -> tuple[float, tuple[float, float]]:
    """Of the plate less its holes."""
    area = OUTER.area - sum(hole.area for hole in HOLES)
    first = [OUTER.area * OUTER.centroid[i] - sum(hole.area * hole.centroid[i] for hole in HOLES) for i in (0, 1)]
    return area, (first[0] / area, first[1] / area)
