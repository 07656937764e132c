"""Solids of an assembly's parts, built by CadQuery from outlines and the published equations; booleans are checked.

`isValid()` may stay true on a boolean that went wrong; what tells is the sum V(A) = V(A∩B) + V(A−B).
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import cadquery as cq
import numpy as np
from bodies import Body, Plate, Straight, Strip
from by_equations import FloatArray, OwnBlade, Placed
from hollow import hollow
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.gp import gp_Trsf

from geomgen.plane.path import Circle, Loop

SUM = 1e-6  # of a volume: how far the parts of a boolean may miss the whole
EPS = 1e-9  # of the volume integral
BEYOND = 1.0  # covers and spars reach so far beyond a rib's faces [mm]
POINTS = 90  # of one long edge of the hollow
STEP = 2e-5  # of the chord: how far either side of a step its edge is read


def volume(shape: cq.Shape) -> float:
    """Volume by adaptive integration [mm3]: the kernel's quick integral is good to some 1e-5 of it only."""
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, found, EPS, False, False)
    return abs(float(found.Mass()))


def shared(a: cq.Shape, b: cq.Shape, fuzzy: tuple[float, ...] = (0.0, 1e-5, 1e-4)) -> tuple[float, float]:
    """Volume of A∩B [mm3], and the tolerance the kernel needed for it [mm]: the sum is checked, whatever it says."""
    whole, missed = volume(a), []
    for tol in fuzzy:
        both, rest = (getattr(a, name)(b, tol=tol or None) for name in ("intersect", "cut"))
        parts = volume(both), volume(rest)
        miss = abs(whole - sum(parts))
        if miss <= SUM * whole:
            return parts[0], tol
        missed.append(miss)
    raise AssertionError(f"V(A) - V(A∩B) - V(A−B) = {missed} mm3 of {whole:.3f} at tolerances {fuzzy}")


def wire(loop: Loop) -> cq.Wire:
    """A closed loop of lines and arcs, or a circle, exactly."""
    if isinstance(loop, Circle):
        return cq.Wire.makeCircle(loop.radius, cq.Vector(*loop.center, 0), cq.Vector(0, 0, 1))
    edges = []
    for (start, end), bulge in zip(pairwise([*loop.xy, loop.xy[0]]), loop.bulge, strict=True):
        a, b = cq.Vector(*start, 0), cq.Vector(*end, 0)
        if abs(bulge) < 1e-12:
            edges.append(cq.Edge.makeLine(a, b))
        else:  # half way along the arc, to the right of its chord where it turns left
            way = end - start
            middle = (start + end) / 2 + bulge / 2 * np.array([way[1], -way[0]])
            edges.append(cq.Edge.makeThreePointArc(a, cq.Vector(*middle, 0), b))
    return cq.Wire.assembleEdges(edges)


def plate(body: Plate) -> cq.Solid:
    """A flat part about its mid-plane, where it stands in the blade."""
    matrix, flat = body.part.places[0], body.part.shape
    region = flat.weighed
    if np.linalg.det(matrix[:3, :3]) < 0:  # drawn mirrored, for a clockwise craft
        matrix, region = matrix @ np.diag([-1.0, 1.0, 1.0, 1.0]), region.mirrored_x()
    thick = flat.thickness_mm
    solid = cq.Solid.extrudeLinear(wire(region.outer), [wire(h) for h in region.holes], cq.Vector(0, 0, thick))
    assert abs(volume(solid) - flat.weighed.area() * thick) < 1e-6 * thick * flat.weighed.area()
    move = gp_Trsf()
    move.SetValues(*(matrix @ _shift(-thick / 2))[:3].ravel().tolist())
    return solid.moved(cq.Location(move))


def _shift(z: float) -> FloatArray:
    matrix = np.eye(4)
    matrix[2, 3] = z
    return matrix


def piece(body: Body, low: float, high: float) -> cq.Solid | None:
    """A spar, web or channel between two radii [mm]; None where it isn't there."""
    if isinstance(body, Plate):
        return plate(body)
    start, end = (float(v) for v in (body.start[0], body.end[0])) if isinstance(body, Straight) else body.r[[0, -1]]
    low, high = max(low, start), min(high, end)
    if high - low < 1e-6:
        return None
    if isinstance(body, Straight) and body.stock.outside is not None:
        slope = (body.end - body.start) / (body.end[0] - body.start[0])
        foot = body.start + slope * (low - 1.0 - body.start[0])  # its ends are square to itself: cut off below
        long = float(np.linalg.norm(slope) * (high - low + 2.0))
        tube = cq.Solid.makeCylinder(body.stock.outside / 2, long, cq.Vector(*foot), cq.Vector(*slope))
        slab = cq.Solid.makeBox(high - low, 1e3, 1e3, cq.Vector(low, -500, -500))
        return tube.intersect(slab).Solids()[0]
    rings = [np.array(body.section(r).exterior.coords)[:-1] for r in (low, high)]
    return _ruled(
        [
            [np.column_stack([np.full(2, r), ring[[i, i - 3]]]) for i in range(4)]
            for r, ring in zip((low, high), rings, strict=True)
        ]
    )


def whole(blade: OwnBlade, low: float, high: float) -> cq.Solid:
    """The section itself between two radii."""
    return _ruled([_closed([blade.at(r).upper, blade.at(r).lower], blade.at(r)) for r in (low, high)])


def inside(blade: OwnBlade, low: float, high: float, steps: tuple[float, ...] = ()) -> cq.Solid:
    """The hollow that the covers leave between two radii.

    steps : chord shares where its edges step
    """
    return _ruled([_closed(_edges(blade, r, steps), blade.at(r)) for r in (low, high)])


def _edges(blade: OwnBlade, r: float, steps: tuple[float, ...]) -> list[FloatArray]:
    """Upper and lower edge of the hollow, nose to tail, read at the same shares at every radius (n, 2) [mm]."""
    at = hollow(blade, r)
    ring = at.placed.from_yz(np.array(at.inside.exterior.coords)[:-1])
    ring = np.roll(ring, -int(np.argmin(ring[:, 0])), axis=0)
    ring = np.vstack([ring, ring[:1]])
    aft = int(np.argmax(ring[:, 0]))
    sides = [ring[: aft + 1], ring[aft:][::-1]]
    sides.sort(key=lambda side: -np.trapezoid(side[:, 1], side[:, 0]))
    return sides


def _closed(sides: list[FloatArray], at: Placed) -> list[FloatArray]:
    """Upper edge from tail to nose, lower edge from nose to tail, and what closes them, in the blade frame."""
    runs = [sides[0][::-1], sides[1]]
    found = []
    for run, following in zip(runs, [runs[1], runs[0]], strict=True):
        found.append(run)
        if np.hypot(*(following[0] - run[-1])) > 1e-6:
            found.append(np.array([run[-1], following[0]]))
    return [np.column_stack([np.full(len(run), at.r), at.to_yz(run)]) for run in found]


def _ruled(rings: list[list[FloatArray]]) -> cq.Solid:
    """Straight between two closed rings, each of as many runs of points: two points a line, more a smooth curve."""
    wires = []
    for ring in rings:
        edges = []
        for run in ring:
            points = [cq.Vector(*p) for p in run]
            edges.append(cq.Edge.makeLine(*points) if len(points) == 2 else cq.Edge.makeSpline(points))
        wires.append(cq.Wire.assembleEdges(edges))
    return cq.Solid.makeLoft(wires, True)
