"""Lightening by a truss: a rib's inside cut out between flanges, posts beside its holes, and a zigzag of diagonals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.plane.apart import ragged
from geomgen.plane.biarc import cross, dot, unit
from geomgen.plane.path import Path
from geomgen.plane.region import Region

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
    low, top = _heights(within, x)
    there = np.isfinite(low)
    if there.sum() < 2:
        return ()
    inside = _Inside(within, web_mm, x[there], low[there], top[there])
    radius = fillet_mm if fillet_mm >= SHARP_MM else 0.0
    pieces = [piece for bay in _bays(region, inside) for piece in _cut_out(inside, bay, least_mm, radius)]
    return tuple(_holes(pieces, least_mm, radius))


def _heights(area: shapely.Geometry, x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) least and (n,) greatest y of polygons at each x, which rises; not finite where there is none."""
    xy, ring = shapely.get_coordinates(shapely.get_exterior_ring(shapely.get_parts(area)), return_index=True)
    edge = np.flatnonzero((ring[1:] == ring[:-1]) & (xy[1:, 0] != xy[:-1, 0]))
    start, step = xy[edge], xy[edge + 1] - xy[edge]
    first = np.searchsorted(x, np.minimum(start[:, 0], xy[edge + 1, 0]), "left")
    last = np.searchsorted(x, np.maximum(start[:, 0], xy[edge + 1, 0]), "right")
    at, owner = ragged(first, last - first)
    y = start[owner, 1] + (x[at] - start[owner, 0]) * (step[owner, 1] / step[owner, 0])
    low, top = np.full(len(x), np.inf), np.full(len(x), -np.inf)
    np.minimum.at(low, at, y)
    np.maximum.at(top, at, y)
    return low, top


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


def _cut_out(inside: _Inside, bay: _Bay, least_mm: float, fillet_mm: float) -> list[shapely.Polygon]:
    """The pieces that the truss with least wood leaves free in a bay, nose to tail; all that may stand are tried."""
    ends = _ends(inside, bay, least_mm)
    found = [(k, nodes) for k, (start, end) in enumerate(ends) for nodes in _nodes(inside, start, end)]
    if not found:
        return []
    _, y0, _, y1 = inside.area.bounds
    start, end = np.array(ends).T
    rooms = shapely.intersection(inside.area, shapely.box(start, y0, end, y1))
    wood = _diagonals([nodes for _, nodes in found], inside.web_mm)
    pieces, truss = shapely.get_parts(shapely.difference(rooms[[k for k, _ in found]], wood), return_index=True)
    large = _takes_circle(pieces, max(0.5 * least_mm, fillet_mm) + PLAIN_MM[0])
    pieces, truss = pieces[large], truss[large]
    worth = shapely.area(pieces) - 0.25 * np.pi * least_mm**2  # the smallest isn't worth its cut
    best, most = -1, 0.0
    for k, total in enumerate(np.bincount(truss, worth, minlength=len(found)).tolist()):
        if total > most * (1.0 + 1e-6):
            best, most = k, total
    return sorted(pieces[truss == best], key=lambda piece: float(piece.centroid.x))


def _takes_circle(pieces: NDArray[np.object_], radius_mm: float) -> NDArray[np.bool_]:
    """(n,) whether a circle goes into each piece: surely where it is large for its girth, else by shrinking it."""
    takes: NDArray[np.bool_] = shapely.area(pieces) > 1.01 * radius_mm * shapely.length(pieces)
    takes[~takes] = ~shapely.is_empty(shapely.buffer(pieces[~takes], -radius_mm))
    return takes


def _ends(inside: _Inside, bay: _Bay, least_mm: float) -> list[tuple[float, float]]:
    """From where to where a truss may stand in a bay: it ends where there is a post, or some depth."""
    deep = inside.top - inside.low
    here = (inside.x >= bay.start) & (inside.x <= bay.end)
    found = []
    for a, b in product(ENDS if bay.open_nose else (0.0,), ENDS if bay.open_tail else (0.0,)):
        reach = [inside.x[here & (deep >= share * least_mm)] for share in (a, b)]
        if not (len(reach[0]) and len(reach[1])):
            continue
        start = float(reach[0][0]) if bay.open_nose else bay.start
        end = float(reach[1][-1]) if bay.open_tail else bay.end
        if end > start:
            found.append((start, end))
    return list(dict.fromkeys(found))


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
        odd = np.arange(n + 1) % 2 == 1
        yield np.column_stack((at, np.where(odd, *ends)))
        yield np.column_stack((at, np.where(odd, *ends[::-1])))


def _diagonals(zigzags: Sequence[FloatArray], web_mm: float) -> NDArray[np.object_]:
    """The wood of each zigzag: straight strips from node to node, a little longer than that."""
    a, b = (np.concatenate([nodes[part] for nodes in zigzags]) for part in (slice(None, -1), slice(1, None)))
    along = (b - a) / np.hypot(*(b - a).T)[:, None] * web_mm
    left = 0.5 * np.column_stack((-along[:, 1], along[:, 0]))
    a, b = a - along, b + along
    count = np.array([max(len(nodes) - 1, 0) for nodes in zigzags])
    strips = np.full((len(zigzags), max(int(count.max()), 1)), None)
    strips[np.arange(strips.shape[1]) < count[:, None]] = shapely.polygons(
        np.stack((a + left, a - left, b - left, b + left), axis=1)
    )
    return np.asarray(shapely.union_all(strips, axis=1))


def _holes(pieces: Sequence[shapely.Polygon], least_mm: float, fillet_mm: float) -> list[Path]:
    """The holes with round corners within pieces; none in one that is too small.

    A piece less the radius all round, its sides straightened, and then each side put out by the radius again.
    """
    found: dict[int, Path] = {}
    left, every = np.arange(len(pieces)), np.array(pieces, dtype=object)
    for plain in PLAIN_MM:
        spare = FLAT_MM + plain + fillet_mm * (1.0 / np.cos(np.radians(KINK_DEG) / 2.0) - 1.0)
        cores = shapely.buffer(every[left], -fillet_mm - spare, join_style="mitre", mitre_limit=MITRE)
        there = ~shapely.is_empty(cores)
        left, cores = left[there], _straightened(cores[there], plain)
        there = ~shapely.is_empty(shapely.buffer(cores, -max(0.5 * least_mm - fillet_mm, 1e-6)))
        left, cores = left[there], cores[there]
        holes = [_put_out(shapely.get_coordinates(core)[:-1], fillet_mm) for core in cores]
        drawn = np.array([shapely.Polygon(hole.flattened(FLAT_MM)) for hole in holes], dtype=object)
        fits = shapely.is_valid(drawn) & shapely.covers(every[left], drawn)
        found |= {int(k): hole for k, hole, good in zip(left, holes, fits, strict=True) if good}
        left = left[~(fits & (shapely.get_num_coordinates(cores) - 1 <= MOST_SIDES))]
    return [found[k] for k in sorted(found)]


def _straightened(cores: NDArray[np.object_], plain_mm: float) -> NDArray[np.object_]:
    """The largest polygon of each, of fewer sides, anticlockwise, within so much of it, from its sharpest corner."""
    parts, owner = shapely.get_parts(cores, return_index=True)
    order = np.lexsort((-shapely.area(parts), owner))
    largest = parts[order[np.searchsorted(owner, np.arange(len(cores)))]]
    rings = []
    for ring in shapely.get_exterior_ring(shapely.orient_polygons(largest)):
        xy = shapely.get_coordinates(ring)[:-1]
        rings.append(shapely.Polygon(np.roll(xy, -int(np.argmax(_turns(xy))), axis=0)))
    return np.asarray(shapely.simplify(np.array(rings, dtype=object), plain_mm))


def _turns(xy: FloatArray) -> FloatArray:
    """(n,) how much a ring turns left at each corner [rad]."""
    after = _next(xy) - xy
    before = _last(after)
    return np.arctan2(cross(before, after), dot(before, after))


def _put_out(xy: FloatArray, radius_mm: float) -> Path:
    """An anticlockwise ring of straight sides, each put out by a radius, with arcs round its corners."""
    turn = _turns(xy)
    way = unit(_next(xy) - xy)
    after = radius_mm * np.column_stack((way[:, 1], -way[:, 0]))
    before = _last(after)
    rounded = (turn > np.radians(KINK_DEG)) & (radius_mm > 0.0)
    mitre = (before + after) / (1.0 + np.cos(turn))[:, None]
    points = np.stack((xy + np.where(rounded[:, None], before, mitre), xy + after), axis=1).reshape(-1, 2)
    bulge = np.column_stack((np.where(rounded, np.tan(0.25 * turn), 0.0), np.zeros(len(xy)))).ravel()
    kept = np.column_stack((np.ones(len(xy), bool), rounded)).ravel()
    return Path(points[kept], bulge[kept], True)


def _next(rows: FloatArray) -> FloatArray:
    """Each row's following one, round a ring."""
    return np.concatenate((rows[1:], rows[:1]))


def _last(rows: FloatArray) -> FloatArray:
    """Each row's one before, round a ring."""
    return np.concatenate((rows[-1:], rows[:-1]))
