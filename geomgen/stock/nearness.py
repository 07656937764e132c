"""Which shapes on a sheet lie too near to one another."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

ALLOWED_MM = 0.01  # nearer than asked for, and still no fault: arcs are taken as chords


def near_pairs(shapes: Sequence[shapely.Polygon], gap_mm: float) -> list[tuple[int, int]]:
    """Numbers of shapes that overlap, or lie nearer to one another than a gap [mm]; each pair once, the lower first."""
    if len(shapes) < 2:
        return []
    tree = shapely.STRtree(shapes)
    found = tree.query(shapes, predicate="dwithin", distance=max(gap_mm - ALLOWED_MM, 0.0))
    return sorted((a, b) for a, b in found.T.tolist() if a < b)
