"""Where on a rib's edge a foot can stand: clear of notches, steps and ends, nearest to its usual place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.bench.level import moved, to_level
from geomgen.design.schema import Half
from geomgen.plane.smooth import Piece
from geomgen.structure.ribs.blank import Blank

CLEAR_MM = 1.5  # from a foot to a notch, a step or an end of the edge
OFF_MM = 0.05  # a vertex farther from the edge as it was before notches belongs to one
STEP_MM = 0.5  # between places that are tried


@dataclass(frozen=True)
class Span:
    """Shares of a rib's own chord: where a foot is wanted, where it is usual, and where it may be at all [-]."""

    best: float
    usual: tuple[float, float]
    most: tuple[float, float]


PLACES = {
    "front": Span(0.225, (0.20, 0.25), (0.08, 0.45)),
    "rear": Span(0.70, (0.65, 0.75), (0.52, 0.90)),
}


def clear_places(blank: Blank, side: Half, name: str, width_mm: float) -> Iterator[tuple[float, float, bool]]:
    """Places for a foot that meet no notch, nearest to where it is wanted first.

    name    : of `PLACES`
    returns : middle of the foot aft of the feather axis along the board [mm], its share of the rib's chord, and
              whether that is a usual one
    """
    span, outline = PLACES[name], blank.outline
    start, long = outline.nose_mm, outline.tail_mm - outline.nose_mm
    count = int(np.ceil((span.most[1] - span.most[0]) * long / STEP_MM)) + 1
    shares = np.append(span.best, np.linspace(*span.most, count))
    shares = shares[np.argsort(np.abs(shares - span.best), kind="stable")]
    level = to_level(blank.station)
    aft = moved(level, np.column_stack((start + shares * long, np.zeros(len(shares)))))[:, 0]
    half = 0.5 * width_mm + CLEAR_MM
    free = np.ones(len(aft), dtype=bool)
    ends = moved(level, blank.outline.side(side).xy)[:, 0]
    free &= (aft - half >= ends.min()) & (aft + half <= ends.max())
    for low, high in _cuts(blank, side, level):
        free &= (aft + half <= low) | (aft - half >= high)
    for place, share in zip(aft[free].tolist(), shares[free].tolist(), strict=True):
        yield place, share, span.usual[0] - 1e-9 <= share <= span.usual[1] + 1e-9


def _cuts(blank: Blank, side: Half, level: FloatArray) -> list[tuple[float, float]]:
    """Stretches of one long edge that are cut into or step, from and to, aft of the feather axis [mm]."""
    mine = shapely.LineString(blank.outline.side(side).xy)
    other = shapely.LineString(blank.outline.side("upper" if side == "lower" else "lower").xy)
    found = []
    xy, aft = blank.edge.xy, moved(level, blank.edge.xy)[:, 0]
    off = shapely.distance(_before(blank.outline.pieces), shapely.points(xy)) > OFF_MM
    if off.any():
        first = int(np.argmin(off))  # a vertex that no notch has
        order = (first + np.arange(len(off) + 1)) % len(off)
        change = np.flatnonzero(np.diff(off[order].astype(int)))
        for before, last in change.reshape(-1, 2).tolist():  # mouth, inside .. inside, mouth
            run = order[before : last + 2]
            mouth = shapely.Point(xy[run[0]])
            if mine.distance(mouth) <= other.distance(mouth):
                found.append((float(aft[run].min()), float(aft[run].max())))
    corners = np.array([at for _, at in blank.outline.corners]).reshape(-1, 2)
    steps = corners[shapely.distance(mine, shapely.points(corners)) <= OFF_MM]
    found += [(float(at), float(at)) for at in moved(level, steps)[:, 0]] if len(steps) else []
    return found


def _before(pieces: tuple[Piece, ...]) -> shapely.MultiLineString:
    """The whole edge before notches, as chords between its exact points."""
    return shapely.MultiLineString([piece.xy for piece in pieces])
