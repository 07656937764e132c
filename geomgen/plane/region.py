"""A region: one outline with holes in it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.path import Bounds, Loop, Path
from geomgen.plane.segments import Moments


@dataclass(frozen=True, eq=False)
class Region:
    """What an outline encloses, less its holes. The direction of the loops does not matter.

    outer  : closed outline [mm]
    holes  : closed loops inside it that don't meet it or one another [mm]; not checked here, see `to_shapely`
    raises : ValueError on an open loop
    """

    outer: Loop
    holes: tuple[Loop, ...] = ()

    def __post_init__(self) -> None:
        object.__setattr__(self, "holes", tuple(self.holes))
        if any(isinstance(loop, Path) and not loop.closed for loop in self.loops()):
            raise ValueError("a region is bounded by closed loops")

    def loops(self) -> tuple[Loop, ...]:
        """The outline, then the holes."""
        return self.outer, *self.holes

    def moments(self) -> Moments:
        """Integrals over the region, holes taken away."""
        total = _positive(self.outer.moments())
        for hole in self.holes:
            total = total.plus(_positive(hole.moments()), -1.0)
        return total

    def length(self) -> float:
        """Length of all edges, outline and holes [mm]."""
        return sum(loop.length() for loop in self.loops())

    def area(self) -> float:
        """Area [mm2]."""
        return abs(self.outer.area()) - sum(abs(hole.area()) for hole in self.holes)

    def centroid(self) -> tuple[float, float]:
        """Centroid [mm]."""
        m = self.moments()
        return m.first[0] / m.area, m.first[1] / m.area

    def second_moments(self) -> tuple[float, float, float]:
        """Ixx = integral of y², Iyy of x², Ixy of x·y about the origin [mm4]."""
        m = self.moments()
        return m.yy, m.xx, m.xy

    def covariance(self) -> FloatArray:
        """(2, 2) mean of place times place about the centroid [mm2]."""
        m = self.moments()
        centre = np.array(m.first) / m.area
        return np.asarray(np.array([[m.xx, m.xy], [m.xy, m.yy]]) / m.area - np.outer(centre, centre))

    def bounds(self) -> Bounds:
        """Least x, least y, greatest x, greatest y of the outline [mm]."""
        return self.outer.bounds()

    def transformed(self, matrix: ArrayLike) -> Region:
        """Moved by a (3, 3) matrix that keeps shapes: turns, shifts, mirrors, even scaling."""
        return Region(self.outer.transformed(matrix), tuple(hole.transformed(matrix) for hole in self.holes))

    def moved(self, dx: float, dy: float) -> Region:
        """Shifted by dx, dy [mm]."""
        return Region(self.outer.moved(dx, dy), tuple(hole.moved(dx, dy) for hole in self.holes))

    def turned(self, deg: float, about: tuple[float, float] = (0.0, 0.0)) -> Region:
        """Turned anticlockwise by `deg` about a point [mm]."""
        return Region(self.outer.turned(deg, about), tuple(hole.turned(deg, about) for hole in self.holes))

    def mirrored_x(self) -> Region:
        """Mirrored in the y axis: x becomes -x."""
        return Region(self.outer.mirrored_x(), tuple(hole.mirrored_x() for hole in self.holes))

    def to_shapely(self, tol_mm: float) -> shapely.Polygon:
        """The region with its arcs as chords within `tol_mm` of them: to ask shapely, not to cut. Not repaired."""
        return shapely.Polygon(self.outer.flattened(tol_mm), [hole.flattened(tol_mm) for hole in self.holes])


def _positive(m: Moments) -> Moments:
    return m if m.area >= 0.0 else Moments(0.0, (0.0, 0.0), 0.0, 0.0, 0.0).plus(m, -1.0)
