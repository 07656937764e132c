"""What is laid down of each printed part: the share of its solid that is plastic, and where that lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.design.schema import Print
from geomgen.model.element import inertia_of
from geomgen.model.part import Flat, Solid
from geomgen.plane.region import Region
from geomgen.printing.hub_slices import hub_slices
from geomgen.printing.plate import DEPTH_MM, grooves
from geomgen.printing.shell import Shapes, nothing, plastic, shell_of, whole
from geomgen.root.hub_mass import Bulk

FLAT_MM = 0.02  # greatest distance of a chord from a plate's edge


@dataclass(frozen=True, eq=False)
class Laid:
    """What is laid down of a printed part.

    stock : what it is printed from
    share : plastic over what the slices hold [-]
    words : how it is printed
    bulk  : the plastic's volume, centroid and inertia in the part's own frame; None of a plate, whose mass is taken to
            lie as its solid does
    """

    stock: str
    share: float
    words: str
    bulk: Bulk | None = None


def laid(shape: Solid | Flat, stock: str, how: Print, *, line_mm: float, layer_mm: float) -> Laid:
    """What is laid down of a hub, or of a plate that lies on its underside with what is sunk into it up.

    stock    : the name of what it is printed from
    line_mm  : width of a line [mm]
    layer_mm : height of a layer [mm]
    """
    shell = shell_of(line_mm, layer_mm, how.walls, how.top, how.bottom, how.infill)
    slices = hub_slices(shape.spec, layer_mm) if isinstance(shape, Solid) else plate_slices(shape, layer_mm)
    total = plastic(slices, shell)
    share = float(total[3, 3] / whole(slices, layer_mm)[3, 3])
    return Laid(stock, share, how.words, _bulk(total) if isinstance(shape, Solid) else None)


def plate_slices(flat: Flat, layer_mm: float) -> Shapes:
    """(n,) one slice at the middle of each layer, from the underside up; what is alike is one object [mm]."""
    region = flat.weighed.to_shapely(FLAT_MM)
    marked = grooves(flat) if flat.marks or flat.texts else shapely.Polygon()
    sunk = [(marked, DEPTH_MM), *((Region(one.loop).to_shapely(FLAT_MM), one.depth_mm) for one in flat.pockets)]
    layers = max(round(flat.thickness_mm / layer_mm), 1)
    left = flat.thickness_mm - layer_mm * (np.arange(layers) + 0.5)  # above each layer's middle
    found, kinds = nothing(layers), dict[tuple[bool, ...], shapely.Geometry]()
    for k in range(layers):
        takes = tuple(bool(left[k] < deep) and not shape.is_empty for shape, deep in sunk)
        if takes not in kinds:
            kinds[takes] = _less(region, [shape for (shape, _), taken in zip(sunk, takes, strict=True) if taken])
        found[k] = kinds[takes]
    return found


def _less(region: shapely.Geometry, taken: Sequence[shapely.Geometry]) -> shapely.Geometry:
    return shapely.difference(region, shapely.union_all(taken)) if taken else region


def _bulk(total: FloatArray) -> Bulk:
    volume = float(total[3, 3])
    centroid = total[:3, 3] / volume
    return Bulk(volume, centroid, inertia_of(total[:3, :3] - volume * np.outer(centroid, centroid)))
