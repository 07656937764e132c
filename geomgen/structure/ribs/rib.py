"""Ribs: blanks lightened and checked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from geomgen.design.schema import Design
from geomgen.errors import Fault, told_once
from geomgen.figures import mm
from geomgen.model.label import Arrow, Item, Label, Radius
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly
from geomgen.model.spread import point
from geomgen.plane.ligament import Ligament, ligaments_of
from geomgen.plane.path import Loop, from_points
from geomgen.plane.region import Region
from geomgen.structure.ribs.blank import Blank
from geomgen.structure.ribs.lighten import lightening_holes
from geomgen.structure.ribs.truss import truss_holes
from geomgen.structure.spars.cuts import notch_at


def ribs(layout: Layout, blanks: Sequence[Blank]) -> Made:
    """Ribs with their lightening holes, in the order of their blanks; none where one is thinner than it may be.

    What is for the bench (feet, what to sand where) and whether they go on their sheet is not judged here.
    """
    found = ligaments_of([blank.region for blank in blanks])
    each = list(zip(blanks, found, strict=True))
    if faults := told_once(one for blank, some in each for one in _thin(layout.design, blank, some)):
        return Made(faults=tuple(faults))
    return Made(tuple(_part(layout.design, blank, some) for blank, some in each))


def _thin(
    design: Design, blank: Blank, ligaments: Sequence[Ligament]
) -> Iterator[tuple[tuple[str, str], str, float, Fault]]:
    """Every place where less wood than the construction's web is left between holes, or from a hole to the edge.

    ligaments : narrowest first
    returns   : which two, the rib, how much is missing [mm], the fault
    """
    web = design.blade.construction.web
    where = f"on rib {blank.place.name} at r {mm(blank.place.r_mm, 1)}"
    remedy = "move one of them, make it smaller, or choose a deeper section or a thinner skin there"
    for ligament in ligaments:
        if ligament.gap_mm >= web - 1e-3:
            continue
        blamed, other = blank.openings[ligament.hole].path, "the edge"
        if ligament.other is None and (notch := notch_at(blank.notches, ligament.at[1])) is not None:
            other = notch.path
        if ligament.other is not None:  # blame the later of two: spars come before channels, channels before screws
            blamed, other = blank.openings[ligament.other].path, blamed
        left = f"leaves {mm(ligament.gap_mm, 2)} of wood to {other}" if ligament.gap_mm > 0 else f"runs into {other}"
        fault = Fault(blamed, "", f"{left} {where}, {mm(web)} needed", remedy=remedy)
        yield (blamed, other), blank.place.name, web - ligament.gap_mm, fault


def _part(design: Design, blank: Blank, ligaments: Sequence[Ligament]) -> Part:
    place, station, key = blank.place, blank.station, rib_key(blank.place)
    region = Region(blank.edge, (*blank.region.holes, *_light(design, blank)))
    return Part(
        name=f"rib {place.name}",
        role=key.role,
        stock=place.stock,
        path=key.path,
        mark=key.mark,
        shape=_flat(design, blank, region),
        assembly=Assembly.BLADE,
        count=1,
        spread=point(station.to_blade(np.array([region.centroid()]))[0]),
        places=(station.matrix(),),
        r_mm=place.r_mm,
        notes=blank.notes,
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


def _flat(design: Design, blank: Blank, region: Region) -> Flat:
    chord_line = from_points(np.array([[blank.outline.nose_mm, 0.0], [blank.outline.tail_mm, 0.0]]), closed=False)
    grained = design.sheet(blank.place.stock).grain is not None
    words: tuple[Item, ...] = (blank.place.name, Radius(blank.place.r_mm), "ROOT SIDE")
    words += (Arrow("UP", "up"), Arrow("FWD", "left"))
    return Flat(
        region=region,
        thickness_mm=blank.place.thickness_mm,
        reference=(chord_line,),
        face="root side",
        corners=tuple(blank.outline.corners),
        grain=0.0 if grained else None,
        label=Label(groups=(words, (Arrow("GRAIN", "right"),)) if grained else (words,)),
    )
