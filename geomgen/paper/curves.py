"""Arcs as cubic curves, which is what a page description knows."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.plane.path import Path
from geomgen.plane.segments import Segments

WITHIN_MM = 0.002  # of an arc, its curves stay
# greatest distance of the usual curve, tangent at both ends and through the arc's middle, over its radius: 2.73e-4 at a
# quarter circle, falling with the sixth power of the angle (worked out from the curve's equation)
_OFF = 2.73e-4 / (0.5 * math.pi) ** 6


def curves(path: Path) -> Iterator[FloatArray]:
    """Each line of a path as its end, (1, 2), each arc as curves of two handles and an end, (3, 2) [mm].

    The path starts at its first vertex; a closed one ends there, its last straight side too.
    """
    segments = path.segments()
    if not segments.bulge.any():
        yield from segments.end[:, None, :]
        return
    turn, radius = np.abs(segments.angle), segments.radius()
    off = np.where(turn > 0.0, radius, 0.0) * _OFF * turn**6
    parts = np.ceil(np.maximum(np.maximum((off / WITHIN_MM) ** (1.0 / 6.0), turn / (0.5 * math.pi)), 1e-9)).astype(int)
    row = np.repeat(np.arange(len(parts)), parts)
    share = (np.arange(len(row)) - np.repeat(np.cumsum(parts) - parts, parts)) / parts[row]
    whole = segments.rows(row)
    start, end = whole.points(share), whole.points(share + 1.0 / parts[row])
    bulge = np.tan(0.25 * segments.angle / parts)[row]
    pieces = Segments(start, end, bulge)
    handle = (pieces.chord * (1.0 + bulge**2) / 3.0)[:, None]  # 4/3 tan(angle/4) of the radius
    begin, finish = pieces.directions()
    first = start + handle * np.column_stack((np.cos(begin), np.sin(begin)))
    second = end - handle * np.column_stack((np.cos(finish), np.sin(finish)))
    drawn = np.stack((first, second, end), axis=1)
    for k in range(len(row)):
        yield drawn[k] if bulge[k] else end[k : k + 1]
