"""One placed section: its chord, its angle and where the feather axis runs through it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section.section import Section


@dataclass(frozen=True, eq=False)
class Station:
    """A section at one radius, in a frame of its own: x from nose to tail, y up, nose at (0, 0).

    r_mm      : distance from the rotor axis along the feather axis [mm]
    chord_mm  : chord [mm]
    angle_deg : chord line against that of the reference station, leading edge up positive [deg]
    section   : the section at chord 1
    axis_mm   : (2,) the feather axis in the station's own frame [mm]
    """

    r_mm: float
    chord_mm: float
    angle_deg: float
    section: Section
    axis_mm: tuple[float, float]

    def _basis(self) -> tuple[FloatArray, FloatArray]:
        """Forward and up of the station, each (2,) in the blade frame's (y, z)."""
        a = np.radians(self.angle_deg)
        return np.array([np.cos(a), np.sin(a)]), np.array([-np.sin(a), np.cos(a)])

    def to_blade(self, points: FloatArray) -> FloatArray:
        """(n, 2) points of the station's frame [mm] to (n, 3) of the blade frame [mm]."""
        points = np.atleast_2d(np.asarray(points, dtype=float)) - self.axis_mm
        forward, up = self._basis()
        yz = -points[:, :1] * forward + points[:, 1:] * up
        return np.column_stack([np.full(len(yz), self.r_mm), yz])

    def turned(self, second: FloatArray) -> FloatArray:
        """(3, 3) second moments in the blade frame of what has (2, 2) in the station's own [any]."""
        forward, up = self._basis()
        basis = np.zeros((3, 2))
        basis[1:, 0], basis[1:, 1] = -forward, up
        return np.asarray(basis @ second @ basis.T)

    def from_blade(self, points: FloatArray) -> FloatArray:
        """(n, 3) points of the blade frame [mm], seen along the feather axis, to (n, 2) of the station's frame [mm]."""
        yz = np.atleast_2d(np.asarray(points, dtype=float))[:, 1:]
        return self.directions_from_blade(yz) + self.axis_mm

    def directions_from_blade(self, yz: FloatArray) -> FloatArray:
        """(n, 2) directions (y, z) of the blade frame to (n, 2) of the station's frame."""
        forward, up = self._basis()
        yz = np.atleast_2d(np.asarray(yz, dtype=float))
        return np.column_stack([-(yz @ forward), yz @ up])

    def matrix(self) -> FloatArray:
        """4x4, the station's frame to the blade frame: x aft, y up, z towards the rotor axis (to the viewer)."""
        forward, up = self._basis()
        m = np.eye(4)
        m[:3, :3] = np.column_stack([[0.0, *-forward], [0.0, *up], [-1.0, 0.0, 0.0]])
        m[:3, 3] = self.to_blade(np.zeros((1, 2)))[0]
        return m

    def place(self, chord: float, height: str | float) -> tuple[float, float]:
        """A place by chord fraction and height, in the station's own frame [mm].

        chord  : fraction of the chord from the nose [-]
        height : "camber", "chord", or a height above the chord line [mm]
        """
        return chord * self.chord_mm, height_mm(self.section, self.chord_mm, chord, height)


def height_mm(section: Section, chord_mm: float, chord: float, height: str | float) -> float:
    """Height above the chord line that "camber", "chord" or a figure means at a chord fraction [mm]."""
    if height == "camber":
        return float(section.camber_y(chord)) * chord_mm
    return 0.0 if height == "chord" else float(height)
