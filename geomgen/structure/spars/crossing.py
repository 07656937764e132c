"""Whether spars of several kinds, and the ways of wires, run into one another anywhere along the blade."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

import numpy as np
import shapely

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.route import Route
from geomgen.design.schema import Design, LengthStock
from geomgen.design.schema.spar import BoxSpar, CapSpar, Spar, UprightSpar
from geomgen.errors import Fault
from geomgen.plane.arcs import rectangle
from geomgen.structure.spars.box import hollow
from geomgen.structure.spars.caps import layer_ends, stacks
from geomgen.structure.spars.sheet import upright
from geomgen.structure.spars.slices import Slice, aft_of, slices
from geomgen.structure.spars.webs import Bay

Shape = tuple[str, shapely.Polygon]

LEAST_MM2 = 1e-4  # less than that is a touch
QUARTER = 32  # chords in a quarter circle


def crossing(
    design: Design,
    blade: Blade,
    routes: Mapping[str, Route],
    channels: Mapping[str, Route],
    places: Sequence[RibPlace],
    webs: Mapping[str, Sequence[Bay]],
) -> list[Fault]:
    """One fault for each two that run into one another, of which one is no plain tube, rod or strip; where it is worst.

    routes   : spars that fit, by name
    webs     : webs of caps, by the spar's name
    Looked at on every rib, at every spar's ends, and at both ends of every web. A box is hollow: what lies in its
    hollow doesn't run into it.
    """
    if all(isinstance(design.blade.spar[name], Spar) for name in routes):
        return []
    ends = [float(end[0]) for route in routes.values() for end in (route.start, route.end)]
    r = np.unique(np.clip([*(place.r_mm for place in places), *ends], blade.root_mm, design.frame_end))
    found: dict[tuple[str, str], tuple[float, Fault]] = {}
    for at in slices(design, blade, r, "blade.spar"):
        if at is not None:
            pairs = combinations([*_spars(design, routes, at), *_channels(design, channels, at)], 2)
            _note(design, found, at, pairs)
    for name, made in webs.items():
        rest = {other: route for other, route in routes.items() if other != name}
        for bay in made:
            for at, web in (bay.inner, bay.outer):
                own = (f"blade.spar.{name}.web", shapely.Polygon(web.corners()))
                others = [*_spars(design, rest, at), *_channels(design, channels, at)]
                _note(design, found, at, ((own, other) for other in others))
    return [fault for _, fault in found.values()]


def _note(
    design: Design,
    found: dict[tuple[str, str], tuple[float, Fault]],
    at: Slice,
    pairs: Iterable[tuple[Shape, Shape]],
) -> None:
    """Keep the worst fault of each two."""
    for one, other in pairs:
        blamed, met = (other, one) if _plain(design, one[0]) else (one, other)
        if one[0] == other[0] or _plain(design, blamed[0]):
            continue
        both = blamed[1].intersection(met[1])
        if both.area > LEAST_MM2 and both.area > found.get((blamed[0], met[0]), (0.0, None))[0]:
            found[blamed[0], met[0]] = both.area, _fault(blamed[0], met[0], at, both.bounds)


def _plain(design: Design, path: str) -> bool:
    """Whether a path is that of a channel or of a single length."""
    keys = path.split(".")
    return keys[1] == "channel" or isinstance(design.blade.spar[keys[2]], Spar)


def _fault(path: str, other: str, at: Slice, bounds: tuple[float, float, float, float]) -> Fault:
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    wrong = f"it runs into {other} at r {at.station.r_mm:.0f} mm, over {wide:.1f} x {high:.1f} mm"
    remedy = "move one of them along the chord" + (
        ", or put the webs on the other side" if path.endswith("web") else ""
    )
    return Fault(path, "", wrong, "nothing in its way", remedy)


def _spars(design: Design, routes: Mapping[str, Route], at: Slice) -> list[Shape]:
    return [
        (f"blade.spar.{name}", shape)
        for name, route in routes.items()
        if route.passes(at.station.r_mm)
        for shape in _of_spar(design, name, route, at)
    ]


def _of_spar(design: Design, name: str, route: Route, at: Slice) -> list[shapely.Polygon]:
    spar = design.blade.spar[name]
    point, _ = route.in_station(at.station)
    match spar:
        case Spar():
            stock = design.stock[spar.stock]
            assert isinstance(stock, LengthStock)
            if stock.outside is not None:
                return [shapely.Point(point).buffer(stock.outside / 2, quad_segs=QUARTER)]
            size = stock.width or 0.0, stock.height or 0.0
            return [shapely.Polygon(rectangle((float(point[0]), float(point[1])), *size, at.station.angle_deg).xy)]
        case CapSpar():
            layers = sum(end >= at.station.r_mm - 1e-6 for end in layer_ends(design, spar))
            both = stacks(design, spar, at, float(point[0]), layers) if layers else None
            return [shapely.Polygon(stack.corners()) for stack in both or ()]
        case BoxSpar():
            box = hollow(design, spar, at, route)
            wall = sheet_mm(design, spar.stock)
            return [shapely.Polygon(box.corners(), [box.corners(wall)])] if box else []
        case UprightSpar():
            thickness = sheet_mm(design, spar.stock)
            sheet = upright(at, route, thickness)
            if sheet is None:
                return []
            across, top = aft_of(sheet.up) * thickness / 2, sheet.foot + sheet.depth_mm * sheet.up
            return [shapely.Polygon([sheet.foot - across, sheet.foot + across, top + across, top - across])]


def _channels(design: Design, channels: Mapping[str, Route], at: Slice) -> list[Shape]:
    return [
        (
            f"blade.channel.{name}",
            shapely.Point(route.in_station(at.station)[0]).buffer(
                design.blade.channel[name].diameter / 2, quad_segs=QUARTER
            ),
        )
        for name, route in channels.items()
        if route.passes(at.station.r_mm)
    ]
