"""Holes and slots that spars and channels need in a rib."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.plane.arcs import ellipse, rectangle
from geomgen.plane.path import Circle, Loop
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]


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


def askew_mm(diameter_mm: float, slope: float, thickness_mm: float) -> float:
    """How much longer a square-cut hole must be where something round passes askew [mm].

    diameter_mm  : diameter of the round thing [mm]
    slope        : tangent of its angle to the rib's normal [-]
    thickness_mm : thickness of the rib [mm]
    source       : geometry: the cylinder's cut is d/cos(a) long, and it moves by t·tan(a) from face to face
    """
    return diameter_mm * (float(np.hypot(1.0, slope)) - 1.0) + thickness_mm * slope


def round_hole(
    station: Station, route: Route, diameter_mm: float, thickness_mm: float, tol: Tolerances
) -> tuple[Loop, str]:
    """The hole of something round, and what to say of it ("" for a plain circle).

    A hole met askew by more than `tol.askew_mm` is an ellipse, long in the direction of the slope. The thing's shadow
    through both faces is a little fuller than that, by a tenth of t·tan(a): the fit takes it up.
    """
    (x, y), slope = route.in_station(station)
    steep = float(np.hypot(*slope))
    longer = askew_mm(diameter_mm, steep, thickness_mm)
    if longer <= tol.askew_mm:
        return Circle((float(x), float(y)), diameter_mm / 2), ""
    turn = float(np.degrees(np.arctan2(slope[1], slope[0])))
    loop = ellipse((float(x), float(y)), (diameter_mm + longer) / 2, diameter_mm / 2, turn, tol)
    return loop, f"{route.path} passes askew: its hole is an ellipse {diameter_mm + longer:.2f} x {diameter_mm:.2f} mm"


def slot(
    station: Station, route: Route, size_mm: tuple[float, float], thickness_mm: float, tol: Tolerances
) -> tuple[Loop, str]:
    """The slot of a straight rectangular strip, and what to say of it ("" where it is met squarely).

    A strip keeps one direction in space, that of the chord line at the reference pitch, while the blade twists. Met
    askew by more than `tol.askew_mm`, its slot is that much longer along its own sides.

    size_mm : (along the chord, across it) of the strip with its fit [mm]
    """
    (x, y), _ = route.in_station(station)
    longer = np.array([askew_mm(s, abs(float(m)), thickness_mm) for s, m in zip(size_mm, route.slope, strict=True)])
    longer[longer <= tol.askew_mm] = 0.0
    width, height = (float(value) for value in size_mm + longer)
    # Seen with the nose at the left, leading edge up is clockwise: the strip turns by the angle it did not follow.
    loop = rectangle((float(x), float(y)), width, height, station.angle_deg)
    return loop, f"{route.path} passes askew: its slot is {width:.2f} x {height:.2f} mm" if longer.any() else ""
