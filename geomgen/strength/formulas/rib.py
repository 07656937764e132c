"""Ribs: what is left of a web beside its holes."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.strength.formulas.values import Values, array


@dataclass(frozen=True, eq=False)
class Ligaments:
    """A plate cut along a line: what is left between its edges and holes, from the line's start on.

    starts, ends : (n,) places along the line [mm]
    thickness    : of the plate [mm]
    """

    starts: FloatArray
    ends: FloatArray
    thickness: float

    @property
    def widths(self) -> FloatArray:
        """(n,) [mm]."""
        return self.ends - self.starts

    @property
    def area_mm2(self) -> float:
        """Of all together [mm2]."""
        return float(self.widths.sum()) * self.thickness

    @property
    def middle(self) -> float:
        """Where their centroid lies along the line [mm]; nan where nothing is left."""
        return float((self.widths * (self.starts + self.ends)).sum() / (2.0 * self.widths.sum()))

    @property
    def second_mm4(self) -> float:
        """Second moment of all as one body, in the plate's plane [mm4]."""
        from_middle = (self.ends - self.middle) ** 3 - (self.starts - self.middle) ** 3
        return float(from_middle.sum()) * self.thickness / 3.0

    @property
    def section_mm3(self) -> float:
        """Section modulus of all as one body, in the plane, at the farther end [mm3]."""
        return self.second_mm4 / max(self.middle - float(self.starts[0]), float(self.ends[-1]) - self.middle)


def opening_corner_mpa(
    force_n: Values, length: Values, bridge: Values, thickness: Values, share: Values = 0.5
) -> FloatArray:
    """Bending of a bridge beside a long opening in a web, at the opening's ends.

    force_n   : across the web [N]
    length    : of the opening, along the web [mm]
    bridge    : height of the bridge [mm]
    thickness : [mm]
    share     : of the force that this bridge takes; by its stiffness [-]
    source    : Vierendeel, closed form, moment share V L / 2
    """
    return 6.0 * array(share) * force_n * length / 2.0 / (array(thickness) * array(bridge) ** 2)
