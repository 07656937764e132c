"""Half a section's thickness, as polynomials in u = √x, and the form that most families share. Chord 1."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import polynomial

from geomgen.arrays import FloatArray

OPEN_TAIL = -0.1015
CLOSED_TAIL = -0.1036


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


def usual(thickness: float, closed: bool = False) -> HalfThickness:
    """The form of the four- and five-digit families.

    thickness : greatest thickness t [chord]
    closed    : end in a point: the last coefficient is -0.1036 instead of the published -0.1015, common practice
    source    : NACA Report 460 (Jacobs, Ward, Pinkerton 1933), thickness equation:
                ±y = t/0.2 (0.29690√x - 0.12600x - 0.35160x² + 0.28430x³ - 0.10150x⁴)
    """
    last = CLOSED_TAIL if closed else OPEN_TAIL
    form = 5.0 * thickness * np.array([0.0, 0.29690, -0.12600, 0.0, -0.35160, 0.0, 0.28430, 0.0, last])
    return HalfThickness(None, tuple(form.tolist()), tuple(form.tolist()), closed)
