"""A flat part to print: its region made thick, blind holes, marks and letters sunk into the drawn face.

Volume, centroid and inertia are closed forms of lines and arcs; the mesh has the same corners in every layer.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.marking.lettering import written
from geomgen.model.part import Flat
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.segments import Moments
from geomgen.printing.mesh import Mesh, gate, merged
from geomgen.printing.solid_properties import SolidProperties
from geomgen.tolerances import Tolerances

WIDTH_MM = 0.6  # least width of a sunk detail that prints; common practice
DEPTH_MM = 0.4  # two layers; common practice
FLATTEN_MM = 0.01
ROUND_SEGMENTS = 4  # chords in a quarter of a groove's round end


def plate_properties(flat: Flat) -> SolidProperties:
    """Properties of a flat part about z = 0, its drawn face up, its grooves taken away."""
    _, floor, top = _heights(flat)
    taken = [
        (_region(shape), floor) for shape in shapely.get_parts(grooves(flat)) if isinstance(shape, shapely.Polygon)
    ]
    taken += [(Region(pocket.loop), top - pocket.depth_mm) for pocket in flat.pockets]
    sums = [_slab(flat.region.moments(), -top, top), *(-_slab(sunk.moments(), low, top) for sunk, low in taken)]
    return SolidProperties(*_about_centroid(np.sum(sums, axis=0)))


def plate_mesh(flat: Flat, tol: Tolerances, name: str) -> Mesh:
    """Mesh of a flat part about z = 0, its drawn face up.

    name   : of the part, for messages
    raises : MakeError where the mesh doesn't pass the gate
    """
    low, floor, top = _heights(flat)
    pockets = [(_polygon(Region(pocket.loop), tol), top - pocket.depth_mm) for pocket in flat.pockets]
    mesh = _layers(_polygon(flat.region, tol), [(grooves(flat), floor), *pockets], (low, top))
    return gate(mesh, plate_properties(flat).volume_mm3, tol, name)


def _heights(flat: Flat) -> tuple[float, float, float]:
    """Underside, floor of the grooves, and drawn face [mm]."""
    top = flat.thickness_mm / 2
    return -top, top - DEPTH_MM, top


def grooves(flat: Flat) -> shapely.Geometry:
    """What marks and letters take out of the drawn face; kept a groove's width off every edge."""
    letters = [path for text in flat.texts for path in written(text)]
    lines = [shapely.LineString(_run(path)) for path in (*flat.marks, *letters)]
    joined = shapely.union_all(shapely.buffer(lines, WIDTH_MM / 2, quad_segs=ROUND_SEGMENTS))
    inside = flat.drawn_face.to_shapely(FLATTEN_MM).buffer(-WIDTH_MM, quad_segs=2)
    return shapely.intersection(joined, inside)


def grooves_mm3(flat: Flat) -> float:
    """What marks and letters take of a part [mm3]."""
    return float(grooves(flat).area) * DEPTH_MM


def length_mm3(length_mm: float) -> float:
    """What a groove of some length takes, wherever it runs [mm3]."""
    return length_mm * WIDTH_MM * DEPTH_MM


def _run(path: Path) -> NDArray[np.float64]:
    points = path.flattened(FLATTEN_MM)
    return np.vstack((points, points[:1])) if path.closed else points


def _slab(m: Moments, low: float, high: float) -> FloatArray:
    """(10,) integrals of 1, x, y, z, xx, yy, zz, xy, xz, yz over a region between two heights."""
    h, hz, hzz = high - low, (high**2 - low**2) / 2, (high**3 - low**3) / 3
    x, y = m.first
    return np.array([m.area * h, x * h, y * h, m.area * hz, m.xx * h, m.yy * h, m.area * hzz, m.xy * h, x * hz, y * hz])


def _about_centroid(sums: FloatArray) -> tuple[float, FloatArray, FloatArray]:
    """Volume, centroid, and inertia about it, from the ten integrals of `_slab`."""
    volume, centroid = float(sums[0]), sums[1:4] / sums[0]
    xx, yy, zz, xy, xz, yz = sums[4:]
    second = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]]) - volume * np.outer(centroid, centroid)
    return volume, centroid, np.trace(second) * np.eye(3) - second


def _polygon(region: Region, tol: Tolerances) -> shapely.Polygon:
    """The region with chords within `mesh_mm` and `mesh_deg` of its arcs."""
    return shapely.Polygon(_chords(region.outer, tol), [_chords(hole, tol) for hole in region.holes])


def _chords(loop: Loop, tol: Tolerances) -> FloatArray:
    radii = np.array([loop.radius]) if isinstance(loop, Circle) else loop.segments().radius()
    high = radii[np.isfinite(radii)].min(initial=np.inf) * (1.0 - np.cos(np.radians(tol.mesh_deg) / 2))
    return loop.flattened(float(min(tol.mesh_mm, high)))


def _layers(polygon: shapely.Polygon, sunk: Sequence[tuple[Any, float]], heights: tuple[float, float]) -> Mesh:
    """Underside, drawn face, floors of all that is sunk into it, and all walls.

    sunk    : shapes that don't meet, each with the height of its floor [mm]
    heights : of underside and drawn face [mm]
    """
    low, top = heights
    triangles = [
        _flat(polygon, low)[:, ::-1],
        _flat(shapely.difference(polygon, shapely.union_all([shape for shape, _ in sunk])), top),
        *(_flat(shape, floor) for shape, floor in sunk),
        _walls(polygon, low, top),
        *(_walls(shape, floor, top)[:, ::-1] for shape, floor in sunk),
    ]
    corners = np.concatenate(triangles).reshape(-1, 3)
    return merged(corners, np.arange(len(corners)).reshape(-1, 3))


def _flat(shape: Any, height: float) -> FloatArray:
    """(n, 3, 3) triangles of a plane shape, facing up."""
    parts = shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.get_parts(shape)))
    rings = shapely.get_coordinates(shapely.get_parts(parts)).reshape(-1, 4, 2)[:, :3]
    (ax, ay), (bx, by), (cx, cy) = rings.transpose(1, 2, 0)
    down = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax) < 0.0
    rings[down] = rings[down, ::-1]
    return np.dstack((rings, np.full(rings.shape[:2], height)))


def _walls(shape: Any, low: float, high: float) -> FloatArray:
    """(n, 3, 3) triangles of upright walls round a plane shape, facing out of it."""
    rings = shapely.get_rings(shapely.orient_polygons(shapely.get_parts(shape)))
    points, ring = shapely.get_coordinates(rings, return_index=True)
    same = ring[1:] == ring[:-1]
    a, b = points[:-1][same], points[1:][same]
    bottom, above = np.full((len(a), 1), low), np.full((len(a), 1), high)
    a0, b0, a1, b1 = np.hstack((a, bottom)), np.hstack((b, bottom)), np.hstack((a, above)), np.hstack((b, above))
    return np.concatenate((np.stack((a0, b0, b1), axis=1), np.stack((a0, b1, a1), axis=1)))


def _region(shape: shapely.Polygon) -> Region:
    rings = (shapely.get_coordinates(ring)[:-1] for ring in (shape.exterior, *shape.interiors))
    outer, *holes = (from_points(ring, closed=True) for ring in rings)
    return Region(outer, tuple(holes))
