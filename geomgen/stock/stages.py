"""The stock's stages: everything as it is cut, held against the sheets it is cut from, laid on them, and counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.stages import reads
from geomgen.stock import laying
from geomgen.stock.at_hand import short_of, unknown_sheets
from geomgen.stock.misplaced import misplaced
from geomgen.stock.sharing import Sharing, as_packed
from geomgen.stock.sheet_fit import sheet_faults, too_large
from geomgen.stock.sheets import Layout

LYING = (
    "stock.*.kind", "stock.*.of", "stock.*.size", "stock.*.grain", "stock.*.cut", "stock.*.offcuts",
    "laser.bed", "laser.edge", "laser.gap", "laser.kerf",
)  # fmt: skip


@reads(*LYING)
def held_against_sheets(design: Design, parts: Sequence[Part]) -> Made:
    """Every part, with notes on what it goes on only when turned.

    faults : a part larger than its sheet, an off-cut larger than the sheet, a laser asked for where shops refuse it
    """
    notes = [too_large(part, design) for part in parts]
    noted = (replace(part, notes=(*part.notes, *more)) if more else part
             for part, more in zip(parts, notes, strict=True))  # fmt: skip
    return Made(tuple(noted), (), tuple(sheet_faults(parts, design)))


@reads(*LYING, "stock.*.spares", "laser.in_holes", "laser.done", "rotor.blades", "rotor.turn")
def laid(design: Design, parts: Sequence[Part], *, before: Layout | None) -> Layout:
    """Every copy of every part on its sheet, in the craft's own hand; what lay somewhere before stays there.

    raises : MakeError where somebody moved a part in the earlier layout to where it can't be cut
    """
    mirrors = design.rotor.turn == "clockwise"
    old = before.mirrored() if mirrors and before is not None else before
    found = laying.lay(parts, design, old)
    if faults := [*misplaced(found, old, parts, design)]:
        raise MakeError(faults)
    return found.mirrored() if mirrors else found


@reads("stock.*.kind", "stock.*.size", "stock.*.grain", "rotor.blades")
def shared(design: Design, flying: Made) -> Sharing:
    """Which parts share a sheet, as their boxes would be packed: no layout is asked for."""
    return as_packed(flying.parts, design)


@reads("stock", "laser.done", "rotor.blades")
def at_hand(design: Design, parts: Sequence[Part], layout: Layout, *, before: Layout | None) -> Layout:
    """The same layout. raises : MakeError where a stock runs out, or a sheet that is said to be cut isn't known"""
    faults: list[Fault] = [*short_of(parts, design, layout), *unknown_sheets(design, before)]
    if faults:
        raise MakeError(faults)
    return layout
