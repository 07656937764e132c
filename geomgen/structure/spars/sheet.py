"""Sheet spars: an upright sheet as deep as the ribs, halved into them; it keeps to one plane while the blade twists."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.route import Route
from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.structure.ribs.openings import askew_mm
from geomgen.structure.spars.boards import Pattern, cut_up, flat_part, frame
from geomgen.structure.spars.slices import Slice, left_section, meets, nodes, room_over, slices
from geomgen.structure.spars.splices import Along, Span, Wanted, joined
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]

SAME_MM = 1e-6  # places nearer than this are one

UP = np.array([[0.0, 1.0]])  # (y, z) of the blade frame


@dataclass(frozen=True, eq=False)
class Upright:
    """A sheet spar at one radius.

    foot     : (2,) middle of its lower edge, in the station's frame [mm]
    up       : (2,) unit vector along it, up in the blade frame
    depth_mm : from its lower edge to its upper [mm]
    """

    foot: FloatArray
    up: FloatArray
    depth_mm: float


def upright(at: Slice, route: Route, thickness_mm: float) -> Upright | None:
    """How a sheet stands at one radius: from edge to edge, inside them over all of its thickness."""
    point, _ = route.in_station(at.station)
    up = at.station.directions_from_blade(UP)[0]
    room = room_over(at.outline, point, up, -thickness_mm / 2, thickness_mm / 2)
    if room is None or room[1] <= room[0]:
        return None
    return Upright(point + room[0] * up, up, room[1] - room[0])


def slot_mm(width_mm: float, route: Route, through_mm: float, tol: Tolerances) -> float:
    """Width of a square-cut slot for a sheet, more where it is met askew [mm].

    width_mm   : of what stands in it, fit included [mm]
    through_mm : thickness of what the slot is cut in [mm]
    """
    longer = askew_mm(width_mm, abs(float(route.slope[0])), through_mm)
    return width_mm + (longer if longer > tol.askew_mm else 0.0)


def sheet_faults(design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]) -> list[Fault]:
    """Where a sheet spar leaves the section, or halving it leaves too little of rib and sheet; the worst place."""
    path, web = f"blade.spar.{name}", design.blade.construction.web
    r = nodes(places, float(route.start[0]), float(route.end[0]))
    thickness = sheet_mm(design, design.blade.spar[name].stock)
    there = slices(design, blade, r, path)
    found = [upright(at, route, thickness) if at else None for at in there]
    for at, one, radius in zip(there, found, r.tolist(), strict=True):
        if not one:
            x = float(route.in_station(at.station)[0][0]) if at else 0.0
            return [left_section(at, f"it leaves the section at r {radius:.0f} mm", x, thickness, path)]
    depth, worst = min((one.depth_mm, radius) for one, radius in zip(found, r.tolist(), strict=True) if one)
    if depth >= 2 * web:
        return []
    wrong = f"halved at r {worst:.0f} mm it leaves {depth / 2:.2f} mm of rib and sheet"
    allowed = f"at least {web:g} mm, blade.construction.web"
    return [Fault(path, "", wrong, allowed, "a place farther forward, or end it sooner")]


def sheets(
    design: Design,
    blade: Blade,
    name: str,
    route: Route,
    places: Sequence[RibPlace],
    spans: Sequence[Span],
    tol: Tolerances,
) -> list[Part]:
    """The sheet, or its pieces: edges straight from rib to rib, slots from its upper edge to half its depth.

    spans  : stretches of r where no joint may stand [mm]
    raises : MakeError where it is longer than its stock and can't be joined
    """
    spar, path = design.blade.spar[name], f"blade.spar.{name}"
    start, end = float(route.start[0]), float(route.end[0])
    thickness = sheet_mm(design, spar.stock)
    ribs = [place for place in places if meets(place, start, end)]
    r = np.unique(np.clip([start, *(place.r_mm for place in ribs), end], start, end))
    points = []
    for at in slices(design, blade, r, path):
        one = at and upright(at, route, thickness)
        if at and one:
            points.append(at.station.to_blade(np.array([one.foot, one.foot + one.depth_mm * one.up])))
    feet, tops = np.array(points)[:, 0], np.array(points)[:, 1]
    out = np.array([1.0, route.slope[0], 0.0])
    matrix = frame(feet[0], out, np.array([0.0, 0.0, 1.0]))
    long = float(np.linalg.norm(out))
    slots = [
        ((place.r_mm - start) * long, slot_mm(place.thickness_mm + spar.fit, route, thickness, tol)) for place in ribs
    ]
    low, high = ((edge - feet[0]) @ matrix[:3, :2] for edge in (feet, tops))
    pattern = Pattern(
        name=f"spar {name}",
        role=Role.SPAR,
        stock=spar.stock,
        path=path,
        outline=_outline(low, high, slots),
        matrix=matrix,
        grain=0.0,
        face="aft side",
        text=f"SPAR {name}",
    )
    closed = [(place.r_mm - place.thickness_mm, place.r_mm + place.thickness_mm) for place in ribs]
    along = Along(r, low[:, 0], (feet + tops) / 2)
    made = joined(design, path, spar, [Wanted(pattern.name, along, thickness)], [*spans, *closed])
    return [flat_part(design, piece) for piece in cut_up(pattern, made[pattern.name])]


def _outline(low: FloatArray, high: FloatArray, slots: Sequence[tuple[float, float]]) -> FloatArray:
    """(n, 2) corners anticlockwise: along the lower edge (n, 2), back along the upper one (n, 2) and its slots [mm].

    slots : middle and width of each, from the inner end out [mm]
    """
    x, end = high[:, 0], float(high[-1, 0])
    sides = [(max(at - width / 2, 0.0), min(at + width / 2, end)) for at, width in slots]
    inside = [any(a - SAME_MM <= at <= b + SAME_MM for a, b in sides) for at in x]
    corners = [tuple(point) for point, cut in zip(high, inside, strict=True) if not cut]
    for (a, b), (at, _) in zip(sides, slots, strict=True):
        bottom = float(np.interp(at, low[:, 0], low[:, 1]) + np.interp(at, x, high[:, 1])) / 2
        corners += [(a, float(np.interp(a, x, high[:, 1])))] if a > SAME_MM else []
        corners += [(a, bottom), (b, bottom)]
        corners += [(b, float(np.interp(b, x, high[:, 1])))] if b < end - SAME_MM else []
    upper = _in_order(corners, sides)
    return np.vstack([low, upper[::-1]])


def _in_order(corners: Sequence[tuple[float, ...]], sides: Sequence[Span]) -> FloatArray:
    """Corners of the upper edge from the inner end out; at a slot's first side down, at its second up."""
    first = {a for a, _ in sides}
    return np.array(sorted(corners, key=lambda c: (c[0], -c[1] if c[0] in first else c[1])))
