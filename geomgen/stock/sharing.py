"""Which parts share a sheet: as they are laid, or before that as their boxes would be packed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from geomgen.design.schema import Design, SheetStock
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly
from geomgen.stock.copies import times
from geomgen.stock.lying import angle_on_sheet, box_of
from geomgen.stock.packing import packed
from geomgen.stock.sheets import Layout

GAP_MM = 3.0  # between boxes; common practice
Sharing = Mapping[Key, tuple[str, ...]]  # by part, the sheet of each copy, blade after blade


def as_packed(parts: Sequence[Part], design: Design) -> Sharing:
    """By their boxes, which needs no layout; what goes on no sheet, or isn't cut from one, is left out.

    parts : of one blade and of the hub
    """
    found: dict[Key, tuple[str, ...]] = {}
    for name in dict.fromkeys(part.stock for part in parts):
        stock = design.stock.get(name)
        if not isinstance(stock, SheetStock) or stock.size is None:
            continue
        mine = [part for part in parts if part.stock == name and _goes(part, stock, stock.size)]
        copies = [part for part in mine for _ in range(times(part, design))]
        boxes = [box_of(part.shape, stock, 0.0) for part in copies if isinstance(part.shape, Flat)]
        sheets = {spot.box: spot.sheet for spot in packed(boxes, stock.size, GAP_MM)}
        for k, part in enumerate(copies):
            found[part.key] = (*found.get(part.key, ()), f"{name} {sheets[k] + 1}")
    return found


def as_laid(layout: Layout) -> Sharing:
    """By a layout; a part made up of several pieces counts on the sheet of its first."""
    found: dict[Key, dict[int, str]] = {}
    for sheet in layout.sheets:
        for laid in sheet.laid:
            if laid.piece == 0:
                found.setdefault(laid.key, {})[laid.copy] = sheet.name
    return {key: tuple(copies[n] for n in sorted(copies)) for key, copies in found.items()}


def _goes(part: Part, stock: SheetStock, size: tuple[float, float]) -> bool:
    flies = part.assembly != Assembly.BENCH and isinstance(part.shape, Flat)
    if not flies or not isinstance(part.shape, Flat) or part.facts.get("sheets", 1.0) > 1.0:
        return False
    angle = angle_on_sheet(part.shape, stock, size)
    return angle is not None and angle % 90.0 == 0.0
