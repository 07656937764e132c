"""The one converter between frames: blade frame to rotor frame.

Rotor frame: Z up along the rotor axis, blade 1 along +X, origin where the feather axes meet the rotor axis.
Blade frame: x out along the feather axis from the rotor axis, y forward (towards the leading edge), z up,
    at the reference pitch, in which the chord line at `zero_at` lies level. Always that of the anticlockwise twin.
Pitch turns the blade about its x axis, leading edge up. Coning lifts the x axis. Then the blade is turned
    about Z to its azimuth: blade k stands at (k - 1) 360 / N deg, anticlockwise seen from above, so that in an
    anticlockwise rotor the leading edge of blade 1 faces +Y.
A clockwise craft is the mirror image (y -> -y in the rotor frame) of its anticlockwise twin, order of blades
    included: blade 2 of three stands at -120 deg, and the leading edge of blade 1 faces -Y.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray


def blade_to_rotor(
    number: int, blades: int, pitch_deg: float = 0.0, coning_deg: float = 0.0, clockwise: bool = False
) -> FloatArray:
    """Matrix from the blade frame to the rotor frame.

    number     : which blade, 1 .. blades [-]
    blades     : blades of the craft [-], >= 1
    pitch_deg  : pitch from the reference pitch, + leading edge up [deg]
    coning_deg : angle of the feather axis above level [deg]
    clockwise  : mirrored last, determinant -1
    returns    : (4, 4)
    """
    azimuth_deg = 360.0 * (number - 1) / blades
    placed = turn("z", azimuth_deg) @ turn("y", -coning_deg) @ turn("x", pitch_deg)
    return hub_to_rotor(clockwise) @ placed


def blades_to_rotor(
    blades: int, pitch_deg: float = 0.0, coning_deg: float = 0.0, clockwise: bool = False
) -> list[FloatArray]:
    """`blade_to_rotor` of every blade, in order."""
    return [blade_to_rotor(number, blades, pitch_deg, coning_deg, clockwise) for number in range(1, blades + 1)]


def hub_to_rotor(clockwise: bool = False) -> FloatArray:
    """Matrix for what sits on the hub, given in the rotor frame of the anticlockwise twin.

    clockwise : the mirror y -> -y; else nothing changes
    returns   : (4, 4)
    """
    return np.diag((1.0, -1.0 if clockwise else 1.0, 1.0, 1.0))


def turn(axis: str, angle_deg: float) -> FloatArray:
    """Right-handed turn about one axis through the origin.

    axis      : "x", "y" or "z"
    angle_deg : about x positive takes +y to +z; about y, +z to +x; about z, +x to +y [deg]
    returns   : (4, 4)
    """
    second, third = {"x": (1, 2), "y": (2, 0), "z": (0, 1)}[axis]
    angle = np.radians(angle_deg)
    matrix = np.eye(4)
    matrix[[second, third], [second, third]] = np.cos(angle)
    matrix[third, second], matrix[second, third] = np.sin(angle), -np.sin(angle)
    return matrix


def shift(by: Iterable[float]) -> FloatArray:
    """Matrix that moves by (x, y, z) [mm]; returns (4, 4)."""
    matrix = np.eye(4)
    matrix[:3, 3] = tuple(by)
    return matrix


def applied(matrix: FloatArray, points: ArrayLike) -> FloatArray:
    """Points taken through a matrix.

    matrix  : (4, 4) rigid motion or mirror
    points  : (n, 3) or (3,) [mm]
    returns : same shape [mm]
    """
    xyz = np.asarray(points, dtype=np.float64)
    return np.asarray(xyz @ matrix[:3, :3].T + matrix[:3, 3], dtype=np.float64)
