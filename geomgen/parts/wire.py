"""Wires as lengths along their route: from the rotor axis, in at the root, out through a channel to their fitting."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from geomgen.blade.route import Route
from geomgen.design.schema import Design
from geomgen.parts.part import Length, Part
from geomgen.parts.spread import straight


def wires(design: Design, channels: Mapping[str, Route]) -> list[Part]:
    """One part for each wire that a channel passes.

    channels : channel name -> its route
    A wire is counted from the rotor axis, straight out to the root at its channel's place there, along the channel,
    with half its `spare` at each end.
    """
    parts = []
    for channel, table in design.blade.channel.items():
        for name in table.passes.wires:
            parts.append(_wire(design, name, channels[channel]))
    return parts


def _wire(design: Design, name: str, route: Route) -> Part:
    wire = design.wire[name]
    centre = np.array([0.0, route.start[1], route.start[2]])
    length, spread = straight([(centre, route.start), (route.start, route.end)])
    total = length + wire.spare
    ends = np.array([[wire.spare / 2, *centre], [wire.spare / 2, *route.end]])
    spread = spread * [length, 1.0, 1.0, 1.0]
    spread = np.vstack([spread, ends]) / [total, 1.0, 1.0, 1.0]
    return Part(
        name=f"wire {name}",
        what="wire",
        stock="",
        path=f"wire.{name}",
        shape=Length(total),
        on="blade",
        count=wire.count,
        spread=spread,
    )
