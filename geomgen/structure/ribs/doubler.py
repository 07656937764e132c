"""Doublers: a second rib of another sheet, glued to one that is there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.doubler_places import DoublerPlace
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.station import Station
from geomgen.design.schema import Design, SheetStock
from geomgen.marking.lettering import Arrow, letter
from geomgen.marking.radius_text import radius_text
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.region import Region
from geomgen.stock.sheet_fit import too_large
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.openings import Opening

FloatArray = NDArray[np.float64]
Draw = Callable[[Sequence[RibPlace]], Sequence[Blank]]


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
    lines = [f"DOUBLER {where.rib}", radius_text(place.r_mm, design.units), "ROOT SIDE"]
    flat, unlettered = letter(flat, lines, arrows)
    face = "outer" if where.outer else "inner"
    return Part(
        name=f"doubler {where.name}",
        role=Role.DOUBLER,
        stock=place.stock,
        path=f"blade.doubler.{where.name}",
        shape=flat,
        assembly=Assembly.BLADE,
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
