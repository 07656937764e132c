"""How strong the design's stocks are: the catalogue's figures at their density, their maker's own before them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from geomgen.design.schema import Design, LengthStock, PieceStock, SheetStock, VolumeStock
from geomgen.errors import DesignError
from geomgen.figures import mm
from geomgen.mass.unit_mass import of_stock, section_mm2
from geomgen.materials.catalogue import known
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.materials.print_strength import strength_share
from geomgen.materials.strength import Property, Strength, unit_of
from geomgen.materials.strength_table import strength_of

USUAL_WALLS = 3  # lines of a print whose maker states only how much of it is plastic; common practice


def stock_strength(design: Design, name: str) -> Strength:
    """How strong a [stock.*] is; a print as solid plastic, see `print_share`.

    name : of the table
    """
    stock = design.stock[name]
    if isinstance(stock, PieceStock):
        return strength_of(stock.of, density=None)
    thickness = stock.thickness if isinstance(stock, SheetStock) else None
    return strength_of(stock.of, density=_weight(design, name), thickness_mm=thickness, own=_own(stock))


def _own(stock: SheetStock | LengthStock | VolumeStock) -> Mapping[Property, Figure]:
    """What its maker states, in the units of `Property`."""
    if stock.strength is None:
        return {}
    given = ((Property(word), spread) for word, spread in stock.strength.given())
    return {one: Figure(*spread, unit_of(one), DESIGN_FILE) for one, spread in given}


def _weight(design: Design, name: str) -> Figure | None:
    """Density [kg/m3], or mass per area [g/m2], as its mass is reckoned; None where nothing is known of it."""
    try:
        figure = of_stock(design, name).figure
        per_mm2 = 1e3 / section_mm2(design, name) if figure.unit == "g/m" else 0.0
    except DesignError:
        return None
    if figure.unit != "g/m":
        return figure
    low, typical, high = (each * per_mm2 for each in (figure.low, figure.typical, figure.high))
    return replace(figure, low=low, typical=typical, high=high, unit="kg/m3")


def print_share(design: Design, stock: str, wall_mm: float, *, across: bool = False) -> Figure:
    """The share of solid plastic's strength that a printed wall has [-], by its lines and infill.

    stock   : of the print; what isn't printed has all of it
    wall_mm : how thick the wall is that carries [mm], > 0
    across  : pulled across its layers
    """
    table, line = design.stock[stock], design.printer.line
    material = known(table.of)
    if not isinstance(table, VolumeStock) or (material is not None and material.kind == "foam"):
        return Figure(1.0, 1.0, 1.0, "-", "not printed")
    lines = USUAL_WALLS if table.print is None else table.print.walls
    walls = min(1.0, 2.0 * lines * line / wall_mm)
    if table.print is not None:
        return strength_share(walls, table.print.infill, f"{table.print.words}, lines of {mm(line)}", across=across)
    words = f"{USUAL_WALLS} lines of {mm(line)} taken for its walls, as only its share of solid is stated"
    low, typical, high = (
        strength_share(walls, _infill(solid, walls), words, across=across)
        for solid in (table.share.low, table.share.typical, table.share.high)
    )
    return Figure(low.low, typical.typical, high.high, "-", typical.source)


def _infill(solid: float, walls: float) -> float:
    """What is filled of the rest, where so much of the whole is solid and so much is walls."""
    return max(0.0, solid - walls) / (1.0 - walls) if walls < 1.0 else 1.0
