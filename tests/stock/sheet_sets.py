"""Files of sheets, set by set: of the examples, and of ribs by the dozen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rib_sets import STOCK, rib_design, ribs

from geomgen.craft import Craft
from geomgen.cutting.sheet_dxf import Cutting, sheet_dxf
from geomgen.design.schema import Design
from geomgen.making.output import Output
from geomgen.making.sheet_files import add_sheets
from geomgen.model.part import Flat, Part
from geomgen.stock.laying import lay

KERF_MM = 0.2  # of the ribs that are made here


@dataclass(frozen=True)
class Set:
    """parts : as they are to be when they are cut; files : of sheets, stock and bytes, by sheet."""

    design: Design
    parts: Sequence[Part]
    files: Mapping[str, tuple[str, bytes]]


def of_craft(craft: Craft) -> Set:
    """As `make` writes them into an empty folder."""
    made = Output()
    add_sheets(craft, made, {})
    files = [name for name in made.files if name.endswith(".dxf")]
    named = {str(made.about[name]["part"]).removeprefix("sheet "): made.files[name] for name in files}
    stocks = {sheet: sheet.rpartition(" ")[0] for sheet in named}
    return Set(craft.design, craft.finished, {sheet: (stocks[sheet], data) for sheet, data in named.items()})


def of_ribs(count: int, seed: int = 3) -> Set:
    """Ribs of NACA's four digits on balsa."""
    parts, design = ribs(count, seed), rib_design(KERF_MM)
    flats = {(part.key, 0): part.shape for part in parts if isinstance(part.shape, Flat)}
    colours = design.laser.colour.model_dump()
    files = {
        sheet.name: (STOCK, sheet_dxf(sheet, flats, colours, Cutting(KERF_MM))) for sheet in lay(parts, design).sheets
    }
    return Set(design, parts, files)
