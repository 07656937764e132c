"""Solids drawn as a draughtsman would: hidden lines left out, outlines, and faces by how they take the light.

The kernel hides what is hidden. The edges that are left part the picture into cells, each of one face of one body; a
ray through each tells which.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.arrays import FloatArray
from geomgen.plane.path import Path, from_points
from geomgen.printing.kernel import kernel

CHORD_MM = 0.05  # of curves
GRID_MM = 0.002  # points nearer than this are one
REACH_MM = 0.2  # how far edges are drawn on to meet where the kernel ends them short
FAR_MM = 1e5
TONES = 8  # steps from dark to light
LAMP = np.array([-0.35, 0.80, 0.60])  # where it stands: right, up, to the eye


@dataclass(frozen=True, eq=False)
class Shown:
    """What is seen of one body, x to the right and y up [mm].

    kind    : of body
    faces   : (tone, loops round all faces of that tone), 0 dark to 1 light; a loop inside another is a hole
    edges   : sharp ones and those of roundness, open paths
    outline : loops round all that is seen
    """

    kind: str
    faces: tuple[tuple[float, tuple[Path, ...]], ...]
    edges: tuple[Path, ...]
    outline: tuple[Path, ...]


def line_drawing(bodies: Sequence[tuple[str, Any]], azimuth_deg: float, height_deg: float) -> list[Shown]:
    """Solids seen from far off.

    bodies                  : kind, and kernel solid in its place
    azimuth_deg, height_deg : where the eye stands: round Z from X, and above the XY plane [deg]
    """
    eye = _eye(azimuth_deg, height_deg)
    edges = _visible([solid for _, solid in bodies], eye)
    net = shapely.union_all([shapely.LineString(_longer(line)) for lines in edges for line in lines], grid_size=GRID_MM)
    cells = shapely.get_parts(shapely.polygonize([net]))
    body, tone = _seen([solid for _, solid in bodies], shapely.get_coordinates(shapely.point_on_surface(cells)), eye)
    return [
        Shown(
            kind,
            tuple((each, _loops(cells[(body == k) & (tone == each)])) for each in np.unique(tone[body == k]).tolist()),
            tuple(from_points(line, closed=False) for line in edges[k]),
            _loops(cells[body == k]),
        )
        for k, (kind, _) in enumerate(bodies)
    ]


def _eye(azimuth_deg: float, height_deg: float) -> FloatArray:
    """(3, 3) from the world to right, up, to the eye."""
    a, h = np.radians((azimuth_deg, height_deg))
    to_eye = np.array([np.cos(a) * np.cos(h), np.sin(a) * np.cos(h), np.sin(h)])
    right = np.array([-np.sin(a), np.cos(a), 0.0])
    return np.array([right, np.cross(to_eye, right), to_eye])


def _visible(solids: Sequence[Any], eye: FloatArray) -> list[list[FloatArray]]:
    """Lines of (n, 2) points: of each body, what nothing hides of its edges and of its round faces' outlines."""
    kernel()
    from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
    from OCP.HLRAlgo import HLRAlgo_Projector
    from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

    right, _, to_eye = eye
    hiding = HLRBRep_Algo()
    for solid in solids:
        hiding.Add(solid.wrapped)
    hiding.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0.0, 0.0, 0.0), gp_Dir(*to_eye), gp_Dir(*right))))
    hiding.Update()
    hiding.Hide()
    found = HLRBRep_HLRToShape(hiding)
    kinds = (
        found.VCompound,
        found.OutLineVCompound,
        found.Rg1LineVCompound,
    )  # sharp, outlines, where faces meet smoothly
    return [[line for kind in kinds for line in _lines(kind(solid.wrapped))] for solid in solids]


def _lines(edges: Any) -> list[FloatArray]:
    """(n, 2) points along each of the kernel's edges in its plane."""
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.BRepLib import BRepLib
    from OCP.GCPnts import GCPnts_QuasiUniformDeflection

    if edges is None or edges.IsNull():
        return []
    BRepLib.BuildCurves3d_s(edges)
    lines = []
    for edge in kernel().Shape.cast(edges).Edges():
        points = GCPnts_QuasiUniformDeflection(BRepAdaptor_Curve(edge.wrapped), CHORD_MM)
        line = np.array([points.Value(i).Coord()[:2] for i in range(1, points.NbPoints() + 1)])
        if np.ptp(line, axis=0).max() > GRID_MM:
            lines.append(line)
    return lines


def _longer(line: FloatArray) -> FloatArray:
    first, last = line[0] - line[1], line[-1] - line[-2]
    ends = (REACH_MM * each / max(float(np.linalg.norm(each)), GRID_MM) for each in (first, last))
    before, after = ends
    return np.vstack((line[0] + before, line, line[-1] + after))


def _seen(solids: Sequence[Any], points: FloatArray, eye: FloatArray) -> tuple[NDArray[np.int64], FloatArray]:
    """Which body shows at each point, -1 for the paper, and how light its face is there."""
    from OCP.gp import gp_Dir, gp_Lin, gp_Pnt
    from OCP.IntCurvesFace import IntCurvesFace_ShapeIntersector

    right, up, to_eye = eye
    lamp = LAMP / np.linalg.norm(LAMP)
    rays = [gp_Lin(gp_Pnt(*(x * right + y * up + FAR_MM / 2 * to_eye)), gp_Dir(*-to_eye)) for x, y in points]
    body, tone, nearest = np.full(len(rays), -1), np.zeros(len(rays)), np.full(len(rays), np.inf)
    for k, solid in enumerate(solids):
        meeting = IntCurvesFace_ShapeIntersector()
        meeting.Load(solid.wrapped, 1e-6)
        for i, ray in enumerate(rays):
            meeting.PerformNearest(ray, 0.0, FAR_MM)
            if meeting.IsDone() and meeting.NbPnt() and meeting.WParameter(1) < nearest[i]:
                normal = eye @ _normal(meeting)
                light = max(float(lamp @ normal * np.sign(normal[2])), 0.0)
                body[i], tone[i], nearest[i] = k, round(light * TONES) / TONES, meeting.WParameter(1)
    return body, tone


def _normal(meeting: Any) -> FloatArray:
    from OCP.BRepGProp import BRepGProp_Face
    from OCP.gp import gp_Pnt, gp_Vec

    point, normal = gp_Pnt(), gp_Vec()
    BRepGProp_Face(meeting.Face(1)).Normal(meeting.UParameter(1), meeting.VParameter(1), point, normal)
    vector = np.array(normal.Coord())
    return np.asarray(vector / np.linalg.norm(vector))


def _loops(cells: Any) -> tuple[Path, ...]:
    rings = shapely.get_rings(shapely.get_parts(shapely.union_all(cells, grid_size=GRID_MM)))
    return tuple(from_points(shapely.get_coordinates(ring)[:-1], closed=True) for ring in rings)
