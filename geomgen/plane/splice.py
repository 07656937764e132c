"""Cutting into the edge of a closed path of lines and arcs: where a line crosses it, stretches put in, notches, tabs.

Arcs are split in closed form and stay on their circles; nothing is flattened.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.plane.arcs import join
from geomgen.plane.biarc import cross, dot, unit
from geomgen.plane.nearest import feet_on
from geomgen.plane.path import Path, from_points
from geomgen.plane.segments import Segments

Point = tuple[float, float]

ON_MM = 1e-4  # a point this near a path is on it
_SAME_MM = 1e-6  # places nearer than this along a path are the same
_ON_LINE_MM = 1e-9  # a vertex this near a line lies on it


@dataclass(frozen=True)
class Crossing:
    """Where a path passes from one side of a line to the other.

    segment  : index of the line or arc of the path
    share    : share of its angle, or of its length if straight, 0..1 [-]
    xy       : the place [mm]
    along_mm : distance from the line's point in the line's direction [mm]
    to_left  : whether the path passes to the left of the line
    """

    segment: int
    share: float
    xy: Point
    along_mm: float
    to_left: bool


def crossings(path: Path, point: ArrayLike, way: ArrayLike) -> list[Crossing]:
    """Where an infinite line crosses a closed path, in order along the line; exact.

    A crossing at a vertex counts once. Where the path only touches the line there is none; a stretch that runs along
    the line counts as to its left.

    point, way : (2,) a point of the line [mm], its direction
    raises     : ValueError on an open path or a direction of no length
    """
    if not path.closed:
        raise ValueError("crossings are looked for on a closed path")
    at, ahead = np.asarray(point, dtype=np.float64), _unit(way)
    ring = path.segments()
    left = cross(ahead, ring.start - at) >= -_ON_LINE_MM
    left_after = np.roll(left, -1)
    rising, falling = _roots(ring, at, ahead)
    one_up, one_down = ~left & left_after, left & ~left_after
    in_arc = np.minimum(rising, falling) >= -1.0 - 1e-12
    in_arc &= (np.maximum(rising, falling) <= 1.0 + 1e-12) & (left == left_after)
    two = in_arc & np.where(left, falling < rising, rising < falling)  # ends on one side, the arc over to the other
    found = []
    for which, root, to_left in ((one_up | two, rising, True), (one_down | two, falling, False)):
        row = np.flatnonzero(which)
        v = np.clip(np.nan_to_num(root[row], nan=0.0), -1.0, 1.0)
        share, xy = _on_segments(ring.rows(row), v)
        for k, s, p in zip(row.tolist(), share.tolist(), xy, strict=True):
            found.append(Crossing(k, s, (float(p[0]), float(p[1])), float(dot(p - at, ahead)), to_left))
    return _without_touches(sorted(found, key=lambda crossing: crossing.along_mm))


def replaced(path: Path, start: ArrayLike, end: ArrayLike, insert: Path) -> Path:
    """A closed path with one stretch taken out and an open path put there; the rest stays as it was.

    start, end : (2,) ends of the stretch, in the path's own direction of travel, on it within `ON_MM`; where both
                 are one place nothing is taken out [mm]
    insert     : open path from `start` to `end`; straight lines join its ends to them where they are apart
    returns    : closed path, gone round the same way, its first vertex at `end`
    raises     : ValueError on an open path, a closed insert, or a start or end that is not on the path
    """
    if not path.closed or insert.closed:
        raise ValueError("an open path is put into a closed one")
    ring = path.segments()
    (i, a), (j, b) = _place(ring, end, "end"), _place(ring, start, "start")
    kept = stretch(ring, i, a, j, b)
    xy = insert.xy.copy()
    for k, foot in ((0, kept.xy[-1]), (-1, kept.xy[0])):
        if np.hypot(*(xy[k] - foot)) <= ON_MM:
            xy[k] = foot
    return join([kept, Path(xy, insert.bulge, False)], closed=True)


def notched(path: Path, at: ArrayLike, way: ArrayLike, width_mm: float, depth_mm: float) -> Path:
    """An anticlockwise path with a rectangular notch cut into it, or with a tab standing out of it.

    at       : (2,) point of the centre line that the depth is measured from, on the edge or near it [mm]
    way      : (2,) direction of the centre line, into the material
    width_mm : between the sides, which run along `way` from where they enter the material nearest to `at`, > 0 [mm]
    depth_mm : of the bottom, which is square to `way`; less than 0 for a tab [mm]
    returns  : closed anticlockwise path
    raises   : ValueError on a clockwise or open path, on sides that don't meet the edge or meet it beyond the bottom,
               and where the notch or tab runs into another part of the edge
    """
    if not (path.closed and path.area() > 0.0):
        raise ValueError("a notch is cut into a closed path that is gone round anticlockwise")
    if not (np.isfinite(width_mm) and width_mm > 0.0 and np.isfinite(depth_mm) and depth_mm != 0.0):
        raise ValueError(f"a notch has a width > 0 and a depth other than 0, not {width_mm:g} and {depth_mm:g} mm")
    ahead, middle = _unit(way), np.asarray(at, dtype=np.float64)
    left = np.array((-ahead[1], ahead[0]))
    corners, ends = [], []
    for side in (0.5, -0.5):  # the path comes to the left side first: the material lies to its left
        begin = middle + side * width_mm * left
        enters = [crossing for crossing in crossings(path, begin, ahead) if not crossing.to_left]
        if not enters:
            raise ValueError(f"a side of a notch {width_mm:g} mm wide does not meet the edge")
        edge = min(enters, key=lambda crossing: abs(crossing.along_mm))
        if not (depth_mm - edge.along_mm) * np.sign(depth_mm) > _SAME_MM:
            raise ValueError(f"the edge is {edge.along_mm:g} mm in at a side of a notch {depth_mm:g} mm deep")
        corners.append(begin + depth_mm * ahead)
        ends.append(np.array(edge.xy))
    cut = np.array((ends[0], corners[0], corners[1], ends[1]))
    made = replaced(path, ends[0], ends[1], from_points(cut, closed=False))
    grown = (made.area() - path.area()) * -np.sign(depth_mm)
    if any(_met(path, a, b) for a, b in pairwise(cut)) or not (grown > 0.0 < made.area()):
        raise ValueError(f"a notch {width_mm:g} mm wide and {depth_mm:g} mm deep runs into another part of the edge")
    return made


def _roots(ring: Segments, at: FloatArray, ahead: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,), (n,) v where each whole circle or line passes to the left of a line, and to its right.

    An arc of bulge b on a chord c, seen from the chord's middle, is for v = -1 .. 1 at
    (c/2) (1 + b²) v / (1 + b² v²) along the chord and (c/2) b (1 - v²) / (1 + b² v²) to its right, with
    v = tan(angle from the arc's middle / 2) / b: the half-angle formulas. So its distance from a line is a quadratic
    in v over something positive, and nothing is lost where the arc is all but straight.
    """
    half = 0.5 * (ring.end - ring.start)
    off = cross(ahead, 0.5 * (ring.start + ring.end) - at)
    along, right, b = cross(ahead, half), -dot(ahead, half), ring.bulge
    square, linear, constant = b * (b * off - right), (1.0 + b * b) * along, off + b * right
    root = np.sqrt(np.maximum(linear**2 - 4.0 * square * constant, 0.0))
    q = -0.5 * (linear + np.where(linear < 0.0, -root, root))
    with np.errstate(divide="ignore", invalid="ignore"):
        one, two = q / square, constant / q
    return np.where(linear < 0.0, one, two), np.where(linear < 0.0, two, one)


def _on_segments(some: Segments, v: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) share of the angle and (n, 2) the place at v, as of `_roots`, on each segment."""
    half, b = 0.5 * (some.end - some.start), some.bulge
    low = 1.0 + (b * v) ** 2
    right = np.column_stack((half[:, 1], -half[:, 0]))
    xy = 0.5 * (some.start + some.end) + ((1.0 + b * b) * v / low)[:, None] * half
    xy += (b * (1.0 - v * v) / low)[:, None] * right
    straight = np.abs(b) < 1e-12
    share = np.where(straight, v, np.arctan(b * v) / np.where(straight, 1.0, np.arctan(b)))
    return 0.5 + 0.5 * share, xy


def _without_touches(found: list[Crossing]) -> list[Crossing]:
    """Crossings in order, less pairs that go over and back at one place."""
    left: list[Crossing] = []
    for crossing in found:
        if left and crossing.along_mm - left[-1].along_mm <= _ON_LINE_MM and crossing.to_left != left[-1].to_left:
            left.pop()
        else:
            left.append(crossing)
    return left


def _place(ring: Segments, point: ArrayLike, name: str) -> tuple[int, float]:
    """Segment and share, 0 <= share < 1, of a point on a ring."""
    xy = np.asarray(point, dtype=np.float64)
    away, feet = feet_on(ring, np.broadcast_to(xy, ring.start.shape))
    k = int(away.argmin())
    if not away[k] <= ON_MM:
        raise ValueError(f"the {name} {xy[0]:g}, {xy[1]:g} is {away[k]:g} mm off the path, not on it")
    a, b = feet[k] - ring.start[k], ring.end[k] - feet[k]
    if np.hypot(*a) <= _SAME_MM:
        return k, 0.0
    if np.hypot(*b) <= _SAME_MM:
        return (k + 1) % len(ring.bulge), 0.0
    # the chords to both ends make half the included angle's supplement: the angle at the rim
    turned = np.arctan2(cross(a, ring.end[k] - ring.start[k]), dot(a, ring.end[k] - ring.start[k]))
    whole = 2.0 * np.arctan(ring.bulge[k])
    straight = abs(ring.bulge[k]) <= 1e-8
    return k, float(np.hypot(*a) / ring.chord[k] if straight else 1.0 - turned / whole)


def stretch(ring: Segments, i: int, a: float, j: int, b: float) -> Path:
    """The open path from share a of segment i ahead to share b of segment j; once round where both are one place."""
    n, run = len(ring.bulge), ring.lengths()[i]
    within = i == j and (b - a) * run > _SAME_MM
    rows = np.array([i]) if within else (i + np.arange((j - i - 1) % n + 2)) % n
    first, last = np.zeros(len(rows)), np.ones(len(rows))
    first[0], last[-1] = a, b
    some, kept = ring.rows(rows), last > first
    start = np.where((first == 0.0)[:, None], some.start, some.points(first))
    end = np.where((last == 1.0)[:, None], some.end, some.points(last))
    bulge = np.where((first == 0.0) & (last == 1.0), some.bulge, np.tan(0.25 * some.angle * (last - first)))
    return Path(np.vstack((start[kept], end[kept][-1:])), np.append(bulge[kept], 0.0), False)


def _met(path: Path, start: FloatArray, end: FloatArray) -> bool:
    """Whether a path crosses a straight line between its ends, which may lie on the path."""
    length = float(np.hypot(*(end - start)))
    return any(_SAME_MM < crossing.along_mm < length - _SAME_MM for crossing in crossings(path, start, end - start))


def _unit(way: ArrayLike) -> FloatArray:
    ahead = np.asarray(way, dtype=np.float64)
    if not (np.isfinite(ahead).all() and ahead.any()):
        raise ValueError("a line needs a direction of some length")
    return unit(ahead)
