"""Boxes side by side in rows."""

from __future__ import annotations

from collections.abc import Sequence


def in_rows(sizes: Sequence[tuple[float, float]], width: float, gap: float) -> list[tuple[float, float]]:
    """Where to put boxes so that they stand in rows from left to right, and rows run down from y = 0.

    sizes   : (width, height) of each [mm]
    width   : of a row [mm]; a wider box gets a row of its own
    gap     : between boxes and between rows [mm]
    returns : left and bottom of each [mm]; boxes in one row share the bottom
    """
    rows: list[list[int]] = []
    filled = 0.0
    for k, (wide, _) in enumerate(sizes):
        if not rows or filled + gap + wide > width:
            rows.append([])
            filled = -gap
        rows[-1].append(k)
        filled += gap + wide
    places = [(0.0, 0.0)] * len(sizes)
    bottom = gap
    for row in rows:
        bottom -= gap + max(sizes[k][1] for k in row)
        left = 0.0
        for k in row:
            places[k] = (left, bottom)
            left += sizes[k][0] + gap
    return places
