"""How a box spar lies at one radius: on the lower edge, as high as the section leaves under a bridge of rib."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import BoxSpar
from geomgen.model.layout import Slice
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.lying import aft_of, edge_over, seated

FloatArray = NDArray[np.float64]
Box = Member[BoxSpar]

LOOKS = 41  # places along the upper edge over a box that are looked at


@dataclass(frozen=True, eq=False)
class Hollow:
    """A box at one radius, in the station's frame; it lies on the lower edge and follows the blade's twist.

    foot      : (2,) middle of its lower face [mm]
    up        : (2,) unit vector square to that face
    width_mm  : over all, along the lower face [mm]
    height_mm : over all, square to it [mm]
    """

    foot: FloatArray
    up: FloatArray
    width_mm: float
    height_mm: float

    def corners(self, less_mm: float = 0.0) -> FloatArray:
        """(4, 2) low ahead, low behind, high behind, high ahead; with its wall taken off, those inside [mm]."""
        x, top = self.width_mm / 2 - less_mm, self.height_mm - less_mm
        turn = np.array([aft_of(self.up), self.up])
        return np.asarray(self.foot + np.array([[-x, less_mm], [x, less_mm], [x, top], [-x, top]]) @ turn)


def hollow(member: Box, at: Slice) -> Hollow | None:
    """How a box lies at one radius: on the lower edge, and a web's width clear of the upper one; None outside both.

    The bridge is measured square to the upper edge where that slopes most over the box, and leaves room for the fit.
    """
    spar = member.spar
    half, seat = (spar.width + spar.fit) / 2, seated(at.outline, "lower", member.x_mm(at.station), spar.width)
    if seat is None:
        return None
    foot, up = seat
    heights = [edge_over(at.outline.upper, foot, up, e, e) for e in np.linspace(-half, half, LOOKS)]
    if any(height is None for height in heights):
        return None
    upper = np.array([height[0] for height in heights if height is not None])
    slope = np.abs(np.diff(upper)).max() * (LOOKS - 1) / (2 * half)
    height = float(upper.min() - member.web_mm * np.hypot(1.0, slope))
    return Hollow(foot, up, spar.width, height) if height > 0 else None
