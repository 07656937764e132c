"""Where two parts touch, and how they hold on to one another. Emitted by whatever makes the contact.

Glue by area, the order of work, the load path and later the strength of a bond are views of parts and joints.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.role import Role


@dataclass(frozen=True)
class Key:
    """Which part is meant, whatever it is called. Only ever compared.

    role, path : as of the part
    mark       : what tells it from others of one role and table: number of its rib or bay, side, layer; () for the
                 only one
    """

    role: Role
    path: str
    mark: tuple[str | int, ...] = ()


class Bond(StrEnum):
    """How two parts hold on to one another."""

    GLUED = "glued"  # face on face
    LET_IN = "let in"  # glued in a hole, a notch or a slot
    BUTTED = "butted"  # glued edge to edge
    SEAMED = "seamed"  # two edges glued on one another where they meet
    LAPPED = "lapped"  # folded over and glued
    SEALED = "sealed"  # by its own adhesive, under heat
    SCREWED = "screwed"
    CLAMPED = "clamped"  # by friction
    PINNED = "pinned"  # the pin lies along the blade: it holds across itself, not along
    PINNED_ACROSS = "pinned across"  # the pin lies across the pull
    BEARING = "bearing"  # lies against it, and can't go through
    TURNING = "turning"  # turns in it and slides along it

    @property
    def wants_glue(self) -> bool:
        """Whether glue is weighed for it; what is sealed brings its own."""
        match self:
            case Bond.GLUED | Bond.LET_IN | Bond.BUTTED | Bond.SEAMED | Bond.LAPPED:
                return True
            case Bond.SEALED | Bond.SCREWED | Bond.CLAMPED | Bond.PINNED | Bond.BEARING | Bond.TURNING:
                return False
            case Bond.PINNED_ACROSS:
                return False

    @property
    def holds_pull(self) -> bool:
        """Whether a pull along the blade goes through it."""
        match self:
            case Bond.GLUED | Bond.LET_IN | Bond.BUTTED | Bond.SEAMED | Bond.LAPPED | Bond.SEALED:
                return True
            case Bond.SCREWED | Bond.CLAMPED | Bond.BEARING | Bond.PINNED_ACROSS:
                return True
            case Bond.PINNED | Bond.TURNING:
                return False


@dataclass(frozen=True, eq=False)
class Joint:
    """Where two parts touch.

    a, b      : the two parts; one and the same where a part meets itself (a fold's lap, sheets within one pattern).
                Where it matters, `a` hangs on `b`
    bond      : how
    path      : key path of what asked for it
    contact   : (n, 4) area [mm2], counted once, and where it lies in the blade frame (rotor frame on the hub) [mm]
    length_mm : length of an edge that is joined, where that is what counts [mm]
    second    : (n, 3, 3) how each row's area lies round its place: mean of place times place about the frame's origin,
                less the row's place times itself [mm2]; None for points
    """

    a: Key
    b: Key
    bond: Bond
    path: str
    contact: FloatArray
    length_mm: float = 0.0
    second: FloatArray | None = None

    @property
    def area_mm2(self) -> float:
        """Area of the two faces that meet, counted once [mm2]."""
        return float(self.contact[:, 0].sum())


def touching(a: Key, b: Key, bond: Bond, path: str, places: Iterable[Iterable[float]] = ()) -> Joint:
    """A joint whose area doesn't count (screws, pins, bearings), at some places (n, 3) [mm]."""
    rows = [[0.0, *place] for place in places]
    return Joint(a, b, bond, path, np.array(rows, dtype=np.float64).reshape(-1, 4))


def over(area_mm2: float, spread: FloatArray) -> FloatArray:
    """(n, 4) an area [mm2] laid over where a part's mass sits, its `spread` (n, 4)."""
    return np.asarray(spread * np.array([area_mm2, 1.0, 1.0, 1.0]))
