"""Lightening by a truss: a rib's inside cut out between flanges, posts beside its holes, and a zigzag of diagonals."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

FLAT_MM = 2e-3  # arcs are taken as chords that near them; taken off the holes
PLAIN_MM = (0.02, 0.04, 0.08)  # a hole's sides may be straightened by that much; the first that makes few of them
MOST_SIDES = 8  # of a hole, corners not counted
PLACES = 400  # where a rib's depth is taken
FLATTEST, BEST, STEEPEST = 1.0, 0.75, 0.577  # run of a diagonal to its rise: 45, 53 and 60 deg
ENDS = (1.0, 1.3, 1.7, 2.2, 3.0)  # depths where the truss may end towards nose and tail, of the least hole's
KINK_DEG = 8.0  # sides that turn less than that meet in a corner that is left as it is
MITRE = 5.0


@dataclass(frozen=True, eq=False)
class _Inside:
    """What of a rib may be cut out as far as its outline goes, and how deep it is.

    area        : all of it
    web_mm      : of wood that is left round it
    x, low, top : (n,) places along it, and its least and greatest y there [mm]
    """

    area: shapely.Polygon | shapely.MultiPolygon
    web_mm: float
    x: FloatArray
    low: FloatArray
    top: FloatArray

    @property
    def depth(self) -> FloatArray:
        """(n,) between the middles of the two flanges [mm]."""
        return self.top - self.low + self.web_mm


def truss_holes(
    region: Region, middle: FloatArray, web_mm: float, least_mm: float, fillet_mm: float = 1.5
) -> tuple[Path, ...]:
    """The holes between flanges, posts and diagonals, nose to tail: closed, anticlockwise, of lines and arcs.

    A post stands on both sides of every hole that the rib has already. Between two posts the diagonals go up and down
    at a steady slope, 45 to 60 deg where the room between the posts lets them; towards nose and tail they come closer
    with the depth. Of the zigzags that may be, the one is taken that leaves least wood.

    region    : the rib with the holes it has already, its chord along x [mm]
    middle    : (n, 2) line half way between its long edges, nose to tail: the truss goes no further [mm]
    web_mm    : least wood along the outline, round holes, and width of each diagonal; up to 0.2 mm more is left, > 0 [mm]
    least_mm  : least diameter of the largest circle in a hole worth cutting, > 0 [mm]
    fillet_mm : radius of the holes' corners, >= 0 [mm]
    raises    : ValueError on figures out of these bounds
    """
    if not (web_mm > 0.0 and least_mm > 0.0 and fillet_mm >= 0.0):
        raise ValueError(f"web and least hole must be > 0 mm, fillet >= 0, not {web_mm:g}, {least_mm:g}, {fillet_mm:g}")
    solid = shapely.Polygon(region.outer.flattened(FLAT_MM))
    within = shapely.buffer(solid, -web_mm, join_style="mitre", mitre_limit=MITRE)
    x = np.linspace(float(middle[:, 0].min()), float(middle[:, 0].max()), PLACES)
    _, y0, _, y1 = solid.bounds
    cuts = shapely.intersection(within, shapely.linestrings([[(at, y0), (at, y1)] for at in x]))
    low, top = shapely.bounds(cuts)[:, [1, 3]].T
    there = np.isfinite(low)
    if there.sum() < 2:
        return ()
    inside = _Inside(within, web_mm, x[there], low[there], top[there])
    holes: list[Path] = []
    for start, end, open_nose, open_tail in _bays(region, inside):
        best: list[Path] = []
        for zigzag in _zigzags(inside, start, end, least_mm, (open_nose, open_tail)):
            cut = _cut(zigzag, least_mm, fillet_mm)
            if _total(cut) > _total(best) * (1.0 + 1e-6):
                best = cut
        holes += best
    return tuple(holes)


def _total(holes: list[Path]) -> float:
    return sum(hole.area() for hole in holes)


def _bays(region: Region, inside: _Inside) -> list[tuple[float, float, bool, bool]]:
    """Stretches of x that no hole and no post beside one takes, and whether nose or tail is open, without a post."""
    taken = sorted((box[0] - inside.web_mm, box[2] + inside.web_mm) for box in (h.bounds() for h in region.holes))
    bays, start, open_nose = [], float(inside.x[0]), True
    for first, last in taken:
        if first > start:
            bays.append((start, min(first, float(inside.x[-1])), open_nose, first > inside.x[-1]))
        if last > start:
            start, open_nose = last, False
    if start < inside.x[-1]:
        bays.append((start, float(inside.x[-1]), open_nose, True))
    return bays


def _zigzags(
    inside: _Inside, start: float, end: float, least_mm: float, opened: tuple[bool, bool]
) -> list[list[shapely.Geometry]]:
    """Every truss that may stand in a bay, as what is left between its members.

    An open end is put where the bay is some multiple of the least hole deep.
    """
    made = []
    nose, tail = ([1.0] if not is_open else list(ENDS) for is_open in opened)
    for a in nose:
        for b in tail:
            deep = inside.top - inside.low
            reach = (inside.x >= start) & (inside.x <= end)
            ahead = reach & (deep >= a * least_mm) if opened[0] else reach
            aft = reach & (deep >= b * least_mm) if opened[1] else reach
            if not (ahead.any() and aft.any()):
                continue
            first = float(inside.x[ahead].min()) if opened[0] else start
            last = float(inside.x[aft].max()) if opened[1] else end
            if last > first:
                box = shapely.intersection(inside.area, shapely.box(first, *_heights(inside)[:1], last, _heights(inside)[1]))
                made += [[box, *strips] for strips in _diagonals(inside, first, last)]
    return made
