"""Whether spars and channels stay inside the blade between ribs too."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.blade.under_cover import under_covers
from geomgen.errors import Fault
from geomgen.figures import mm
from geomgen.model.layout import Layout
from geomgen.structure.spars.kinds import kind_of, members

LOOKS = 24  # places along a route that are looked at


def straying(layout: Layout) -> list[Fault]:
    """One fault for each plain spar or channel that comes through the inside of the cover somewhere along its way."""
    blade, routes = layout.blade, dict[str, tuple[Route, float]]()
    for member in members(layout):
        if (half_mm := kind_of(member).half_mm) is not None:
            routes[member.path] = member.route, half_mm(member)
    channel = layout.design.blade.channel
    routes |= {route.path: (route, channel[name].diameter / 2) for name, route in layout.channels.items()}
    if not routes:
        return []
    start = np.array([max(route.start[0], blade.root_mm) for route, _ in routes.values()])
    end = np.array([min(route.end[0], blade.radius_mm) for route, _ in routes.values()])
    r = np.linspace(start, end, LOOKS, axis=1)
    half = np.array([half for _, half in routes.values()])
    stations = blade.stations(r.ravel())
    crossed = [route for route, _ in routes.values() for _ in range(LOOKS)]
    points = np.array([route.in_station(station)[0] for route, station in zip(crossed, stations, strict=True)])
    room = _depth_inside(layout, stations, points).reshape(r.shape) - half[:, None]
    worst = np.argmin(room, axis=1)
    found = zip(routes, r[np.arange(len(r)), worst], room[np.arange(len(r)), worst], strict=True)
    return [_fault(path, float(at), -float(least)) for path, at, least in found if least < 0]


def _depth_inside(layout: Layout, stations: Sequence[Station], points: FloatArray) -> FloatArray:
    """How far points (k, 2), one at each of k stations, lie inside the skin's inside there [mm].

    Negative outside it; 0 where the skin leaves nothing.
    """
    covers = [layout.cover(station.r_mm) for station in stations]
    outlines = under_covers(stations, covers, 0.0, [""] * len(stations))
    there = np.array([outline is not None for outline in outlines])
    edges = [piece for outline in outlines if outline is not None for piece in outline.pieces]
    of = np.repeat(np.arange(int(there.sum())), [len(outline.pieces) for outline in outlines if outline is not None])
    depth = np.zeros(len(stations))
    if edges:
        xy, owner = np.concatenate([piece.xy for piece in edges]), np.repeat(of, [len(piece.xy) for piece in edges])
        rings, here = shapely.linearrings(xy, indices=owner), shapely.points(points[there])
        away = shapely.distance(here, rings)
        depth[there] = np.where(shapely.contains_properly(shapely.polygons(rings), here), away, -away)
    return depth


def _fault(path: str, r_mm: float, out_mm: float) -> Fault:
    return Fault(
        path,
        "",
        f"it leaves the section at r {mm(r_mm, 0)}, by {mm(out_mm, 1)}",
        allowed="a straight line that stays within the skin from end to end",
        remedy="end it sooner, move it in chord or height, or make it thinner",
    )
