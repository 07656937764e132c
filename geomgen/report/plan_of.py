"""The plan view's figures, read off a craft."""

from __future__ import annotations

import numpy as np

from geomgen.blade.route import Route
from geomgen.craft import Craft
from geomgen.design.schema import LengthStock
from geomgen.frames import applied
from geomgen.model.part import Flat
from geomgen.report.plan_inputs import PlanInputs, Point, RibLine, RouteLine, Spot

LOOKS = 60  # stations along each edge


def plan_of(craft: Craft) -> PlanInputs:
    """What `plan_view` draws of a craft."""
    design, blade, centre = craft.design, craft.blade, craft.mass.blade
    stations = blade.stations(np.linspace(blade.root_mm, blade.radius_mm, LOOKS))
    ends = np.array([s.to_blade(np.array([[0.0, 0.0], [s.chord_mm, 0.0]]))[:, :2] for s in stations])
    ribs = []
    for blank in craft.blanks:
        edge = blank.station.to_blade(np.array([[blank.outline.nose_mm, 0.0], [blank.outline.tail_mm, 0.0]]))
        ribs.append(RibLine(blank.place.name, blank.place.r_mm, _point(edge[0]), _point(edge[1])))
    spots = [
        Spot(part.name.removeprefix("fitting ").replace("_", " "), _point(part.spread[0, 1:]))
        for part in craft.parts
        if part.role == "fitting" and part.assembly == "blade"
    ]
    return PlanInputs(
        title=design.title,
        units=design.units or "mm",
        turn=design.rotor.turn,
        blades=design.rotor.blades,
        radius_mm=design.rotor.radius,
        hub_mm=design.hub.bay.radius + design.hub.wall,
        leading=ends[:, 0],
        trailing=ends[:, 1],
        tip=_tip(craft),
        ribs=tuple(ribs),
        routes=tuple(_routes(craft)),
        fittings=tuple(spots),
        cg=(centre.cg_radius_mm.typical, centre.cg_chordwise_mm.typical),
    )


def _tip(craft: Craft) -> np.ndarray:
    """(n, 2) edge of a shaped tip beyond the last rib, from its leading edge round to its trailing edge [mm]."""
    part = next((part for part in craft.parts if part.role == "tip"), None)
    if part is None or not isinstance(part.shape, Flat):
        return np.zeros((0, 2))
    flat = part.shape.region.outer.flattened(0.1)
    points = applied(part.places[0], np.column_stack([flat, np.zeros(len(flat))]))[:, :2]
    points = points[points[:, 0] > points[:, 0].min() + 1e-6]
    start = int(np.argmax(points[:, 1]))
    points = np.roll(points, -start, axis=0)  # a convex edge, from its foremost point on
    back = points[1:, 1].max() == points[-1, 1]
    return np.roll(points, -1, axis=0)[::-1] if back else points


def _routes(craft: Craft) -> list[RouteLine]:
    lines = []
    for name, route in craft.spar_routes.items():
        stock = craft.design.stock[craft.design.blade.spar[name].stock]
        width = (stock.outside or stock.width or 1.0) if isinstance(stock, LengthStock) else 1.0
        lines.append(RouteLine(f"{name} spar", "spar", *_ends(route), width))
    for name, route in craft.channel_routes.items():
        lines.append(RouteLine(f"{name} channel", "channel", *_ends(route), craft.design.blade.channel[name].diameter))
    return lines


def _ends(route: Route) -> tuple[Point, Point]:
    return _point(route.start), _point(route.end)


def _point(place: np.ndarray) -> Point:
    return float(place[0]), float(place[1])
