"""Tie holes: one beside a channel's hole in the root rib, which stays open through the turning cap, and one in the
last rib that the channel passes. A tie goes through both holes, round the wood between them, and holds the wires
against their pull."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.model.joint import Key
from geomgen.model.layout import Layout, rib_key
from geomgen.plane.path import Circle
from geomgen.plane.polar import on_circle
from geomgen.structure.openings import Opening
from geomgen.structure.ribs.blank import Blank, with_holes

RELIEF_MM = 0.5  # the turning cap leaves so much free round a tie; common practice
AROUND_DEG = 10.0  # how finely places round the channel are tried
FLATTEN_MM = 0.01


@dataclass(frozen=True)
class Tie:
    """One tie.

    channel : key path of the channel whose wires it holds
    rib     : in which rib
    name    : what that is called
    hole    : beside the channel's, in the station's own frame [mm]
    at      : its middle in the blade frame [mm]
    """

    channel: str
    rib: Key
    name: str
    hole: Circle
    at: tuple[float, float, float]


def ties(layout: Layout, ribs: Sequence[Blank]) -> tuple[Tie, ...]:
    """For each channel with wires, one in the root rib and one in the last rib that has room beside its hole.

    ribs : from the root out, with every other hole
    """
    root, *others = ribs
    found = list[Tie]()
    for channel, route in layout.channels.items():
        table = layout.design.blade.channel[channel]
        if table.tie > 0.0 and table.passes.wires:
            out = [rib for rib in reversed(others) if route.passes(rib.place.r_mm)]
            outer = next(filter(None, (_tie(layout, channel, rib) for rib in out)), None)
            found += [tie for tie in (_tie(layout, channel, root), outer) if tie is not None]
    return tuple(found)


def with_ties(ribs: Sequence[Blank], tied: Sequence[Tie]) -> tuple[Blank, ...]:
    """The ribs with these holes."""
    holes = [(tie.rib, Opening(f"{tie.channel}.tie", tie.hole)) for tie in tied]
    return tuple(with_holes(rib, [hole for key, hole in holes if key == rib_key(rib.place)]) for rib in ribs)


def _tie(layout: Layout, channel: str, rib: Blank) -> Tie | None:
    """A web from the channel's hole, where the loop round both is farthest from all else; None where none has room."""
    route, radius = layout.channels[channel], layout.design.blade.channel[channel].tie / 2
    web_mm = layout.design.blade.construction.web
    own = [opening.loop.flattened(FLATTEN_MM) for opening in rib.openings if opening.path == route.path]
    others = [opening.loop.flattened(FLATTEN_MM) for opening in rib.openings if opening.path != route.path]
    if not own:
        return None
    way, wood = shapely.Polygon(own[0]), shapely.Polygon(rib.edge.flattened(FLATTEN_MM), others)
    middle, angles = np.array(way.centroid.coords[0]), np.arange(0.0, 360.0, AROUND_DEG)
    reach = shapely.hausdorff_distance(way, way.centroid)
    places = middle + on_circle(np.full(len(angles), reach + web_mm + radius), angles)
    loops = [shapely.union(way, shapely.Point(place).buffer(radius + RELIEF_MM)).convex_hull for place in places]
    room = np.where(shapely.contains(wood, loops), shapely.distance(wood.boundary, loops), 0.0)
    best = int(np.argmax(np.round(room, 6)))
    if room[best] < web_mm:
        return None
    x, y = places[best].tolist()
    at = rib.station.to_blade(places[best : best + 1])[0].tolist()
    return Tie(route.path, rib_key(rib.place), rib.place.name, Circle((x, y), radius), (at[0], at[1], at[2]))
