"""What printed and cut parts at the root stand: by how they lie on the printer's bed, by walls and infill."""

from __future__ import annotations

from geomgen.design.schema import Design, VolumeStock
from geomgen.figures import figure, percent
from geomgen.materials.figure import Figure
from geomgen.materials.print_strength import FATIGUE, SOLID, STEADY, print_heat, strength_share
from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.root.root import HUB
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.helping import Change, Loaded
from geomgen.strength.stock_strength import USUAL_WALLS, print_share

SHARP_CORNER = 2.0  # rise of stress at a sharp inside corner of a print: from memory
CORNER = f"stress counted {SHARP_CORNER:g} times at a sharp inside corner"
ACROSS = (Property.TENSION_ACROSS,)  # what pulls a print's layers apart; shear and pressing don't
Known = tuple[Figure | None, str]  # a strength, and why it isn't known


def is_print(design: Design, stock: str) -> bool:
    """Whether a stock is printed."""
    return isinstance(design.stock[stock], VolumeStock)


def upright(design: Design) -> bool:
    """Whether the hub is printed lying on its side."""
    return design.hub.layers == "upright"


def stands(build: Build, stock: str, wall_mm: float, one: Property) -> Known:
    """A strength of a stock; of a print by its share of walls and infill, across its layers of walls alone [MPa].

    wall_mm : how thick it is where it is loaded [mm]
    """
    found = build.strengths[stock].of(one)
    if found is None:
        return None, build.strengths[stock].why_not(one)
    if not is_print(build.design, stock):
        return found, ""
    return found.times(print_share(build.design, stock, wall_mm, across=one in ACROSS), found.unit), ""


def lines_of(design: Design, stock: str) -> int:
    """Lines side by side along a print's outline."""
    table = design.stock[stock]
    return table.print.walls if isinstance(table, VolumeStock) and table.print else USUAL_WALLS


def bent_as_mm(design: Design, stock: str, wall_mm: float) -> float:
    """Thickness of a print whose walls are as large a share of it as they count for where it is bent [mm].

    wall_mm : how thick it is [mm]
    source  : a plate of two walls, second moment: 1 - (1 - w)^3 of it is theirs where w of its thickness is
    """
    walls = 2.0 * lines_of(design, stock) * design.printer.line
    return wall_mm if walls >= wall_mm else walls / (1.0 - (1.0 - walls / wall_mm) ** 3)


def _filled(design: Design, stock: str) -> float:
    """How much of a print's inside is filled, or of all of it where no more is said [-]."""
    table = design.stock[stock]
    assert isinstance(table, VolumeStock)
    return table.print.infill if table.print else table.share.typical


def in_plane(build: Build, wall_mm: float) -> Known:
    """What the hub stands where it is pulled along its own plane [MPa].

    Printed on its underside, its layers lie in that plane. On its side they don't: some arm is always pulled across
    them, whichever way it is turned.
    """
    hub = build.design.hub.stock
    if upright(build.design):
        return stands(build, hub, wall_mm, Property.TENSION_ACROSS)
    return stands(build, hub, wall_mm, Property.TENSION)


def up_and_down(build: Build, wall_mm: float) -> Known:
    """The same where it is pulled along the rotor axis [MPa]."""
    hub = build.design.hub.stock
    if upright(build.design):
        return stands(build, hub, wall_mm, Property.TENSION)
    return stands(build, hub, wall_mm, Property.TENSION_ACROSS)


def sheared(build: Build, wall_mm: float) -> Known:
    """What the hub stands in shear between its layers [MPa]."""
    return stands(build, build.design.hub.stock, wall_mm, Property.SHEAR_ACROSS)


def flat(build: Build, now: Loaded, wall_mm: float) -> Change:
    """The same stress in a hub that is printed on its underside; no help to one that is."""
    stood, _ = stands(build, build.design.hub.stock, wall_mm, Property.TENSION)
    return Change("hub.layers", "upright", "flat", Loaded(now.stress, stood) if upright(build.design) else None)


def filled(build: Build, stock: str, wall_mm: float, now: Loaded, one: Property) -> Change:
    """The same print without a hollow in it; no help to one that has none, and to what is cut.

    one : the strength that it is held to
    """
    table, path = build.design.stock[stock], f"stock.{stock}"
    strength = build.strengths[stock].of(one)
    if not isinstance(table, VolumeStock) or strength is None or _filled(build.design, stock) > SOLID:
        return Change(path, "", "", None)
    key, share = (f"{path}.print.infill", table.print.infill) if table.print else (f"{path}.solid", table.share.typical)
    walls = min(1.0, 2.0 * lines_of(build.design, stock) * build.design.printer.line / wall_mm)
    whole = strength_share(walls, 1.0, "printed solid", across=one in ACROSS)
    return Change(key, percent(share), percent(1.0), Loaded(now.stress, strength.times(whole, strength.unit)))


def root_link(
    build: Build,
    name: str,
    fails: Fails,
    now: Loaded,
    helped: tuple[Help, ...],
    *,
    r_mm: float | None,
    why: str,
    notes: tuple[str, ...],
    stock: str = "",
    path: str = "hub",
    between: tuple[Key, Key] = (HUB, HUB),
) -> Link:
    """A link of the hub, or of a stock that is cut, or printed, which nothing backs then. Stress in MPa."""
    stock = stock or build.design.hub.stock
    return Link(
        name=name,
        fails=fails,
        path=path,
        r_mm=r_mm,
        between=between,
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=why,
        alone=is_print(build.design, stock),
        helps=helped,
        note=noted(*notes, print_note(build, stock)),
    )


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
    months = f"a load of months leaves {STEADY.low:g} to {STEADY.high:g} of it"
    return f"{softens}{months}, 1e5 loads from nothing {FATIGUE.low:g} to {FATIGUE.high:g}"


def noted(*notes: str) -> str:
    """Notes as one."""
    return "; ".join(note for note in notes if note)
