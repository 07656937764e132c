"""Whether a flat part goes on the sheet it is cut from, and on the laser's bed, if need be turned."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.design.schema import Design, SheetStock
from geomgen.figures import mm
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.stock.lying import angle_on, angle_on_sheet, has_grain

PIECED = (Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN)  # of as many sheets as it takes, as their own notes say


def too_large(part: Part, design: Design) -> tuple[str, ...]:
    """Notes on what a part is too large for, or goes on only when turned: the sheet as sold, the laser's bed.

    part   : as it is cut; only what is cut from sheet is judged, and film by its sheet alone, as no laser cuts it
    design : its stock is read, and the laser's bed
    """
    stock = design.stock.get(part.stock)
    if not isinstance(part.shape, Flat) or not isinstance(stock, SheetStock) or part.role in PIECED:
        return ()
    return tuple(_notes(part, part.shape, stock, design.laser.bed))


def _notes(part: Part, flat: Flat, stock: SheetStock, bed: tuple[float, float] | None) -> Iterator[str]:
    film = part.role is Role.FILM
    if stock.size is not None:
        name = f"the film {part.stock} as sold" if film else f"a sheet of {part.stock}"
        angle, remedy = angle_on_sheet(flat, stock, stock.size), ": join two on a rib" if film else ""
        along = ", its grain as the sheet's" if has_grain(flat, stock) else ""
        yield from _note(flat, angle, name, stock.size, along + remedy)
    if bed is not None and not film:
        yield from _note(flat, angle_on(flat, bed), "the laser's bed", bed)


def _note(flat: Flat, angle: float | None, name: str, size: tuple[float, float], more: str = "") -> Iterator[str]:
    x0, y0, x1, y1 = flat.region.bounds()
    long, short = sorted((x1 - x0, y1 - y0), reverse=True)
    what, where = mm((long, short), 0, " x "), f"{name}, {mm((max(size), min(size)), words=' x ')}"
    if angle is None:
        yield f"{what}: too large for {where}{more}"
    elif angle % 90.0 != 0.0:
        yield f"{what}: it goes on {where}, turned by {angle:g} deg"
