"""Ribs: blanks lightened, checked, put on feet, lettered, and mirrored for a clockwise rotor."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from geomgen.bench.feet import Footing
from geomgen.design.schema import Design, SheetStock
from geomgen.errors import Fault, MakeError
from geomgen.marking.lettering import Arrow, letter
from geomgen.marking.radius_text import radius_text
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.ligament import Ligament, ligaments_of
from geomgen.plane.path import Loop, from_points
from geomgen.plane.region import Region
from geomgen.stock.sheet_fit import too_large
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.lighten import lightening_holes
from geomgen.structure.ribs.truss import truss_holes
from geomgen.structure.spars.cuts import notch_at


def ribs(design: Design, made: Sequence[Blank], plane: Footing | None = None) -> list[Part]:
    """Ribs lightened, checked, put on feet, lettered, and mirrored for a clockwise rotor.

    plane  : what their feet stand on, as `footing` gives it; None for ribs without feet
    raises : MakeError, every fault at once, where a ligament is thinner than the construction's web
    """
    found = ligaments_of([blank.region for blank in made])
    if faults := thin_places(design, made, found):
        raise MakeError(faults)
    return [_part(design, blank, ligaments, plane) for blank, ligaments in zip(made, found, strict=True)]


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
        if ligament.other is None and (notch := notch_at(blank.notches, ligament.at[1])) is not None:
            other = notch.path
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


def _part(design: Design, blank: Blank, ligaments: Sequence[Ligament], plane: Footing | None) -> Part:
    place, station = blank.place, blank.station
    own = Region(blank.edge, (*blank.region.holes, *_light(design, blank)))
    flat, unlettered = _drawn(design, blank, own, plane)
    mirror = np.diag([-1.0 if _clockwise(design) else 1.0, 1.0, 1.0, 1.0])
    return Part(
        name=f"rib {place.name}",
        role=Role.RIB,
        stock=place.stock,
        path=f"blade.ribs.{place.run}",
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=point(station.to_blade(np.array([own.centroid()]))[0]),
        places=(station.matrix() @ mirror,),
        r_mm=place.r_mm,
        notes=(
            *blank.notes,
            *_foot_notes(blank, plane),
            *too_large(design, place.stock, flat.region),
            *unlettered,
        ),
        facts={
            "chord_mm": station.chord_mm,
            "angle_deg": station.angle_deg,
            "skin_mm": blank.skin_mm,
            "tail_share": blank.outline.tail_mm / station.chord_mm,
            **({"least_web_mm": ligaments[0].gap_mm} if ligaments else {}),
        },
    )


def _light(design: Design, blank: Blank) -> tuple[Loop, ...]:
    """Lightening holes of a rib, if its run has any."""
    lighten = design.blade.ribs[blank.place.run].lighten
    if lighten is None:
        return ()
    holes = truss_holes if lighten.by == "truss" else lightening_holes
    return holes(blank.region, blank.outline.middle(), lighten.web, lighten.least)


def _drawn(design: Design, blank: Blank, own: Region, plane: Footing | None) -> tuple[Flat, list[str]]:
    """A rib in the design's own hand, its letters clear of its own edge, its feet beyond it; notes on the letters.

    own : what stays of it in the blade, in the hand of the anticlockwise twin
    """
    clockwise = _clockwise(design)
    chord_line = from_points(np.array([[blank.outline.nose_mm, 0.0], [blank.outline.tail_mm, 0.0]]), closed=False)
    sheet = design.stock[blank.place.stock]
    grained = isinstance(sheet, SheetStock) and sheet.grain is not None
    flat = Flat(
        region=own.mirrored_x() if clockwise else own,
        thickness_mm=blank.place.thickness_mm,
        reference=(chord_line.mirrored_x() if clockwise else chord_line,),
        face="root side",
        corners=tuple((name, (-x if clockwise else x, y)) for name, (x, y) in blank.outline.corners),
        grain=0.0 if grained else None,
    )
    lines = [blank.place.name, radius_text(blank.place.r_mm, design.units), "ROOT SIDE"]
    flat, notes = letter(flat, lines, [Arrow("UP", "up"), Arrow("FWD", "right" if clockwise else "left")])
    if grained:  # by itself: it may be smaller than the rest
        flat, more = letter(flat, (), [Arrow("GRAIN", "left" if clockwise else "right")])
        notes += more
    if plane is None:
        return flat, notes
    stand = plane.stands[blank.place.name]
    marks = [mark.mirrored_x() if clockwise else mark for mark in stand.marks]
    whole = Region(stand.edge.mirrored_x() if clockwise else stand.edge, flat.region.holes)
    return replace(flat, region=whole, stays=flat.region, marks=(*flat.marks, *marks)), notes


def _foot_notes(blank: Blank, plane: Footing | None) -> tuple[str, ...]:
    if plane is None:
        return ()
    stand = plane.stands[blank.place.name]
    stands = f"stands on {len(stand.feet)} feet on its {plane.side} edge"
    return f"{stands}: cut them off along the marks before that side is covered", *stand.notes


def _clockwise(design: Design) -> bool:
    return design.rotor.turn == "clockwise"
