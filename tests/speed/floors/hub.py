"""Floor: the hub's solid, its volume and its mesh, by bare calls of CadQuery and the kernel below it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import cadquery as cq
import numpy as np
from numpy.typing import NDArray
from OCP.BRep import BRep_Tool
from OCP.BRepGProp import BRepGProp
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_Orientation
from OCP.TopLoc import TopLoc_Location

BEYOND = 1.0  # cuts run this much past a face they break through [mm]
EXACT = 1e-6  # of the volume, relative
OPEN = 1.0  # a cut that opens into the bay begins this much inside it [mm]
Figures = Mapping[str, Any]


def built(f: Figures) -> Any:
    """The solid of an anticlockwise hub: one fuse, one cut.

    f : the hub in figures, by the names of geomgen's record, lengths [mm], angles [deg]
    """
    places = [_place(f, k) for k in range(f["blades"])]
    adds, takes = _arm(f), _arm_tools(f)
    cup = cq.Solid.makeCylinder(f["bay_radius"] + f["wall"], f["floor"] + f["bay_height"])
    body = cup.fuse(*(solid.moved(place) for place in places for solid in adds))
    return body.cut(*_cup_tools(f), *(tool.moved(place) for place in places for tool in takes)).Solids()[0]


def measured(solid: Any) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
    """Volume [mm3], centroid (3,) [mm], and inertia (3, 3) about it for a density of 1 [mm5]."""
    sums = GProp_GProps()
    BRepGProp.VolumeProperties_s(solid.wrapped, sums, EXACT, False, False)
    inertia = sums.MatrixOfInertia()
    rows = [[inertia.Value(i, j) for j in (1, 2, 3)] for i in (1, 2, 3)]
    return float(sums.Mass()), np.array(sums.CentreOfMass().Coord()), np.array(rows)


def meshed(solid: Any, mesh_mm: float, mesh_deg: float) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """(n, 3) corners [mm] and (m, 3) triangles, corners in one place made one."""
    BRepMesh_IncrementalMesh(solid.wrapped, mesh_mm, False, math.radians(mesh_deg), True)
    corners, triangles, first = [], [], 0
    for face in solid.Faces():
        place = TopLoc_Location()
        patch = BRep_Tool.Triangulation_s(face.wrapped, place)
        shift = place.Transformation()
        points = [patch.Node(i).Transformed(shift).Coord() for i in range(1, patch.NbNodes() + 1)]
        rows = np.array([patch.Triangle(i).Get() for i in range(1, patch.NbTriangles() + 1)]) - 1
        turned = face.wrapped.Orientation() == TopAbs_Orientation.TopAbs_REVERSED
        corners.append(points)
        triangles.append((rows[:, ::-1] if turned else rows) + first)
        first += len(points)
    _, one, same = np.unique(np.round(np.vstack(corners), 5), axis=0, return_index=True, return_inverse=True)
    rows = same.reshape(-1)[np.vstack(triangles)]
    whole = (rows != np.roll(rows, 1, axis=1)).all(axis=1)
    return np.vstack(corners)[one], rows[whole]


def stl(corners: NDArray[np.float64], triangles: NDArray[np.int64]) -> bytes:
    """The mesh as a binary STL file; readers work the normals out."""
    records = np.zeros(len(triangles), [("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    records["corners"] = corners[triangles]
    return b"mesh, mm".ljust(80) + np.array(len(records), "<u4").tobytes() + records.tobytes()


def _place(f: Figures, k: int) -> Any:
    """Where arm k goes: its own frame has x aft, y up and z towards the rotor axis."""
    azimuth, rise = math.radians(360.0 * k / f["blades"]), math.radians(f["coning"])
    inward = (-math.cos(rise) * math.cos(azimuth), -math.cos(rise) * math.sin(azimuth), -math.sin(rise))
    aft = (math.sin(azimuth), -math.cos(azimuth), 0.0)
    return cq.Location(cq.Plane((0.0, 0.0, f["axis_height"]), xDir=aft, normal=inward))


def _rod(diameter: float, start: float, end: float, at: tuple[float, float] = (0.0, 0.0)) -> Any:
    """Along an arm, from one distance from the rotor axis to another."""
    return cq.Solid.makeCylinder(diameter / 2, end - start, cq.Vector(*at, -start), cq.Vector(0, 0, -1))


def _opening(f: Figures, across: float, above: float) -> float:
    """Distance from the rotor axis at which a cut of this half width and half height lies inside the bay."""
    rise = math.radians(f["coning"])
    return (math.sqrt(f["bay_radius"] ** 2 - across**2) - above * abs(math.sin(rise)) - OPEN) / math.cos(rise)


def _arm(f: Figures) -> list[Any]:
    inside, narrow = _opening(f, f["pocket"] / 2, f["pocket"] / 2) / 2, (f["boss"] - f["arm"]) / 2
    start, inward = cq.Vector(0, 0, -f["boss_end"]), cq.Vector(0, 0, -1)
    solids = [_rod(f["boss"], inside, f["boss_end"])]
    solids += [cq.Solid.makeCone(f["boss"] / 2, f["arm"] / 2, narrow, start, inward)]
    solids += [_rod(f["flange"], f["seat"] - f["flange_thickness"], f["seat"])]
    shells = [_shell(duct, f["arm"], f["wall"]) for duct in f["ducts"]]
    if not shells:
        return [*solids, _rod(f["arm"], inside, f["seat"])]
    return [*solids, *(_prism(shell, inside, f["seat"]) for shell in shells)]


def _arm_tools(f: Figures) -> list[Any]:
    out, pocket_from = f["seat"] + BEYOND, _opening(f, f["pocket"] / 2, f["pocket"] / 2)
    tools = [_rod(f["socket"], pocket_from, out), _rod(f["pocket"], pocket_from, f["collar_seat"])]
    tools += [_rod(f["pilot"], f["seat"] - f["pilot_depth"], out, at) for at in f["pilots"]]
    for duct in f["ducts"]:
        x0, y0, x1, y1 = _reach(duct)
        start = _opening(f, max(-x0, x1), max(-y0, y1))
        if duct["to_deg"] - duct["from_deg"] < 1e-6:
            tools.append(_rod(duct["width"], start, out, _on(duct["radius"], duct["from_deg"])))
        else:
            tools.append(_prism(_slot(duct), start, out))
    return tools


def _cup_tools(f: Figures) -> list[Any]:
    tall, deep = f["floor"] + f["bay_height"] + f["boss"] + f["seat"], f["floor"] + 2 * BEYOND
    tools = [cq.Solid.makeCylinder(f["bay_radius"], tall, cq.Vector(0, 0, f["floor"]))]
    holes = [(f["bore"], (0.0, 0.0)), *((f["bolt"], at) for at in f["bolts"])]
    return tools + [cq.Solid.makeCylinder(d / 2, deep, cq.Vector(*at, -BEYOND)) for d, at in holes]


def _on(radius: float, deg: float) -> tuple[float, float]:
    return radius * math.cos(math.radians(deg)), radius * math.sin(math.radians(deg))


def _reach(duct: Figures) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of an arc slot."""
    first, last = duct["from_deg"], duct["to_deg"]
    quarters = [90.0 * q for q in range(math.ceil(first / 90), math.floor(last / 90) + 1)]
    x, y = zip(*(_on(duct["radius"], deg) for deg in (first, last, *quarters)), strict=True)
    half = duct["width"] / 2
    return min(x) - half, min(y) - half, max(x) + half, max(y) + half


def _slot(duct: Figures) -> list[Any]:
    """Edges of an arc slot with round ends."""
    r, half, first, last = duct["radius"], duct["width"] / 2, duct["from_deg"], duct["to_deg"]
    middle = (first + last) / 2
    ends = _sum(_on(r, last), _on(half, last + 90)), _sum(_on(r, first), _on(half, first - 90))
    corners = [_on(r + half, first), _on(r + half, last), _on(r - half, last), _on(r - half, first)]
    through = [_on(r + half, middle), ends[0], _on(r - half, middle), ends[1]]
    return [_arc(a, b, c) for a, b, c in zip(corners, through, [*corners[1:], corners[0]], strict=True)]


def _shell(duct: Figures, arm: float, wall: float) -> list[Any]:
    """Edges round a socket's arm and a duct with its wall, joined by the two outer tangents."""
    a, b, r, first, last = arm / 2, duct["width"] / 2 + wall, duct["radius"], duct["from_deg"], duct["to_deg"]
    lean = math.degrees(math.acos((a - b) / r))
    leave, arrive, middle = first - lean, last + lean, (first + last) / 2
    p, q = _on(a, leave), _sum(_on(r, first), _on(b, leave))
    s, t = _sum(_on(r, last), _on(b, arrive)), _on(a, arrive)
    edges = [_line(p, q), _arc(q, _sum(_on(r, first), _on(b, first - lean / 2)), _on(r + b, first))]
    if last - first > 1e-6:
        edges.append(_arc(_on(r + b, first), _on(r + b, middle), _on(r + b, last)))
    edges.append(_arc(_on(r + b, last), _sum(_on(r, last), _on(b, last + lean / 2)), s))
    return [*edges, _line(s, t), _arc(t, _on(a, middle + 180), p)]


def _sum(a: tuple[float, float], b: tuple[float, float]) -> tuple[float, float]:
    return a[0] + b[0], a[1] + b[1]


def _line(a: tuple[float, float], b: tuple[float, float]) -> Any:
    return cq.Edge.makeLine(cq.Vector(*a, 0), cq.Vector(*b, 0))


def _arc(a: tuple[float, float], through: tuple[float, float], b: tuple[float, float]) -> Any:
    return cq.Edge.makeThreePointArc(cq.Vector(*a, 0), cq.Vector(*through, 0), cq.Vector(*b, 0))


def _prism(edges: list[Any], start: float, end: float) -> Any:
    """Along an arm, from one distance from the rotor axis to another."""
    face = cq.Face.makeFromWires(cq.Wire.assembleEdges(edges))
    return cq.Solid.extrudeLinear(face, cq.Vector(0, 0, end - start)).moved(cq.Location(cq.Vector(0, 0, -end)))
