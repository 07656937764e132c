"""A piece of mass with its inertia, as it lies: what balance, pitch inertia and stiffness are summed from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.frames import applied
from geomgen.model.joint import Key
from geomgen.model.role import Assembly


@dataclass(frozen=True, eq=False)
class Element:
    """One piece of mass, in the blade frame at the reference pitch; in the rotor frame of the anticlockwise twin for
    what is on the hub.

    key      : the part it is of
    assembly : each blade has it, or the hub
    blade    : its blade's number, from 1, where blades differ; None where each has it, or it is on the hub
    lot      : elements of one lot are heavy or light together: key path of their stock, else of their table
    mass_g   : typical mass [g]
    centre   : (3,) centre of gravity [mm]
    inertia  : (3, 3) inertia tensor about its centre, products with their minus sign [g mm2]
    """

    key: Key
    assembly: Assembly
    blade: int | None
    lot: str
    mass_g: float
    centre: FloatArray
    inertia: FloatArray

    def times(self, factor: float) -> Element:
        """The same of a heavier or lighter lot. factor : [-]"""
        return replace(self, mass_g=self.mass_g * factor, inertia=self.inertia * factor)

    def moved(self, matrix: FloatArray) -> Element:
        """Taken through a (4, 4) rigid motion or mirror, such as one from the blade frame to the rotor frame."""
        turned = matrix[:3, :3]
        return replace(self, centre=applied(matrix, self.centre), inertia=turned @ self.inertia @ turned.T)


@dataclass(frozen=True, eq=False)
class Body:
    """What some elements make together.

    mass_g  : [g]
    centre  : (3,) centre of gravity; the origin where nothing has mass [mm]
    inertia : (3, 3) inertia tensor about that centre [g mm2]
    """

    mass_g: float
    centre: FloatArray
    inertia: FloatArray


def body(elements: Sequence[Element]) -> Body:
    """The sum of elements that lie in one frame, by parallel axes."""
    grams = np.array([element.mass_g for element in elements])
    centres = np.array([element.centre for element in elements]).reshape(-1, 3)
    mass = float(grams.sum())
    centre = grams @ centres / mass if mass > 0.0 else np.zeros(3)
    own = sum((element.inertia for element in elements), np.zeros((3, 3)))
    return Body(mass, centre, own + inertia_of(second_moments(grams, centres - centre)))


def second_moments(shares: FloatArray, places: FloatArray) -> FloatArray:
    """(3, 3) sum of share times place times place. shares (n,) [any]; places (n, 3) [mm]; returns [any mm2]"""
    return np.asarray((places * shares[:, None]).T @ places)


def inertia_of(second: FloatArray) -> FloatArray:
    """(3, 3) inertia tensor of a mass with these (3, 3) second moments."""
    return np.asarray(np.trace(second) * np.eye(3) - second)
