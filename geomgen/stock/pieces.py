"""Parts as they are cut: whole, or where a pattern is larger than a sheet, one piece from each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import ops

from geomgen.arrays import FloatArray
from geomgen.digest import digest
from geomgen.marking.lettering import letter
from geomgen.model.part import Flat, Part
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.plane.region import Region

CHORD_MM = 0.005  # of an arc that is cut through
LEAST_MM2 = 1.0  # what is smaller is no piece
_DECIMALS = 4  # of a coordinate, to tell whether a shape is another [mm]


@dataclass(frozen=True, eq=False)
class Cut:
    """One piece that is cut in one.

    part  : what it is of
    piece : its number in the part, 0 for the first or only one
    flat  : its shape, in the part's own frame
    """

    part: Part
    piece: int
    flat: Flat


def cuts_of(part: Part) -> tuple[Cut, ...]:
    """The pieces of a flat part, none of another. One made up of several sheets is cut along their joints."""
    if not isinstance(part.shape, Flat):
        return ()
    if part.facts.get("sheets", 1.0) <= 1.0:
        return (Cut(part, 0, part.shape),)
    return tuple(Cut(part, k, flat) for k, flat in enumerate(_pieces(part.shape)))


def lettered(cuts: Sequence[Cut]) -> tuple[Cut, ...]:
    """The pieces of one part, each with its name and number on it where there are several; lines may cross them."""
    if len(cuts) < 2:
        return tuple(cuts)
    found = []
    for cut in cuts:
        drawn, _ = letter(replace(cut.flat, marks=()), [piece_name(cut.part.name, cut.piece, len(cuts))])
        found.append(replace(cut, flat=replace(drawn, marks=(*cut.flat.marks, *drawn.marks))))
    return tuple(found)


def piece_name(name: str, piece: int, of: int) -> str:
    """What a piece of a part is called."""
    return name if of < 2 else f"{name} {piece + 1}/{of}"


def outline(flat: Flat) -> str:
    """Digest of the edge that a part has: two of the same lie on a sheet the same way."""
    return digest(_rounded(flat.region.outer))[:16]


def cut_edges(flat: Flat) -> str:
    """The same of all that is cut, holes too."""
    return digest([_rounded(loop) for loop in flat.region.loops()])[:16]


def _rounded(loop: Loop) -> list[object]:
    if isinstance(loop, Circle):
        return [round(value, _DECIMALS) + 0.0 for value in (*loop.center, loop.radius)]
    return [np.round(loop.xy, _DECIMALS) + 0.0, np.round(loop.bulge, _DECIMALS) + 0.0]


def _pieces(flat: Flat) -> Iterator[Flat]:
    """The pattern cut along its joints, from its least x and y on."""
    whole = flat.region.to_shapely(CHORD_MM)
    joints = [_longer(line.flattened(CHORD_MM)) for line in flat.reference]
    net = shapely.union_all([whole.boundary, *joints])
    found = [piece for piece in ops.polygonize(net) if whole.contains(piece.representative_point())]
    large = [piece for piece in found if piece.area >= LEAST_MM2]
    for piece in sorted(large, key=lambda each: (round(each.bounds[1], 3), round(each.bounds[0], 3))):
        yield _of(flat, piece)


def _longer(points: FloatArray) -> shapely.LineString:
    """A joint that goes on a little beyond its ends, so that it crosses what it meets."""
    ends = [a + (a - b) / np.hypot(*(a - b)) for a, b in ((points[0], points[1]), (points[-1], points[-2]))]
    return shapely.LineString([ends[0], *points, ends[1]])


def _of(flat: Flat, piece: shapely.Polygon) -> Flat:
    rings = [
        from_points(shapely.get_coordinates(ring)[:-1], closed=True) for ring in (piece.exterior, *piece.interiors)
    ]
    marks = tuple(path for mark in flat.marks for path in _within(mark, piece))
    texts = tuple(text for text in flat.texts if piece.contains(shapely.Point(text.at)))
    region = Region(rings[0], tuple(rings[1:]))
    return replace(flat, region=region, marks=marks, texts=texts, reference=(), stays=None, corners=())


def _within(mark: Path, piece: shapely.Polygon) -> Iterator[Path]:
    """What of a mark lies on a piece; one that lies there whole stays as it is."""
    points = mark.flattened(CHORD_MM)
    line = shapely.LineString([*points, points[0]] if mark.closed else points)
    if piece.contains(line):
        yield mark
        return
    for part in shapely.get_parts(line.intersection(piece)):
        if isinstance(part, shapely.LineString) and part.length > CHORD_MM:
            yield from_points(shapely.get_coordinates(part), closed=False)
