"""Ribs: blanks lightened, checked, lettered, and mirrored for a clockwise rotor."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geomgen import units
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.parts.blank import Blank
from geomgen.parts.lettering import Arrow, letter
from geomgen.parts.lighten import lightening_holes
from geomgen.parts.part import Flat, Part
from geomgen.parts.sheet_fit import too_large
from geomgen.parts.spread import point
from geomgen.plane.ligament import Ligament, ligaments_of
from geomgen.plane.path import Circle, from_points
from geomgen.plane.region import Region


def ribs(design: Design, made: Sequence[Blank]) -> list[Part]:
    """Ribs lightened, checked, lettered, and mirrored for a clockwise rotor.

    raises : MakeError, every fault at once, where a ligament is thinner than the construction's web
    """
    found = ligaments_of([blank.region for blank in made])
    if faults := thin_places(design, made, found):
        raise MakeError(faults)
    return [_part(design, blank, ligaments) for blank, ligaments in zip(made, found, strict=True)]


def thin_places(
    design: Design, made: Sequence[Blank], ligaments: Sequence[Sequence[Ligament]] | None = None
) -> list[Fault]:
    """Every place where less wood than the construction's web is left between holes, or from a hole to the edge.

    ligaments : of each rib, narrowest first; measured here if left out
    """
    found = ligaments_of([blank.region for blank in made]) if ligaments is None else ligaments
    return [fault for blank, some in zip(made, found, strict=True) for fault in _thin(design, blank, some)]


def _thin(design: Design, blank: Blank, ligaments: Sequence[Ligament]) -> list[Fault]:
    web = design.blade.construction.web
    where = f"on rib {blank.place.name} at r {blank.place.r_mm:.1f} mm"
    faults = []
    for ligament in ligaments:
        if ligament.gap_mm >= web - 1e-3:
            continue
        blamed, other = blank.openings[ligament.hole].path, "the edge"
        if ligament.other is not None:  # blame the later of two: spars come before channels, channels before screws
            blamed, other = blank.openings[ligament.other].path, blamed
        left = f"leaves {ligament.gap_mm:.2f} mm of wood to {other}" if ligament.gap_mm > 0 else f"runs into {other}"
        faults.append(
            Fault(
                blamed,
                "",
                f"{left} {where}, {web:g} mm needed",
                remedy="move one of them, make it smaller, or choose a deeper section or a thinner skin there",
            )
        )
    return faults


def _radius(design: Design, r_mm: float) -> str:
    """A rib's radius as it is engraved: whole mm, or two decimals of another unit."""
    unit = design.units or "mm"
    if unit == "mm":
        return f"r {r_mm:.0f}"
    return f"r {units.in_unit(r_mm, units.LENGTH, unit):.{ {'cm': 1, 'in': 2}.get(unit, 3) }f} {unit}"


def _part(design: Design, blank: Blank, ligaments: Sequence[Ligament]) -> Part:
    place, station = blank.place, blank.station
    lighten = design.blade.ribs[place.run].lighten
    loops = [opening.loop for opening in blank.openings]
    light: tuple[Circle, ...] = ()
    if lighten is not None:
        light = lightening_holes(blank.region, blank.outline.middle(), lighten.web, lighten.least)
    region = Region(blank.edge, (*loops, *light))
    centre = station.to_blade(np.array([region.centroid()]))[0]
    clockwise = design.rotor.turn == "clockwise"
    chord_line = from_points(np.array([[blank.outline.nose_mm, 0.0], [blank.outline.tail_mm, 0.0]]), closed=False)
    corners = tuple((name, (-x if clockwise else x, y)) for name, (x, y) in blank.outline.corners)
    flat = Flat(
        region=region.mirrored_x() if clockwise else region,
        thickness_mm=place.thickness_mm,
        reference=(chord_line.mirrored_x() if clockwise else chord_line,),
        face="root side",
        corners=corners,
    )
    arrows = [Arrow("UP", "up"), Arrow("FWD", "right" if clockwise else "left")]
    flat, unlettered = letter(flat, [place.name, _radius(design, place.r_mm), "ROOT SIDE"], arrows)
    mirror = np.diag([-1.0 if clockwise else 1.0, 1.0, 1.0, 1.0])
    return Part(
        name=f"rib {place.name}",
        what="rib",
        stock=place.stock,
        path=f"blade.ribs.{place.run}",
        shape=flat,
        on="blade",
        count=1,
        spread=point(centre),
        places=(station.matrix() @ mirror,),
        r_mm=place.r_mm,
        notes=(*blank.notes, *too_large(design, place.stock, region), *unlettered),
        facts={
            "chord_mm": station.chord_mm,
            "angle_deg": station.angle_deg,
            "skin_mm": blank.skin_mm,
            "tail_share": blank.outline.tail_mm / station.chord_mm,
            **({"least_web_mm": ligaments[0].gap_mm} if ligaments else {}),
        },
    )
