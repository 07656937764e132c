"""Whether a flat part goes on the sheet it is cut from, and on the laser's bed, if need be turned."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.design.keypath import written
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.stock.lying import angle_on, angle_on_sheet, box_of, has_grain
from geomgen.stock.margins import margins
from geomgen.stock.packing import Box, fits
from geomgen.stock.pieces import cuts_of
from geomgen.stock.tool import looser

PIECED = (Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN)  # of as many sheets as it takes, as their own notes say


def too_large(part: Part, design: Design) -> tuple[str, ...]:
    """Notes on what a part goes on only when turned, or is too large for: the sheet as sold, the laser's bed.

    part   : as it is cut; only what is cut from sheet is judged, and film by its sheet alone, as no laser cuts it
    design : its stock is read, and the laser's table
    """
    stock = design.stock.get(part.stock)
    if not isinstance(part.shape, Flat) or not isinstance(stock, SheetStock) or part.role in PIECED:
        return ()
    return tuple(_notes(part, part.shape, stock, design))


def sheet_faults(parts: Sequence[Part], design: Design) -> Iterator[Fault]:
    """What no layout mends: parts larger than any sheet, off-cuts larger than a sheet, a laser where none may be."""
    for name, stock in design.stock.items():
        if words := looser(stock):
            yield Fault(written(("stock", name, "cut")), '"laser"', words, '"knife" or "saw"', "or leave it out")
        if isinstance(stock, SheetStock) and stock.size is not None:
            for k, size in enumerate(stock.offcuts):
                if not fits(Box(*size), stock.size):
                    path = written(("stock", name, "offcuts", k))
                    wrong = f"is larger than the sheet it is left of, {mm(stock.size, words=' x ')}"
                    yield Fault(path, mm(size, words=" x "), wrong)
    yield from _larger(parts, design)


def _larger(parts: Sequence[Part], design: Design) -> Iterator[Fault]:
    """One fault for each stock, on the part that is too large by most."""
    worst: dict[str, tuple[float, str, Box]] = {}
    for part in parts:
        stock = design.stock.get(part.stock)
        if not isinstance(stock, SheetStock) or stock.size is None or part.role is Role.FILM:
            continue
        room = margins(design, part.stock).within(stock.size)
        for cut in cuts_of(part):
            if angle_on_sheet(cut.flat, stock, room) is None:
                box = box_of(cut.flat, stock)
                by = _short(box, room)
                if by > worst.get(part.stock, (0.0,))[0]:
                    worst[part.stock] = by, part.name, box
    for name, (by, part_name, box) in worst.items():
        stock, edge = design.sheet(name), margins(design, name).edge_mm
        assert stock.size is not None
        rim = f", less {mm(edge)} at its edges" if edge else ""
        along = ", its grain as the sheet's" if not box.turns else ""
        wrong = f"{part_name} is {mm((box.long_mm, box.wide_mm), 0, ' x ')}{along}: {mm(by, 1)} too large{rim}"
        least = " by ".join(at_least(side + 2.0 * edge, 1) for side in (box.long_mm, box.wide_mm))
        yield Fault(written(("stock", name, "size")), mm(stock.size, words=" x "), wrong, f"at least {least}")


def _short(box: Box, room: tuple[float, float]) -> float:
    """By how much a box is larger than what it is to go on, as it may lie best [mm]."""
    ways = [(box.long_mm, box.wide_mm), *([(box.wide_mm, box.long_mm)] if box.turns else [])]
    return min(max(long - room[0], wide - room[1]) for long, wide in ways)


def _notes(part: Part, flat: Flat, stock: SheetStock, design: Design) -> Iterator[str]:
    film, bed = part.role is Role.FILM, design.laser.bed
    if stock.size is not None:
        name = f"the film {part.stock} as sold" if film else f"a sheet of {part.stock}"
        angle, remedy = angle_on_sheet(flat, stock, stock.size), ": join two on a rib" if film else ""
        along = ", its grain as the sheet's" if has_grain(flat, stock) else ""
        if film or angle is not None:
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
