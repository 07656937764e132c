"""Spars of one length of bought stock on straight routes, and the straight ways of channels."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.blade.blade import Blade
from geomgen.blade.route import Route, along_axis, between
from geomgen.design.schema import Design, Spar
from geomgen.parts.part import Length, Part
from geomgen.parts.spread import straight

ON_CAMBER: tuple[str, str] = ("camber", "camber")


def spar_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each spar's straight line, by name."""
    routes = {}
    for name, spar in design.blade.spar.items():
        path, start, end = f"blade.spar.{name}", design.r(spar.from_), design.r(spar.to)
        if spar.chord is None:
            routes[name] = along_axis(path, start, end)
        else:
            height = spar.height if isinstance(spar, Spar) else ON_CAMBER
            routes[name] = between(blade, path, start, end, spar.chord, height)
    return routes


def channel_routes(design: Design, blade: Blade) -> dict[str, Route]:
    """Each channel's straight line, by name."""
    routes = {}
    for name, channel in design.blade.channel.items():
        ends = design.r(channel.from_), design.r(channel.to)
        routes[name] = between(blade, f"blade.channel.{name}", *ends, channel.chord, channel.height)
    return routes


def spars(design: Design, routes: Mapping[str, Route]) -> list[Part]:
    """One part for each [blade.spar.*] table."""
    parts = []
    for name, spar in design.blade.spar.items():
        length, spread = straight([(routes[name].start, routes[name].end)])
        stock = design.stock[spar.stock]
        notes = []
        sold = getattr(stock, "length", None)
        if sold is not None and length > sold:
            notes.append(f"{length:.0f} mm is longer than the {sold:.0f} mm it is sold in: it needs a joint")
        parts.append(
            Part(
                name=f"spar {name}",
                what="spar",
                stock=spar.stock,
                path=f"blade.spar.{name}",
                shape=Length(length),
                on="blade",
                count=1,
                spread=spread,
                notes=tuple(notes),
            )
        )
    return parts
