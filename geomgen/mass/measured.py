"""What there is of each part to be weighed, and where: all that its mass needs of its shape, whatever it is made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Protocol

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.frames import applied
from geomgen.mass.band import Triple
from geomgen.model.joint import Key
from geomgen.model.part import Area, Bought, Flat, Length, Part, Shape, Shaped, Solid
from geomgen.model.role import Assembly


class SolidProperties(Protocol):
    """What is known of an exact solid.

    volume_mm3 : [mm3]
    centroid   : (3,) its centroid in the part's own frame [mm]
    inertia    : (3, 3) about the centroid, for a density of 1 [mm5]
    """

    @property
    def volume_mm3(self) -> float: ...
    @property
    def centroid(self) -> FloatArray: ...
    @property
    def inertia(self) -> FloatArray: ...


Solids = Mapping[Key, SolidProperties]


@dataclass(frozen=True, eq=False)
class Measured:
    """One part to weigh.

    part            : of a blade or on the hub
    amounts         : how much one of it is in each measure it can be sold by: "mm3", "mm2", "mm"
    place_mm        : centre of one set (out, forward, up) [mm]
    out_forward_mm2 : mean of out times forward over one set [mm2]
    """

    part: Part
    amounts: Mapping[str, float]
    place_mm: Triple
    out_forward_mm2: float


def measured(
    parts: Sequence[Part],
    solids: Solids,
    sunk_mm3: Mapping[Key, float] = MappingProxyType({}),
    plastic: Solids = MappingProxyType({}),
) -> tuple[Measured, ...]:
    """Every part that flies and can be measured, in order.

    solids   : properties of the exact solid of each printed part that is no plate
    sunk_mm3 : what is sunk into the faces of plates [mm3]; it is small, and so isn't said to move their middle
    plastic  : of a solid that isn't printed whole, what is laid down of it: its centre is that of the part
    """
    flying = [part for part in parts if part.assembly != Assembly.BENCH]
    return tuple(
        _measured(part, solids.get(part.key), sunk_mm3.get(part.key, 0.0), plastic.get(part.key))
        for part in flying
        if not lacks_solid(part, solids)
    )


def lacks_solid(part: Part, solids: Solids) -> bool:
    """Whether a part can't be measured because its solid isn't there."""
    return isinstance(part.shape, Solid) and part.key not in solids


def _measured(part: Part, solid: SolidProperties | None, sunk_mm3: float, plastic: SolidProperties | None) -> Measured:
    if (lies := plastic or solid) is not None and part.places:
        points = np.array([applied(matrix, lies.centroid) for matrix in part.places])
        shares = np.full(len(points), 1.0 / len(points))
    else:
        shares, points = part.spread[:, 0], part.spread[:, 1:]
    out, forward, up = (shares @ points).tolist()
    amounts = _amounts(part.shape, solid)
    if isinstance(part.shape, Flat):
        amounts = {"mm2": amounts["mm2"] - sunk_mm3 / part.shape.thickness_mm, "mm3": amounts["mm3"] - sunk_mm3}
    return Measured(part, amounts, (out, forward, up), float(shares @ (points[:, 0] * points[:, 1])))


def _amounts(shape: Shape, solid: SolidProperties | None) -> dict[str, float]:
    match shape:
        case Flat(weighed=region, volume_mm3=volume):
            return {"mm2": region.area(), "mm3": volume}
        case Shaped(volume_mm3=volume):
            return {"mm3": volume}
        case Area(area_mm2=area):
            return {"mm2": area}
        case Length(length_mm=length):
            return {"mm": length}
        case Solid():
            return {"mm3": solid.volume_mm3} if solid is not None else {}
        case Bought():
            return {}
