"""Box spars: folded or glued up from sheet, let into the ribs from below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import BoxSpar, Folded
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.joint import Bond, Joint, over, touching
from geomgen.model.layout import Slice
from geomgen.model.made import Made
from geomgen.model.part import Flat, Part
from geomgen.model.step import Phase, Task
from geomgen.structure.openings import widened
from geomgen.structure.spars.boards import cut_up, flat_part, long_mm
from geomgen.structure.spars.bonds import let_in, under_sheet
from geomgen.structure.spars.box_patterns import Side, boards
from geomgen.structure.spars.cuts import Cuts, Notch, askew_note
from geomgen.structure.spars.hollow import Box, hollow
from geomgen.structure.spars.kind import Passage, SparKind, task
from geomgen.structure.spars.lying import aft_of
from geomgen.structure.spars.misfits import astride, left_section
from geomgen.structure.spars.splices import Uncut, spliced

Pieces = dict[Side | None, list[tuple[float, Part]]]  # of each plate, or of the folded board: its outer end, and it

FOLDED = 3  # corners of a folded box that are folded, the fourth is lapped
BESIDE: dict[Side, Side] = {"ahead": "bottom", "bottom": "behind", "behind": "top", "top": "ahead"}  # a corner each


def _cuts(member: Box, rib: RibPlace, at: Slice) -> Cuts:
    box = hollow(member, at) if member.enters(rib) else None
    if box is None:
        return Cuts()
    width, slope = member.spar.width + member.spar.fit, member.route.in_station(at.station)[1]
    wide = widened(width, float(slope @ aft_of(box.way)), rib.thickness_mm, member.layout.tol)
    cut = Notch(box.at, box.way, wide, box.depth_mm, member.path)
    return Cuts(notches=(cut,), notes=askew_note(member.path, width_mm=width, wide_mm=wide))


def _shapes(member: Box, at: Slice) -> list[shapely.Polygon]:
    """Its walls: what lies in its hollow doesn't run into it."""
    box = hollow(member, at)
    return [shapely.Polygon(box.corners(), [box.within(member.sheet_mm).corners()])] if box else []


def _faults(member: Box) -> list[Fault]:
    """Where a box leaves the section, or has no room inside its own walls; the worst place."""
    path, width, wall = member.path, member.spar.width, member.sheet_mm
    if width <= 2 * wall:
        wrong = f"its two walls of {mm(wall)} leave nothing between them"
        return [Fault(f"{path}.width", mm(width), wrong, f"more than {at_least(2 * wall)}")]
    r = member.nodes()
    there = member.inside(r)
    for at in there:
        if at and (stepped := astride(member, at, width)):
            return stepped
    found = [hollow(member, at) if at else None for at in there]
    heights = [box.depth_mm if box else 0.0 for box in found]
    least = int(np.argmin(heights))
    if heights[least] > 2 * wall:
        return []
    at = there[least]
    x = member.x_mm(at.station) if at else 0.0
    if at is None or not at.outline.nose_mm <= x - width / 2 <= x + width / 2 <= at.outline.tail_mm:
        return [left_section(member, at, f"it leaves the section at r {mm(r[least], 0)}", width)]
    wrong = f"at r {mm(r[least], 0)} the section leaves it {mm(heights[least], 1)}, under {mm(member.web_mm)} of rib"
    allowed, remedy = f"more than twice its sheet, {mm(2 * wall)}", "another chord, a thinner sheet, or end it sooner"
    return [Fault(path, "", wrong, allowed, remedy)]


def _make(member: Box, passages: Sequence[Passage]) -> Made:
    """The box's flat parts.

    raises : MakeError where it is longer than its stock and can't be spliced
    """
    design, drawn, pieces = member.layout.design, boards(member), Pieces()
    splices = spliced(member, [Uncut(one.pattern.name, one.along, member.sheet_mm) for one in drawn])
    for one in drawn:
        found = splices[one.pattern.name]
        ends = [member.start_mm, *found.r_mm, member.end_mm]
        cut = zip(cut_up(one.pattern, found), ends[:-1], ends[1:], strict=True)
        parts = []
        for piece, low, high in cut:
            shares = one.spread.between(low, high)
            parts.append((high, flat_part(design, piece, shares, one.spread.second(shares))))
        pieces[one.side] = parts
    joints = (*_in_notches(member, pieces, passages), *_corners(member, pieces), *_on_skin(member, pieces))
    return Made(tuple(part for some in pieces.values() for _, part in some), joints)


def _piece(pieces: Pieces, side: Side, r_mm: float) -> Part:
    """The piece of one plate, or of the folded board, at a radius."""
    some = pieces[side] if side in pieces else pieces[None]
    return next((part for end, part in some if r_mm <= end), some[-1][1])


def _in_notches(member: Box, pieces: Pieces, passages: Sequence[Passage]) -> Iterator[Joint]:
    """Both sides and the top glued to each rib."""
    for passage in passages:
        for cut in passage.cuts.notches:
            edges: dict[Side, float] = {"ahead": cut.depth_mm, "top": cut.width_mm, "behind": cut.depth_mm}
            for side, edge in edges.items():
                part = _piece(pieces, side, passage.rib.r_mm)
                yield let_in(part.key, passage, edge_mm=edge, at=cut.at, path=member.path)


def _corners(member: Box, pieces: Pieces) -> Iterator[Joint]:
    """Its own corners: a folded one has three folds and a lap, four plates are butted; pieces follow one another."""
    for side, some in pieces.items():
        for (_, part), (_, outer) in pairwise(some):
            yield touching(part.key, outer.key, Bond.GLUED, member.path)
        for _, part in some:
            assert isinstance(part.shape, Flat)
            area = long_mm(part) * part.shape.thickness_mm
            if side is None:
                area = FOLDED * area + part.shape.region.area() - part.shape.weighed.area()
                yield Joint(part.key, part.key, Bond.LAPPED, member.path, over(area, part.spread))
            else:
                beside = _piece(pieces, BESIDE[side], float(part.spread[:, 0] @ part.spread[:, 1]))
                yield Joint(part.key, beside.key, Bond.BUTTED, member.path, over(area, part.spread))


def _on_skin(member: Box, pieces: Pieces) -> Iterator[Joint]:
    """Its underside glued to the sheet below it."""
    width = member.spar.width
    for _, part in pieces[None] if None in pieces else pieces["bottom"]:
        area = long_mm(part) * width
        yield from under_sheet(member, part.key, "lower", area_mm2=area, spread=part.spread, width_mm=width)


def _steps(member: Box, parts: Sequence[Part]) -> list[Task]:
    folded = isinstance(member.layout.design.blade.construction, Folded)
    glue_up = "Fold and glue the box spar over a straight edge." if folded else "Glue up each box over a straight edge."
    let_in = "Let the boxes into the ribs from below."
    return [task(Phase.PREPARE, glue_up, parts), task(Phase.LET_IN, let_in, parts)]


KIND = SparKind(schema=BoxSpar, cuts=_cuts, shapes=_shapes, make=_make, steps=_steps, faults=_faults)
