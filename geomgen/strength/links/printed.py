"""What printed and cut parts at the root stand: by how they lie on the printer's bed, by walls and infill."""

from __future__ import annotations

from geomgen.design.schema import Design, VolumeStock
from geomgen.figures import figure
from geomgen.materials.figure import Figure
from geomgen.materials.print_strength import STEADY, print_heat
from geomgen.materials.strength import Property
from geomgen.strength.build import Build
from geomgen.strength.formulas.print import SHARP_CORNER
from geomgen.strength.stock_strength import USUAL_WALLS, print_share

CORNER = f"stress counted {SHARP_CORNER:g} times at a sharp inside corner"


def is_print(design: Design, stock: str) -> bool:
    """Whether a stock is printed."""
    return isinstance(design.stock[stock], VolumeStock)


def upright(design: Design) -> bool:
    """Whether the hub is printed lying on its side."""
    return bool(getattr(design.hub, "layers", "flat") == "upright")


def stands(build: Build, stock: str, wall_mm: float, *properties: Property) -> Figure | None:
    """The first of some strengths that is known of a stock; of a print by its share of walls and infill [MPa].

    wall_mm : how thick it is where it is loaded [mm]
    """
    found = build.strengths[stock].of(*properties)
    if found is None or not is_print(build.design, stock):
        return found
    return found.times(print_share(build.design, stock, wall_mm), found.unit)


def stands_across(build: Build, stock: str, wall_mm: float, *properties: Property) -> Figure | None:
    """The same across a print's layers, where only walls count [MPa]."""
    found = build.strengths[stock].of(*properties)
    if found is None or not is_print(build.design, stock):
        return found
    return found.times(walls_share(build.design, stock, wall_mm), found.unit)


def walls_share(design: Design, stock: str, wall_mm: float) -> Figure:
    """Share of so thick a print that lies in its walls [-]; all of it where it is printed solid.

    wall_mm : thickness [mm]
    source  : two walls of so many lines; across layers infill isn't counted, from memory
    """
    table = design.stock[stock]
    assert isinstance(table, VolumeStock)
    lines = table.print.walls if table.print else USUAL_WALLS
    solid = table.print.infill if table.print else table.share.typical
    share = 1.0 if solid > 0.999 else min(1.0, 2.0 * lines * design.printer.line / wall_mm)
    return Figure(share, share, share, "-", f"{lines} lines of wall on either side; infill isn't counted across layers")


def stretched(build: Build, wall_mm: float) -> tuple[Figure | None, str]:
    """What the hub stands where it is pulled in its own plane, and why that isn't known [MPa].

    Printed on its underside, its layers lie in that plane. On its side they don't: some arm is always pulled across
    them, whichever way it is turned.
    """
    hub = build.design.hub.stock
    if upright(build.design):
        return across(build, wall_mm)
    return stands(build, hub, wall_mm, Property.TENSION), build.strengths[hub].why_not(Property.TENSION)


def across(build: Build, wall_mm: float) -> tuple[Figure | None, str]:
    """What the hub stands where it is pulled across its layers, and why that isn't known [MPa]."""
    hub, one = build.design.hub.stock, Property.TENSION_ACROSS
    return stands_across(build, hub, wall_mm, one), build.strengths[hub].why_not(one)


def sheared(build: Build, wall_mm: float) -> tuple[Figure | None, str]:
    """What the hub stands in shear between its layers, and why that isn't known [MPa]."""
    hub, one = build.design.hub.stock, Property.SHEAR_ACROSS
    return stands_across(build, hub, wall_mm, one), build.strengths[hub].why_not(one)


def lies(design: Design) -> str:
    """How the hub's layers lie, in words."""
    return "layers upright: taken across them" if upright(design) else "layers flat: taken along them"


def print_note(build: Build, stock: str) -> str:
    """What heat and time take off a print, in words; nothing of what isn't one."""
    table = build.design.stock[stock]
    if not isinstance(table, VolumeStock):
        return ""
    heat = print_heat(table.of)
    softens = f"softens at {figure('degC', heat.low, 0)}, " if heat else ""
    return f"{softens}a load of months leaves {STEADY.low:g} to {STEADY.high:g} of it"


def noted(*notes: str) -> str:
    """Notes as one."""
    return "; ".join(note for note in notes if note)
