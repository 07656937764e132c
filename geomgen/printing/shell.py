"""How much plastic a print is: walls, solid layers and infill, from its slices.

A slice is what of the solid lies at the middle of a layer. Walls are beads laid inside its outline; within them a layer
is solid where one of the layers that close top and bottom must be, and infill elsewhere. Nothing here is fitted: each
length follows from a bead's section, or is the custom of slicers and stands below with its reason.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray, IntArray

Shapes = NDArray[np.object_]

NOZZLES_MM = (0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0)  # as sold
LINE_PER_NOZZLE = 1.125  # a line is laid this much wider than its nozzle: the custom of slicers
OVERLAP_LINES = 0.25  # solid layers and infill reach this share of a line into the walls, to bond: custom
TURNED_SHARE = 0.5  # where infill lines end at a wall, every second gap between two of them is joined along it
ANCHOR_MM = 3.0  # a top or bottom face is carried on so far beside itself, into what bears it: custom
ISLAND_MM2 = 70.0  # a smaller island of infill is laid solid: custom
STRAND_GAP_MM = 0.05  # between strands that are laid over a gap: custom
LEAST_BRIDGE_STRANDS = 6.0  # a narrower place over infill is laid as any other: custom
FACE_LINES = 0.2  # a step from layer to layer narrower than this share of a line is no top or bottom face
APART_MM = 0.02  # edges that nearly lie on one another are taken so far apart: it is quicker
SIMPLE_MM = 0.02  # how far corners of the infill may lie off: what many corners cost
FEW = 2  # chords in a quarter of a round corner


@dataclass(frozen=True)
class Shell:
    """What is laid inside a slice. All by area: of each square of a layer the share that is filled.

    layer_mm    : height of a layer [mm]
    side_mm     : thickness of the walls [mm]
    top, bottom : how many layers close it
    infill      : share of the rest that is filled [-]
    recess_mm   : the walls' outermost bead, which is rounded, fills nothing this near the outline [mm]
    line_mm     : how wide a line of infill lies [mm]; 0 where lines aren't looked at: nothing is turned, or too narrow
    overlap_mm  : how far infill and solid layers reach into the walls [mm]
    anchor_mm   : how far a top or bottom face is carried on beside itself [mm]
    island_mm2  : a smaller island of infill is solid [mm2]
    strand_mm   : nozzle whose round strands span what has a gap below it [mm]; 0: they are laid like any other
    """

    layer_mm: float
    side_mm: float
    top: int
    bottom: int
    infill: float
    recess_mm: float = 0.0
    line_mm: float = 0.0
    overlap_mm: float = 0.0
    anchor_mm: float = 0.0
    island_mm2: float = 0.0
    strand_mm: float = 0.0


def shell_of(line_mm: float, layer_mm: float, walls: int, top: int, bottom: int, infill: float) -> Shell:
    """The shell of a print.

    line_mm  : width of a line as it is set [mm]
    layer_mm : height of a layer, less than a line is wide [mm]
    walls    : lines side by side
    infill   : [-]

    A bead is a rectangle with half-round ends: its section is that of a line narrower by layer (1 - pi/4), and beads
    are laid so far apart that they fill what lies between them.
    """
    spacing = line_mm - layer_mm * (1.0 - np.pi / 4.0)
    return Shell(
        layer_mm=layer_mm,
        side_mm=walls * spacing,
        top=top,
        bottom=bottom,
        infill=infill,
        recess_mm=(line_mm - spacing) / 2.0,
        line_mm=spacing,
        overlap_mm=OVERLAP_LINES * spacing,
        anchor_mm=ANCHOR_MM,
        island_mm2=ISLAND_MM2,
        strand_mm=min(NOZZLES_MM, key=lambda nozzle: abs(nozzle - line_mm / LINE_PER_NOZZLE)),
    )


def plastic(slices: Shapes, shell: Shell) -> FloatArray:
    """(4, 4) integral of p p^T over the plastic, p = (x, y, z, 1), z from the first layer's underside.

    slices  : (n,) polygons, one for each layer from the lowest up; what is one object is alike, and costs little [mm]
    returns : [3, 3] is the volume [mm3], [3, :3] the first moments [mm4], [:3, :3] the second [mm5]
    """
    first, count = _alike(slices, shell.bottom + 2, shell.top + 2)
    some = slices[first]
    core = shapely.simplify(shapely.buffer(some, -(shell.recess_mm + shell.side_mm), quad_segs=FEW), SIMPLE_MM)
    faces = _faces(core, some, 1, shell), _faces(core, some, -1, shell)
    sparse = _sparse(core, faces, shell)
    lines = shapely.buffer(sparse, -shell.line_mm, quad_segs=FEW) if shell.line_mm else sparse
    turned = max(TURNED_SHARE, shell.infill) if shell.line_mm else shell.infill
    body = shapely.buffer(some, -shell.recess_mm, quad_segs=FEW) if shell.recess_mm else some
    sums = polygon_moments(body) - (1.0 - turned) * polygon_moments(sparse)
    sums -= (turned - shell.infill) * polygon_moments(lines)
    more = _overlap_mm2(core, sparse, shell) + _strands_mm2(core, faces[1], sparse, shell)
    sums *= (1.0 + more / np.maximum(sums[:, 2, 2], 1e-9))[:, None, None]
    return _stacked(sums, first, count, shell.layer_mm)


def whole(slices: Shapes, layer_mm: float) -> FloatArray:
    """(4, 4) the same over all that the slices hold, printed solid."""
    first, count = _alike(slices, 0, 0)
    return _stacked(polygon_moments(slices[first]), first, count, layer_mm)


def polygon_moments(shapes: Shapes) -> FloatArray:
    """(n, 3, 3) integrals of p p^T over polygons of straight lines, p = (x, y, 1) [mm4, mm3, mm2]."""
    polygons, owner = shapely.get_parts(shapes, return_index=True)
    rings, polygon = shapely.get_rings(polygons, return_index=True)
    xy, ring = shapely.get_coordinates(rings, return_index=True)
    if len(xy) == 0:
        return np.zeros((len(shapes), 3, 3))
    (x0, y0), (x1, y1) = xy[:-1].T, xy[1:].T
    cross = np.where(ring[1:] == ring[:-1], x0 * y1 - x1 * y0, 0.0)
    terms = np.array([
        cross / 2, cross * (x0 + x1) / 6, cross * (y0 + y1) / 6, cross * (x0 * x0 + x0 * x1 + x1 * x1) / 12,
        cross * (y0 * y0 + y0 * y1 + y1 * y1) / 12, cross * (x0 * (2 * y0 + y1) + x1 * (y0 + 2 * y1)) / 24,
    ])  # fmt: skip
    each = np.array([np.bincount(ring[1:], term, len(rings)) for term in terms])
    outer = np.append(True, polygon[1:] != polygon[:-1])  # a polygon's first ring is its outline
    each *= np.sign(each[0]) * np.where(outer, 1.0, -1.0)
    area, x, y, xx, yy, xy_ = (np.bincount(owner[polygon], term, len(shapes)) for term in each)
    return np.array([[xx, xy_, x], [xy_, yy, y], [x, y, area]]).transpose(2, 0, 1)


def _alike(slices: Shapes, head: int, tail: int) -> tuple[IntArray, IntArray]:
    """Which slices are looked at, and how many layers, from it up, each stands for: the middle one of a run of one
    object for all between its first `head` and its last `tail`."""
    starts = [k for k in range(len(slices)) if k == 0 or slices[k] is not slices[k - 1]]
    first: list[int] = []
    for start, end in zip(starts, [*starts[1:], len(slices)], strict=True):
        first += range(start, end) if end - start <= head + tail + 1 else (*range(start, start + head + 1),)
        first += range(end - tail, end) if end - start > head + tail + 1 else ()
    return np.array(first), np.diff([*first, len(slices)])


def _stacked(sums: FloatArray, first: IntArray, count: IntArray, layer: float) -> FloatArray:
    """(4, 4) of layers: (n, 3, 3) of the slices, each of which stands for `count` layers from `first` on."""
    low, high = layer * first, layer * (first + count)
    total, flat = np.zeros((4, 4)), [0, 1, 3]
    total[np.ix_(flat, flat)] = np.einsum("n,nij->ij", high - low, sums)
    total[2, flat] = total[flat, 2] = np.einsum("n,ni->i", (high**2 - low**2) / 2, sums[:, 2])
    total[2, 2] = float(((high**3 - low**3) / 3) @ sums[:, 2, 2])
    return total


def _faces(core: Shapes, slices: Shapes, way: int, shell: Shell) -> Shapes:
    """What lies within the walls and isn't covered by the layer above (way 1) or borne by the one below (-1)."""
    bare: Shapes = shapely.difference(core, _next(slices, way))
    grain = FACE_LINES / 2 * shell.line_mm
    if not shell.anchor_mm and not grain:
        return bare
    opened = shapely.buffer(bare, -grain, quad_segs=1)
    carried: Shapes = shapely.intersection(core, shapely.buffer(opened, grain + shell.anchor_mm, quad_segs=FEW))
    return carried


def _sparse(core: Shapes, faces: tuple[Shapes, Shapes], shell: Shell) -> Shapes:
    """What is filled by infill: within the walls of all layers that close it, away from all faces these carry."""
    within = {layers: _reaching(core, 1, layers + 1, shapely.intersection) for layers in {shell.top, shell.bottom}}
    found = shapely.intersection(within[shell.top], _next(within[shell.bottom], -shell.bottom))
    solid = shapely.difference(core, found)
    for bare, way, layers in ((faces[0], 1, shell.top), (faces[1], -1, shell.bottom)):
        if layers:
            solid = shapely.union(solid, _reaching(bare, way, layers, shapely.union))
    if half := shell.line_mm / 2:  # what is too narrow for a line isn't laid
        solid = shapely.buffer(shapely.buffer(solid, -half, quad_segs=1), half, quad_segs=FEW)
    found = shapely.difference(core, solid)
    parts, layer = shapely.get_parts(found, return_index=True)
    large = (shapely.area(parts) >= shell.island_mm2) & (shapely.get_dimensions(parts) == 2)
    islands = nothing(len(core))
    if large.any():
        shapely.multipolygons(parts[large], indices=layer[large], out=islands)
    return islands


def _overlap_mm2(core: Shapes, sparse: Shapes, shell: Shell) -> FloatArray:
    """What solid layers and infill lay into the walls."""
    if not shell.overlap_mm:
        return np.zeros(len(core))
    share = shapely.area(sparse) / np.maximum(shapely.area(core), 1e-9)
    return np.asarray(shell.overlap_mm * shapely.length(core) * (1.0 - share + share * shell.infill))


def _strands_mm2(core: Shapes, undersides: Shapes, sparse: Shapes, shell: Shell) -> FloatArray:
    """What round strands take more than a layer's height of: over air, and over infill where it is wide enough."""
    more = np.zeros(len(core))
    if shell.strand_mm:
        thick = np.pi / 4 * shell.strand_mm**2 / (shell.strand_mm + STRAND_GAP_MM)
        half = LEAST_BRIDGE_STRANDS / 2 * shell.strand_mm
        closed = shapely.difference(sparse[:-1], shapely.buffer(sparse[1:], APART_MM, quad_segs=1))
        over = shapely.buffer(closed, -half, quad_segs=1)
        more[1:] = shapely.area(shapely.buffer(over, half, quad_segs=1)) + shapely.area(undersides[1:])
        more *= thick / shell.layer_mm - 1.0
    return more


def _reaching(shapes: Shapes, way: int, count: int, joined: Callable[[Shapes, Shapes], Any]) -> Shapes:
    """Each shape joined with those after it (way 1) or before it (-1), `count` in all."""
    found, have = shapes, 1
    while have < count:
        more = min(have, count - have)
        found, have = joined(found, _next(found, way * more)), have + more
    return found


def _next(shapes: Shapes, by: int) -> Shapes:
    """The shapes so many places on; nothing beyond the end."""
    if by == 0:
        return shapes
    found = nothing(len(shapes))
    if 0 < by < len(shapes):
        found[:-by] = shapes[by:]
    elif 0 < -by < len(shapes):
        found[-by:] = shapes[:by]
    return found


def nothing(count: int) -> Shapes:
    """So many empty shapes."""
    return np.full(count, shapely.MultiPolygon(), dtype=object)
