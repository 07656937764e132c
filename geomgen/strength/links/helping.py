"""What changing one key of the design does to a link: the same formula, worked out once more."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.figures import is_imperial
from geomgen.materials.figure import Figure
from geomgen.strength.link import Help

LEAST = 1.005  # a margin that grows by less isn't told as help
_SIXTEENTH_MM = 25.4 / 16


@dataclass(frozen=True, eq=False)
class Loaded:
    """A link before it has a name.

    stress   : (2, c) [unit]
    strength : in that unit; None where none is known
    """

    stress: FloatArray
    strength: Figure | None

    @property
    def margin(self) -> float | None:
        """Low strength over the greatest stress [-]; None where either isn't there."""
        most = float(np.abs(self.stress).max(initial=0.0))
        return None if self.strength is None or most <= 0.0 else self.strength.low / most


@dataclass(frozen=True, eq=False)
class Change:
    """One key changed.

    path    : key path
    was, to : in the words of the design file
    then    : the link as it would be; None where it can't be changed so
    """

    path: str
    was: str
    to: str
    then: Loaded | None


def helps(now: Loaded, *changes: Change) -> tuple[Help, ...]:
    """Those changes that raise a link's margin, and by how much."""
    before, found = now.margin, []
    for each in changes:
        after = None if each.then is None else each.then.margin
        if before and after is not None and after / before >= LEAST:
            found.append(Help(each.path, each.was, each.to, after / before))
    return tuple(found)


def stepped(design: Design, value_mm: float, by_mm: float) -> float:
    """A length some larger, or smaller: by whole sixteenths in a design in inches [mm]."""
    if not is_imperial(design.units or "mm"):
        return value_mm + by_mm
    sixteenths = max(1.0, round(abs(by_mm) / _SIXTEENTH_MM))
    return value_mm + float(np.copysign(sixteenths * _SIXTEENTH_MM, by_mm))
