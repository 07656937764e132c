"""Whether a flat part goes on the sheet it is cut from, and on the laser's bed."""

from __future__ import annotations

from geomgen.design.schema import Design, SheetStock
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role

Size = tuple[float, float]


def fit_notes(part: Part, design: Design) -> tuple[str, ...]:
    """Notes on what a part is too large for, either way round.

    design : its stock is read, and the laser's bed
    Only sheet is judged; skins and boards are made up of several sheets, as their own notes say.
    """
    stock = design.stock.get(part.stock)
    if not isinstance(part.shape, Flat) or not isinstance(stock, SheetStock):
        return ()
    x0, y0, x1, y1 = part.shape.region.bounds()
    long, short = sorted((x1 - x0, y1 - y0), reverse=True)

    def over(size: Size | None) -> bool:
        return size is not None and (long > max(size) or short > min(size))

    match part.role:
        case Role.SKIN | Role.SHEETING | Role.FOLDED_SKIN:
            return ()
        case Role.FILM:
            sold, bed, remedy = f"the film {part.stock} as sold", None, ": join two on a rib"
        case _:
            sold, bed, remedy = f"a sheet of {part.stock}", design.laser.bed, ""
    places = {sold: stock.size, "the laser's bed": bed}
    return tuple(
        f"{long:.0f} x {short:.0f} mm: too large for {name}, {max(size):g} x {min(size):g} mm{remedy}"
        for name, size in places.items()
        if size is not None and over(size)
    )
