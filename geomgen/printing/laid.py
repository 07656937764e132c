"""What is laid down of each printed part: the share of its solid that is plastic, and where that lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.cache import Cache
from geomgen.design.schema import Print
from geomgen.model.element import inertia_of
from geomgen.model.part import Flat, Solid
from geomgen.plane.region import Region
from geomgen.printing.hub_slices import hub_slices
from geomgen.printing.plate import DEPTH_MM, grooves, plate_properties
from geomgen.printing.shell import Shapes, Shell, nothing, plastic, shell_of
from geomgen.root.hub_mass import Bulk, hub_mass
from geomgen.root.hub_spec import HubSpec

FLAT_MM = 0.02  # greatest distance of a chord from a plate's edge
CODE = (
    "marking", "model/part.py", "plane", "printing/hub_slices.py", "printing/hub_solid.py", "printing/laid.py",
    "printing/plate.py", "printing/shell.py", "root/hub_mass.py", "root/hub_size.py", "root/hub_spec.py",
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Laid:
    """What is laid down of a printed part.

    stock : what it is printed from
    share : plastic over solid [-]
    words : how it is printed
    bulk  : the plastic's volume, centroid and inertia in the part's own frame; None of a plate, whose mass is taken to
            lie as its solid does
    """

    stock: str
    share: float
    words: str
    bulk: Bulk | None = None


def laid(shape: Solid | Flat, stock: str, how: Print, *, line_mm: float, layer_mm: float, cache: Cache) -> Laid:
    """What is laid down of a hub, or of a plate that lies on its underside with what is sunk into it up.

    stock    : the name of what it is printed from
    line_mm  : width of a line [mm]
    layer_mm : height of a layer [mm]
    cache    : where what came of a shape is kept, by content
    """
    shell = shell_of(line_mm, layer_mm, how.walls, how.top, how.bottom, how.infill)
    if isinstance(shape, Flat):
        return Laid(stock, _summed(shape, shell, cache)[0], how.words)
    share, total = _summed(replace(shape.spec, clockwise=False), shell, cache)
    hand = np.array([1.0, -1.0 if shape.spec.clockwise else 1.0, 1.0, 1.0])
    return Laid(stock, share, how.words, _bulk(total * np.outer(hand, hand)))


def _summed(shape: Flat | HubSpec, shell: Shell, cache: Cache) -> tuple[float, FloatArray]:
    """Plastic over solid, and the (4, 4) sums of the plastic."""
    key = cache.digest("laid", shape, shell, code=CODE)
    if (kept := cache.fetch(key)) is not None:
        return float(kept["share"]), kept["total"]
    layer = shell.layer_mm
    if isinstance(shape, HubSpec):
        total, solid_mm3 = plastic(hub_slices(shape, layer), shell), hub_mass(shape).volume_mm3
    else:
        total, solid_mm3 = plastic(plate_slices(shape, layer), shell), plate_properties(shape).volume_mm3
    share = float(total[3, 3]) / solid_mm3  # a print is a whole number of layers high, and its solid needn't be
    cache.store(key, {"share": np.array(share), "total": total})
    return share, total


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
