"""What is known of an exact solid."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray


@dataclass(frozen=True, eq=False)
class SolidProperties:
    """Properties of an exact solid in its own frame.

    volume_mm3 : [mm3]
    centroid   : (3,) [mm]
    inertia    : (3, 3) about the centroid, for a density of 1 [mm5]
    """

    volume_mm3: float
    centroid: FloatArray
    inertia: FloatArray

    def mirrored(self) -> SolidProperties:
        """Those of the mirror image, y -> -y."""
        across = np.array([1.0, -1.0, 1.0])
        return replace(self, centroid=self.centroid * across, inertia=self.inertia * np.outer(across, across))
