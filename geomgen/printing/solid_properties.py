"""What is known of an exact solid."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from geomgen.printing.mesh import Mesh, mirrored

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class SolidProperties:
    """Properties of an exact solid in its own frame, and a mesh of it that has passed the gate.

    volume_mm3 : [mm3]
    centroid   : (3,) [mm]
    inertia    : (3, 3) about the centroid, for a density of 1 [mm5]
    mesh       : closed, one body
    """

    volume_mm3: float
    centroid: FloatArray
    inertia: FloatArray
    mesh: Mesh

    @property
    def vertices(self) -> FloatArray:
        """(n, 3) corners of the mesh [mm]."""
        return self.mesh.vertices

    @property
    def faces(self) -> NDArray[np.int64]:
        """(m, 3) triangles of the mesh, rows of `vertices`."""
        return self.mesh.faces

    def mirrored(self) -> SolidProperties:
        """Those of the mirror image, y -> -y."""
        across = np.array([1.0, -1.0, 1.0])
        inertia = self.inertia * np.outer(across, across)
        return replace(self, centroid=self.centroid * across, inertia=inertia, mesh=mirrored(self.mesh))
