"""Four sections that were measured at a model's Reynolds numbers: outlines, and single values quoted from the tables.

Lyon, Broeren, Giguere, Gopalarathnam and Selig, Summary of Low-Speed Airfoil Data, vol. 3, 1998. Slope is that of a
straight line through what was measured from 0 to 6 deg, the angle without lift is straight between its neighbours,
greatest lift is that before stall as the angle rises, and drag the least of its table.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

from geomgen.section.coordinates import section
from geomgen.section.listing import Origin, parse
from geomgen.section.polar.potential import PotentialFlow, potential_flow
from geomgen.section.section import Section

HERE = Path(__file__).parent


class Measured(NamedTuple):
    """What was measured of one section at one Reynolds number.

    section       : its name in measured_sections.csv
    reynolds      : of lift; that of drag is within 1 % [-]
    slope_per_rad : [1/rad]
    zero_lift_deg : [deg]
    greatest_lift : [-]
    drag          : least [-]
    """

    section: str
    reynolds: float
    slope_per_rad: float
    zero_lift_deg: float
    greatest_lift: float
    drag: float


MEASURED = (
    Measured("Clark-Y (B)", 60900, 6.51, -1.01, 1.250, 0.0232),
    Measured("Clark-Y (B)", 100700, 5.98, -1.90, 1.301, 0.0193),
    Measured("Clark-Y (B)", 201100, 5.48, -3.33, 1.325, 0.0105),
    Measured("Clark-Y (B)", 301500, 5.53, -3.33, 1.354, 0.0088),
    Measured("Clark-Y (B)", 401900, 5.54, -3.31, 1.350, 0.0074),
    Measured("E472", 101000, 5.28, -0.02, 0.738, 0.0122),
    Measured("E472", 202200, 6.02, -0.21, 1.083, 0.0102),
    Measured("E472", 303100, 6.14, -0.21, 1.250, 0.0102),
    Measured("E472", 403500, 6.26, -0.10, 1.272, 0.0098),
    Measured("E472", 504600, 6.20, 0.15, 1.297, 0.0093),
    Measured("BW-3", 60000, 8.00, -1.50, 1.317, 0.0218),
    Measured("BW-3", 100000, 6.82, -1.26, 1.350, 0.0181),
    Measured("BW-3", 200100, 5.67, -2.17, 1.413, 0.0149),
    Measured("BW-3", 299500, 5.86, -2.62, 1.440, 0.0129),
    Measured("BW-3", 399300, 5.80, -2.90, 1.441, 0.0121),
    Measured("PT-40 (A)", 100800, 5.27, -1.81, 1.224, 0.0167),
    Measured("PT-40 (A)", 201300, 5.47, -2.94, 1.267, 0.0119),
    Measured("PT-40 (A)", 302100, 5.39, -3.07, 1.342, 0.0113),
    Measured("PT-40 (A)", 402500, 5.45, -3.00, 1.349, 0.0117),
)
NAMES = tuple(dict.fromkeys(each.section for each in MEASURED))


def _points() -> Sequence[tuple[str, str, str]]:
    lines = (HERE / "measured_sections.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.reader(line for line in lines if not line.startswith("#"))
    return [(name, x, y) for name, x, y in rows][1:]


@cache
def shape(name: str) -> Section:
    """One of NAMES, as its points are read from any coordinate file."""
    text = "\n".join(f"{x} {y}" for each, x, y in _points() if each == name)
    origin = Origin("measured_sections.csv", "", "")
    return section(parse(text.encode(), origin), origin, name)


@cache
def flow(name: str) -> PotentialFlow:
    """Potential flow round one of NAMES."""
    return potential_flow(shape(name))
