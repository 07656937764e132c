"""Whether spars and channels stay inside the blade between ribs too."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
import shapely

from geomgen.blade.blade import Blade
from geomgen.blade.route import Route
from geomgen.design.schema import Design, LengthStock
from geomgen.errors import Fault
from geomgen.parts.skin import skin_mm
from geomgen.parts.under_skin import under_skin

LOOKS = 24  # places along a route that are looked at


def straying(design: Design, blade: Blade, spars: Mapping[str, Route], channels: Mapping[str, Route]) -> list[Fault]:
    """One fault for each spar or channel that comes through the inside of the skin somewhere along its way."""
    sizes = {route.path: (route, _half_size(design, name)) for name, route in spars.items()}
    sizes |= {route.path: (route, design.blade.channel[name].diameter / 2) for name, route in channels.items()}
    faults = (_stray(design, blade, route, half) for route, half in sizes.values())
    return [fault for fault in faults if fault is not None]


def _half_size(design: Design, name: str) -> float:
    stock = design.stock[design.blade.spar[name].stock]
    if not isinstance(stock, LengthStock):
        return 0.0
    return (stock.outside or min(stock.width or 0.0, stock.height or 0.0)) / 2


def _stray(design: Design, blade: Blade, route: Route, half_mm: float) -> Fault | None:
    start, end = max(route.start[0], blade.root_mm), min(route.end[0], blade.radius_mm)
    worst: tuple[float, float] | None = None
    for r in np.linspace(start, end, LOOKS):
        station = blade.station(float(r))
        outline = under_skin(station, skin_mm(design, float(r)), 0.0)
        (x, y), _ = route.in_station(station)
        room = -half_mm
        if outline is not None:
            polygon = shapely.polygons(np.vstack([piece.xy for piece in outline.pieces]))
            here = shapely.points(x, y)
            away = float(shapely.distance(here, shapely.boundary(polygon)))
            room = (away if shapely.contains_properly(polygon, here) else -away) - half_mm
        if worst is None or room < worst[0]:
            worst = room, float(r)
    if worst is None or worst[0] >= 0:
        return None
    return Fault(
        route.path,
        "",
        f"it leaves the section at r {worst[1]:.0f} mm, by {-worst[0]:.1f} mm",
        allowed="a straight line that stays within the skin from end to end",
        remedy="end it sooner, move it in chord or height, or make it thinner",
    )
