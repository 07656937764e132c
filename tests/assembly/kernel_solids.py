"""Solids of an assembly's parts, built by CadQuery from outlines and the published equations; booleans are checked.

`isValid()` may stay true on a boolean that went wrong; what tells is the sum V(A) = V(A∩B) + V(A−B).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import cadquery as cq
import numpy as np
import shapely
from bodies import Body, Plate, Straight
from by_equations import FloatArray, OwnBlade, Placed, at_shares
from hollow import hollow
from OCP.BOPAlgo import BOPAlgo_BOP, BOPAlgo_Operation, BOPAlgo_PaveFiller
from OCP.BRepBuilderAPI import BRepBuilderAPI_Sewing
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Trsf
from OCP.GProp import GProp_GProps
from OCP.Message import Message_ProgressRange
from OCP.TopTools import TopTools_ListOfShape

from geomgen.plane.path import Circle, Loop

SUM = 1e-6  # of a volume: how far the parts of a boolean may miss the whole
EPS = 1e-7  # of the volume integral
FUZZY = (0.0, 1e-7, 1e-6, 1e-5)  # tolerances tried in turn [mm]
CHORDS = (0.005, 0.003, 0.002)  # how far plane facets may stand off the surface; the next where a sum is wrong [mm]
CORNER = np.radians(3.0)  # where an edge turns by more from point to point it has a corner
WIDEST = 12.0  # of a facet: two triangles can't follow the twist of a wide one [mm]
APART = 0.15  # points of two edges at shares nearer than this are made one [mm]
SAME = 1e-4  # points nearer than this are one [mm]


def volume(shape: cq.Shape) -> float:
    """Volume by adaptive integration [mm3]: the kernel's quick integral is good to some 1e-5 of it only."""
    found = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape.wrapped, found, EPS, False, False)
    return abs(float(found.Mass()))


class WrongSum(Exception):
    """The parts of a boolean don't add up to the whole."""


@dataclass(frozen=True)
class Met:
    """What came of A and B, its sum checked. both, rest : A∩B, A−B. tol : fuzzy tolerance the kernel needed [mm]."""

    both: cq.Shape
    rest: cq.Shape
    both_mm3: float
    rest_mm3: float
    tol: float


def met(a: cq.Shape, b: cq.Shape) -> Met:
    """A∩B and A−B, worked out together; with a fuzzy tolerance, and said so, only where the sum is wrong without."""
    whole, missed = volume(a), []
    for tol in FUZZY:
        both, rest = _operated(a, b, tol)
        parts = volume(both), volume(rest)
        if abs(whole - sum(parts)) <= SUM * whole:
            return Met(both, rest, *parts, tol)
        missed.append(whole - sum(parts))
    raise WrongSum(f"V(A) - V(A∩B) - V(A−B) = {missed} mm3 of {whole:.3f}")


def _operated(a: cq.Shape, b: cq.Shape, tol: float) -> list[cq.Shape]:
    everything = TopTools_ListOfShape()
    for shape in (a, b):
        everything.Append(shape.wrapped)
    meeting = BOPAlgo_PaveFiller()
    meeting.SetArguments(everything)
    meeting.SetFuzzyValue(tol)
    meeting.SetUseOBB(True)
    meeting.Perform(Message_ProgressRange())
    found = []
    for name in ("COMMON", "CUT"):
        builder = BOPAlgo_BOP()
        builder.AddArgument(a.wrapped)
        builder.AddTool(b.wrapped)
        builder.SetOperation(getattr(BOPAlgo_Operation, f"BOPAlgo_{name}"))
        builder.PerformWithFiller(meeting, Message_ProgressRange())
        assert not builder.HasErrors()
        found.append(cq.Shape.cast(builder.Shape()))
    return found


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
    return faceted(*(np.column_stack([np.full(4, r), ring]) for r, ring in zip((low, high), rings, strict=True)))


def whole(blade: OwnBlade, low: float, high: float, beyond: float, chord: float = CHORDS[0]) -> cq.Solid:
    """The section itself between two radii, and drawn on straight so far beyond them [mm]."""
    ends = [blade.at(r) for r in (low, high)]
    return _between([(at, np.vstack([at.upper[:0:-1], at.lower])) for at in ends], beyond, chord)


def inside(blade: OwnBlade, low: float, high: float, beyond: float, chord: float = CHORDS[0]) -> cq.Solid:
    """The hollow that the covers leave between two radii, as at a rib, and drawn on so far beyond them [mm]."""
    ends = [hollow(blade, r) for r in (low, high)]
    return _between([(at.placed, at.edge) for at in ends], beyond, chord)


def _between(ends: list[tuple[Placed, FloatArray]], beyond: float, chord: float) -> cq.Solid:
    """Plane facets between two closed edges, each in its section's frame: corner to corner, and at equal shares."""
    runs = [_runs(edge) for _, edge in ends]
    assert len(runs[0]) == len(runs[1]), [len(some) for some in runs]
    rings: list[list[FloatArray]] = [[], []]
    for pair in zip(*runs, strict=True):
        shares, others = (_kept(run, chord) for run in pair)
        long = float(np.hypot(*np.diff(pair[0], axis=0).T).sum())
        apart = np.abs(others[:, None] - shares).min(axis=1) * long
        shares = np.unique(np.append(shares, others[apart > APART]))  # where an arc ends in one and not in the other
        for ring, run in zip(rings, pair, strict=True):
            ring.append(at_shares(run, shares))
    placed = [(at, at.to_yz(np.vstack(ring))) for (at, _), ring in zip(ends, rings, strict=True)]
    one, other = (np.column_stack([np.full(len(yz), at.r), yz]) for at, yz in placed)
    more = beyond / (ends[1][0].r - ends[0][0].r) * (other - one)
    return faceted(one - more, other + more)


def _kept(run: FloatArray, chord: float) -> FloatArray:
    """Shares of a run's length (n, 2) at the points that chords may join, its last point not among them."""
    kept = shapely.get_coordinates(shapely.LineString(run).simplify(chord).segmentize(WIDEST))
    line = shapely.LineString(run)
    return np.asarray(shapely.line_locate_point(line, shapely.points(kept[:-1])) / line.length)


def _runs(edge: FloatArray) -> list[FloatArray]:
    """A closed edge (n, 2) from corner to corner, from the corner farthest aft on, anticlockwise."""
    edge = edge[np.hypot(*(edge - np.roll(edge, 1, axis=0)).T) > SAME]
    if np.sum(edge[:, 0] * np.roll(edge[:, 1], -1) - edge[:, 1] * np.roll(edge[:, 0], -1)) < 0:
        edge = edge[::-1]
    way = np.roll(edge, -1, axis=0) - edge
    before = np.roll(way, 1, axis=0)
    turn = np.arctan2(before[:, 0] * way[:, 1] - before[:, 1] * way[:, 0], (before * way).sum(axis=1))
    corners = np.flatnonzero(np.abs(turn) > CORNER)
    first = corners[np.argmax(edge[corners, 0] + 1e-3 * edge[corners, 1])]
    edge, corners = np.roll(edge, -first, axis=0), np.sort((corners - first) % len(edge))
    ring = np.vstack([edge, edge[:1]])
    return [ring[a : b + 1] for a, b in pairwise([*corners, len(edge)])]


def faceted(one: FloatArray, other: FloatArray) -> cq.Solid:
    """The solid between two closed rings (n, 3) of as many points, its sides plane triangles [mm]."""
    sides = [(k, (k + 1) % len(one)) for k in range(len(one))]
    polygons = [one, other, *(p for i, j in sides for p in ((one[i], one[j], other[j]), (one[i], other[j], other[i])))]
    sewing = BRepBuilderAPI_Sewing(1e-7)
    for points in polygons:
        ring = cq.Wire.makePolygon([cq.Vector(*point) for point in points], close=True)
        sewing.Add(cq.Face.makeFromWires(ring).wrapped)
    sewing.Perform()
    assert sewing.NbFreeEdges() == 0
    return cq.Solid.makeSolid(cq.Shape.cast(sewing.SewedShape()))
