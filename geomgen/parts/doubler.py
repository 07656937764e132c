"""Doublers: a second rib of another sheet, glued to one that is there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.station import Station
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.parts.blank import Blank
from geomgen.parts.lettering import Arrow, letter
from geomgen.parts.openings import Opening
from geomgen.parts.part import Flat, Part
from geomgen.parts.radius_text import radius_text
from geomgen.parts.sheet_fit import too_large
from geomgen.parts.spread import point
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]
Draw = Callable[[Sequence[RibPlace]], Sequence[Blank]]


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
        thickness = sheet_mm(design, table.stock)
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


def doubler_blanks(where: Sequence[DoublerPlace], made: Sequence[Blank], draw: Draw) -> tuple[Blank, ...]:
    """Each doubler as a rib at its own mid-plane, with the holes and notches that spars and channels need there.

    What else is cut into its rib (screws of caps and fittings) runs straight along the blade, through both.

    made : every rib, with all its holes
    draw : rib places -> their bare blanks, as `blanks` gives them with all else filled in
    """
    ribs = {blank.place.name: blank for blank in made}
    found = []
    for blank in draw([each.place for each in where]) if where else ():
        rib = ribs[blank.place.name]
        own = {opening.path for opening in blank.openings}
        shared = [o for o in rib.openings if o.path not in own and not o.path.startswith("blade.")]
        across = _across(rib.station, blank.station)
        more = tuple(Opening(opening.path, opening.loop.transformed(across)) for opening in shared)
        found.append(replace(blank, openings=(*blank.openings, *more)))
    return tuple(found)


def doublers(design: Design, where: Sequence[DoublerPlace], made: Sequence[Blank]) -> list[Part]:
    """The doublers, lettered, and mirrored for a clockwise rotor; without lightening holes and feet.

    made : blanks of the doublers, as `doubler_blanks` gives them
    """
    return [_part(design, each, blank) for each, blank in zip(where, made, strict=True)]


def _across(start: Station, end: Station) -> FloatArray:
    """(3, 3) matrix from one station's frame to another's, seen along the feather axis."""
    corners = np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    seen = end.from_blade(start.to_blade(corners))
    matrix = np.eye(3)
    matrix[:2, 2], matrix[:2, 0], matrix[:2, 1] = seen[0], seen[1] - seen[0], seen[2] - seen[0]
    return matrix


def _part(design: Design, where: DoublerPlace, blank: Blank) -> Part:
    clockwise, place, station = design.rotor.turn == "clockwise", blank.place, blank.station
    region: Region = blank.region
    centre = station.to_blade(np.array([region.centroid()]))[0]
    sheet = design.stock[place.stock]
    grain = 0.0 if isinstance(sheet, SheetStock) and sheet.grain is not None else None
    corners = tuple((name, (-x if clockwise else x, y)) for name, (x, y) in blank.outline.corners)
    flat = Flat(
        region=region.mirrored_x() if clockwise else region,
        thickness_mm=place.thickness_mm,
        face="root side",
        corners=corners,
        grain=grain,
    )
    arrows = [Arrow("UP", "up"), Arrow("FWD", "right" if clockwise else "left")]
    lines = [f"DOUBLER {where.rib}", radius_text(design, place.r_mm), "ROOT SIDE"]
    flat, unlettered = letter(flat, lines, arrows)
    face = "outer" if where.outer else "inner"
    return Part(
        name=f"doubler {where.name}",
        what="doubler",
        stock=place.stock,
        path=f"blade.doubler.{where.name}",
        shape=flat,
        on="blade",
        count=1,
        spread=point(centre),
        places=(station.matrix() @ np.diag([-1.0 if clockwise else 1.0, 1.0, 1.0, 1.0]),),
        r_mm=place.r_mm,
        notes=(
            f"glued to the {face} face of rib {where.rib}; drawn at its own r, so it ends flush with the rib's edge",
            *blank.notes,
            *too_large(design, place.stock, region),
            *unlettered,
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg},
    )


def _in_the_way(name: str, stock: str, thickness: float, rib: RibPlace, other: RibPlace, room: float) -> Fault:
    wrong = f"{thickness:g} mm of {stock} on rib {rib.name}, and {max(room, 0.0):.2f} mm free to rib {other.name}"
    return Fault(f"blade.doubler.{name}.at", "", wrong, remedy="a thinner sheet, or another rib")
