"""Doublers: a second rib of another sheet, glued to one that is there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.doubler_places import DoublerPlace
from geomgen.blade.station import Station
from geomgen.design.schema import Design
from geomgen.model.joint import Bond, Joint, over
from geomgen.model.label import Arrow, Label, Radius
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.structure.openings import Opening
from geomgen.structure.ribs.blank import Blank, blanks


def doubler_blanks(layout: Layout, ribs: Sequence[Blank]) -> tuple[Blank, ...]:
    """Each doubler as a rib at its own mid-plane, with the holes and notches that spars and channels need there.

    The screws of caps and fittings run straight along the blade, through rib and doubler.

    ribs : every rib, with all its holes
    """
    of = {rib.place.number: rib for rib in ribs}
    found = []
    for blank in blanks(layout, [each.place for each in layout.doublers]) if layout.doublers else ():
        rib = of[blank.place.number]
        across = _across(rib.station, blank.station)
        screws = (Opening(o.path, o.loop.transformed(across), True) for o in rib.openings if o.straight)
        found.append(replace(blank, openings=(*blank.openings, *screws)))
    return tuple(found)


def doublers(layout: Layout, drawn: Sequence[Blank]) -> Made:
    """The doublers, without lightening holes and feet, each glued to its rib or to the doubler that is on it already.

    drawn : blanks of the doublers, as `doubler_blanks` gives them
    """
    parts, joints, outermost = list[Part](), list[Joint](), {rib.number: rib_key(rib) for rib in layout.ribs}
    for where, blank in zip(layout.doublers, drawn, strict=True):
        part, number = _part(layout.design, where, blank), where.place.number
        contact = over(blank.region.area(), part.spread)
        lies = blank.station.turned(blank.region.covariance())[None]
        joints.append(Joint(part.key, outermost[number], Bond.GLUED, part.path, contact, second=lies))
        outermost[number] = part.key
        parts.append(part)
    return Made(tuple(parts), tuple(joints))


def _across(start: Station, end: Station) -> FloatArray:
    """(3, 3) matrix from one station's frame to another's, seen along the feather axis."""
    corners = np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    seen = end.from_blade(start.to_blade(corners))
    matrix = np.eye(3)
    matrix[:2, 2], matrix[:2, 0], matrix[:2, 1] = seen[0], seen[1] - seen[0], seen[2] - seen[0]
    return matrix


def _part(design: Design, where: DoublerPlace, blank: Blank) -> Part:
    place, station = blank.place, blank.station
    region = blank.region
    words = (f"DOUBLER {where.rib}", Radius(place.r_mm), "ROOT SIDE", Arrow("UP", "up"), Arrow("FWD", "left"))
    flat = Flat(
        region=region,
        thickness_mm=place.thickness_mm,
        face="root side",
        corners=tuple(blank.outline.corners),
        grain=0.0 if design.sheet(place.stock).grain else None,
        label=Label(groups=(words,)),
    )
    face = "outer" if where.outer else "inner"
    return Part(
        name=f"doubler {where.name}",
        role=Role.DOUBLER,
        stock=place.stock,
        path=f"blade.doubler.{where.name}",
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=point(station.to_blade(np.array([region.centroid()]))[0]),
        places=(station.matrix(),),
        r_mm=place.r_mm,
        notes=(
            f"glued to the {face} face of rib {where.rib}; drawn at its own r, so it ends flush with the rib's edge",
            *blank.notes,
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg},
    )
