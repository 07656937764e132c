"""What parts keep from one another and from their sheet's edge."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.stock.tool import Tool, tool

BY_HAND_MM = 3.0  # between two parts that a knife or a saw cuts apart; common practice


@dataclass(frozen=True)
class Margins:
    """The kerf counted in: half of it is taken off either side of each cut.

    gap_mm  : between two parts [mm]
    edge_mm : between a part and the sheet's edge [mm]
    """

    gap_mm: float
    edge_mm: float

    @property
    def both(self) -> tuple[float, float]:
        """Gap and edge."""
        return self.gap_mm, self.edge_mm

    def within(self, size: tuple[float, float]) -> tuple[float, float]:
        """What of a sheet parts may lie on [mm]."""
        return size[0] - 2.0 * self.edge_mm, size[1] - 2.0 * self.edge_mm


def margins(design: Design, stock: str) -> Margins:
    """Those of a stock: as the laser's table has them, or those of work by hand, which cuts to the very edge."""
    if tool(design.stock[stock]) is Tool.LASER:
        kerf = design.laser.kerf.get(stock, 0.0)
        return Margins(design.laser.gap + kerf, design.laser.edge + kerf / 2.0)
    return Margins(BY_HAND_MM, 0.0)
