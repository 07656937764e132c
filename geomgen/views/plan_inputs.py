"""What the plan view is drawn from: plain figures read off a craft, in the blade frame of the anticlockwise rotor."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.route import Route
from geomgen.craft import Craft
from geomgen.design.schema import LengthStock
from geomgen.frames import applied
from geomgen.model.part import Flat
from geomgen.model.role import Assembly, Role
from geomgen.views.drawing import Point

LOOKS = 60  # stations along each edge


@dataclass(frozen=True)
class RibLine:
    """One rib from above.

    name : short, "R3"
    r_mm : its station [mm]
    nose : x out and y forward [mm]
    tail : the same of its other end [mm]
    """

    name: str
    r_mm: float
    nose: Point
    tail: Point


@dataclass(frozen=True)
class RouteLine:
    """A spar or a channel from above.

    name       : "main spar", "power channel"
    kind       : how it is drawn
    start, end : x out and y forward [mm]
    width_mm   : as seen from above [mm]
    """

    name: str
    kind: Literal["spar", "channel"]
    start: Point
    end: Point
    width_mm: float


@dataclass(frozen=True)
class Spot:
    """Something at a point: a fitting.

    at : x out and y forward [mm]
    """

    name: str
    at: Point


@dataclass(frozen=True, eq=False)
class PlanInputs:
    """One blade and its rotor as seen from above.

    title     : of the design
    units     : the design's unit of length, for what is written
    turn      : seen from above; a clockwise rotor is drawn as the mirror image of these figures
    blades    : in the rotor [-]
    radius_mm : from the axis to the tip [mm]
    hub_mm    : radius of the hub [mm]
    leading   : (n, 2) points along the leading edge, root to tip: x out, y forward [mm]
    trailing  : (n, 2) points along the trailing edge, root to tip [mm]
    tip       : (n, 2) points round a shaped tip, from the leading edge to the trailing edge; none of a square one [mm]
    ribs      : root to tip
    routes    : spars and channels
    fittings  : on the blade
    cg        : centre of gravity of one blade; None where it isn't known [mm]
    """

    title: str
    units: str
    turn: Literal["anticlockwise", "clockwise"]
    blades: int
    radius_mm: float
    hub_mm: float
    leading: FloatArray
    trailing: FloatArray
    ribs: tuple[RibLine, ...] = ()
    routes: tuple[RouteLine, ...] = ()
    fittings: tuple[Spot, ...] = ()
    cg: Point | None = None
    tip: FloatArray = field(default_factory=lambda: np.zeros((0, 2)))

    @property
    def hand(self) -> float:
        """+1 where y forward is up on the page, -1 where the rotor is the mirror image [-]."""
        return 1.0 if self.turn == "anticlockwise" else -1.0

    @property
    def outline(self) -> FloatArray:
        """(m, 2) one blade, out along the leading edge, round the tip, back along the trailing edge, as seen [mm]."""
        around = np.vstack((self.leading, self.tip, self.trailing[::-1]))
        seen: FloatArray = around * (1.0, self.hand)
        return seen

    def seen(self, point: Point) -> Point:
        """A point as seen from above, x out, y up on the page [mm]."""
        return point[0], self.hand * point[1]


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
        Spot(part.path.removeprefix("fitting.").replace("_", " "), _point(part.spread[0, 1:]))
        for part in craft.flying
        if part.role == Role.FITTING and part.assembly == Assembly.BLADE
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


def _tip(craft: Craft) -> FloatArray:
    """(n, 2) edge of a shaped tip beyond the last rib, from its leading edge round to its trailing edge [mm]."""
    part = next((part for part in craft.flying if part.role == Role.TIP), None)
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
    for name, route in craft.layout.spars.items():
        stock = craft.design.stock[craft.design.blade.spar[name].stock]
        width = (stock.outside or stock.width or 1.0) if isinstance(stock, LengthStock) else 1.0
        lines.append(RouteLine(f"{name} spar", "spar", *_ends(route), width))
    for name, route in craft.layout.channels.items():
        lines.append(RouteLine(f"{name} channel", "channel", *_ends(route), craft.design.blade.channel[name].diameter))
    return lines


def _ends(route: Route) -> tuple[Point, Point]:
    return _point(route.start), _point(route.end)


def _point(place: FloatArray) -> Point:
    return float(place[0]), float(place[1])
