"""Where spar caps lie: strips laminated on one another under the upper and over the lower edge of a rib."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import HALVES, CapSpar, LengthStock
from geomgen.model.layout import Slice
from geomgen.plane.biarc import unit
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.lying import aft_of, seated

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Stack:
    """One cap at one radius: strips laid on one another from the edge inwards.

    at       : (2,) middle of its outer face, in the station's frame [mm]
    way      : (2,) unit vector into the section, square to that face
    width_mm : of the strips [mm]
    depth_mm : of all strips together [mm]
    """

    at: FloatArray
    way: FloatArray
    width_mm: float
    depth_mm: float

    def corners(self) -> FloatArray:
        """(4, 2) corners, the outer two first [mm]."""
        across = aft_of(self.way) * self.width_mm / 2
        inner = self.at + self.depth_mm * self.way
        return np.array([self.at - across, self.at + across, inner + across, inner - across])


def strip_mm(member: Member[CapSpar]) -> tuple[float, float]:
    """Width and height of one strip [mm]; the rules see to it that it has both."""
    stock = member.layout.design.stock[member.spar.stock]
    assert isinstance(stock, LengthStock)
    return stock.width or 0.0, stock.height or 0.0


def layer_ends(member: Member[CapSpar]) -> tuple[float, ...]:
    """r at which each lamination ends, never beyond the spar's own end, the outermost in the section first [mm]."""
    design, spar = member.layout.design, member.spar
    return tuple(min(design.r(end), design.r(spar.to)) for end in spar.layers)


def stacks(member: Member[CapSpar], at: Slice, layers: int) -> tuple[Stack, Stack] | None:
    """Upper and lower cap at one radius, or None where the inside doesn't reach over their width.

    layers : laminations there
    """
    (width, height), x = strip_mm(member), member.x_mm(at.station)
    upper, lower = (seated(at.outline, half, x, width) for half in HALVES)
    if upper is None or lower is None:
        return None
    return Stack(*upper, width, layers * height), Stack(*lower, width, layers * height)


def between_mm(upper: Stack, lower: Stack) -> float:
    """Least depth between the inner faces of two caps; negative where they run into one another [mm]."""
    up = unit(upper.at - lower.at)
    return float((upper.corners()[2:] @ up).min() - (lower.corners()[2:] @ up).max())
