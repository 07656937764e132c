"""What of a path lies within a rectangle: lines and arcs cut exactly where they cross its sides."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.plane.path import Bounds, Circle, Loop, Path
from geomgen.plane.segments import Segments

Piece = tuple[list[float], list[float], float]  # start, end, bulge

_TOUCHES = 1e-9  # share of a segment that counts as nothing
_STRAIGHT_MM = 1e-7  # an arc no higher than this over its chord is cut as a line


def clipped(loop: Loop, window: Bounds) -> tuple[Path, ...]:
    """The pieces of a path or circle in a window, in its direction: itself where it lies inside, else open paths.

    window  : least x, least y, greatest x, greatest y [mm]
    returns : none where it misses the window; what runs along a side counts as inside
    """
    path = loop.as_path() if isinstance(loop, Circle) else loop
    x0, y0, x1, y1 = path.bounds()
    if x0 >= window[0] and y0 >= window[1] and x1 <= window[2] and y1 <= window[3]:
        return (path,)
    if x1 < window[0] or y1 < window[1] or x0 > window[2] or y0 > window[3]:
        return ()
    return _chained(list(_pieces(path.segments(), window)), closed=path.closed)


def _pieces(segments: Segments, window: Bounds) -> Iterator[Piece]:
    """What of each segment is inside, in order."""
    low, high = segments.boxes()
    lower, upper = np.array(window[:2]), np.array(window[2:])
    outside = np.any((high < lower) | (low > upper), axis=1)
    inside = np.all((low >= lower) & (high <= upper), axis=1)
    for k in np.flatnonzero(np.logical_not(outside)):
        row = segments.rows(np.array([k]))
        if inside[k]:
            yield row.start[0].tolist(), row.end[0].tolist(), float(row.bulge[0])
        else:
            yield from _cut(row, window)


def _cut(row: Segments, window: Bounds) -> Iterator[Piece]:
    """One segment, cut where it crosses a side."""
    inner = np.unique(_crossings(row, window))
    inner = inner[np.diff(inner, prepend=0.0) > _TOUCHES]
    shares = np.array([0.0, *inner[inner < 1.0 - _TOUCHES], 1.0])
    middles, angle = 0.5 * (shares[:-1] + shares[1:]), float(row.angle[0])
    for first, middle, last in zip(shares[:-1], middles, shares[1:], strict=True):
        start, (x, y), end = (row.points(np.array([share]))[0] for share in (first, middle, last))
        if window[0] <= x <= window[2] and window[1] <= y <= window[3]:
            yield start.tolist(), end.tolist(), float(np.tan(0.25 * angle * (last - first)))


def _crossings(row: Segments, window: Bounds) -> list[float]:
    """Shares of a segment's angle at which it is on the lines of the window's sides."""
    start, end, bulge = row.start[0], row.end[0], float(row.bulge[0])
    found: list[float] = []
    round_it = 0.5 * float(row.chord[0]) * abs(bulge) > _STRAIGHT_MM
    for axis, at in zip((0, 1, 0, 1), window, strict=True):
        if not round_it:
            step = end[axis] - start[axis]
            found += [float((at - start[axis]) / step)] if step else []
            continue
        centre, radius = row.center()[0], float(row.radius()[0])
        away = (at - centre[axis]) / radius
        if abs(away) > 1.0:
            continue
        turn = float(np.arccos(away))
        angles = (turn, -turn) if axis == 0 else (0.5 * np.pi - turn, 0.5 * np.pi + turn)
        begin = float(np.arctan2(start[1] - centre[1], start[0] - centre[0]))
        sense, whole = float(np.sign(bulge)), abs(float(row.angle[0]))
        found += [float(np.mod(sense * (angle - begin), 2.0 * np.pi)) / whole for angle in angles]
    return [share for share in found if 0.0 < share < 1.0]


def _chained(pieces: list[Piece], *, closed: bool) -> tuple[Path, ...]:
    """Pieces that go on from one another as one path."""
    runs: list[list[Piece]] = []
    for piece in pieces:
        if runs and _meet(runs[-1][-1], piece):
            runs[-1].append(piece)
        else:
            runs.append([piece])
    if closed and len(runs) > 1 and _meet(runs[-1][-1], runs[0][0]):
        runs[0] = runs.pop() + runs[0]
    return tuple(_open(run) for run in runs)


def _meet(one: Piece, other: Piece) -> bool:
    return bool(np.allclose(one[1], other[0], rtol=0.0, atol=1e-9))


def _open(run: list[Piece]) -> Path:
    xy = np.array([run[0][0], *(end for _, end, _ in run)])
    return Path(xy, np.array([*(bulge for _, _, bulge in run), 0.0]), False)
