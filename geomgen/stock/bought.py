"""What is bought for a craft besides the stocks that parts are cut from: fittings, screws, collars, wires, glue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design
from geomgen.model.joint import Key
from geomgen.model.part import Area, Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.stock.copies import times


@dataclass(frozen=True)
class Purchase:
    """One bought thing, for the whole craft.

    name   : of it
    pieces : how many; of wire, how many lengths; of glue, how many kinds of joint
    amount : of wire its length, of glue the area of its joints, or its mass where that is stated; pieces of all else
             [unit]
    unit   : "piece" | "mm" | "mm2" | "g"
    mass_g : typical mass of all of it [g]
    """

    name: str
    pieces: int
    amount: float
    unit: str
    mass_g: float


def purchases(parts: Sequence[Part], grams: Mapping[Key, float], design: Design) -> tuple[Purchase, ...]:
    """What all blades and the hub take of what no stock is named for, in the parts' order; all glue of one kind
    as one.

    parts : every different part of one blade and of the hub
    grams : typical mass of one of each [g]
    """
    found: dict[str, list[Part]] = {}
    for part in parts:
        if not part.stock and part.assembly is not Assembly.BENCH:
            found.setdefault("glue" if part.path == "glue" else part.name, []).append(part)
    return tuple(_purchase(name, alike, grams, design) for name, alike in found.items())


def _purchase(name: str, alike: Sequence[Part], grams: Mapping[Key, float], design: Design) -> Purchase:
    counted = [(part, times(part, design)) for part in alike]
    pieces, mass_g = sum(count for _, count in counted), sum(count * grams[part.key] for part, count in counted)
    lengths = [count * part.shape.length_mm for part, count in counted if isinstance(part.shape, Length)]
    areas = [count * part.shape.area_mm2 for part, count in counted if isinstance(part.shape, Area)]
    if lengths:
        return Purchase(name, pieces, sum(lengths), "mm", mass_g)
    if areas:
        return Purchase(name, len(alike), sum(areas), "mm2", mass_g)
    if alike[0].role is Role.GLUE:
        return Purchase(name, len(alike), mass_g, "g", mass_g)
    return Purchase(name, pieces, float(pieces), "piece", mass_g)
