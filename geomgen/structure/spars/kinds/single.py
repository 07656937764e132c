"""Tubes, rods and strips: one length of bought stock on a straight line through holes in the ribs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import LengthStock, Spar
from geomgen.model.joint import Bond, touching
from geomgen.model.layout import Slice
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.plane.arcs import rectangle
from geomgen.structure.openings import Opening, disc, round_hole, slot
from geomgen.structure.spars.bonds import in_holes
from geomgen.structure.spars.cuts import Cuts
from geomgen.structure.spars.kind import Member, Passage, SparKind, task
from geomgen.structure.spars.splices import Along, Uncut, lengths


def _stock(member: Member[Spar]) -> LengthStock:
    stock = member.layout.design.stock[member.spar.stock]
    assert isinstance(stock, LengthStock)  # the rules see to it
    return stock


def _cuts(member: Member[Spar], rib: RibPlace, at: Slice) -> Cuts:
    if not member.route.passes(rib.r_mm):
        return Cuts()
    fit, outside, tol = member.spar.fit, _stock(member).outside, member.layout.tol
    if outside is not None:
        loop, note = round_hole(at.station, member.route, outside + fit, rib.thickness_mm, tol)
    else:
        width, height = member.strip_mm
        loop, note = slot(at.station, member.route, (width + fit, height + fit), rib.thickness_mm, tol)
    return Cuts((Opening(member.path, loop),), notes=(note,) if note else ())


def _shapes(member: Member[Spar], at: Slice) -> list[shapely.Polygon]:
    middle, _ = member.route.in_station(at.station)
    if (outside := _stock(member).outside) is not None:
        return [disc(middle, outside)]
    x, y = middle.tolist()
    return [shapely.Polygon(rectangle((x, y), *member.strip_mm, at.station.angle_deg).xy)]


def _make(member: Member[Spar], passages: Sequence[Passage]) -> Made:
    """The spar, and the sleeves of its splices.

    raises : MakeError where it is longer than its stock and can't be spliced
    """
    ends, stock = np.array([member.route.start, member.route.end]), _stock(member)
    whole = Uncut(f"spar {member.name}", Along.through(ends), stock.height or stock.outside or 0.0)
    part, *sleeves = lengths(member, [whole])
    inside = [touching(sleeve.key, part.key, Bond.GLUED, member.path) for sleeve in sleeves]
    return Made((part, *sleeves), (*in_holes(part.key, passages, member.path), *inside))


def _steps(member: Member[Spar], parts: Sequence[Part]) -> list[Task]:
    """Joined on its sleeves, where it has some, before it goes through the ribs."""
    joined = any(part.role is Role.SLEEVE for part in parts)
    does = "Glue the lengths of each tube together on their sleeves, straight on a flat table."
    return [
        *([Task(Phase.PREPARE, does, tuple(part.key for part in parts))] if joined else []),
        task(Phase.THREAD, "", parts),
    ]


def _half_mm(member: Member[Spar]) -> float:
    return (_stock(member).outside or min(member.strip_mm)) / 2


KIND = SparKind(schema=Spar, cuts=_cuts, shapes=_shapes, make=_make, steps=_steps, half_mm=_half_mm)
