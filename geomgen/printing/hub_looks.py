"""A hub as a draughtsman shows it: seen from above, and cut through the rotor axis along its first arm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.cache import Cache
from geomgen.plane.path import Path, from_points
from geomgen.printing.line_drawing import Shown, line_drawing
from geomgen.printing.mesh import Mesh
from geomgen.printing.solid import solid_of
from geomgen.root.hub_spec import HubSpec

BESIDE_MM = 1e-3  # the cut lies this much beside the axis, where no edge of the solid does
MEET_MM = 1e-5  # ends of the cut nearer than this are one


@dataclass(frozen=True, eq=False)
class HubLooks:
    """Both in the hub's frame.

    above : from above, x to the right and y up
    cut   : loops round what is cut at y = 0, x to the right and z up; a loop inside another is a hole [mm]
    """

    above: Shown
    cut: tuple[Path, ...]


def hub_looks(spec: HubSpec, mesh: Mesh, cache: Cache | None = None) -> HubLooks:
    """How a hub looks.

    mesh   : of the same hub
    cache  : where hubs are kept
    raises : MakeError, see `solid_of`
    """
    (above,) = line_drawing([("hub", solid_of(spec, cache))], -90.0, 90.0)
    return HubLooks(above, section_of(mesh))


def section_of(mesh: Mesh) -> tuple[Path, ...]:
    """Loops round the cut of a mesh at y = 0, as (x, z) [mm]."""
    corners = mesh.corners()
    beyond = corners[..., 1] > BESIDE_MM
    cut = corners[beyond.any(axis=1) & ~beyond.all(axis=1)]  # each by two of its sides
    a, b = cut, np.roll(cut, -1, axis=1)
    crosses = (a[..., 1] > BESIDE_MM) != (b[..., 1] > BESIDE_MM)
    a, b = a[crosses], b[crosses]
    share = (BESIDE_MM - a[:, 1:2]) / (b[:, 1:2] - a[:, 1:2])
    lines = shapely.linestrings((a + share * (b - a))[:, [0, 2]].reshape(-1, 2, 2))
    rings = shapely.get_parts(shapely.line_merge(shapely.union_all(lines, grid_size=MEET_MM)))
    return tuple(from_points(shapely.get_coordinates(ring)[:-1], closed=True) for ring in rings)
