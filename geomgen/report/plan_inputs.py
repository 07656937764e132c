"""What the plan view is drawn from: plain figures, in the blade frame of the anticlockwise rotor."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
Point = tuple[float, float]


@dataclass(frozen=True)
class RibLine:
    """One rib from above.

    name     : short, "R3"
    r_mm     : its station [mm]
    leading  : its nose, x out and y forward [mm]
    trailing : its tail [mm]
    """

    name: str
    r_mm: float
    leading: Point
    trailing: Point


@dataclass(frozen=True)
class RouteLine:
    """A spar or a channel from above.

    name       : "main spar", "power channel"
    kind       : how it is drawn
    start, end : x out and y forward [mm]
    width_mm   : as seen from above [mm]
    """

    name: str
    kind: Literal["spar", "channel"]
    start: Point
    end: Point
    width_mm: float


@dataclass(frozen=True)
class Spot:
    """Something at a point: a fitting.

    at : x out and y forward [mm]
    """

    name: str
    at: Point


@dataclass(frozen=True, eq=False)
class PlanInputs:
    """One blade and its rotor as seen from above.

    title     : of the design
    units     : the design's unit of length, for what is written
    turn      : seen from above; a clockwise rotor is drawn as the mirror image of these figures
    blades    : in the rotor [-]
    radius_mm : from the axis to the tip [mm]
    hub_mm    : radius of the hub [mm]
    leading   : (n, 2) points along the leading edge, root to tip: x out, y forward [mm]
    trailing  : (n, 2) points along the trailing edge, root to tip [mm]
    tip       : (n, 2) points round a shaped tip, from the leading edge to the trailing edge; none of a square one [mm]
    ribs      : root to tip
    routes    : spars and channels
    fittings  : on the blade
    cg        : centre of gravity of one blade; None where it isn't known [mm]
    """

    title: str
    units: str
    turn: Literal["anticlockwise", "clockwise"]
    blades: int
    radius_mm: float
    hub_mm: float
    leading: FloatArray
    trailing: FloatArray
    ribs: tuple[RibLine, ...] = ()
    routes: tuple[RouteLine, ...] = ()
    fittings: tuple[Spot, ...] = ()
    cg: Point | None = None
    tip: FloatArray = field(default_factory=lambda: np.zeros((0, 2)))

    @property
    def hand(self) -> float:
        """+1 where y forward is up on the page, -1 where the rotor is the mirror image [-]."""
        return 1.0 if self.turn == "anticlockwise" else -1.0

    @property
    def outline(self) -> FloatArray:
        """(m, 2) one blade, out along the leading edge, round the tip, back along the trailing edge, as seen [mm]."""
        around = np.vstack((self.leading, self.tip, self.trailing[::-1]))
        seen: FloatArray = around * (1.0, self.hand)
        return seen

    def seen(self, point: Point) -> Point:
        """A point as seen from above, x out, y up on the page [mm]."""
        return point[0], self.hand * point[1]
