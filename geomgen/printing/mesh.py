"""Triangles of an exact solid, and the gate that lets only whole ones through."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.errors import Fault, MakeError
from geomgen.printing.kernel import kernel
from geomgen.tolerances import Tolerances

IntArray = NDArray[np.int64]

MERGE_MM = 1e-5  # corners nearer than this are one


@dataclass(frozen=True, eq=False)
class Mesh:
    """A closed surface of triangles, seen anticlockwise from outside.

    vertices : (n, 3) [mm]
    faces    : (m, 3) rows of `vertices`
    """

    vertices: FloatArray
    faces: IntArray

    def corners(self) -> FloatArray:
        """(m, 3, 3) the corners of each triangle [mm]."""
        return self.vertices[self.faces]

    def volume(self) -> float:
        """Volume enclosed, negative where the surface is inside out [mm3]."""
        a, b, c = (self.corners() - self.vertices.mean(axis=0)).transpose(1, 0, 2)
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


def meshed(solid: Any, tol: Tolerances) -> Mesh:
    """The mesh of a fresh copy of a solid; the kernel would keep a finer one made before.

    solid : kernel solid
    tol   : `mesh_mm` and `mesh_deg` count
    """
    kernel()
    from OCP.BRep import BRep_Tool
    from OCP.BRepMesh import BRepMesh_IncrementalMesh
    from OCP.TopAbs import TopAbs_Orientation
    from OCP.TopLoc import TopLoc_Location

    fresh = solid.copy()
    BRepMesh_IncrementalMesh(fresh.wrapped, tol.mesh_mm, False, float(np.radians(tol.mesh_deg)), True)
    vertices, faces, first = [], [], 0
    for face in fresh.Faces():
        place = TopLoc_Location()
        patch = BRep_Tool.Triangulation_s(face.wrapped, place)
        if patch is None:
            raise MakeError(Fault("", "", "a face of a printed part can't be meshed", remedy="change a size a little"))
        points = np.array([patch.Node(i).Coord() for i in range(1, patch.NbNodes() + 1)])
        rows = np.array([patch.Triangle(i).Get() for i in range(1, patch.NbTriangles() + 1)]) - 1
        if face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED:
            rows = rows[:, ::-1]
        vertices.append(_moved(points, place))
        faces.append(rows + first)
        first += len(points)
    return merged(np.vstack(vertices), np.vstack(faces))


def _moved(points: FloatArray, place: Any) -> FloatArray:
    if place.IsIdentity():
        return points
    t = place.Transformation()
    matrix = np.array([[t.Value(i, j) for j in range(1, 5)] for i in range(1, 4)])
    return np.asarray(points @ matrix[:, :3].T + matrix[:, 3])


def merged(vertices: FloatArray, faces: IntArray) -> Mesh:
    """The mesh with corners in one place made one, triangles without area dropped, vertices in order of place."""
    for shift in (0.0, 0.37):  # a second grid, in case one place lies on both sides of a line of the first
        cell = np.round(vertices / MERGE_MM + shift).astype(np.int64)
        order = np.lexsort(cell.T[::-1])
        new = np.append(True, (np.diff(cell[order], axis=0) != 0).any(axis=1))
        first, same = order[new], np.empty(len(order), dtype=np.int64)
        same[order] = np.cumsum(new) - 1
        rows = same[faces]
        a, b, c = rows.T
        mesh = Mesh(vertices[first], rows[(a != b) & (b != c) & (c != a)])
        if leaking_edges(mesh) == 0:
            break
    return mesh


def mirrored(mesh: Mesh) -> Mesh:
    """The mirror image, y -> -y."""
    return Mesh(mesh.vertices * (1.0, -1.0, 1.0), mesh.faces[:, ::-1])


def gate(mesh: Mesh, exact_mm3: float, tol: Tolerances, what: str) -> Mesh:
    """The mesh itself, if it can be printed.

    exact_mm3 : volume of the exact solid [mm3]
    what      : name of the part, for the message
    raises    : MakeError where an edge isn't shared by exactly two triangles that agree on inside and outside, where
                there is more than one body, or where the volume isn't positive and close to the exact one
    """
    wrongs = []
    if (leaks := leaking_edges(mesh)) > 0:
        wrongs.append(f"{leaks} edges of its mesh aren't shared by exactly two triangles")
    elif (count := bodies(mesh)) != 1:
        wrongs.append(f"its mesh falls into {count} bodies")
    volume = mesh.volume()
    if not (volume > 0.0 and abs(volume - exact_mm3) <= tol.volume_share * exact_mm3):
        wrongs.append(f"its mesh holds {volume:.1f} mm3, the exact solid {exact_mm3:.1f} mm3")
    if wrongs:
        remedy = "no file is written; change a size a little"
        raise MakeError(Fault("", "", f"{what}: {'; '.join(wrongs)}", remedy=remedy))
    return mesh


def leaking_edges(mesh: Mesh) -> int:
    """How many edges aren't gone along exactly once each way."""
    start, end = mesh.faces.ravel(), np.roll(mesh.faces, -1, axis=1).ravel()
    edge = np.minimum(start, end) * len(mesh.vertices) + np.maximum(start, end)
    way = np.where(start < end, 1, -1)
    order = np.argsort(edge, kind="stable")
    first = np.flatnonzero(np.append(True, np.diff(edge[order]) != 0))
    count, ways = np.diff(np.append(first, len(edge))), np.add.reduceat(way[order], first)
    return int(np.count_nonzero((count != 2) | (ways != 0)))


def bodies(mesh: Mesh) -> int:
    """How many surfaces there are that share no corner."""
    label = np.arange(len(mesh.vertices))
    while True:
        least = label[mesh.faces].min(axis=1)
        new = label.copy()
        np.minimum.at(new, mesh.faces.ravel(), np.repeat(least, 3))
        new = new[new]
        if (new == label).all():
            return len(np.unique(label[mesh.faces]))
        label = new
