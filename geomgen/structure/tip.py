"""The tip piece: a flat plate in the chord's plane of the last station, from the last rib out to the radius."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import Design
from geomgen.frames import applied
from geomgen.model.joint import Bond, Joint, over
from geomgen.model.label import Arrow, Label
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import NOTHING, Made, attempted
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.arcs import join
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.tolerances import Tolerances

OUTERMOST = 0.40  # of the chord: where a rounded tip reaches the radius
CORNER_MM = 6.0  # radius of a raked tip's corners; less where it is not so deep
SAMPLES = 129  # of a quarter ellipse


def tips(layout: Layout) -> Made:
    """The tip piece of one blade, glued to the last rib; none where the tip is square.

    Its plan is drawn over the whole chord of the section where the frame ends, so that leading and trailing edge go
    on into it. Drawn from above: x aft from the leading edge, y out from the last rib's face. The rules see to a depth
    and a stock.
    """
    tip = layout.design.blade.tip
    if tip is None or tip.kind == "square" or tip.depth is None or tip.stock is None:
        return NOTHING
    kind, depth, stock = tip.kind, tip.depth, tip.stock
    return attempted(lambda: _made(layout, kind, depth_mm=depth, stock=stock))


def _made(layout: Layout, kind: str, *, depth_mm: float, stock: str) -> Made:
    station = layout.blade.station(layout.design.frame_end)
    chord = station.chord_mm
    region = Region(rounded_plan(chord, depth_mm, layout.tol) if kind == "rounded" else raked_plan(chord, depth_mm))
    part = _part(layout.design, station, region, stock, kind)
    x0, _, x1, _ = region.bounds()
    contact = over((x1 - x0) * layout.design.sheet(stock).thickness, part.spread)
    contact[:, 1] = layout.design.frame_end  # along its straight edge
    place, middle = contact[0, 1:], station.to_blade(np.array([[(x0 + x1) / 2.0, 0.0]]))[0]
    lies = station.turned(np.diag([(x1 - x0) ** 2 / 12.0, 0.0])) + np.outer(middle, middle) - np.outer(place, place)
    return Made(
        (part,), (Joint(part.key, rib_key(layout.ribs[-1]), Bond.GLUED, part.path, contact, second=lies[None]),)
    )


def rounded_plan(chord_mm: float, depth_mm: float, tol: Tolerances) -> Path:
    """Closed anticlockwise plan: a quarter ellipse from either end of the chord, meeting at the depth in a tangent."""
    outermost = OUTERMOST * chord_mm
    t = np.linspace(0.0, 0.5 * np.pi, SAMPLES)
    pieces = []
    for a, start in ((chord_mm - outermost, 0.0), (outermost, 0.5 * np.pi)):
        way = np.column_stack((-a * np.sin(t + start), depth_mm * np.cos(t + start)))
        xy = np.column_stack((outermost + a * np.cos(t + start), depth_mm * np.sin(t + start)))
        pieces.append(Piece(xy, way / np.hypot(*way.T)[:, None], "blade.tip"))
    return join(smooth_arcs(pieces, tol), closed=True)


def raked_plan(chord_mm: float, depth_mm: float) -> Path:
    """Closed anticlockwise plan: a straight line aft and out to the trailing edge, its two corners rounded.

    Both corners have one radius, so the line between them runs as their middles do.
    """
    radius = min(CORNER_MM, depth_mm / 3, chord_mm / 6)
    nose, tail = np.array((radius, 0.0)), np.array((chord_mm - radius, depth_mm - radius))
    along = (tail - nose) / np.hypot(*(tail - nose))
    out = radius * np.array((-along[1], along[0]))
    turn = np.arctan2(along[1], along[0])
    aft = np.array((radius, 0.0))
    xy = np.array(((chord_mm, 0.0), tail + aft, tail + out, nose + out, (0.0, 0.0)))
    quarter = 0.5 * np.pi
    return Path(xy, np.array((0.0, np.tan((quarter + turn) / 4), 0.0, np.tan((quarter - turn) / 4), 0.0)), True)


def _part(design: Design, station: Station, region: Region, stock: str, kind: str) -> Part:
    place = _place(station)
    centre = applied(place, (*region.centroid(), 0.0))
    chord = from_points(np.array(((0.0, 0.0), (station.chord_mm, 0.0))), closed=False)
    flat = Flat(
        region=region,
        thickness_mm=design.sheet(stock).thickness,
        reference=(chord,),
        face="upper side",
        grain=0.0 if design.sheet(stock).grain else None,  # along the chord
        label=Label((("TIP", "UPPER SIDE", Arrow("FWD", "left"), Arrow("OUT", "up")),)),
    )
    return Part(
        name="tip",
        role=Role.TIP,
        stock=stock,
        path="blade.tip",
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=point(centre),
        places=(place,),
        notes=(
            f"{kind}; its straight edge is glued to the outer face of the last rib, along the chord line, leading "
            "edge to trailing edge; sand its edge to the section, thin at the trailing edge: it is weighed as cut",
        ),
        facts={"depth_mm": region.bounds()[3]},
    )


def _place(station: Station) -> FloatArray:
    """(4, 4) from the plate's frame, x aft along the chord line, y out, z up from its mid-plane, to the blade frame."""
    own = station.matrix()  # x aft, y up, z in
    place = own.copy()
    place[:3, 1], place[:3, 2] = -own[:3, 2], own[:3, 1]
    return place
