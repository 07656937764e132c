"""The straight lines of spars and channels."""

from __future__ import annotations

from geomgen.blade.blade import Blade
from geomgen.blade.route import Route, along_axis, between
from geomgen.design.schema import Design


def spar_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each spar's straight line, by name."""
    routes = {}
    for name, spar in design.blade.spar.items():
        path, start, end = f"blade.spar.{name}", design.r(spar.from_), design.r(spar.to)
        if spar.chord is None:
            routes[name] = along_axis(path, start, end)
        else:
            routes[name] = between(blade, path, start, end, spar.chord, spar.heights())
    return routes


def channel_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each channel's straight line, by name."""
    routes = {}
    for name, channel in design.blade.channel.items():
        ends = design.r(channel.from_), design.r(channel.to)
        routes[name] = between(blade, f"blade.channel.{name}", *ends, channel.chord, channel.height)
    return routes
