"""A closed loop of lines and arcs moved outward or inward by a distance: lines stay lines, arcs arcs.

Every point of the moved loop is just as far from the loop as it was moved, and none is nearer. So each line and arc is
moved by itself; at a corner that opens an arc about the corner joins the two. A mitre would do as well for a beam, but
runs farther out the sharper the corner is, and an arc is where a round beam's middle goes that just touches the corner.
All are cut where they meet one another, what is too near the loop is dropped, and the rest is joined again.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray, IntArray
from geomgen.plane.meetings import meetings, near_pairs, shares
from geomgen.plane.nearest import STRAIGHT, nearest
from geomgen.plane.path import Circle, Loop, Path
from geomgen.plane.segments import Segments

_SAME_MM = 2e-5  # ends nearer than this are one point
_NEAR_MM = 1e-7  # a piece nearer to the loop than it should be by more is none of the moved loop's
_CHORDAL_MM = 1e-4  # of what is held against shapely's
_OFF_MM = 5e-4  # so far the area may be from shapely's, as a band along the loop
_SPECK_MM2 = 1e-6  # a smaller loop is nothing


@dataclass(frozen=True, eq=False)
class _Pieces:
    """Pieces of moved lines and arcs.

    segments : the pieces
    of       : (n,) number of the moved line or arc that each is a piece of
    """

    segments: Segments
    of: IntArray

    def rows(self, which: IntArray) -> _Pieces:
        return _Pieces(self.segments.rows(which), self.of[which])


def offset(loop: Loop, by_mm: float) -> Loop | None:
    """A closed loop moved outward by a distance, inward where it is negative; None where nothing is left.

    loop   : closed, not crossing itself, in either direction, which is kept [mm]
    raises : ValueError where the moved loop falls into several, or the loop is open or crosses itself
    """
    found = offsets(loop, by_mm)
    if len(found) > 1:
        raise ValueError(f"a loop moved by {by_mm:g} mm falls into {len(found)}")
    return found[0] if found else None


def offsets(loop: Loop, by_mm: float) -> tuple[Loop, ...]:
    """All loops that a closed loop becomes when it is moved, the largest first.

    Moved inward, a loop may fall into several; outward, a narrow mouth may close and leave a loop within.

    loop    : closed, not crossing itself, in either direction [mm]
    by_mm   : outward; inward where it is negative
    returns : in the loop's direction, but loops within in the other
    raises  : ValueError where the loop is open or crosses itself
    """
    if isinstance(loop, Circle):
        radius = loop.radius + by_mm
        return (Circle(loop.center, radius),) if radius > 0.0 else ()
    if not loop.closed:
        raise ValueError("only a closed loop has an outside to be moved to")
    if by_mm == 0.0:
        return (loop,)
    left_about = loop.area() >= 0.0
    ring = _plain(loop if left_about else loop.reversed())
    flat = shapely.Polygon(ring.flattened(_CHORDAL_MM))
    if not flat.is_valid:
        raise ValueError(f"a loop that is to be moved crosses itself: {shapely.is_valid_reason(flat)}")
    found = _joined(_kept(ring, _moved(ring, by_mm), abs(by_mm)))
    if found is None or not _agree(found, flat, by_mm):
        found = _of_lines(_by_discs(flat, by_mm))
    found = sorted(found, key=lambda path: -abs(path.area()))
    return tuple(path if left_about else path.reversed() for path in found)


def _plain(ring: Path) -> Path:
    """Without lines and arcs that begin where they end; the flattest arcs as lines."""
    stays = ring.segments().chord > _NEAR_MM
    return Path(ring.xy[stays], np.where(np.abs(ring.bulge) > STRAIGHT, ring.bulge, 0.0)[stays], True)


def _moved(ring: Path, by_mm: float) -> _Pieces:
    """Each line and arc moved to its right, and the arcs about corners that open, in order along the loop."""
    segments = ring.segments()
    begin, end = segments.directions()
    start_xy = segments.start + by_mm * np.column_stack((np.sin(begin), -np.cos(begin)))
    end_xy = segments.end + by_mm * np.column_stack((np.sin(end), -np.cos(end)))
    left = segments.bulge == 0.0
    left |= segments.radius() + by_mm * np.sign(segments.bulge) > _NEAR_MM  # an arc moved past its centre is gone
    turn = np.mod(np.roll(begin, -1) - end + np.pi, 2.0 * np.pi) - np.pi
    opens = (turn * by_mm > 0.0) & (np.abs(turn * by_mm) > _SAME_MM)
    start = np.stack((start_xy, end_xy), axis=1).reshape(-1, 2)
    finish = np.stack((end_xy, np.roll(start_xy, -1, axis=0)), axis=1).reshape(-1, 2)
    bulge = np.column_stack((segments.bulge, np.tan(0.25 * turn))).ravel()
    which = np.flatnonzero(np.column_stack((left, opens)).ravel())
    return _Pieces(Segments(start[which], finish[which], bulge[which]), np.arange(len(which)))


def _kept(ring: Path, moved: _Pieces, apart_mm: float) -> _Pieces:
    """The moved lines and arcs cut where they meet, without what is too near the loop."""
    pieces = _cut(moved)
    probes = np.stack([pieces.segments.points(np.full(len(pieces.of), share)) for share in (0.1, 0.5, 0.9)])
    away, _ = nearest(ring.segments(), probes.reshape(-1, 2))
    clear = away.reshape(3, -1).min(axis=0) >= apart_mm - _NEAR_MM
    return pieces.rows(np.flatnonzero(clear))


def _cut(moved: _Pieces) -> _Pieces:
    segments, count = moved.segments, len(moved.of)
    if not count:
        return moved
    first, second = near_pairs(segments)
    follows = np.hypot(*(segments.start[(np.arange(count) + 1) % count] - segments.end).T) <= _SAME_MM
    joined = ((second == first + 1) & follows[first]) | ((first == 0) & (second == count - 1) & follows[-1])
    first, second = first[~joined], second[~joined]
    pair, at = meetings(segments, first, second)
    row, xy = np.concatenate((first[pair], second[pair])), np.vstack((at, at))
    share = np.clip(shares(segments.rows(row), xy), 0.0, 1.0)
    row = np.concatenate((row, np.arange(count), np.arange(count)))
    share = np.concatenate((share, np.zeros(count), np.ones(count)))
    xy = np.vstack((xy, segments.start, segments.end))
    order = np.lexsort((share, row))
    row, share, xy = row[order], share[order], xy[order]
    i = np.flatnonzero((row[1:] == row[:-1]) & (share[1:] > share[:-1]))
    bulge = np.tan(0.25 * segments.angle[row[i]] * (share[i + 1] - share[i]))
    return _Pieces(Segments(xy[i], xy[i + 1], bulge), row[i])


def _joined(pieces: _Pieces) -> list[Path] | None:
    """Closed paths of pieces end to end; None where they don't run on from one another each in one way."""
    segments, count = pieces.segments, len(pieces.of)
    node = _nodes(np.vstack((segments.start, segments.end)))
    begin, end = node[:count], node[count:]
    runs = np.flatnonzero(begin != end)
    while len(runs):  # what leads nowhere is a sliver past a corner that closes by very little
        on = np.isin(begin[runs], end[runs]) & np.isin(end[runs], begin[runs])
        if on.all():
            break
        runs = runs[on]
    begin, end = begin[runs], end[runs]
    if len(set(begin.tolist())) < len(runs) or not np.array_equal(np.sort(begin), np.sort(end)):
        return None
    after = dict(zip(begin.tolist(), runs.tolist(), strict=True))
    to = dict(zip(runs.tolist(), end.tolist(), strict=True))
    paths = []
    while after:
        chain = [after.pop(next(iter(after)))]
        while to[chain[-1]] in after:
            chain.append(after.pop(to[chain[-1]]))
        paths.append(_path(pieces.rows(np.array(chain))))
    return [path for path in paths if abs(path.area()) > _SPECK_MM2]


def _nodes(ends: FloatArray) -> IntArray:
    """(n,) the number of the point that each of (n, 2) ends is at."""
    near = np.hypot(*(ends[:, None, :] - ends[None, :, :]).transpose(2, 0, 1)) <= _SAME_MM
    node: IntArray = np.arange(len(ends))
    while True:
        least = np.where(near, node[None, :], len(ends)).min(axis=1, initial=len(ends))
        if np.array_equal(least, node):
            return node
        node = least


def _path(chain: _Pieces) -> Path:
    """One closed path, pieces of one line or arc as one again."""
    segments, of = chain.segments, chain.of
    if len(set(of.tolist())) < 2:
        return Path(segments.start, segments.bulge, True)
    turned = -int(np.flatnonzero(of != np.roll(of, 1))[0])
    order = np.roll(np.arange(len(of)), turned)
    of, start, angle = of[order], segments.start[order], segments.angle[order]
    first = np.flatnonzero(np.append(True, of[1:] != of[:-1]))
    return Path(start[first], np.tan(0.25 * np.add.reduceat(angle, first)), True)


def _agree(found: list[Path], flat: shapely.Polygon, by_mm: float) -> bool:
    """Whether the loops enclose what shapely's own answer does."""
    off = _OFF_MM * flat.length
    area = float(sum(path.area() for path in found))
    if abs(area - flat.buffer(by_mm, quad_segs=_quarter(by_mm)).area) <= off:
        return True  # it leaves out what is small beside the distance; what follows doesn't, and is slow
    return bool(abs(area - _by_discs(flat, by_mm).area) <= off)


def _by_discs(flat: shapely.Polygon, by_mm: float) -> shapely.Geometry:
    """What a disc sweeps along each straight line, put to the polygon or taken from it."""
    xy = np.array(flat.exterior.coords)
    lines = shapely.linestrings(np.stack((xy[:-1], xy[1:]), axis=1))
    band = shapely.union_all(shapely.buffer(lines, abs(by_mm), quad_segs=_quarter(by_mm)))
    return flat.union(band) if by_mm > 0.0 else flat.difference(band)


def _quarter(by_mm: float) -> int:
    """Chords in a quarter circle that are within `_CHORDAL_MM` of it."""
    return max(4, math.ceil(math.pi / 4.0 / math.sqrt(2.0 * _CHORDAL_MM / abs(by_mm))))


def _of_lines(asked: shapely.Geometry) -> list[Path]:
    """Loops of straight lines within `_OFF_MM` of shapely's own answer, where arcs can't be joined."""
    found = []
    for polygon in shapely.get_parts(shapely.simplify(asked, _OFF_MM)):
        if polygon.area > _SPECK_MM2:
            polygon = shapely.orient_polygons(polygon)
            for ring in (polygon.exterior, *polygon.interiors):
                xy = np.array(ring.coords)[:-1]
                found.append(Path(xy, np.zeros(len(xy)), True))
    return found
