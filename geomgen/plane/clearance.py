"""Room inside a shape: how far a point is from its edges, the largest circle in it, what is left inside a web."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from geomgen.errors import Fault, MakeError
from geomgen.plane.nearest import inside, nearest
from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region
from geomgen.plane.segments import Segments
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]


def clearance(shape: Loop | Region, points: ArrayLike) -> FloatArray:
    """Distance of points from the nearest edge of a shape, exact; negative outside it or in one of its holes.

    points  : (k, 2) [mm]
    returns : (k,) [mm]
    """
    at = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    rings = _rings(shape)
    away = np.min([nearest(ring, at)[0] for ring in rings], axis=0)
    within = inside(rings[0], at)
    for hole in rings[1:]:
        within &= ~inside(hole, at)
    signed: FloatArray = np.where(within, away, -away)
    return signed


def largest_circle(shape: Loop | Region, within_mm: float = 1e-3) -> Circle:
    """The largest circle that fits into a shape and misses its holes, its radius within `within_mm` of the largest.

    raises : ValueError on a shape without any inside
    source : squares that could hold a better middle are quartered until none could, as clearance grows by no more
             than the way gone
    """
    x0, y0, x1, y1 = shape.bounds()
    half = 0.25 * min(x1 - x0, y1 - y0)
    if not half > 0.0:
        raise ValueError("a shape without any inside holds no circle")
    columns, rows = (np.arange(low + half, high + half, 2.0 * half) for low, high in ((x0, x1), (y0, y1)))
    middles = np.column_stack([grid.ravel() for grid in np.meshgrid(columns, rows)])
    quarters = np.array([(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)])
    best, radius = middles[0], 0.0
    while len(middles):
        room = clearance(shape, middles)
        if room.max() > radius:
            best, radius = middles[room.argmax()], float(room.max())
        middles = middles[room + np.sqrt(2.0) * half > radius + within_mm]
        half *= 0.5
        middles = (middles[:, None, :] + half * quarters).reshape(-1, 2)
    if not radius > 0.0:
        raise ValueError(f"a shape that holds no circle of {within_mm:g} mm")
    return Circle((float(best[0]), float(best[1])), radius)


def inset(
    shape: Loop | Region,
    by_mm: float,
    tol: Tolerances,
    least_mm2: float = 0.0,
    drop_specks: bool = False,
    path: str = "",
) -> list[shapely.Polygon]:
    """What of a shape is at least `by_mm` from all its edges, largest piece first; an empty list where nothing is.

    Corners are chords within `tol.chordal_mm` of the exact inset. Pieces under `least_mm2` are a fault, unless the
    caller says that they are to be left out.

    by_mm       : the web left along every edge, >= 0 [mm]
    least_mm2   : area below which a piece is a speck [mm2]
    drop_specks : leave specks out
    path        : key path in the design file of what asks for it, for a fault
    raises      : ValueError on a negative web; MakeError on a shape that crosses itself, a result that is not valid or
                  comes nearer to an edge than asked, or a speck
    """
    if not by_mm >= 0.0:
        raise ValueError(f"an inset must be 0 mm or more, not {by_mm:g}")
    near_mm = 0.25 * tol.chordal_mm
    whole = (shape if isinstance(shape, Region) else Region(shape)).to_shapely(near_mm)
    if not whole.is_valid:
        raise MakeError(Fault(path, "", f"the outline is not fit to be inset: {shapely.is_valid_reason(whole)}"))
    per_quarter = max(4, int(np.ceil(0.25 * np.pi / np.arccos(max(1.0 - near_mm / by_mm, 0.0))))) if by_mm else 4
    pieces = [piece for piece in shapely.get_parts(whole.buffer(-by_mm, quad_segs=per_quarter)) if not piece.is_empty]
    pieces.sort(key=lambda piece: -float(piece.area))
    specks = [piece for piece in pieces if piece.area < least_mm2]
    faults = [_speck(piece, least_mm2, path) for piece in specks if not drop_specks]
    kept = pieces[: len(pieces) - len(specks)]
    for piece in kept:
        web = float(shapely.distance(piece.boundary, whole.boundary))
        if not piece.is_valid or piece.area <= 0.0:
            faults.append(Fault(path, "", f"an inset by {by_mm:g} mm is not valid: {shapely.is_valid_reason(piece)}"))
        elif web < by_mm - tol.chordal_mm:
            faults.append(Fault(path, "", f"an inset by {by_mm:g} mm comes as near as {web:.3f} mm to an edge"))
    if faults:
        raise MakeError(faults)
    return kept


def _speck(piece: shapely.Polygon, least_mm2: float, path: str) -> Fault:
    x, y = piece.centroid.x, piece.centroid.y
    return Fault(
        path,
        "",
        f"leaves a speck of {piece.area:.3g} mm2 at x {x:.1f}, y {y:.1f} mm",
        f"pieces of {least_mm2:g} mm2 and more",
        "make the web wider, or end it before it gets so narrow",
    )


def _rings(shape: Loop | Region) -> list[Segments]:
    loops = shape.loops() if isinstance(shape, Region) else (shape,)
    return [(loop.as_path() if isinstance(loop, Circle) else loop).segments() for loop in loops]
