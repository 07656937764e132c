"""Holes and slots that spars and channels need in a rib."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.figures import mm
from geomgen.plane.arcs import ellipse, rectangle
from geomgen.plane.path import Circle, Loop
from geomgen.tolerances import Tolerances

QUARTER = 32  # chords in a quarter of something round


@dataclass(frozen=True)
class Opening:
    """A hole in a rib.

    path     : key path of what asked for it
    loop     : in the station's frame
    straight : whether it runs straight along the blade, and so through what is glued to the rib too
    """

    path: str
    loop: Loop
    straight: bool = False


def disc(at: FloatArray, diameter_mm: float) -> shapely.Polygon:
    """Something round as a polygon. at : (2,) its middle [mm]"""
    return shapely.Point(at).buffer(diameter_mm / 2, quad_segs=QUARTER)


def askew_mm(diameter_mm: float, slope: float, thickness_mm: float) -> float:
    """How much longer a square-cut hole must be where something round passes askew [mm].

    diameter_mm  : diameter of the round thing [mm]
    slope        : tangent of its angle to the rib's normal [-]
    thickness_mm : thickness of the rib [mm]
    source       : geometry: the cylinder's cut is d/cos(a) long, and it moves by t·tan(a) from face to face
    """
    return diameter_mm * (float(np.hypot(1.0, slope)) - 1.0) + thickness_mm * slope


def widened(width_mm: float, slope: float, through_mm: float, tol: Tolerances) -> float:
    """Width of a square-cut hole, notch or slot, more where what lies in it passes askew by more than is let be [mm].

    width_mm   : of what lies in it, fit included [mm]
    slope      : tangent of its angle to the normal of what is cut, along the width; of either sign [-]
    through_mm : thickness of what is cut [mm]
    """
    longer = askew_mm(width_mm, abs(slope), through_mm)
    return width_mm + (longer if longer > tol.askew_mm else 0.0)


def round_hole(
    station: Station, route: Route, diameter_mm: float, thickness_mm: float, tol: Tolerances
) -> tuple[Loop, str]:
    """The hole of something round, and what to say of it ("" for a plain circle).

    A hole met askew by more than `tol.askew_mm` is an ellipse, long in the direction of the slope. The thing's shadow
    through both faces is a little fuller than that, by a tenth of t·tan(a): the fit takes it up.
    """
    (x, y), slope = route.in_station(station)
    long = widened(diameter_mm, float(np.hypot(*slope)), thickness_mm, tol)
    if long == diameter_mm:
        return Circle((float(x), float(y)), diameter_mm / 2), ""
    turn = float(np.degrees(np.arctan2(slope[1], slope[0])))
    loop = ellipse((float(x), float(y)), long / 2, diameter_mm / 2, turn, tol)
    return loop, f"{route.path} passes askew: its hole is an ellipse {mm((long, diameter_mm), 2, ' x ')}"


def slot(
    station: Station, route: Route, size_mm: tuple[float, float], thickness_mm: float, tol: Tolerances
) -> tuple[Loop, str]:
    """The slot of a straight rectangular strip, and what to say of it ("" where it is met squarely).

    A strip keeps one direction in space, that of the chord line at the reference pitch, while the blade twists. Met
    askew by more than `tol.askew_mm`, its slot is that much longer along its own sides.

    size_mm : (along the chord, across it) of the strip with its fit [mm]
    """
    (x, y), _ = route.in_station(station)
    width, height = (widened(s, float(m), thickness_mm, tol) for s, m in zip(size_mm, route.slope, strict=True))
    # Seen with the nose at the left, leading edge up is clockwise: the strip turns by the angle it did not follow.
    loop = rectangle((float(x), float(y)), width, height, station.angle_deg)
    askew = (width, height) != size_mm
    return loop, f"{route.path} passes askew: its slot is {mm((width, height), 2, ' x ')}" if askew else ""
