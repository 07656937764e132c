"""Lightening by a truss: a rib's inside cut out between flanges, posts beside its holes, and a zigzag of diagonals."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, product

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.plane.biarc import cross, dot, unit
from geomgen.plane.path import Path
from geomgen.plane.region import Region

FloatArray = NDArray[np.float64]

FLAT_MM = 2e-3  # arcs are taken as chords that near them; taken off the holes
PLAIN_MM = (0.02, 0.04, 0.08)  # a hole's sides may be straightened by that much; the first that makes few of them
MOST_SIDES = 8  # of a hole, corners not counted
PLACES = 400  # where a rib's depth is taken
FLATTEST, BEST, STEEPEST = 1.0, 0.75, 0.577  # run of a diagonal to its rise: 45, 53 and 60 deg
ENDS = (1.0, 1.3, 1.7, 2.2, 3.0)  # depths where a truss may end towards nose and tail, of the least hole's
NOTCH_MM = 25.0  # a dip of the edge is a notch up to that width
DIP = 0.25  # and from that share of the web deep
SHARP_MM = 0.05  # a smaller fillet is none: half the width of a laser's cut is more
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


@dataclass(frozen=True)
class _Bay:
    """A stretch of x between two posts, or a rib's end.

    start, end           : the posts' near sides, or where the rib's inside ends [mm]
    open_nose, open_tail : whether there is no post at that end
    """

    start: float
    end: float
    open_nose: bool
    open_tail: bool


def truss_holes(
    region: Region, middle: FloatArray, web_mm: float, least_mm: float, fillet_mm: float = 1.5
) -> tuple[Path, ...]:
    """The holes between flanges, posts and diagonals, nose to tail: closed, anticlockwise, of lines and arcs.

    A post stands on both sides of every hole that the rib has already, and behind every notch. Between two posts the
    diagonals go up and down at a steady slope, 45 to 60 deg where the room between the posts lets them; towards nose
    and tail they come closer with the depth. Of the zigzags that may be, the one is taken that leaves least wood.

    region    : the rib with the holes it has already, its chord along x [mm]
    middle    : (n, 2) line half way between its long edges, nose to tail: the truss goes no further [mm]
    web_mm    : least wood along the edge and round holes, width of a diagonal, > 0; up to 0.2 mm more is left [mm]
    least_mm  : least diameter of the largest circle in a hole worth cutting, > 0 [mm]
    fillet_mm : radius of the holes' corners, >= 0; below `SHARP_MM` they are sharp [mm]
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
    radius = fillet_mm if fillet_mm >= SHARP_MM else 0.0
    holes: list[Path] = []
    for bay in _bays(region, inside):
        most, best = 0.0, []
        for pieces in _zigzags(inside, bay, least_mm):
            large = pieces[~shapely.is_empty(shapely.buffer(pieces, -max(0.5 * least_mm, radius) - PLAIN_MM[0]))]
            worth = float((shapely.area(large) - 0.25 * np.pi * least_mm**2).sum())  # the smallest isn't worth its cut
            if worth > most * (1.0 + 1e-6):
                most, best = worth, sorted(large, key=lambda piece: piece.centroid.x)
        holes += [hole for piece in best if (hole := _hole(piece, least_mm, radius))]
    return tuple(holes)


def _bays(region: Region, inside: _Inside) -> list[_Bay]:
    """Stretches that no hole or notch, and no post beside one, takes."""
    first, last = float(inside.x[0]), float(inside.x[-1])
    boxes = [hole.bounds() for hole in region.holes]
    taken = [(x0 - inside.web_mm, x1 + inside.web_mm) for x0, _, x1, _ in boxes]
    taken += [*_dips(inside.x, inside.top, inside.web_mm), *_dips(inside.x, -inside.low, inside.web_mm)]
    bays, start = [], first
    for begin, end in [*sorted(taken), (last, np.inf)]:
        if min(begin, last) > start:
            bays.append(_Bay(start, min(begin, last), start == first, begin >= last))
        start = max(start, end)
    return bays


def _dips(x: FloatArray, y: FloatArray, web_mm: float) -> list[tuple[float, float]]:
    """From where to where an edge dips to pass a notch, wood round it included [mm].

    x, y : (n,) the edge of what may be cut out, + towards the rib's edge [mm]
    """
    reach = int(np.ceil((0.5 * NOTCH_MM + web_mm) / max(float(x[1] - x[0]), 1e-9)))
    spread = _highest(np.pad(y, reach, constant_values=-np.inf), reach)
    filled = -_highest(-spread, reach)[reach:-reach]
    dips = np.flatnonzero(np.diff(np.concatenate(([False], filled - y > DIP * web_mm, [False])).astype(int)))
    last = len(x) - 1
    return [(float(x[max(i - 1, 0)]), float(x[min(j, last)])) for i, j in dips.reshape(-1, 2).tolist()]


def _highest(y: FloatArray, reach: int) -> FloatArray:
    """(n,) greatest of each figure and `reach` neighbours on both sides."""
    padded = np.pad(y, reach, constant_values=-np.inf)
    most: FloatArray = np.lib.stride_tricks.sliding_window_view(padded, 2 * reach + 1).max(axis=1)
    return most


def _zigzags(inside: _Inside, bay: _Bay, least_mm: float) -> Iterator[NDArray[np.object_]]:
    """The pieces that each truss that may stand in a bay leaves free; it ends where there is a post, or some depth."""
    deep = inside.top - inside.low
    here = (inside.x >= bay.start) & (inside.x <= bay.end)
    _, y0, _, y1 = inside.area.bounds
    for a, b in product(ENDS if bay.open_nose else (0.0,), ENDS if bay.open_tail else (0.0,)):
        reach = [inside.x[here & (deep >= share * least_mm)] for share in (a, b)]
        if not (len(reach[0]) and len(reach[1])):
            continue
        start = float(reach[0][0]) if bay.open_nose else bay.start
        end = float(reach[1][-1]) if bay.open_tail else bay.end
        if end > start:
            room = shapely.intersection(inside.area, shapely.box(start, y0, end, y1))
            for nodes in _nodes(inside, start, end):
                yield shapely.get_parts(shapely.difference(room, shapely.union_all(_diagonals(nodes, inside.web_mm))))


def _nodes(inside: _Inside, start: float, end: float) -> Iterator[FloatArray]:
    """(n, 2) where the middles of diagonals meet those of flanges and posts, for each zigzag between two posts [mm]."""
    half = 0.5 * inside.web_mm
    x = np.concatenate(([start - half], np.linspace(start, end, PLACES), [end + half]))
    low, top = np.interp(x, inside.x, inside.low) - half, np.interp(x, inside.x, inside.top) + half
    per_depth = 1.0 / (top - low)
    along = np.concatenate(([0.0], np.cumsum(0.5 * (per_depth[1:] + per_depth[:-1]) * np.diff(x))))
    room = float(along[-1])
    if room < STEEPEST:
        yield np.empty((0, 2))
        return
    good = [n for n in range(1, int(room / STEEPEST) + 1) if n >= room / FLATTEST]
    for n in good or [max(1, round(room / BEST))]:
        at = np.interp(np.linspace(0.0, room, n + 1), along, x)
        ends = np.interp(at, x, low), np.interp(at, x, top)
        for up in (0, 1):
            yield np.column_stack((at, np.where((np.arange(n + 1) + up) % 2, *ends)))


def _diagonals(nodes: FloatArray, web_mm: float) -> list[shapely.Polygon]:
    """Straight strips of wood from node to node, a little longer than that."""
    strips = []
    for a, b in pairwise(nodes):
        along = (b - a) / np.hypot(*(b - a)) * web_mm
        left = 0.5 * np.array((-along[1], along[0]))
        a, b = a - along, b + along
        strips.append(shapely.Polygon([a + left, a - left, b - left, b + left]))
    return strips


def _hole(piece: shapely.Polygon, least_mm: float, fillet_mm: float) -> Path | None:
    """The hole with round corners within a piece; None where it is too small.

    The piece less the radius all round, its sides straightened, and then each side put out by the radius again.
    """
    found = None
    for plain in PLAIN_MM:
        spare = FLAT_MM + plain + fillet_mm * (1.0 / np.cos(np.radians(KINK_DEG) / 2.0) - 1.0)
        core = shapely.buffer(piece, -fillet_mm - spare, join_style="mitre", mitre_limit=MITRE)
        if core.is_empty:
            break
        cores = shapely.get_parts(core)
        core = _straightened(cores[int(shapely.area(cores).argmax())], plain)
        if core.buffer(-max(0.5 * least_mm - fillet_mm, 1e-6)).is_empty:
            break
        hole = _put_out(np.array(core.exterior.coords)[:-1], fillet_mm)
        drawn = shapely.Polygon(hole.flattened(FLAT_MM))
        if drawn.is_valid and shapely.covers(piece, drawn):
            found = hole
            if len(core.exterior.coords) - 1 <= MOST_SIDES:
                break
    return found


def _straightened(core: shapely.Polygon, plain_mm: float) -> shapely.Polygon:
    """A polygon of fewer sides, anticlockwise, within so much of it; it begins at its sharpest corner."""
    xy = np.array(shapely.orient_polygons(core).exterior.coords)[:-1]
    sharpest = int(np.argmax(_turns(xy)))
    return shapely.simplify(shapely.Polygon(np.roll(xy, -sharpest, axis=0)), plain_mm)


def _turns(xy: FloatArray) -> FloatArray:
    """(n,) how much a ring turns left at each corner [rad]."""
    after = np.roll(xy, -1, axis=0) - xy
    before = np.roll(after, 1, axis=0)
    return np.arctan2(cross(before, after), dot(before, after))


def _put_out(xy: FloatArray, radius_mm: float) -> Path:
    """An anticlockwise ring of straight sides, each put out by a radius, with arcs round its corners."""
    turn = _turns(xy)
    way = unit(np.roll(xy, -1, axis=0) - xy)
    after = radius_mm * np.column_stack((way[:, 1], -way[:, 0]))
    before = np.roll(after, 1, axis=0)
    rounded = (turn > np.radians(KINK_DEG)) & (radius_mm > 0.0)
    mitre = (before + after) / (1.0 + np.cos(turn))[:, None]
    points = np.stack((xy + np.where(rounded[:, None], before, mitre), xy + after), axis=1).reshape(-1, 2)
    bulge = np.column_stack((np.where(rounded, np.tan(0.25 * turn), 0.0), np.zeros(len(xy)))).ravel()
    kept = np.column_stack((np.ones(len(xy), bool), rounded)).ravel()
    return Path(points[kept], bulge[kept], True)
