"""Published mean lines: the curve that a section's thickness is laid on either side of. Chord 1, y(0) = y(1) = 0.

The equations and constants of the reports named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


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

# Position digit -> (r, k1) of the simple five-digit mean lines at a design lift coefficient of 0.3.
SIMPLE = {1: (0.0580, 361.4), 2: (0.1260, 51.64), 3: (0.2025, 15.957), 4: (0.2900, 6.643), 5: (0.3910, 3.230)}
# Position digit -> (r, k1, k2/k1) of the reflexed ones. k1 as printed. r and k2/k1 are solved from the report's own two
# conditions, greatest height at a twentieth of the chord times the digit and no moment about the quarter chord: the
# printed figures in `PRINTED` leave a moment of up to 0.0013. The lines differ by less than 0.0003 of the chord.
REFLEXED = {
    2: (0.130750, 51.990, 0.0009157),
    3: (0.216015, 15.793, 0.0062134),
    4: (0.317919, 6.520, 0.0301952),
    5: (0.440830, 3.191, 0.1348777),
}
PRINTED = {
    2: (0.1300, 51.990, 0.000764),
    3: (0.2170, 15.793, 0.00677),
    4: (0.3180, 6.520, 0.0303),
    5: (0.4410, 3.191, 0.1355),
}


def four_digit(camber: float, position: float) -> MeanLine:
    """Two parabolas that meet at the greatest height.

    camber   : greatest height m [chord]
    position : where it is, p [chord], 0 < p < 1
    source   : NACA Report 460 (Jacobs, Ward, Pinkerton 1933), mean-line equations:
               y = m/p² (2px - x²) ahead of p, y = m/(1 - p)² ((1 - 2p) + 2px - x²) behind it
    """
    if camber == 0.0:
        return STRAIGHT
    m, p = camber, position
    fore, aft = m / p**2, m / (1.0 - p) ** 2
    return MeanLine(p, (0.0, 2.0 * p * fore, -fore), ((1.0 - 2.0 * p) * aft, 2.0 * p * aft, -aft))


def five_digit(lift: float, position: int) -> MeanLine:
    """A cubic whose curvature fades to nothing at r, and a straight line behind it.

    lift     : design lift coefficient [-]
    position : second digit, 1 to 5: greatest height at a twentieth of the chord times it
    source   : NACA Report 537 (Jacobs, Pinkerton 1935), equations and constants r, k1 of the simple mean lines:
               y = k1/6 (x³ - 3rx² + r²(3 - r)x) ahead of r, y = k1 r³/6 (1 - x) behind it; k1 goes with the lift
    """
    r, k1 = SIMPLE[position]
    k = k1 * lift / 0.3 / 6.0
    return MeanLine(r, (0.0, k * r * r * (3.0 - r), -3.0 * k * r, k), (k * r**3, -k * r**3))


def reflexed(lift: float, position: int, constants: dict[int, tuple[float, float, float]] = REFLEXED) -> MeanLine:
    """Two cubics, the rear one turned up so that the moment about the quarter chord is nought.

    lift      : design lift coefficient [-]
    position  : second digit, 2 to 5
    constants : r, k1 and k2/k1 by position
    source    : NACA Report 537, equations of the reflexed mean lines:
                y = k1/6 ((x - r)³ - k (1 - r)³ x - r³ x + r³) ahead of r, with k = k2/k1,
                y = k1/6 (k (x - r)³ - k (1 - r)³ x - r³ x + r³) behind it; k1 goes with the lift
    """
    r, k1, k = constants[position]
    scale = k1 * lift / 0.3 / 6.0
    cube = np.array([-(r**3), 3.0 * r * r, -3.0 * r, 1.0])
    line = np.array([r**3, -k * (1.0 - r) ** 3 - r**3, 0.0, 0.0])
    return MeanLine(r, tuple((scale * (cube + line)).tolist()), tuple((scale * (k * cube + line)).tolist()))
