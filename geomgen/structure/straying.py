"""Whether spars and channels stay inside the blade between ribs too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.cover import cover
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.blade.under_cover import under_covers
from geomgen.design.schema import Design, LengthStock, Spar
from geomgen.errors import Fault

FloatArray = NDArray[np.float64]

LOOKS = 24  # places along a route that are looked at


def straying(design: Design, blade: Blade, spars: Mapping[str, Route], channels: Mapping[str, Route]) -> list[Fault]:
    """One fault for each spar or channel that comes through the inside of the skin somewhere along its way."""
    single = {name: route for name, route in spars.items() if isinstance(design.blade.spar[name], Spar)}
    routes = {route.path: (route, _half_size(design, name)) for name, route in single.items()}
    routes |= {route.path: (route, design.blade.channel[name].diameter / 2) for name, route in channels.items()}
    if not routes:
        return []
    start = np.array([max(route.start[0], blade.root_mm) for route, _ in routes.values()])
    end = np.array([min(route.end[0], blade.radius_mm) for route, _ in routes.values()])
    r = np.linspace(start, end, LOOKS, axis=1)
    half = np.array([half for _, half in routes.values()])
    stations = blade.stations(r.ravel())
    crossed = [route for route, _ in routes.values() for _ in range(LOOKS)]
    points = np.array([route.in_station(station)[0] for route, station in zip(crossed, stations, strict=True)])
    room = _depth_inside(design, stations, points).reshape(r.shape) - half[:, None]
    worst = np.argmin(room, axis=1)
    found = zip(routes, r[np.arange(len(r)), worst], room[np.arange(len(r)), worst], strict=True)
    return [_fault(path, float(at), -float(least)) for path, at, least in found if least < 0]


def _half_size(design: Design, name: str) -> float:
    stock = design.stock[design.blade.spar[name].stock]
    if not isinstance(stock, LengthStock):
        return 0.0
    return (stock.outside or min(stock.width or 0.0, stock.height or 0.0)) / 2


def _depth_inside(design: Design, stations: Sequence[Station], points: FloatArray) -> FloatArray:
    """How far points (k, 2), one at each of k stations, lie inside the skin's inside there [mm].

    Negative outside it; 0 where the skin leaves nothing.
    """
    covers = [cover(design, station.r_mm) for station in stations]
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
        f"it leaves the section at r {r_mm:.0f} mm, by {out_mm:.1f} mm",
        allowed="a straight line that stays within the skin from end to end",
        remedy="end it sooner, move it in chord or height, or make it thinner",
    )
