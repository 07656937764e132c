"""How many of a part there are, and how many are cut."""

from __future__ import annotations

from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.model.part import Part
from geomgen.model.role import Assembly


def times(part: Part, design: Design) -> int:
    """How many of a part there are in the craft: as many sets as blades, or one."""
    return part.count * (design.rotor.blades if part.assembly == Assembly.BLADE else 1)


def cut_copies(part: Part, design: Design) -> int:
    """How many of a part are cut, spares among them; what stays on the bench has none."""
    stock = design.stock.get(part.stock)
    spared = isinstance(stock, SheetStock | LengthStock) and part.assembly != Assembly.BENCH
    return times(part, design) + (stock.spares if spared and isinstance(stock, SheetStock | LengthStock) else 0)
