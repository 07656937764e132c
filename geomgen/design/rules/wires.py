"""Rules of wires and the channels they lie in."""

from __future__ import annotations

import math
from collections.abc import Iterable

from geomgen.design.keypath import KeyPath
from geomgen.design.rules.tools import Faults, fault, guarded, known
from geomgen.design.schema.blade import Channel
from geomgen.design.schema.design import Design
from geomgen.design.schema.outfit import Wire
from geomgen.figures import at_least, mm

FILL = 1.25  # a channel's diameter over its bundle's: FAA AC 43.13-1B, 11-249, read, of conduit
ROOM = 0.2  # a channel is wider by this than the largest thing threaded through it [mm]; from trying, not a standard


def channels(design: Design) -> Faults:
    """Each channel lets through what is threaded through it, one at a time, and all its wires side by side."""
    for name, channel in design.blade.channel.items():
        path: KeyPath = ("blade", "channel", name)
        yield from guarded(
            _largest(design, path, channel), _names(design, path, channel), _bundle(design, path, channel)
        )


def _largest(design: Design, path: KeyPath, channel: Channel) -> Faults:
    least = channel.passes.largest + ROOM
    if channel.diameter < least - 1e-9:
        wrong = f"must pass {mm(channel.passes.largest)}, with {mm(ROOM)} of room"
        remedy = "a wider channel, or put the plug on after the wires are drawn through"
        yield fault((*path, "diameter"), wrong, f"at least {at_least(least)}", remedy)


def _names(design: Design, path: KeyPath, channel: Channel) -> Faults:
    for index, wire in enumerate(channel.passes.wires):
        yield from known((*path, "passes", "wires", index), wire, design.wire, "wire")


def _bundle(design: Design, path: KeyPath, channel: Channel) -> Faults:
    wires = [design.wire[name] for name in dict.fromkeys(channel.passes.wires) if name in design.wire]
    width = bundle_mm(wires)
    least = FILL * width
    if channel.diameter < least - 1e-9:
        wrong = f"its wires lie in a bundle of {mm(width)}, and {FILL:g} times that lets them be drawn through"
        yield fault(
            (*path, "diameter"),
            wrong,
            f"at least {at_least(least)}",
            "a wider channel, or a second one for some of them",
        )


def bundle_mm(wires: Iterable[Wire]) -> float:
    """Diameter of a bundle of wires, so many of each kind as its table says.

    returns : 1.2 times the root of the sum of squares, and no less than the thickest [mm]
    source  : common rule for wire bundles; for 3, 7 and 19 equal wires within 6 % of the exact figure
    """
    outsides = [wire.outside for wire in wires for _ in range(wire.count)]
    if len(outsides) == 1:
        return outsides[0]
    return 1.2 * math.sqrt(sum(outside**2 for outside in outsides))


def wires(design: Design) -> Faults:
    """Each wire lies in exactly one channel."""
    where: dict[str, list[str]] = {name: [] for name in design.wire}
    for channel, table in design.blade.channel.items():
        for index, wire in enumerate(table.passes.wires):
            if where.get(wire):
                path: KeyPath = ("blade", "channel", channel, "passes", "wires", index)
                yield fault(
                    path, f"lies in [blade.channel.{where[wire][0]}] already", remedy="name it in one channel, once"
                )
            where.setdefault(wire, []).append(channel)
    for name in design.wire:
        if not where[name]:
            yield fault(("wire", name), "lies in no channel", remedy="name it in the passes.wires of one channel")
