"""A mean line: the curve that a section's thickness is laid on either side of. Chord 1, y(0) = y(1) = 0."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial

from geomgen.arrays import FloatArray


@dataclass(frozen=True)
class MeanLine:
    """Two polynomials that meet in a tangent.

    joint : where they meet [chord]; None where one does for all
    fore  : y = fore[0] + fore[1] x + fore[2] x² + … ahead of the joint
    aft   : the same behind it
    """

    joint: float | None
    fore: tuple[float, ...]
    aft: tuple[float, ...]

    def at(self, x: FloatArray, aft: bool = False) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Height, slope and second derivative of one of the two polynomials, each (n,), at x (n,) [chord]."""
        y = np.array(self.aft if aft else self.fore)
        slope = polynomial.polyder(y)
        bend = polynomial.polyder(slope)
        height, way, turn = (np.asarray(polynomial.polyval(x, c), dtype=np.float64) for c in (y, slope, bend))
        return height, way, turn

    def slope(self, x: FloatArray) -> FloatArray:
        """Slope dy/dx at x (n,) [-]."""
        return np.where(x < (self.joint if self.joint is not None else 2.0), self.at(x)[1], self.at(x, aft=True)[1])


STRAIGHT = MeanLine(None, (0.0,), (0.0,))
