"""Shear webs between two caps: one in each bay, glued to the caps' faces on one side, grain upright."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.doubler_places import faces
from geomgen.design.schema import CapSpar, Webs
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.layout import Slice
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.plane.biarc import unit
from geomgen.structure.spars.boards import Pattern, flat_part, frame
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.lying import Oblong, aft_of, room_over
from geomgen.structure.spars.stacks import layer_ends, stacks

CLEAR_MM = 0.2  # a web is so much shorter than its bay
IN_MM = 0.03  # how far a web may cut into a lamination that stops within its bay
ROUNDS = 4  # of the search for how a web stands against two caps


@dataclass(frozen=True, eq=False)
class Bay:
    """A web in its bay.

    number       : of the bay, 1 between the first two ribs of the blade
    inner, outer : where it begins and ends, and how it stands there
    """

    number: int
    inner: tuple[Slice, Oblong]
    outer: tuple[Slice, Oblong]


def stand(at: Slice, both: tuple[Oblong, Oblong], thickness_mm: float, behind: bool) -> Oblong | None:
    """How a web stands against two caps, from its foot up: touching both, outer face to outer face.

    The faces of two caps are seldom in one plane: the web touches the corner of each that stands out most on its side,
    and glue fills the wedge that is left. Its ends stay inside the edge over all of its thickness.
    """
    upper, lower = (stack.corners() for stack in both)
    up, sign = unit(both[0].at - both[1].at), 1.0 if behind else -1.0
    foot = both[1].at
    for _ in range(ROUNDS):
        side = sign * aft_of(up)
        foot, top = lower[np.argmax(lower @ side)], upper[np.argmax(upper @ side)]
        up = unit(top - foot)
    low, high = (0.0, thickness_mm) if behind else (-thickness_mm, 0.0)
    room = room_over(at.outline, foot, up, low, high)
    if room is None or room[1] <= room[0]:
        return None
    middle = foot + (low + high) / 2 * aft_of(up)
    return Oblong(middle + room[0] * up, up, thickness_mm, room[1] - room[0])


def bays(member: Member[CapSpar]) -> list[Bay]:
    """A caps' webs: in each bay whose middle lies in the run of webs, where both caps run through the whole bay."""
    web, layout = member.spar.web, member.layout
    if web is None:
        return []
    start, end = layout.design.r(web.from_), layout.design.r(web.to)
    first, last = member.start_mm, max(layer_ends(member))
    some = []
    for i, ((_, near), (far, _)) in enumerate(pairwise(faces(layout.design, layout.ribs)), start=1):
        low, high = near + CLEAR_MM / 2, far - CLEAR_MM / 2
        if start <= (low + high) / 2 <= end and first <= low < high <= last:
            some.append((i, low, high))
    if not some:
        return []
    ends = layout.inside([r for _, *both in some for r in both], f"{member.path}.web")
    found = [_web(member, web, at, some[k // 2]) for k, at in enumerate(ends)]
    made = []
    for k, (i, *_) in enumerate(some):
        (inner, outer), (one, other) = ends[2 * k : 2 * k + 2], found[2 * k : 2 * k + 2]
        if inner and outer and one and other:
            made.append(Bay(i, (inner, one), (outer, other)))
    return made


def _web(member: Member[CapSpar], web: Webs, at: Slice | None, bay: tuple[int, float, float]) -> Oblong | None:
    """Where a web stands at one of its ends.

    bay : its number, and r of the web's two ends [mm]

    Where a lamination stops within the bay, a flat web can't stand against what is left without cutting into it. At its
    outer end it stands off so far that it cuts in by no more than `IN_MM` where the lamination stops.
    """
    if at is None:
        return None
    _, low, high = bay
    ends = layer_ends(member)

    def against(r_mm: float) -> Oblong | None:
        both = stacks(member, at, sum(end >= r_mm for end in ends))
        return stand(at, both, member.layout.design.sheet(web.stock).thickness, web.side == "behind") if both else None

    own = against(at.station.r_mm)
    stops = [end for end in ends if low <= end < at.station.r_mm]
    clear = against(low) if stops else own
    if own is None or clear is None or not stops:
        return own
    apart = max(float(np.hypot(*away)) for away in (clear.end - own.end, clear.at - own.at))
    deep = apart * (max(stops) - low) / (high - low)
    share = max(0.0, 1.0 - IN_MM / deep) if deep > 0.0 else 0.0
    foot, way = own.at + share * (clear.at - own.at), unit(own.way + share * (clear.way - own.way))
    return Oblong(foot, way, own.width_mm, own.depth_mm + share * (clear.depth_mm - own.depth_mm))


def web_faults(member: Member[CapSpar], made: Sequence[Bay]) -> list[Fault]:
    """Webs too small to cut: less high or less wide than the construction's web."""
    sizes = [(bay, _size(bay)) for bay in made]
    return [
        Fault(
            f"{member.path}.web",
            "",
            f"the web in bay {bay.number}, from r {mm(bay.inner[0].station.r_mm, 0)}, is {mm(size, 2)} {what}",
            f"at least {at_least(member.web_mm)}, blade.construction.web",
            "end the webs sooner",
        )
        for bay, (wide, high) in sizes
        for size, what in ((wide, "wide"), (high, "high"))
        if size < member.web_mm
    ][:1]


def _size(bay: Bay) -> tuple[float, float]:
    wide = bay.outer[0].station.r_mm - bay.inner[0].station.r_mm
    return wide, min(bay.inner[1].depth_mm, bay.outer[1].depth_mm)


def webs(member: Member[CapSpar], made: Sequence[Bay]) -> list[Part]:
    """One flat part for each bay, seen from behind, numbered by its bay: "web main2 W03".

    Where the blade twists within a bay a web is a little warped: it is drawn flat, by its heights and where its ends'
    middles are.
    """
    web, digits = member.spar.web, max(2, len(str(len(member.layout.ribs))))
    if web is None:
        return []
    parts = []
    for bay in made:
        (a, b), (p, q) = (_line(at, stands) for at, stands in (bay.inner, bay.outer))
        matrix = frame(a, (p + q) / 2 - (a + b) / 2, (b - a) + (q - p))
        corners = (np.array([a, p, q, b]) - a) @ matrix[:3, :2]
        number = f"W{bay.number:0{digits}d}"
        pattern = Pattern(
            name=f"web {member.name} {number}",
            role=Role.WEB,
            stock=web.stock,
            path=f"{member.path}.web",
            outline=corners,
            matrix=matrix,
            grain=90.0,
            face="aft side",
            text=number,
            mark=(bay.number,),
        )
        parts.append(flat_part(member.layout.design, pattern))
    return parts


def _line(at: Slice, web: Oblong) -> tuple[FloatArray, FloatArray]:
    """Lower and upper end of a web's middle in the blade frame, (3,) each [mm]."""
    ends = at.station.to_blade(np.array([web.at, web.end]))
    return ends[0], ends[1]
