"""Loops and regions of the plane as the kernel's wires, faces and prisms."""

from __future__ import annotations

from typing import Any

import numpy as np

from geomgen.plane.path import Circle, Loop
from geomgen.plane.region import Region
from geomgen.printing.kernel import kernel


def wire(loop: Loop) -> Any:
    """A closed wire in the plane z = 0: lines, arcs and circles as they are."""
    cq = kernel()
    if isinstance(loop, Circle):
        return cq.Wire.makeCircle(loop.radius, cq.Vector(*loop.center, 0.0), cq.Vector(0.0, 0.0, 1.0))
    segments = loop.segments()
    middles = segments.points(np.full(len(segments.bulge), 0.5))
    edges = []
    for start, middle, end, bulge in zip(segments.start, middles, segments.end, segments.bulge, strict=True):
        a, b = cq.Vector(*start, 0.0), cq.Vector(*end, 0.0)
        edges.append(cq.Edge.makeThreePointArc(a, cq.Vector(*middle, 0.0), b) if bulge else cq.Edge.makeLine(a, b))
    return cq.Wire.assembleEdges(edges)


def prism(region: Region, low_mm: float, high_mm: float) -> Any:
    """A region's solid between two heights z [mm]."""
    cq = kernel()
    face = cq.Face.makeFromWires(wire(region.outer), [wire(hole) for hole in region.holes])
    solid = cq.Solid.extrudeLinear(face, cq.Vector(0.0, 0.0, high_mm - low_mm))
    return solid.moved(cq.Location(cq.Vector(0.0, 0.0, low_mm)))


def located(matrix: Any) -> Any:
    """A rigid (4, 4) matrix as the kernel's location."""
    cq = kernel()
    plane = cq.Plane(tuple(matrix[:3, 3]), xDir=tuple(matrix[:3, 0]), normal=tuple(matrix[:3, 2]))
    return cq.Location(plane)
