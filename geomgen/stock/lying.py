"""How a flat part lies on its sheet, and at which angle it goes on a sheet or a bed."""

from __future__ import annotations

from geomgen.design.schema import SheetStock
from geomgen.model.part import Flat
from geomgen.plane.turned_fit import angle_to_fit
from geomgen.stock.packing import Box, fits

FLATTEN_MM = 0.01


def box_of(flat: Flat, stock: SheetStock, turned_deg: float = 0.0) -> Box:
    """What a part takes of its sheet, its grain laid along the sheet's; of no grain, turned by so much."""
    region, grained = flat.region, has_grain(flat, stock)
    turn = -(flat.grain or 0.0) if grained else turned_deg
    if turn % 180.0 != 0.0:
        region = region.turned(turn)
    x0, y0, x1, y1 = region.bounds()
    if grained and stock.grain == "across":
        return Box(y1 - y0, x1 - x0, turns=False)
    return Box(x1 - x0, y1 - y0, turns=not grained)


def has_grain(flat: Flat, stock: SheetStock) -> bool:
    """Whether its grain says how it lies."""
    return flat.grain is not None and stock.grain is not None


def angle_on_sheet(flat: Flat, stock: SheetStock, size: tuple[float, float]) -> float | None:
    """By what angle a part is turned to go on a sheet, (length, width) [mm]; None where it goes on at none [deg]."""
    if has_grain(flat, stock):
        return 0.0 if fits(box_of(flat, stock), size) else None
    return angle_on(flat, size)


def angle_on(flat: Flat, size: tuple[float, float]) -> float | None:
    """The same on a bed, where grain says nothing."""
    x0, y0, x1, y1 = flat.region.bounds()
    if fits(Box(x1 - x0, y1 - y0), size):
        return 0.0
    return angle_to_fit(flat.region.outer.flattened(FLATTEN_MM), size)
