"""Flat patterns of spars: straight-edged, cut where they are spliced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.model.label import Arrow, Label
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.plane.path import from_points
from geomgen.plane.region import Region
from geomgen.structure.spars.splices import Splices


@dataclass(frozen=True, eq=False)
class Pattern:
    """A flat part of an anticlockwise craft: x out along the blade, straight edges.

    name, role, stock, path : as of the part
    outline : (n, 2) corners, anticlockwise [mm]
    matrix  : (4, 4) the pattern's frame to the blade frame; for a folded one, that of the part at its middle
    grain   : of the part where its sheet has any: along x (0) or upright (90) [deg]
    face    : which face is drawn
    text    : what to letter on it
    up      : the word at the arrow towards y
    marks   : lines to engrave, (k, 2) each [mm]
    stays   : (n, 2) what of it is in the craft; None for all of it
    notes   : in words
    mark    : of the part
    folds   : those of the marks that it is folded along, (k, 2) each [mm]
    """

    name: str
    role: Role
    stock: str
    path: str
    outline: FloatArray
    matrix: FloatArray
    grain: float
    face: str = ""
    text: str = ""
    up: str = "UP"
    marks: tuple[FloatArray, ...] = ()
    stays: FloatArray | None = None
    notes: tuple[str, ...] = ()
    mark: tuple[str | int, ...] = ()
    folds: tuple[FloatArray, ...] = ()


def frame(origin: FloatArray, out: FloatArray, up: FloatArray) -> FloatArray:
    """4x4 from an origin (3,) [mm], a direction out (3,) and one roughly up (3,): x out, y as near up as is square."""
    x = out / np.linalg.norm(out)
    y = up - (up @ x) * x
    y /= np.linalg.norm(y)
    m = np.eye(4)
    m[:3, :3] = np.column_stack([x, y, np.cross(x, y)])
    m[:3, 3] = origin
    return m


def planar_spread(region: Region, matrix: FloatArray) -> FloatArray:
    """(4, 4) shares of a flat part and where they sit: area, first and second moments are the region's own.

    source : four points at c ± sqrt(2) of the two columns of the covariance's Cholesky factor have that covariance
    """
    centre = np.array(region.centroid())
    reach = np.sqrt(2.0) * np.linalg.cholesky(region.covariance())
    points = np.array([centre + sign * reach[:, k] for k in range(2) for sign in (1.0, -1.0)])
    placed = np.column_stack([points, np.zeros(4), np.ones(4)]) @ matrix.T
    return np.column_stack([np.full(4, 0.25), placed[:, :3]])


def flat_part(
    design: Design, pattern: Pattern, spread: FloatArray | None = None, second: FloatArray | None = None
) -> Part:
    """The part of a pattern.

    spread : of one set; left out: that of the flat region in its place
    second : how that lies round its middle, see `Part.second`
    """
    region = Region(from_points(pattern.outline, closed=True))
    stays = None if pattern.stays is None else Region(from_points(pattern.stays, closed=True))
    if spread is None:
        spread = planar_spread(region if stays is None else stays, pattern.matrix)
    grained = design.sheet(pattern.stock).grain is not None
    grain = (Arrow("GRAIN", "up" if pattern.grain == 90.0 else "right"),)  # by itself: it may be smaller than the rest
    written = (pattern.text, Arrow("OUT", "right"), Arrow(pattern.up, "up"))
    return Part(
        name=pattern.name,
        role=pattern.role,
        stock=pattern.stock,
        path=pattern.path,
        shape=Flat(
            region=region,
            thickness_mm=design.sheet(pattern.stock).thickness,
            marks=tuple(from_points(mark, closed=False) for mark in pattern.marks),
            face=pattern.face,
            stays=stays,
            grain=pattern.grain if grained else None,
            label=Label((written, grain) if grained else (written,)),
            folds=tuple(from_points(fold, closed=False) for fold in pattern.folds),
        ),
        assembly=Assembly.BLADE,
        count=1,
        spread=spread,
        places=(pattern.matrix,),
        notes=pattern.notes,
        mark=pattern.mark,
        second=second,
    )


def long_mm(part: Part) -> float:
    """How long a flat part is along the blade, whole scarfs included [mm]."""
    assert isinstance(part.shape, Flat)
    x0, _, x1, _ = part.shape.region.bounds()
    return x1 - x0


def cut_up(pattern: Pattern, splices: Splices) -> list[Pattern]:
    """A pattern in the pieces that are cut, each with the whole scarf at its splices; what stays ends at their middles.

    splices : along the pattern's x
    """
    if not splices.at_mm:
        return [pattern]
    low, high = float(pattern.outline[:, 0].min()) - 1.0, float(pattern.outline[:, 0].max()) + 1.0
    ends, half = [low, *splices.at_mm, high], splices.overlap_mm / 2
    pieces = []
    for i, (start, end) in enumerate(pairwise(ends), start=1):
        bevels = [x for x in (start + half, end - half) if low + half < x < high - half]
        outline = _between(pattern.outline, start - half, end + half)
        depth = outline[:, 1].min(), outline[:, 1].max()
        lines = [np.array([[x, depth[0]], [x, depth[1]]]) for x in bevels]
        pieces.append(
            replace(
                pattern,
                name=f"{pattern.name} {i}",
                text=f"{pattern.text} {i}",
                mark=(*pattern.mark, i),
                outline=outline,
                stays=_between(pattern.outline if pattern.stays is None else pattern.stays, start, end),
                marks=_clipped((*pattern.marks, *lines), outline),
                folds=_clipped(pattern.folds, outline),
                notes=(*pattern.notes, *splices.notes),
            )
        )
    return pieces


def _between(outline: FloatArray, start: float, end: float) -> FloatArray:
    """(n, 2) the part of a polygon between two x, anticlockwise [mm]."""
    low, high = outline[:, 1].min() - 1.0, outline[:, 1].max() + 1.0
    cut = shapely.Polygon(outline).intersection(shapely.box(start, low, end, high))
    assert isinstance(cut, shapely.Polygon)  # a splice stands at no slot: two straight cuts leave one piece
    return np.array(shapely.geometry.polygon.orient(cut).exterior.coords)[:-1]


def _clipped(marks: Sequence[FloatArray], outline: FloatArray) -> tuple[FloatArray, ...]:
    """What of some lines lies inside a polygon [mm]."""
    inside = shapely.Polygon(outline)
    found = [inside.intersection(shapely.LineString(mark)) for mark in marks]
    lines = [line for one in found for line in shapely.get_parts(one) if isinstance(line, shapely.LineString)]
    return tuple(np.array(line.coords) for line in lines if line.length > 0)
