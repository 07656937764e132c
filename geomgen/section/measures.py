"""What a section measures: area, centroid, perimeter, thickness, camber, nose radius, second moments. Chord 1."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial

from geomgen.arrays import FloatArray
from geomgen.section import hermite
from geomgen.section.section import Section, Surface

_NOSE_SAMPLES = 9  # from the nose along each surface, for its radius


@dataclass(frozen=True)
class Measures:
    """Figures of a section; multiply by the chord and its powers.

    area        : [chord²]
    centroid    : (x, y) [chord]
    perimeter   : both surfaces, without the edge of an open tail [chord]
    thickness   : greatest depth square to the chord line [chord]
    thickness_x : where it is [chord]
    camber      : height of the line midway between the surfaces, where it is farthest from the chord line, with its
                  sign [chord]
    camber_x    : where that is [chord]; 0 where there is no camber
    nose_radius : [chord]; 0 where the nose is sharp
    ixx         : ∫ y² dA about the centroid [chord⁴]
    iyy         : ∫ x² dA about the centroid [chord⁴]
    ixy         : ∫ x y dA about the centroid [chord⁴]
    """

    area: float
    centroid: tuple[float, float]
    perimeter: float
    thickness: float
    thickness_x: float
    camber: float
    camber_x: float
    nose_radius: float
    ixx: float
    iyy: float
    ixy: float


def measures(section: Section) -> Measures:
    """All figures of a section.

    source : area and moments by Green's theorem over the surfaces, exact for the cubic stretches that make them up
    """
    area, mx, my, ixx, iyy, ixy = _moments(section)
    x, y = my / area, mx / area
    thickness, thickness_x = _greatest(section.depth)
    height, camber_x = _greatest(lambda at: np.abs(section.camber_y(at)))
    return Measures(
        area=area,
        centroid=(x, y),
        perimeter=section.upper.length + section.lower.length,
        thickness=thickness,
        thickness_x=thickness_x,
        camber=float(np.copysign(height, section.camber_y(camber_x))) if height > 1e-9 else 0.0,
        camber_x=camber_x if height > 1e-9 else 0.0,
        nose_radius=nose_radius(section),
        ixx=ixx - area * y * y,
        iyy=iyy - area * x * x,
        ixy=ixy - area * x * y,
    )


def nose_radius(section: Section) -> float:
    """Radius of curvature at the nose, the mean of both surfaces' [chord]; 0 where the nose is sharp."""
    if not section.round_nose:
        return 0.0
    bends = [abs(_bend_at_nose(surface)) for surface in (section.upper, section.lower)]
    return 2.0 / sum(bends)


def _bend_at_nose(surface: Surface) -> float:
    """Curvature at the nose: twice the first term of depth = a·width² + b·width³ + … off the nose's own tangent."""
    ahead, points = surface.tangent[0], surface.xy[1:_NOSE_SAMPLES]
    width, depth = points @ ahead, points @ np.array([ahead[1], -ahead[0]])
    return float(2.0 * polynomial.polyfit(width, depth / width**2, 3)[0])


def _moments(section: Section) -> FloatArray:
    """(6,) area, ∫y, ∫x, ∫y², ∫x², ∫xy about the nose."""
    ends = np.array([section.lower.xy[-1], section.upper.xy[-1]])
    edge = ends[1] - ends[0]
    way = edge / np.hypot(*edge) if section.tail_gap else np.array([0.0, 1.0])
    found: FloatArray = (
        _along(section.lower.xy, section.lower.tangent)
        - _along(section.upper.xy, section.upper.tangent)
        + _along(ends, np.array([way, way]))
    )
    return found


def _along(xy: FloatArray, tangent: FloatArray) -> FloatArray:
    """(6,) the loop integrals of area, ∫y, ∫x, ∫y², ∫x², ∫xy along one curve."""
    step = hermite.steps(xy, tangent)
    kept = np.flatnonzero(step > 0.0)
    node, weight = np.polynomial.legendre.leggauss(6)  # exact to degree 11, which ∫y³ dx of a cubic is
    i = np.repeat(kept, len(node))
    share, factor = np.tile(0.5 * (node + 1.0), len(kept)), np.tile(0.5 * weight, len(kept)) * step[i]
    point, speed = hermite.between((xy[i], xy[i + 1]), (tangent[i], tangent[i + 1]), step[i], share)
    x, y = point.T
    dx, dy = (speed * factor[:, None]).T
    return np.array(
        [
            np.sum(x * dy - y * dx) / 2.0,
            -np.sum(y * y * dx) / 2.0,
            np.sum(x * x * dy) / 2.0,
            -np.sum(y**3 * dx) / 3.0,
            np.sum(x**3 * dy) / 3.0,
            np.sum(x * x * y * dy) / 2.0,
        ]
    )


def _greatest(height: Callable[[FloatArray], FloatArray]) -> tuple[float, float]:
    """The greatest value of a smooth function of x over the chord, and where: a grid narrowed three times."""
    low, high = 0.0, 1.0
    for _ in range(4):
        x = np.linspace(low, high, 101)
        values = height(x)
        i = int(np.argmax(values))
        low, high = x[max(i - 1, 0)], x[min(i + 1, 100)]
    return float(values[i]), float(x[i])
