"""In which order what lies on one sheet is cut.

First all marks, while the sheet still lies flat and whole; then part by part, its inside cuts before its outline, after
which it may fall. What lies in a hole of another part is cut before that part is begun. Next is what begins nearest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import BoolArray
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region

Point = tuple[float, float]
Cut = tuple[str, Loop]  # operation, as in `colours.LAYERS`; path

_CHORDAL_MM = 0.05  # of what is asked which part lies in a hole of which
_SMALL_MM = 2.0  # round a hole that nothing lies in


@dataclass(frozen=True, eq=False)
class Piece:
    """One copy of a part where it lies on its sheet.

    region  : as it is to be when it is cut [mm]
    marks   : to engrave
    inside  : inside cuts, as they are cut
    outside : outline, as it is cut: one closed loop, or open paths one after another
    """

    region: Region
    marks: tuple[Loop, ...]
    inside: tuple[Loop, ...]
    outside: tuple[Loop, ...]


def in_order(pieces: Sequence[Piece], start: Point = (0.0, 0.0)) -> tuple[Cut, ...]:
    """All marks and cuts of a sheet in the order they are made, from a point [mm]; open marks from their nearer end."""
    marks, at = _from_nearest([mark for piece in pieces for mark in piece.marks], start)
    done: list[Cut] = [("mark", mark) for mark in marks]
    waits = _lies_in(pieces)
    left = list(range(len(pieces)))
    while left:
        free = [k for k in left if not any(waits[k, other] for other in left)]
        k = min(free, key=lambda k: _way_to(pieces[k].inside or pieces[k].outside, at))
        inside, at = _from_nearest(pieces[k].inside, at)
        outside = _from_first(pieces[k].outside, at)
        at = _end(outside[-1])
        done += [("inside", loop) for loop in inside]
        done += [("outside", loop) for loop in outside]
        left.remove(k)
    return tuple(done)


def _from_nearest(loops: Sequence[Loop], at: Point) -> tuple[list[Loop], Point]:
    """Loops from each end on to the nearest, and where the last one ends."""
    if not loops:
        return [], at
    ends = np.array([(complex(*_start(loop)), complex(*_end(loop))) for loop in loops])  # (n, 2)
    found: list[Loop] = []
    here = complex(*at)
    for _ in loops:
        k, side = divmod(int(np.argmin(np.abs(ends - here))), 2)  # its start where both ends are as near
        found.append(loops[k].reversed() if side else loops[k])
        here = complex(ends[k, 1 - side])
        ends[k] = np.inf
    return found, (here.real, here.imag)


def _from_first(loops: Sequence[Loop], at: Point) -> list[Loop]:
    """Loops in their own order round the part, from the one that begins nearest."""
    first = min(range(len(loops)), key=lambda k: _way_to(loops[k : k + 1], at))
    return [*loops[first:], *loops[:first]]


def _lies_in(pieces: Sequence[Piece]) -> BoolArray:
    """(n, n) whether a piece, by its row, has a hole that another, by its column, lies in."""
    lies = np.zeros((len(pieces), len(pieces)), dtype=np.bool_)
    outlines = np.array([shapely.Polygon(piece.region.outer.flattened(_CHORDAL_MM)) for piece in pieces])
    for k, piece in enumerate(pieces):
        for hole in piece.region.holes:
            if hole.length() < _SMALL_MM:
                continue
            within = shapely.Polygon(hole.flattened(_CHORDAL_MM))
            shapely.prepare(within)
            lies[k] |= shapely.contains(within, outlines)
        lies[k, k] = False
    return lies


def _way_to(loops: Sequence[Loop], at: Point) -> float:
    """Least distance to where one of the loops begins [mm]."""
    return min(float(np.hypot(x - at[0], y - at[1])) for x, y in map(_start, loops))


def _start(loop: Loop) -> Point:
    if isinstance(loop, Circle):  # begun where its x is greatest
        return loop.center[0] + loop.radius, loop.center[1]
    return float(loop.xy[0, 0]), float(loop.xy[0, 1])


def _end(loop: Loop) -> Point:
    if isinstance(loop, Circle) or loop.closed:
        return _start(loop)
    return float(loop.xy[-1, 0]), float(loop.xy[-1, 1])
