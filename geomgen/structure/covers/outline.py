"""A piece of skin as a flat part: outline of lines and arcs, what is marked on it, and where its mass sits."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.plane.arcs import Piece, join, smooth_arcs
from geomgen.plane.biarc import unit
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.structure.covers.laid import Laid
from geomgen.tolerances import Tolerances

Edge = Literal["first", "last"]


@dataclass(frozen=True)
class Beyond:
    """A strip beyond one of the two edges that run along the blade.

    edge     : "first", the edge of the lowest y, or "last"
    width_mm : its width [mm]
    """

    edge: Edge
    width_mm: float


def outline(laid: Laid, beyond: Sequence[Beyond], tol: Tolerances, path: str) -> tuple[Region, Region, list[Path]]:
    """What to cut, what of it stays between the blade's own edges, and those edges where a strip lies beyond them.

    path : key path to blame where an edge can't be drawn
    """
    xy = laid.flat.xy
    columns = sorted({0, xy.shape[1] - 1, *(column for _, column in laid.corners)})
    root, tip = _pieces(xy[0], columns, path), _pieces(xy[-1], columns, path)
    first, last = Piece(xy[:, 0], _ways(xy[:, 0]), path), Piece(xy[:, -1], _ways(xy[:, -1]), path)
    drawn = iter(smooth_arcs([first, *tip, last, *root], tol))
    low = next(drawn)
    right = [next(drawn) for _ in tip]
    high = next(drawn)
    left = [next(drawn) for _ in root]
    stays = Region(join([low, *right, high.reversed(), *(p.reversed() for p in reversed(left))], closed=True))
    edges: list[Path] = []
    outer = {"first": low, "last": high}
    for strip in beyond:
        if strip.width_mm > 0:
            own: Edge = strip.edge
            edges.append(outer[own])
            outer[own] = _moved(xy[:, 0 if own == "first" else -1], strip.width_mm, own)
    if not edges:
        return stays, stays, []
    loop = [outer["first"], *right, outer["last"].reversed(), *(p.reversed() for p in reversed(left))]
    return Region(join(loop, closed=True)), stays, edges


def curve(points: FloatArray, tol: Tolerances, path: str) -> Path:
    """An open path of few lines and arcs through (n, 2) points of a smooth curve [mm]."""
    return smooth_arcs([Piece(points, _ways(points), path)], tol)[0]


def row_marks(laid: Laid, radii: Sequence[float], tol: Tolerances, path: str) -> list[Path]:
    """Lines across the piece at some radii [mm], bowed as they are."""
    columns = sorted({0, laid.flat.xy.shape[1] - 1, *(column for _, column in laid.corners)})
    pieces = [_pieces(laid.across(r), columns, path) for r in radii]
    drawn = iter(smooth_arcs([piece for some in pieces for piece in some], tol))
    return [join([next(drawn) for _ in some], closed=False) for some in pieces]


def spread(laid: Laid) -> FloatArray:
    """(n, 4) shares of the piece's mass by bays and surfaces, and where they sit in the blade frame [mm].

    Each cell counts by the areas of its two triangles in the flat, each at its own middle in space; of each bay, cells
    of one surface stand together at the places that keep first moments, which leaves out less than a thousandth of out
    times forward.
    """
    cuts = np.unique(np.linspace(0, laid.flat.xy.shape[1] - 1, 9).astype(int)).tolist()
    corners = ((slice(0, -1), slice(0, -1)), (slice(1, None), slice(1, None)))
    rows = []
    for low, high in pairwise(cuts):
        xy, space = (of[:, low : high + 1] for of in (laid.flat.xy, laid.flat.space))
        total = np.zeros(len(xy) - 1)
        moment = np.zeros((len(xy) - 1, 3))
        for apex in corners:  # the triangle at either corner of the diagonal that both share
            (a, b, c), (p, q, r) = ((of[apex[0], apex[1]], of[:-1, 1:], of[1:, :-1]) for of in (xy, space))
            u, v = b - a, c - a
            area = 0.5 * np.abs(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])
            total += area.sum(axis=1)
            moment += (area[..., None] * (p + q + r) / 3.0).sum(axis=1)
        rows.append(np.column_stack([total, moment / total[:, None]]))
    table = np.vstack(rows)
    table[:, 0] /= table[:, 0].sum()
    return table


def whole_second(laid: Laid, thickness_mm: float) -> FloatArray:
    """(3, 3) mean of place times place over the piece as it lies in space, about the blade frame's origin [mm2].

    Each triangle counts by its area in the flat; a plane one has a twelfth of its corners' and of their sum's.
    """
    xy, space = laid.flat.xy, laid.flat.space
    total, area = np.zeros((3, 3)), 0.0
    for apex in ((slice(0, -1), slice(0, -1)), (slice(1, None), slice(1, None))):
        (a, b, c), corners = ([of[apex[0], apex[1]], of[:-1, 1:], of[1:, :-1]] for of in (xy, space))
        u, v = b - a, c - a
        of_each = 0.5 * np.abs(u[..., 0] * v[..., 1] - u[..., 1] * v[..., 0])
        normal = np.cross(corners[1] - corners[0], corners[2] - corners[0])
        normal *= thickness_mm / np.linalg.norm(normal, axis=-1, keepdims=True)
        for point in (*corners, sum(corners), normal):
            total += np.einsum("ab,abi,abj->ij", of_each, point, point) / 12.0
        area += float(of_each.sum())
    return total / area


def _pieces(row: FloatArray, columns: Sequence[int], path: str) -> list[Piece]:
    return [Piece(row[a : b + 1], _ways(row[a : b + 1]), path) for a, b in pairwise(columns)]


def _ways(points: FloatArray) -> FloatArray:
    """(n, 2) unit tangents of a smooth curve by its points: those of the parabola through each three."""
    if len(points) == 2:
        way = np.repeat(points[1:] - points[:1], 2, axis=0)
    else:
        along = np.append(0.0, np.cumsum(np.hypot(*np.diff(points, axis=0).T)))
        way = np.gradient(points, along, axis=0, edge_order=2)
    return unit(way)


def _moved(points: FloatArray, width_mm: float, edge: Edge) -> Path:
    """The edge of a strip: straight between points moved square to the edge."""
    way = _ways(points)
    out = np.column_stack([way[:, 1], -way[:, 0]]) * (1.0 if edge == "first" else -1.0)
    moved = points + width_mm * out
    keep = np.unique(np.linspace(0, len(moved) - 1, min(len(moved), 6)).astype(int))
    return from_points(moved[keep], closed=False)
