"""Ribs: webs with holes, their ligaments, what a rib bears on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.bar import rectangle_shear_mpa
from geomgen.strength.formulas.values import Values, array

OPEN_WEB = 0.6  # hole over height past which a web is a truss: from memory


@dataclass(frozen=True, eq=False)
class Ligaments:
    """A plate cut along a line: what is left between its edges and holes, from the line's start on.

    starts, ends : (n,) places along the line [mm]
    thickness    : of the plate [mm]
    """

    starts: FloatArray
    ends: FloatArray
    thickness: float

    @property
    def widths(self) -> FloatArray:
        """(n,) [mm]."""
        return self.ends - self.starts

    @property
    def area_mm2(self) -> float:
        """Of all together [mm2]."""
        return float(self.widths.sum()) * self.thickness

    @property
    def middle(self) -> float:
        """Where their centroid lies along the line [mm]; nan where nothing is left."""
        return float((self.widths * (self.starts + self.ends)).sum() / (2.0 * self.widths.sum()))

    @property
    def second_mm4(self) -> float:
        """Second moment of all as one body, in the plate's plane [mm4]."""
        from_middle = (self.ends - self.middle) ** 3 - (self.starts - self.middle) ** 3
        return float(from_middle.sum()) * self.thickness / 3.0

    @property
    def own_second_mm4(self) -> FloatArray:
        """(n,) second moment of each by itself, in the plate's plane [mm4]."""
        return self.thickness * self.widths**3 / 12.0

    @property
    def out_of_plane_mm4(self) -> float:
        """Second moment of all, bent out of the plate's plane [mm4]."""
        return float(self.widths.sum()) * self.thickness**3 / 12.0

    @property
    def section_mm3(self) -> float:
        """Section modulus of all as one body, in the plane, at the farther end [mm3]."""
        return self.second_mm4 / max(self.middle - float(self.starts[0]), float(self.ends[-1]) - self.middle)


def ligaments(
    plate: shapely.Geometry, start: tuple[float, float], end: tuple[float, float], thickness: float
) -> Ligaments:
    """What a straight cut leaves of a plate with holes.

    plate      : its shape [mm]
    start, end : of the cut; it reaches past the plate, or ends inside a ligament that then counts in part [mm]
    thickness  : of the plate [mm]
    source     : plane geometry
    """
    line = shapely.LineString((start, end))
    pieces = shapely.get_parts(shapely.intersection(plate, line))
    pieces = pieces[shapely.length(pieces) > 0.0]
    places = [np.sort(shapely.line_locate_point(line, shapely.points(shapely.get_coordinates(p)))) for p in pieces]
    spans = np.array(sorted((float(at[0]), float(at[-1])) for at in places)).reshape(-1, 2)
    return Ligaments(spans[:, 0], spans[:, 1], thickness)


def web_shear_mpa(force_n: Values, height: Values, thickness: Values, hole: Values = 0.0) -> FloatArray:
    """Greatest shear of a web where a hole leaves less of its height.

    force_n   : across it [N]
    height    : of the web [mm]
    thickness : [mm]
    hole      : height of the hole [mm]
    source    : closed form, 1.5 V / (t (h - D))
    """
    return rectangle_shear_mpa(force_n, thickness, array(height) - hole)


def hole_corner_mpa(force_n: Values, height: Values, thickness: Values, hole: Values) -> FloatArray:
    """Bending of the bridges above and below a round hole in a web.

    force_n   : across the web [N]
    height    : of the web [mm]
    thickness : [mm]
    hole      : diameter, in mid-height [mm]
    source    : Vierendeel, each bridge takes half over a square of .9 D high, .45 D wide: .1125 V D / (t a2 / 6),
                a = (h - .9 D) / 2; textbook, from memory
    """
    bridge = (array(height) - 0.9 * array(hole)) / 2.0
    return 0.1125 * array(force_n) * hole / (thickness * bridge**2 / 6.0)


def opening_corner_mpa(
    force_n: Values, length: Values, bridge: Values, thickness: Values, share: Values = 0.5
) -> FloatArray:
    """Bending of a bridge beside a long opening in a web, at the opening's ends.

    force_n   : across the web [N]
    length    : of the opening, along the web [mm]
    bridge    : height of the bridge [mm]
    thickness : [mm]
    share     : of the force that this bridge takes; by its stiffness [-]
    source    : Vierendeel, closed form, moment share V L / 2
    """
    return 6.0 * array(share) * force_n * length / 2.0 / (array(thickness) * array(bridge) ** 2)


def rib_bearing_mpa(force_n: Values, outside: Values, thickness: Values) -> FloatArray:
    """Pressure of a round tube on the hole of a rib, over its diameter; see `ring` for the tube itself.

    force_n   : [N]
    outside   : diameter of the tube [mm]
    thickness : of the rib [mm]
    source    : closed form, F / (D t)
    """
    return array(force_n) / (array(outside) * thickness)
