"""Spars of one length of bought stock on straight routes, and the straight ways of channels."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geomgen.blade.blade import Blade
from geomgen.blade.route import Route, along_axis, between
from geomgen.design.schema import Design, LengthStock, Spar
from geomgen.model.part import Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import straight
from geomgen.structure.spars.splices import Along, Span, Wanted, joined

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


def single(design: Design, name: str, route: Route, spans: Sequence[Span]) -> list[Part]:
    """A spar of one length, and the sleeves of its joints.

    spans  : stretches of r where no joint may stand [mm]
    raises : MakeError where it is longer than its stock and can't be joined
    """
    spar, path = design.blade.spar[name], f"blade.spar.{name}"
    stock = design.stock[spar.stock]
    length, spread = straight([(route.start, route.end)])
    part = Part(
        f"spar {name}", Role.SPAR, spar.stock, path, Length(length), assembly=Assembly.BLADE, count=1, spread=spread
    )
    thickness = (stock.height or stock.outside or 0.0) if isinstance(stock, LengthStock) else 0.0
    along = Along.through(np.array([route.start, route.end]))
    made = joined(design, path, spar, [Wanted(part.name, along, thickness)], spans)[part.name]
    return [made.told(part), *made.sleeves]
