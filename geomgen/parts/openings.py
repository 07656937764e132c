"""Holes and slots that spars and channels need in a rib."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.plane.arcs import ellipse, rectangle
from geomgen.plane.path import Circle, Loop
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]


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


def slot(station: Station, route: Route, width_mm: float, height_mm: float, at_angle_deg: float) -> Loop:
    """The slot of a straight rectangular strip, which keeps its own direction in space while the blade twists.

    width_mm     : along the chord [mm]
    height_mm    : across it [mm]
    at_angle_deg : angle of the station along whose chord line the strip lies [deg]
    """
    (x, y), _ = route.in_station(station)
    # Seen with the nose at the left, leading edge up is clockwise: the strip turns by the angle it did not follow.
    return rectangle((float(x), float(y)), width_mm, height_mm, station.angle_deg - at_angle_deg)
