"""A path of lines and arcs, and a circle: what every flat part is drawn with.

Areas, centroids, moments, lengths and bounds are closed forms, arcs included; nothing is flattened to measure it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.segments import Moments, Segments

Bounds = tuple[float, float, float, float]

_RIGID = 1e-9  # how far a matrix may be from a similarity, relative to its scale


@dataclass(frozen=True, eq=False)
class Path:
    """Lines and arcs end to end.

    xy     : (n, 2) vertices [mm]
    bulge  : (n,) tan(included angle / 4) of the segment from vertex i to i + 1, + = anticlockwise [-];
             the last one closes a closed path and is ignored in an open one
    closed : whether the last vertex runs back to the first, which is not repeated
    raises : ValueError on wrong shapes or figures that are not finite
    """

    xy: FloatArray
    bulge: FloatArray
    closed: bool

    def __post_init__(self) -> None:
        xy = np.array(self.xy, dtype=np.float64)
        bulge = np.array(self.bulge, dtype=np.float64)
        if xy.ndim != 2 or xy.shape[1] != 2 or len(xy) < 2 or bulge.shape != (len(xy),):
            raise ValueError(f"a path needs (n, 2) vertices, n >= 2, and (n,) bulges, not {xy.shape} and {bulge.shape}")
        if not (np.isfinite(xy).all() and np.isfinite(bulge).all()):
            raise ValueError("a path's vertices and bulges must be finite")
        xy.setflags(write=False)
        bulge.setflags(write=False)
        object.__setattr__(self, "xy", xy)
        object.__setattr__(self, "bulge", bulge)

    @classmethod
    def trusted(cls, xy: FloatArray, bulge: FloatArray, closed: bool) -> Path:
        """A path of arrays known to be right, which it makes its own: neither copied nor checked."""
        path = object.__new__(cls)
        xy.setflags(write=False)
        bulge.setflags(write=False)
        path.__dict__.update(xy=xy, bulge=bulge, closed=closed)
        return path

    def segments(self) -> Segments:
        """Start, end and bulge of each line and arc, one row each."""
        return self._segments

    @cached_property
    def _segments(self) -> Segments:
        if self.closed:
            return Segments(self.xy, np.roll(self.xy, -1, axis=0), self.bulge)
        return Segments(self.xy[:-1], self.xy[1:], self.bulge[:-1])

    def moments(self) -> Moments:
        """Signed integrals over what the path encloses; an open path is closed by a straight line."""
        return self._moments

    @cached_property
    def _moments(self) -> Moments:
        ring = self.segments() if self.closed else self.closed_by_line().segments()
        return ring.moments()

    def length(self) -> float:
        """Length along lines and arcs [mm]."""
        return float(self.segments().lengths().sum())

    def area(self) -> float:
        """Area enclosed, positive anticlockwise [mm2]."""
        return self.moments().area

    def centroid(self) -> tuple[float, float]:
        """Centroid of the area enclosed [mm]."""
        m = self.moments()
        return m.first[0] / m.area, m.first[1] / m.area

    def second_moments(self) -> tuple[float, float, float]:
        """Ixx = integral of y², Iyy of x², Ixy of x·y about the origin, of the area taken as positive [mm4]."""
        return _second_moments(self.moments())

    def bounds(self) -> Bounds:
        """Least x, least y, greatest x, greatest y, arcs included [mm]."""
        if not self.bulge.any():  # straight all along, as most marks are
            (x0, y0), (x1, y1) = self.xy.min(axis=0).tolist(), self.xy.max(axis=0).tolist()
            return x0, y0, x1, y1
        return self.segments().bounds()

    def transformed(self, matrix: ArrayLike) -> Path:
        """Moved by a (3, 3) matrix that keeps shapes: turns, shifts, mirrors, even scaling."""
        m, _, sign = _similarity(matrix)
        return Path(self.xy @ m[:2, :2].T + m[:2, 2], self.bulge * sign, self.closed)

    def moved(self, dx: float, dy: float) -> Path:
        """Shifted by dx, dy [mm]."""
        return Path.trusted(self.xy + np.array((dx, dy)), self.bulge, self.closed)

    def turned(self, deg: float, about: tuple[float, float] = (0.0, 0.0)) -> Path:
        """Turned anticlockwise by `deg` about a point [mm]."""
        return self.transformed(turning(deg, about))

    def mirrored_x(self) -> Path:
        """Mirrored in the y axis: x becomes -x."""
        return Path(self.xy * (-1.0, 1.0), -self.bulge, self.closed)

    def reversed(self) -> Path:
        """The same path gone the other way, from the same first vertex if closed."""
        if self.closed:
            return Path(np.roll(self.xy[::-1], 1, axis=0), -self.bulge[::-1], True)
        return Path(self.xy[::-1], np.append(-self.bulge[-2::-1], 0.0), False)

    def flattened(self, tol_mm: float) -> FloatArray:
        """(m, 2) points on the path whose chords are within `tol_mm` of its arcs; first not repeated if closed."""
        points, _ = self.segments().flattened(tol_mm)
        return points if self.closed else np.vstack((points, self.xy[-1:]))

    def closed_by_line(self) -> Path:
        """The closed path that a straight line makes of an open one (itself if closed already)."""
        if self.closed:
            return self
        bulge = np.append(self.bulge[:-1], 0.0)
        if len(self.xy) > 2 and bool((self.xy[0] == self.xy[-1]).all()):
            return Path(self.xy[:-1], bulge[:-1], True)
        return Path(self.xy, bulge, True)


@dataclass(frozen=True)
class Circle:
    """A full circle.

    center : (2,) [mm]
    radius : > 0 [mm]
    raises : ValueError on a radius that is not greater than 0, or figures that are not finite
    """

    center: tuple[float, float]
    radius: float

    def __post_init__(self) -> None:
        x, y = (float(v) for v in self.center)
        radius = float(self.radius)
        if not (np.isfinite((x, y, radius)).all() and radius > 0.0):
            raise ValueError(f"a circle needs a finite centre and a radius > 0, not {self.center} and {self.radius}")
        object.__setattr__(self, "center", (x, y))
        object.__setattr__(self, "radius", radius)

    def length(self) -> float:
        """Circumference [mm]."""
        return 2.0 * float(np.pi) * self.radius

    def area(self) -> float:
        """Area, always positive [mm2]."""
        return float(np.pi) * self.radius**2

    def centroid(self) -> tuple[float, float]:
        """Its centre [mm]."""
        return self.center

    def moments(self) -> Moments:
        """Integrals over the disc."""
        (x, y), area = self.center, self.area()
        own = 0.25 * area * self.radius**2
        return Moments(area, (area * x, area * y), own + area * x * x, own + area * y * y, area * x * y)

    def second_moments(self) -> tuple[float, float, float]:
        """Ixx = integral of y², Iyy of x², Ixy of x·y about the origin [mm4]."""
        return _second_moments(self.moments())

    def bounds(self) -> Bounds:
        """Least x, least y, greatest x, greatest y [mm]."""
        (x, y), r = self.center, self.radius
        return x - r, y - r, x + r, y + r

    def transformed(self, matrix: ArrayLike) -> Circle:
        """Moved by a (3, 3) matrix that keeps shapes: turns, shifts, mirrors, even scaling."""
        m, scale, _ = _similarity(matrix)
        x, y = m[:2, :2] @ self.center + m[:2, 2]
        return Circle((x, y), self.radius * scale)

    def moved(self, dx: float, dy: float) -> Circle:
        """Shifted by dx, dy [mm]."""
        return Circle((self.center[0] + dx, self.center[1] + dy), self.radius)

    def turned(self, deg: float, about: tuple[float, float] = (0.0, 0.0)) -> Circle:
        """Turned anticlockwise by `deg` about a point [mm]."""
        return self.transformed(turning(deg, about))

    def mirrored_x(self) -> Circle:
        """Mirrored in the y axis: x becomes -x."""
        return Circle((-self.center[0], self.center[1]), self.radius)

    def reversed(self) -> Circle:
        """Itself: a circle has no direction."""
        return self

    def flattened(self, tol_mm: float) -> FloatArray:
        """(m, 2) corners of a polygon on the circle, anticlockwise, its sides within `tol_mm` of it."""
        return self.as_path().flattened(tol_mm)

    def as_path(self) -> Path:
        """The same circle as two half arcs, anticlockwise."""
        (x, y), r = self.center, self.radius
        return Path(np.array([(x + r, y), (x - r, y)]), np.ones(2), True)


Loop = Path | Circle


def from_points(xy: ArrayLike, closed: bool) -> Path:
    """A path of straight lines through (n, 2) points [mm]; a closed one's first point is not to be repeated."""
    points = np.asarray(xy, dtype=np.float64)
    return Path(points, np.zeros(len(points)), closed)


def turning(deg: float, about: tuple[float, float] = (0.0, 0.0)) -> FloatArray:
    """(3, 3) matrix that turns anticlockwise by `deg` about a point [mm]."""
    c, s = np.cos(np.radians(deg)), np.sin(np.radians(deg))
    x, y = about
    return np.array([[c, -s, x - c * x + s * y], [s, c, y - s * x - c * y], [0.0, 0.0, 1.0]])


def _similarity(matrix: ArrayLike) -> tuple[FloatArray, float, float]:
    """The matrix, its scale and the sign of its determinant; ValueError where it would bend an arc."""
    m = np.asarray(matrix, dtype=np.float64)
    last = m[2].tolist() if m.shape == (3, 3) else ()
    if not last or not all(abs(x - y) <= _RIGID for x, y in zip(last, (0.0, 0.0, 1.0), strict=True)):
        raise ValueError("a plane transform is a (3, 3) matrix with the last row 0 0 1")
    (a, b), (c, d) = m[:2, :2].tolist()
    det = a * d - b * c
    within = _RIGID * abs(det)
    if not abs(det) > 0.0 or not all(
        abs(x) <= within for x in (a * a + b * b - abs(det), c * c + d * d - abs(det), a * c + b * d)
    ):
        raise ValueError("a path of arcs can be turned, shifted, mirrored and scaled evenly, not sheared or squashed")
    return m, math.sqrt(abs(det)), math.copysign(1.0, det)


def _second_moments(m: Moments) -> tuple[float, float, float]:
    sign = 1.0 if m.area >= 0.0 else -1.0
    return sign * m.yy, sign * m.xx, sign * m.xy
