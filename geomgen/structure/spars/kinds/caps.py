"""Spar caps: strips laminated on one another in notches of the ribs' upper and lower edges, alone or with webs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import HALVES, CapSpar, Half
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.joint import Bond, Joint, Key, over
from geomgen.model.layout import Slice
from geomgen.model.made import Made, attempted
from geomgen.model.part import Length, Part
from geomgen.model.role import Role
from geomgen.model.step import Phase, Task
from geomgen.structure.openings import widened
from geomgen.structure.spars.boards import long_mm
from geomgen.structure.spars.bonds import let_in, under_sheet
from geomgen.structure.spars.cuts import Cuts, Notch, askew_note
from geomgen.structure.spars.kind import Member, Passage, SparKind, Standing, task
from geomgen.structure.spars.lying import SAME_MM, aft_of
from geomgen.structure.spars.misfits import astride, left_section
from geomgen.structure.spars.splices import Along, Uncut, lengths
from geomgen.structure.spars.stacks import between_mm, layer_ends, stacks
from geomgen.structure.spars.webs import bays, web_faults, webs

Caps = Member[CapSpar]

FEATHERED = 5.0  # slope of a stopped strip's end
FEATHER = "feather it over its last {} (5:1, as AC 43.13-1B, read, has it for the ends of plates on a spar)"


def _layers(member: Caps, r_mm: float) -> int:
    """Laminations that reach a radius [mm]."""
    return sum(end >= r_mm - SAME_MM for end in layer_ends(member))


def _layers_in(member: Caps, rib: RibPlace) -> int:
    """Laminations that enter a rib anywhere in its thickness."""
    return sum(end > rib.r_mm - rib.thickness_mm / 2 + SAME_MM for end in layer_ends(member))


def _cuts(member: Caps, rib: RibPlace, at: Slice) -> Cuts:
    """One notch above and one below, as deep as the laminations that enter the rib."""
    layers = _layers_in(member, rib) if member.enters(rib) else 0
    both = stacks(member, at, layers) if layers else None
    if both is None or between_mm(*both) <= 0:
        return Cuts()
    slope = member.route.in_station(at.station)[1]
    notches, width = [], both[0].width_mm + member.spar.fit
    for stack in both:
        wide = widened(width, float(slope @ aft_of(stack.way)), rib.thickness_mm, member.layout.tol)
        notches.append(Notch(stack.at, stack.way, wide, stack.depth_mm, member.path))
    widest = max(each.width_mm for each in notches)
    return Cuts(notches=tuple(notches), notes=askew_note(member.path, width_mm=width, wide_mm=widest))


def _shapes(member: Caps, at: Slice) -> list[shapely.Polygon]:
    layers = _layers(member, at.station.r_mm)
    both = stacks(member, at, layers) if layers else None
    return [shapely.Polygon(stack.corners()) for stack in both or ()]


def _standing(member: Caps) -> list[Standing]:
    path = f"{member.path}.web"
    ends = [end for bay in bays(member) for end in (bay.inner, bay.outer)]
    return [Standing(path, at, shapely.Polygon(web.corners())) for at, web in ends]


def _radii(member: Caps) -> FloatArray:
    """(n,) radii where laminations are held or end [mm]."""
    ends = layer_ends(member)
    return np.unique(np.concatenate([member.nodes(max(ends)), np.array(ends)]))


def _faults(member: Caps) -> list[Fault]:
    """Where caps leave the section, and where too little of a rib is left between them; the worst place of each."""
    r, (width, height), least, worst = _radii(member), member.strip_mm, np.inf, 0.0
    for at, radius in zip(member.inside(r), r.tolist(), strict=True):
        both = stacks(member, at, _layers(member, radius)) if at else None
        if at is None or both is None:
            return [left_section(member, at, f"its caps leave the section at r {mm(radius, 0)}", width)]
        if stepped := astride(member, at, width):
            return stepped
        if (left := between_mm(*both)) < least:
            least, worst = left, radius
    if least >= member.web_mm:
        return []
    meet = "meet" if least <= 0 else f"leave {mm(least, 2)} of the rib between them"
    wrong = f"{_layers(member, worst)} of {mm(height)} above and below {meet} at r {mm(worst, 0)}"
    allowed = f"at least {at_least(member.web_mm)} left, blade.construction.web"
    remedy = "fewer or thinner laminations there, a place farther forward, or a deeper section"
    return [Fault(f"{member.path}.layers", "", wrong, allowed, remedy)]


def _make(member: Caps, passages: Sequence[Passage]) -> Made:
    """Laminations, and the webs between them."""
    laid, made = attempted(lambda: Made(_laminations(member))), bays(member)
    strips, between = laid.parts, webs(member, made)
    if faults := (*web_faults(member, made), *laid.faults):
        return Made(faults=faults)
    joints = (
        *_in_notches(member, passages),
        *_on_one_another(member, strips),
        *(joint for web in between for joint in _against_caps(member, web)),
    )
    return Made((*strips, *between), joints)


def _key(member: Caps, half: Half, layer: int) -> Key:
    return Key(Role.SPAR, member.path, (half, layer))


def _laminations(member: Caps) -> tuple[Part, ...]:
    """One part for each lamination above and below, exact along its own line from rib to rib.

    Each is numbered from the outermost in the section: "spar main2 upper 1". Its length is that of its line: what its
    splices take beyond that stands in its notes.
    """
    ends, (_, height), r, strips = layer_ends(member), member.strip_mm, _radii(member), list[Uncut]()
    lines = _lines(member, r)
    for layer, end in enumerate(ends, start=1):
        stop = () if end >= max(ends) - 1e-6 else (f"ends at r {mm(end, 0)}: {FEATHER.format(mm(FEATHERED * height))}",)
        for half in HALVES:
            points = (lines[half][0] + (layer - 0.5) * height * lines[half][1])[r <= end + 1e-6]
            name = f"spar {member.name} {half} {layer}"
            strips.append(Uncut(name, Along.through(points), height, (half, layer), stop))
    return tuple(lengths(member, strips))


def _lines(member: Caps, r_mm: FloatArray) -> dict[Half, tuple[FloatArray, FloatArray]]:
    """Outer faces' middles (n, 3) [mm] and ways inwards (n, 3), above and below, in the blade frame."""
    there = [at for at in member.inside(r_mm) if at is not None]
    both = [stacks(member, at, 1) for at in there]
    lines: dict[Half, tuple[FloatArray, FloatArray]] = {}
    for k, half in enumerate(HALVES):
        placed = [(at.station, pair[k]) for at, pair in zip(there, both, strict=True) if pair]
        outer = np.vstack([station.to_blade(stack.at)[0] for station, stack in placed])
        inner = np.vstack([station.to_blade(stack.at + stack.way)[0] for station, stack in placed])
        lines[half] = outer, inner - outer
    return lines


def _in_notches(member: Caps, passages: Sequence[Passage]) -> Iterator[Joint]:
    """Each lamination glued by its sides to every rib it enters, the innermost by its face too."""
    height = member.strip_mm[1]
    for passage in passages:
        layers = _layers_in(member, passage.rib)
        for half, cut in zip(HALVES, passage.cuts.notches, strict=False):
            for layer in range(1, layers + 1):
                edge = 2 * height + (cut.width_mm if layer == layers else 0.0)
                yield let_in(_key(member, half, layer), passage, edge_mm=edge, at=cut.at, path=member.path)


def _on_one_another(member: Caps, strips: Sequence[Part]) -> Iterator[Joint]:
    """Each lamination glued to the sheet over it, or to the lamination before it."""
    width, _ = member.strip_mm
    for k, part in enumerate(strips):
        assert isinstance(part.shape, Length)
        layer, half = 1 + k // 2, HALVES[k % 2]
        area = part.shape.length_mm * width
        if layer == 1:
            yield from under_sheet(member, part.key, half, area_mm2=area, spread=part.spread, width_mm=width)
        else:
            before = _key(member, half, layer - 1)
            yield Joint(part.key, before, Bond.GLUED, member.path, over(area, part.spread))


def _against_caps(member: Caps, web: Part) -> Iterator[Joint]:
    """A web glued to both its caps, over the height of the laminations there."""
    area = long_mm(web) * member.strip_mm[1]
    middle = float(web.spread[:, 0] @ web.spread[:, 1])
    for half in HALVES:
        for layer in range(1, _layers(member, middle) + 1):
            yield Joint(web.key, _key(member, half, layer), Bond.GLUED, web.path, over(area, web.spread))


def _steps(member: Caps, parts: Sequence[Part]) -> list[Task]:
    lay = "Lay the caps into their notches, lower ones first, scarfs of upper and lower apart."
    web = "Glue a web into each bay, grain upright, from the root outwards."
    return [task(Phase.LAY, lay, parts), task(Phase.WEB, web, parts, role=Role.WEB)]


KIND = SparKind(
    schema=CapSpar, cuts=_cuts, shapes=_shapes, make=_make, steps=_steps, faults=_faults, standing=_standing
)
