"""Published half-thickness forms, as polynomials in u = √x. Chord 1.

The equations and constants of the reports named below are given from memory; the tests hold them against tables
recomputed by others, and by conditions where there is no table.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

OPEN_TAIL = -0.1015
CLOSED_TAIL = -0.1036

# Position of the greatest thickness, in tenths -> slope at the tail of the 20 % thick section.
TAIL_SLOPE = {2: 0.200, 3: 0.234, 4: 0.315, 5: 0.465, 6: 0.700}


@dataclass(frozen=True)
class HalfThickness:
    """Half the thickness, laid off square to the mean line.

    joint  : where the rear part begins [chord]; None where one form does for all
    fore   : y = fore[0] + fore[1] u + fore[2] u² + …, u = √x, ahead of the joint
    aft    : the same behind it
    closed : whether it is nought at the tail
    """

    joint: float | None
    fore: tuple[float, ...]
    aft: tuple[float, ...]
    closed: bool

    def at(self, u: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Half-thickness and its derivative by u, each (n,), at u = √x (n,)."""
        joint = np.sqrt(self.joint) if self.joint is not None else np.inf
        found = []
        for order in (0, 1):
            fore, aft = (polynomial.polyder(np.array(part), order) for part in (self.fore, self.aft))
            found.append(np.where(u <= joint, polynomial.polyval(u, fore), polynomial.polyval(u, aft)))
        if self.closed:
            found[0] = np.where(u >= 1.0, 0.0, found[0])
        return found[0], found[1]


def four_digit(thickness: float, closed: bool = False) -> HalfThickness:
    """The form of the four- and five-digit families.

    thickness : greatest thickness t [chord]
    closed    : end in a point: the last coefficient is -0.1036 instead of the published -0.1015, common practice
    source    : NACA Report 460 (Jacobs, Ward, Pinkerton 1933), thickness equation:
                ±y = t/0.2 (0.29690√x - 0.12600x - 0.35160x² + 0.28430x³ - 0.10150x⁴)
    """
    last = CLOSED_TAIL if closed else OPEN_TAIL
    form = 5.0 * thickness * np.array([0.0, 0.29690, -0.12600, 0.0, -0.35160, 0.0, 0.28430, 0.0, last])
    return HalfThickness(None, tuple(form.tolist()), tuple(form.tolist()), closed)


def modified(thickness: float, index: int, position: int, closed: bool = False) -> HalfThickness:
    """The form with digits for the leading edge and for the place of the greatest thickness.

    thickness : greatest thickness t [chord]
    index     : leading-edge digit 0 to 9: 6 is the usual nose radius 1.1019 t², 0 is sharp; the radius goes with the
                square of the digit up to 8; 9 is three times the usual radius
    position  : place of the greatest thickness in tenths of the chord, 2 to 6
    closed    : end in a point: d0 = 0 instead of the published 0.002, the other conditions as published
    source    : NACA Report 492 (Stack, von Doenhoff 1934), at t = 0.2:
                ±y = a0√x + a1x + a2x² + a3x³ ahead of the greatest thickness, a0 from the nose radius,
                ±y = d0 + d1(1-x) + d2(1-x)² + d3(1-x)³ behind it, d1 from its table of tail slopes;
                the rest from y = 0.1 and y' = 0 on both sides and equal curvature where they meet
    """
    m = position / 10.0
    d0, d1 = 0.0 if closed else 0.002, TAIL_SLOPE[position]
    rest = 1.0 - m
    d2 = (3.0 * (0.1 - d0) - 2.0 * d1 * rest) / rest**2
    d3 = (-2.0 * (0.1 - d0) + d1 * rest) / rest**3
    a0 = 0.29690 * (np.sqrt(3.0) if index == 9 else index / 6.0)
    powers = np.array([[m, m**2, m**3], [1.0, 2.0 * m, 3.0 * m**2], [0.0, 2.0, 6.0 * m]])
    root = a0 * np.array([m**0.5, 0.5 * m**-0.5, -0.25 * m**-1.5])
    a1, a2, a3 = np.linalg.solve(powers, np.array([0.1, 0.0, 2.0 * d2 + 6.0 * d3 * rest]) - root)
    scale = 5.0 * thickness
    fore = scale * np.array([0.0, a0, a1, 0.0, a2, 0.0, a3])
    tail = np.array([d0 + d1 + d2 + d3, -d1 - 2.0 * d2 - 3.0 * d3, d2 + 3.0 * d3, -d3])
    aft = np.zeros(7)
    aft[::2] = scale * tail
    return HalfThickness(m, tuple(fore.tolist()), tuple(aft.tolist()), closed)
