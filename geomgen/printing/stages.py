"""The solids' stages: what printed parts hold, and their meshes, where files or pictures are made of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from geomgen.cache import Cache
from geomgen.design.schema import Design, Print
from geomgen.marking.finish import engraved_mm
from geomgen.marking.finish import finished as lettered
from geomgen.materials.screws import SCREWS
from geomgen.model.joint import Key
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part, Solid
from geomgen.model.role import Role
from geomgen.printing.laid import Laid, laid
from geomgen.printing.mesh import Mesh
from geomgen.printing.plate import grooves_mm3, length_mm3
from geomgen.printing.solid import mesh_of, properties
from geomgen.printing.solid_properties import SolidProperties
from geomgen.root.hub_mass import Bulk, hub_mass
from geomgen.stages import reads
from geomgen.tolerances import Tolerances

PRINTED = (Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP, Role.WEDGE, Role.COUPON)  # caps and wedges can be


def solids(hub: Made, *, exact: bool, cache: Cache) -> dict[Key, SolidProperties | Bulk]:
    """Volume, centre and inertia of the hub.

    exact : by the kernel; else by closed sums of its figures
    """
    shapes = {part.key: part.shape for part in hub}
    return {
        key: properties(shape, cache) if exact else hub_mass(shape.spec)
        for key, shape in shapes.items()
        if isinstance(shape, Solid)
    }


@reads("rotor.turn", "units", "pitch.fixing.screw", "pitch.fixing.count", "stock.*.kind")
def sunk(design: Design, caps: Made, wedges: Made, *, exact: bool, cache: Cache) -> dict[Key, float]:
    """What each pitch cap or wedge is short of its outline less holes: a cap's countersinks, and letters where it is
    printed [mm3].

    exact : room is found for the letters; else they are taken for the largest, and a cap is up to 0.2 % too light
    """
    each = design.pitch.fixing.count * SCREWS[design.pitch.fixing.screw].countersink_mm3()
    printed = tuple(part for part in (*caps, *wedges) if design.stock[part.stock].kind == "volume")
    found = {**dict.fromkeys((part.key for part in caps), each), **dict.fromkeys((part.key for part in wedges), 0.0)}
    hand = design.rotor.turn == "clockwise"
    for part in lettered(printed, clockwise=hand, units=design.units, cache=cache) if exact else printed:
        if isinstance(part.shape, Flat):
            found[part.key] += grooves_mm3(part.shape) if exact else length_mm3(engraved_mm(part.shape, design.units))
    return found


@reads("rotor.turn", "units", "stock.*.kind", "stock.*.print", "printer.line", "printer.layer")
def laid_down(design: Design, *made: Made, exact: bool, cache: Cache) -> dict[Key, Laid]:
    """What is laid down of each part whose stock says how it is printed.

    exact : room is found for letters, under which a plate is closed anew; else a thin plate is some 3 % too light
    """
    found: dict[Key, Laid] = {}
    printed = tuple(part for parts in made for part in parts if _how(design, part) is not None)
    if exact and printed:
        hand = design.rotor.turn == "clockwise"
        printed = lettered(printed, clockwise=hand, units=design.units, cache=cache)
    line, layer = design.printer.line, design.printer.layer
    for part in printed:
        if isinstance(part.shape, Solid | Flat) and (how := _how(design, part)) is not None:
            found[part.key] = laid(part.shape, part.stock, how, line_mm=line, layer_mm=layer, cache=cache)
    return found


def _how(design: Design, part: Part) -> Print | None:
    stock = design.stock.get(part.stock)
    return stock.print if stock is not None and stock.kind == "volume" else None


def prints(finished: tuple[Part, ...], *, cache: Cache) -> dict[Key, SolidProperties]:
    """Volume, centre and inertia of each printed part, by its key."""
    return {part.key: properties(shape, cache) for part, shape in _printed(finished)}


def meshes(finished: tuple[Part, ...], *, tol: Tolerances, cache: Cache) -> dict[Key, Mesh]:
    """The mesh of each printed part, by its key."""
    return {part.key: mesh_of(shape, cache, tol, part.name) for part, shape in _printed(finished)}


def _printed(parts: Iterable[Part]) -> Iterator[tuple[Part, Solid | Flat]]:
    for part in parts:
        if part.role in PRINTED and isinstance(part.shape, Solid | Flat):
            yield part, part.shape
