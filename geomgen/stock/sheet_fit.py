"""Whether a flat part goes on the sheet it is cut from, and on the laser's bed."""

from __future__ import annotations

from geomgen.design.schema import Design, SheetStock
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role

PIECED = (Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN)  # of as many sheets as it takes, as their own notes say


def too_large(part: Part, design: Design) -> tuple[str, ...]:
    """Notes on what a part is too large for, either way round: the sheet as sold, the laser's bed.

    part   : as it is cut; only what is cut from sheet is judged, and film by its sheet alone, as no laser cuts it
    design : its stock is read, and the laser's bed
    """
    stock = design.stock.get(part.stock)
    if not isinstance(part.shape, Flat) or not isinstance(stock, SheetStock) or part.role in PIECED:
        return ()
    x0, y0, x1, y1 = part.shape.region.bounds()
    long, short = sorted((x1 - x0, y1 - y0), reverse=True)
    if part.role is Role.FILM:
        places, remedy = {f"the film {part.stock} as sold": stock.size}, ": join two on a rib"
    else:
        places, remedy = {f"a sheet of {part.stock}": stock.size, "the laser's bed": design.laser.bed}, ""
    return tuple(
        f"{long:.0f} x {short:.0f} mm: too large for {name}, {max(size):g} x {min(size):g} mm{remedy}"
        for name, size in places.items()
        if size is not None and (long > max(size) or short > min(size))
    )
