"""How a box spar lies at one radius: on the lower edge, as high as the section leaves under a bridge of rib."""

from __future__ import annotations

import numpy as np

from geomgen.design.schema import BoxSpar
from geomgen.model.layout import Slice
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.lying import Oblong, edge_over, seated

Box = Member[BoxSpar]

LOOKS = 41  # places along the upper edge over a box that are looked at


def hollow(member: Box, at: Slice) -> Oblong | None:
    """How a box lies at one radius, over all: on the lower edge, and a web's width clear of the upper one; None outside
    both.

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
    return Oblong(foot, up, spar.width, height) if height > 0 else None
