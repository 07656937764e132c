"""What each spar has in a cross-section: its tube, strip, laminations, webs or walls, straight from rib to rib."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import HALVES, BoxSpar, CapSpar, LengthStock, Spar
from geomgen.model.joint import Key
from geomgen.model.layout import Layout
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.plane.biarc import unit
from geomgen.strength.sections.shapes import Shape, area_mm2, solid, tube, wall
from geomgen.structure.spars.box_patterns import folds
from geomgen.structure.spars.hollow import hollow
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.kinds import kind_of, members
from geomgen.structure.spars.stacks import layer_ends, stacks
from geomgen.structure.spars.webs import bays

SAME_MM = 1e-6  # radii nearer than this are one
Found = Iterator[tuple[Key, Shape]]
At = Callable[[float], Found]  # r [mm] -> what a spar has there


@dataclass(frozen=True)
class SparRun:
    """What one spar has along r. path : key path of its table"""

    path: str
    at: At


def spars(layout: Layout, parts: Mapping[Key, Part]) -> list[SparRun]:
    """For each spar of a blade, what it has in a cross-section.

    parts : of the blade, by key. What is spliced counts as whole; a slot for a rib isn't taken off an upright sheet
    """
    return [SparRun(one.path, at) for one in members(layout) for at in _of(one, list(parts.values()))]


def _of(member: Member[Any], parts: Sequence[Part]) -> list[At]:
    own = [part for part in parts if part.path == member.path and part.role is Role.SPAR]
    match member.spar:
        case Spar():
            return [_single(member)]
        case CapSpar():
            return [_caps(member), _webs(member)]
        case BoxSpar():
            return [_box(member, own)]
        case _:
            return [_other(member, own)]


@dataclass(frozen=True, eq=False)
class _Straight:
    """Points that run straight from place to place along r.

    r_mm   : (n,) rising [mm]
    points : (n, ...) of each place
    """

    r_mm: FloatArray
    points: FloatArray

    def at(self, r_mm: float) -> FloatArray | None:
        """The points at a radius; None beyond the ends."""
        if len(self.r_mm) < 2 or not self.r_mm[0] - SAME_MM <= r_mm <= self.r_mm[-1] + SAME_MM:
            return None
        k = int(np.clip(np.searchsorted(self.r_mm, r_mm) - 1, 0, len(self.r_mm) - 2))
        share = float(np.clip((r_mm - self.r_mm[k]) / (self.r_mm[k + 1] - self.r_mm[k]), 0.0, 1.0))
        return np.asarray((1.0 - share) * self.points[k] + share * self.points[k + 1])


def _single(member: Member[Spar]) -> At:
    stock, key = member.layout.design.stock[member.spar.stock], Key(Role.SPAR, member.path)
    assert isinstance(stock, LengthStock)

    def at(r_mm: float) -> Found:
        if not member.route.passes(r_mm):
            return
        centre = member.route.at(r_mm)[1:]
        if stock.outside is not None:
            yield key, tube(centre, stock.outside, stock.inside or 0.0)
        else:
            wide, high = member.strip_mm
            yield key, solid(centre + np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [wide / 2.0, high / 2.0])

    return at


def _caps(member: Member[CapSpar]) -> At:
    """Laminations above and below, the outermost first; each to its own end."""
    ends = layer_ends(member)
    r = np.unique([*member.nodes(max(ends)), *ends])
    radii, corners = [], []
    for slice_, radius in zip(member.inside(r), r.tolist(), strict=True):
        both = stacks(member, slice_, 1) if slice_ else None
        if slice_ and both:
            radii.append(radius)
            corners.append([slice_.station.to_blade(one.corners())[:, 1:] for one in both])
    lines = _Straight(np.array(radii), np.array(corners))

    def at(r_mm: float) -> Found:
        there = lines.at(r_mm)
        if there is None:
            return
        for layer, end in enumerate(ends, start=1):
            for half, ring in zip(HALVES, there, strict=True):
                if r_mm <= end + SAME_MM:
                    inwards = (layer - 1) * (ring[3] - ring[0])
                    yield Key(Role.SPAR, member.path, (half, layer)), solid(ring + inwards)

    return at


def _webs(member: Member[CapSpar]) -> At:
    """The web of each bay; between two neighbours, in a rib, the inner one: the rib closes there what they do."""
    found, made = [], bays(member)
    for bay in made:
        rows = [at.station.to_blade(stands.corners()) for at, stands in (bay.inner, bay.outer)]
        line = _Straight(np.array([row[0, 0] for row in rows]), np.array([row[:, 1:] for row in rows]))
        thick, deep = bay.inner[1].width_mm, (bay.inner[1].depth_mm + bay.outer[1].depth_mm) / 2.0
        found.append((bay.number, line, (thick, deep)))
    starts = {number: line.r_mm[0] for number, line, _ in found}

    def at(r_mm: float) -> Found:
        for number, line, thin in found:
            end = line.r_mm[-1]
            inside = end < r_mm < starts.get(number + 1, end)
            ring = line.at(end if inside else r_mm)
            if ring is not None:
                key = Key(Role.WEB, f"{member.path}.web", (number,))
                yield key, replace(solid(ring), thin_mm=thin)
                return

    return at


def _box(member: Member[BoxSpar], own: Sequence[Part]) -> At:
    """Four walls, in one piece where they are folded of a board."""
    thick, lines = member.sheet_mm, box_corners(member)
    folded = folds(member.layout.design, member.spar.stock)

    def at(r_mm: float) -> Found:
        ring = lines.at(r_mm)
        if ring is None:
            return
        if folded:
            yield _piece(own, r_mm).key, wall(within(ring, thick / 2.0), thick, closed=True)
            return
        inside = area_mm2(within(ring, thick / 2.0))
        aft, up = (thick * unit(ring[k] - ring[0]) for k in (1, 3))
        plates = {
            "ahead": [ring[0], ring[0] + aft, ring[3] + aft, ring[3]],
            "behind": [ring[1], ring[1] - aft, ring[2] - aft, ring[2]],
            "bottom": [ring[0] + aft, ring[1] - aft, ring[1] - aft + up, ring[0] + aft + up],
            "top": [ring[3] + aft, ring[2] - aft, ring[2] - aft - up, ring[3] + aft - up],
        }
        for side, plate in plates.items():
            shape = solid(np.array(plate))
            part = _piece([one for one in own if one.mark[:1] == (side,)], r_mm)
            yield part.key, replace(shape, thin_mm=(thick, shape.area_mm2 / thick), within_mm2=inside)

    return at


def box_corners(member: Member[BoxSpar]) -> _Straight:
    """Its outer corners along r, (n, 4, 2): low ahead, low behind, high behind, high ahead [mm]."""
    radii, corners = [], []
    for slice_ in member.inside(member.nodes()):
        box = hollow(member, slice_) if slice_ else None
        if slice_ and box:
            radii.append(slice_.station.r_mm)
            corners.append(slice_.station.to_blade(box.corners())[:, 1:])
    return _Straight(np.array(radii), np.array(corners))


def within(ring: FloatArray, by_mm: float) -> FloatArray:
    """(4, 2) corners of an oblong moved inwards all round [mm]."""
    aft, up = (by_mm * unit(ring[k] - ring[0]) for k in (1, 3))
    return np.array([ring[0] + aft + up, ring[1] - aft + up, ring[2] - aft - up, ring[3] + aft - up])


def _other(member: Member[Any], own: Sequence[Part]) -> At:
    """What a kind says that it takes of a slice, straight from rib to rib."""
    nodes, radii, rings = member.nodes(), list[float](), list[list[FloatArray]]()
    for slice_ in member.inside(nodes):
        if slice_ is not None:
            found = kind_of(member).shapes(member, slice_)
            rings.append([slice_.station.to_blade(np.array(one.exterior.coords)[:-1])[:, 1:] for one in found])
            radii.append(slice_.station.r_mm)
    count = min((len(some) for some in rings), default=0)
    lines = [_Straight(np.array(radii), np.array([some[k] for some in rings])) for k in range(count)]

    def at(r_mm: float) -> Found:
        for line in lines:
            if own and (ring := line.at(r_mm)) is not None:
                yield _piece(own, r_mm).key, solid(ring)

    return at


def _piece(parts: Sequence[Part], r_mm: float) -> Part:
    """Which of a spar's pieces, end to end, lies at a radius [mm]."""
    return min(parts, key=lambda part: _away_mm(part, r_mm))


def _away_mm(part: Part, r_mm: float) -> float:
    """How far a piece ends from a radius; 0 within it [mm]."""
    if not (isinstance(part.shape, Flat) and part.places):
        return 0.0
    low, _, high, _ = part.shape.weighed.bounds()
    ends = sorted(float(part.places[0][0] @ np.array([x, 0.0, 0.0, 1.0])) for x in (low, high))
    return max(ends[0] - r_mm, r_mm - ends[1], 0.0)
