"""Upright sheets: as deep as the ribs, halved into them; one keeps to its plane while the blade twists."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import UprightSpar
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.joint import Bond, touching
from geomgen.model.layout import Slice
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.structure.openings import widened
from geomgen.structure.spars.boards import Pattern, cut_up, flat_part, frame
from geomgen.structure.spars.bonds import let_in
from geomgen.structure.spars.cuts import Cuts, Notch, askew_note
from geomgen.structure.spars.kind import Member, Passage, SparKind, task
from geomgen.structure.spars.lying import SAME_MM, Oblong, room_over
from geomgen.structure.spars.misfits import left_section
from geomgen.structure.spars.splices import Along, Span, Uncut, spliced

Sheet = Member[UprightSpar]

UP = np.array([[0.0, 1.0]])  # (y, z) of the blade frame


def _stands(member: Sheet, at: Slice) -> Oblong | None:
    """How a sheet stands at one radius, from its foot up: from edge to edge, inside them over all of its thickness."""
    point, _ = member.route.in_station(at.station)
    up, thickness = at.station.directions_from_blade(UP)[0], member.sheet_mm
    room = room_over(at.outline, point, up, -thickness / 2, thickness / 2)
    if room is None or room[1] <= room[0]:
        return None
    return Oblong(point + room[0] * up, up, thickness, room[1] - room[0])


def _cuts(member: Sheet, rib: RibPlace, at: Slice) -> Cuts:
    """From the lower edge to half the depth, where the sheet's own slot ends; along the sheet's plane."""
    sheet = _stands(member, at) if member.enters(rib) else None
    if sheet is None:
        return Cuts()
    width = sheet.width_mm + member.spar.fit
    wide = widened(width, float(member.route.slope[0]), rib.thickness_mm, member.layout.tol)
    cut = Notch(sheet.at, sheet.way, wide, sheet.depth_mm / 2, member.path)
    return Cuts(notches=(cut,), notes=askew_note(member.path, width_mm=width, wide_mm=wide))


def _shapes(member: Sheet, at: Slice) -> list[shapely.Polygon]:
    sheet = _stands(member, at)
    return [shapely.Polygon(sheet.corners())] if sheet else []


def _faults(member: Sheet) -> list[Fault]:
    """Where a sheet leaves the section, or halving it leaves too little of rib and sheet; the worst place."""
    r, path = member.nodes(), member.path
    there = member.inside(r)
    found = [_stands(member, at) if at else None for at in there]
    for at, one, radius in zip(there, found, r.tolist(), strict=True):
        if not one:
            wrong = f"it leaves the section at r {mm(radius, 0)}"
            return [left_section(member, at, wrong, member.sheet_mm)]
    depth, worst = min((one.depth_mm, radius) for one, radius in zip(found, r.tolist(), strict=True) if one)
    if depth >= 2 * member.web_mm:
        return []
    wrong = f"halved at r {mm(worst, 0)} it leaves {mm(depth / 2, 2)} of rib and sheet"
    allowed = f"at least {at_least(member.web_mm)}, blade.construction.web"
    return [Fault(path, "", wrong, allowed, "a place farther forward, or end it sooner")]


def _make(member: Sheet, passages: Sequence[Passage]) -> Made:
    """The sheet, or its pieces.

    raises : MakeError where it is longer than its stock and can't be spliced
    """
    ribs = [rib for rib in member.layout.ribs if member.enters(rib)]
    pattern, along = _drawn(member, ribs)
    at_ribs = [(rib.r_mm - rib.thickness_mm, rib.r_mm + rib.thickness_mm) for rib in ribs]
    whole = Uncut(pattern.name, along, member.sheet_mm)
    splices = spliced(member, [whole], closed=at_ribs)[pattern.name]
    parts = tuple(flat_part(member.layout.design, piece) for piece in cut_up(pattern, splices))
    joints = [touching(inner.key, outer.key, Bond.GLUED, member.path) for inner, outer in pairwise(parts)]
    for passage in passages:
        part = parts[bisect_left(splices.r_mm, passage.rib.r_mm)]
        for cut in passage.cuts.notches:  # a sheet is held all its depth, on both its faces
            joints.append(let_in(part.key, passage, edge_mm=4 * cut.depth_mm, at=cut.at, path=member.path))
    return Made(parts, tuple(joints))


def _drawn(member: Sheet, ribs: Sequence[RibPlace]) -> tuple[Pattern, Along]:
    """The whole sheet, and where it runs: edges straight from rib to rib, slots from its upper edge to half its depth.

    ribs : those that it enters
    """
    start, end, route, thickness = member.start_mm, member.end_mm, member.route, member.sheet_mm
    r = np.unique(np.clip([start, *(rib.r_mm for rib in ribs), end], start, end))
    points = []
    for at in member.inside(r):
        one = at and _stands(member, at)
        if at and one:
            points.append(at.station.to_blade(np.array([one.at, one.end])))
    feet, tops = np.array(points)[:, 0], np.array(points)[:, 1]
    out = np.array([1.0, route.slope[0], 0.0])
    matrix = frame(feet[0], out, np.array([0.0, 0.0, 1.0]))
    long, fit, tol = float(np.linalg.norm(out)), member.spar.fit, member.layout.tol
    askew = float(route.slope[0])
    slots = [((rib.r_mm - start) * long, widened(rib.thickness_mm + fit, askew, thickness, tol)) for rib in ribs]
    low, high = ((edge - feet[0]) @ matrix[:3, :2] for edge in (feet, tops))
    pattern = Pattern(
        name=f"spar {member.name}",
        role=Role.SPAR,
        stock=member.spar.stock,
        path=member.path,
        outline=_outline(low, high, slots),
        matrix=matrix,
        grain=0.0,
        face="aft side",
        text=f"SPAR {member.name}",
    )
    return pattern, Along(r, low[:, 0], (feet + tops) / 2)


def _outline(low: FloatArray, high: FloatArray, slots: Sequence[tuple[float, float]]) -> FloatArray:
    """(n, 2) corners anticlockwise: along the lower edge (n, 2), back along the upper one (n, 2) and its slots [mm].

    slots : middle and width of each, from the inner end out [mm]
    """
    x, end = high[:, 0], float(high[-1, 0])
    sides = [(max(at - width / 2, 0.0), min(at + width / 2, end)) for at, width in slots]
    inside = [any(a - SAME_MM <= at <= b + SAME_MM for a, b in sides) for at in x]
    corners = [tuple(point) for point, cut in zip(high, inside, strict=True) if not cut]
    for (a, b), (at, _) in zip(sides, slots, strict=True):
        bottom = float(np.interp(at, low[:, 0], low[:, 1]) + np.interp(at, x, high[:, 1])) / 2
        corners += [(a, float(np.interp(a, x, high[:, 1])))] if a > SAME_MM else []
        corners += [(a, bottom), (b, bottom)]
        corners += [(b, float(np.interp(b, x, high[:, 1])))] if b < end - SAME_MM else []
    upper = _in_order(corners, sides)
    return np.vstack([low, upper[::-1]])


def _in_order(corners: Sequence[tuple[float, ...]], sides: Sequence[Span]) -> FloatArray:
    """Corners of the upper edge from the inner end out; at a slot's first side down, at its second up."""
    first = {a for a, _ in sides}
    return np.array(sorted(corners, key=lambda c: (c[0], -c[1] if c[0] in first else c[1])))


def _steps(member: Sheet, parts: Sequence[Part]) -> list[Task]:
    return [task(Phase.SLOT, "Slot the upright sheets, laid between the ribs first, up into them.", parts)]


KIND = SparKind(schema=UprightSpar, cuts=_cuts, shapes=_shapes, make=_make, steps=_steps, faults=_faults)
