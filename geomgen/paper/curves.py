"""Arcs as cubic curves, which is what a page description knows."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.plane.path import Path

WITHIN_MM = 0.002  # of an arc, its curves stay
# greatest distance of the usual curve, tangent at both ends and through the arc's middle, over its radius: 2.73e-4 at a
# quarter circle, falling with the sixth power of the angle (worked out from the curve's equation)
_OFF = 2.73e-4 / (0.5 * math.pi) ** 6


def curves(path: Path) -> Iterator[FloatArray]:
    """Each line of a path as its end, (1, 2), each arc as curves of two handles and an end, (3, 2) [mm].

    The path starts at its first vertex; a closed one ends there, its last straight side too.
    """
    segments = path.segments()
    turn, radius = np.abs(segments.angle), segments.radius()
    for k in range(len(turn)):
        if turn[k] == 0.0:
            yield segments.end[k : k + 1]
            continue
        off = radius[k] * _OFF * turn[k] ** 6
        parts = max(math.ceil((off / WITHIN_MM) ** (1.0 / 6.0)), math.ceil(turn[k] / (0.5 * math.pi)))
        row = segments.rows(np.array([k]))
        pieces, _ = row.split(turn[k] / parts * (1.0 + 1e-9))
        handle = pieces.chord * (1.0 + pieces.bulge**2) / 3.0  # 4/3 tan(angle/4) of the radius
        begin, finish = pieces.directions()
        first = pieces.start + handle[:, None] * np.column_stack((np.cos(begin), np.sin(begin)))
        second = pieces.end - handle[:, None] * np.column_stack((np.cos(finish), np.sin(finish)))
        yield from np.stack((first, second, pieces.end), axis=1)
