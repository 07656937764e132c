"""Binary STL: the same solid, the same bytes."""

from __future__ import annotations

import numpy as np

from geomgen.printing.mesh import Mesh

HEADER = b"geomgen binary STL, unit mm"  # must not begin with "solid", which announces the text kind
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def stl_bytes(mesh: Mesh) -> bytes:
    """A mesh as a binary STL file, moved up or down to stand on z = 0.

    mesh    : closed [mm]
    returns : 84 + 50 bytes a triangle; no clock, no path
    """
    corners = (mesh.vertices - (0.0, 0.0, mesh.vertices[:, 2].min())).astype("<f4")[mesh.faces]
    exact = mesh.corners()
    normal = np.cross(exact[:, 1] - exact[:, 0], exact[:, 2] - exact[:, 0])
    length = np.linalg.norm(normal, axis=1, keepdims=True)
    records = np.zeros(len(mesh.faces), RECORD)
    records["normal"] = normal / np.where(length > 0.0, length, 1.0)
    records["corners"] = corners
    return HEADER.ljust(80, b" ") + np.array(len(records), "<u4").tobytes() + records.tobytes()
