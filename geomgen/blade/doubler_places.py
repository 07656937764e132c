"""Where doublers stand: each against the rib it is glued to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm


@dataclass(frozen=True)
class DoublerPlace:
    """Where one doubler is glued.

    name  : of its [blade.doubler.*] table
    rib   : name of the rib it is glued to
    outer : whether it is on that rib's outer face
    place : itself as a rib: its own mid-plane, sheet and thickness; it bears its rib's name
    """

    name: str
    rib: str
    outer: bool
    place: RibPlace


def doubler_places(design: Design, places: Sequence[RibPlace]) -> tuple[DoublerPlace, ...]:
    """Each doubler against the nearest rib: on its outer face, at the last rib on its inner one.

    Two on one rib lie on each other, in the order of the design.
    raises : MakeError, every fault at once, where one reaches into the next rib
    """
    found, faults = list[DoublerPlace](), list[Fault]()
    for name, table in design.blade.doubler.items():
        r = design.r(table.at)
        k = min(range(len(places)), key=lambda i: abs(places[i].r_mm - r))
        rib, last = places[k], k == len(places) - 1
        thickness = design.sheet(table.stock).thickness
        below = sum(each.place.thickness_mm for each in found if each.rib == rib.name)
        away = rib.thickness_mm / 2 + below
        way, other = (-1.0, places[k - 1]) if last else (1.0, places[k + 1])
        facing = sum(each.place.thickness_mm for each in found if each.rib == other.name and each.outer == last)
        room = abs(other.r_mm - rib.r_mm) - other.thickness_mm / 2 - facing - away
        if len(places) > 1 and room < thickness:
            faults.append(_in_the_way(name, table.stock, thickness, rib, other, room))
        own = replace(rib, r_mm=rib.r_mm + way * (away + thickness / 2), stock=table.stock, thickness_mm=thickness)
        found.append(DoublerPlace(name, rib.name, not last, own))
    if faults:
        raise MakeError(faults)
    return tuple(found)


def faces(design: Design, places: Sequence[RibPlace]) -> list[tuple[float, float]]:
    """Inner and outer face of each rib with its doublers [mm]."""
    own = doubler_places(design, places)
    found = []
    for rib in places:
        sheets = [(each.outer, each.place.thickness_mm) for each in own if each.rib == rib.name]
        inner, outer = (sum(t for out, t in sheets if out == side) for side in (False, True))
        found.append((rib.r_mm - rib.thickness_mm / 2 - inner, rib.r_mm + rib.thickness_mm / 2 + outer))
    return found


def _in_the_way(name: str, stock: str, thickness: float, rib: RibPlace, other: RibPlace, room: float) -> Fault:
    wrong = f"{mm(thickness)} of {stock} on rib {rib.name}, and {mm(max(room, 0.0), 2)} free to rib {other.name}"
    return Fault(f"blade.doubler.{name}.at", "", wrong, remedy="a thinner sheet, or another rib")
