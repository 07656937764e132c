"""Wires as lengths along their way: from the rotor axis in at the root, through a channel, out to their fitting."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from geomgen.blade.route import Route
from geomgen.design.rules.wires import bundle_mm
from geomgen.design.schema import Wire
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.joint import Bond, Joint, Key, touching
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made, together
from geomgen.model.part import Bought, Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import straight
from geomgen.structure.fitting import place_on_blade
from geomgen.structure.ribs.ties import Tie

TURNS = 10.0  # least radius of a bend, in diameters of the bundle: training text for wire bundles, read; a military
# manual, read, has the same for one wire

TIE_G, TIE_BAND = 0.3, 0.5  # of a cable tie 2.5 x 100 mm; from memory


def wires(layout: Layout, tied: Sequence[Tie]) -> Made:
    """One part for each wire that a channel passes; it lies in the holes of the ribs that its channel crosses, and is
    tied to some.

    A wire is counted from the rotor axis, straight out to the root at its channel's place there, along the channel,
    and, where the channel ends at the fitting whose name the wire has, on to that fitting; half its `spare` lies at
    each end. At fault where wires can't leave their channel's opening without too sharp a bend.
    """
    return together(*(_in_channel(layout, channel, route, tied) for channel, route in layout.channels.items()))


def _in_channel(layout: Layout, channel: str, route: Route, tied: Sequence[Tie]) -> Made:
    faults, notes = _leaving(layout, channel, route)
    ties = [tie for tie in tied if tie.channel == route.path]
    notes = (*notes, *_tied(layout, channel, ties))
    parts = [_wire(layout, channel, name, notes=notes) for name in layout.design.blade.channel[channel].passes.wires]
    joints = tuple(joint for part in parts for joint in _held(layout, part.key, route, ties))
    return together(Made(tuple(parts), joints, faults), _ties(route.path, channel, ties))


def _ties(path: str, channel: str, ties: Sequence[Tie]) -> Made:
    """What is tied round the wires of a channel, and which ribs it goes round."""
    if not ties:
        return Made()
    at = np.array([tie.at for tie in ties])
    part = Part(
        name=f"tie of {channel}",
        role=Role.TIE,
        stock="",
        path=path,
        shape=Bought.about(TIE_G, TIE_BAND),
        assembly=Assembly.BLADE,
        count=len(ties),
        spread=np.column_stack((np.full(len(at), 1.0 / len(at)), at)),
        notes=("a cable tie no wider than its hole; its mass is from memory",),
    )
    round_ribs = (touching(part.key, tie.rib, Bond.CLAMPED, part.path, [tie.at]) for tie in ties)
    return Made((part,), tuple(round_ribs))


def _tied(layout: Layout, channel: str, ties: Sequence[Tie]) -> list[str]:
    if ties:
        return [f"tied to rib {' and rib '.join(tie.name for tie in ties)}, through the small hole beside {channel}"]
    asked = layout.design.blade.channel[channel].tie > 0.0
    return [f"no rib has room for a hole beside {channel}: tie them to the spar at both ends"] if asked else []


def _held(layout: Layout, wire: Key, route: Route, ties: Sequence[Tie]) -> list[Joint]:
    """A wire is tied to ribs, and lies in the others' holes for its channel; where that crosses none, against the
    nearest rib."""
    middle = (route.start[0] + route.end[0]) / 2
    nearest = min(layout.ribs, key=lambda rib: abs(rib.r_mm - middle))
    passed = [rib for rib in layout.ribs if route.passes(rib.r_mm)] or [nearest]
    tied = {tie.rib for tie in ties}
    return [
        *(touching(wire, tie.rib, Bond.CLAMPED, f"{route.path}.tie", [tie.at]) for tie in ties),
        *(
            touching(wire, rib_key(rib), Bond.BEARING, route.path, [route.at(rib.r_mm)])
            for rib in passed
            if rib_key(rib) not in tied
        ),
    ]


def _wire(layout: Layout, channel: str, name: str, *, notes: tuple[str, ...]) -> Part:
    design, route = layout.design, layout.channels[channel]
    wire = design.wire[name]
    centre = np.array([0.0, route.start[1], route.start[2]])
    legs = [(centre, route.start), (route.start, route.end)]
    if design.blade.channel[channel].to.name == name and name in design.fitting:
        legs.append((route.end, place_on_blade(layout, name)))
    length, spread = straight([leg for leg in legs if np.linalg.norm(leg[1] - leg[0]) > 1e-9])
    total = length + wire.spare
    ends = np.array([[wire.spare / 2, *centre], [wire.spare / 2, *legs[-1][1]]])
    spread = spread * [length, 1.0, 1.0, 1.0]
    spread = np.vstack([spread, ends]) / [total, 1.0, 1.0, 1.0]
    return Part(
        name=f"wire {name}",
        role=Role.WIRE,
        stock="",
        path=f"wire.{name}",
        shape=Length(total),
        assembly=Assembly.BLADE,
        count=wire.count,
        spread=spread,
        notes=notes,
    )


def _least_bend_mm(wires: Sequence[Wire], bundle_mm: float) -> float:
    """Least radius that a channel's wires may be bent to [mm]: the design's word, or 10 times their bundle."""
    stated = [wire.bend for wire in wires if wire.bend is not None]
    return max(stated) if stated and len(stated) == len(wires) else max([TURNS * bundle_mm, *stated])


def _leaving(layout: Layout, channel: str, route: Route) -> tuple[tuple[Fault, ...], tuple[str, ...]]:
    """Whether a channel's wires can bend out through its opening; what to know of it."""
    design, blade = layout.design, layout.blade
    table = design.blade.channel[channel]
    if table.exit is None or not table.passes.wires:
        return (), ()
    end = design.r(table.to)
    station = blade.station(min(end, blade.radius_mm))
    (x, y), _ = route.in_station(station)
    surface = station.section.upper_y if table.exit.side == "upper" else station.section.lower_y
    deep = abs(float(surface(x / station.chord_mm)) * station.chord_mm - float(y))
    wires = [design.wire[name] for name in table.passes.wires]
    bundle = bundle_mm(wires)
    radius = _least_bend_mm(wires, bundle)
    run = math.sqrt(2.0 * radius * deep - deep**2) if deep < radius else radius
    needed = run + bundle
    if table.exit.length < needed - 1e-9:
        wrong = (
            f"its wires lie {mm(deep, 1)} under the {table.exit.side} side at r {mm(end, 0)} and, bent to no less than "
            f"{mm(radius, 0)}, come out over {mm(needed, 1)}"
        )
        remedy = "a longer opening, thinner wires, or the bend their maker allows: bend = ... in [wire.*]"
        path = f"blade.channel.{channel}.exit.length"
        return (Fault(path, "", wrong, f"at least {at_least(needed, 1)}", remedy),), ()
    over = [
        rib.name for rib in layout.ribs if end - table.exit.length + 1.0 < rib.r_mm - rib.thickness_mm / 2 < end - 1.0
    ]
    notes = [f"rib {name} runs under the opening of {channel}: notch it for the wires" for name in over]
    return (), tuple(notes)
