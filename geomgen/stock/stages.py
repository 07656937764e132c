"""The stock's stage: everything as it is cut, held against the sheets it is cut from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from geomgen.design.schema import Design
from geomgen.model.part import Part
from geomgen.stages import reads
from geomgen.stock.sheet_fit import too_large


@reads("stock.*.size", "stock.*.grain", "laser.bed")
def held_against_sheets(design: Design, parts: Sequence[Part]) -> tuple[Part, ...]:
    """Every part, with notes on what it is too large for."""
    notes = [too_large(part, design) for part in parts]
    return tuple(replace(part, notes=(*part.notes, *more)) if more else part
                 for part, more in zip(parts, notes, strict=True))  # fmt: skip
