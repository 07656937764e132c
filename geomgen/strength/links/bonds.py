"""What a glue line between two parts carries: the least of the glue on either side, and of both parts themselves."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.materials.catalogue import known
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.strength.build import Build

NO_GLUE = "unpublished: the design names no glue, glue.kind: what it carries isn't known"


@dataclass(frozen=True)
class Bonded:
    """What a glue line carries, and why not where it isn't known.

    shear  : along its face [MPa]
    pulled : square off its face [MPa]
    """

    shear: Figure | None
    pulled: Figure | None
    why_not_shear: str = ""
    why_not_pulled: str = ""


def stock_of(build: Build, key: Key) -> Strength | None:
    """What a part's stock stands; None for bought things."""
    return build.strengths.get(build.part(key).stock)


def kind_of(build: Build, key: Key) -> str:
    """Kind of material that a part is of, "wood", "ply", "foam" ...; "" where it isn't known."""
    of = stock_of(build, key)
    material = known(of.name) if of is not None else None
    return material.kind if material is not None else ""


def bond(build: Build, a: Key, b: Key) -> Bonded:
    """What the glue between two parts carries."""
    sides = [(stock_of(build, key), kind_of(build, key)) for key in (a, b)]
    if build.design.glue is None or build.design.glue.kind is None:
        return Bonded(None, None, NO_GLUE, NO_GLUE)
    shears, pulls = list[Figure](), list[Figure]()
    for of, kind in sides:
        if of is None:
            return Bonded(None, None, "unpublished: bought", "unpublished: bought")
        along, off = _shear(of, kind), _off(of, kind)
        if along is None:
            return Bonded(None, None, of.why_not(Property.SHEAR), of.why_not(Property.TENSION_ACROSS))
        shears.append(along)
        pulls += [off] if off is not None else [along]
    return Bonded(least(shears), least(pulls))


def least(some: list[Figure]) -> Figure:
    """The one that is least at its low end."""
    return min(some, key=lambda one: (one.low, one.typical))


def _shear(of: Strength, kind: str) -> Figure | None:
    layered = kind in ("ply", "print")
    return of.of(Property.SHEAR_ACROSS, Property.SHEAR) if layered else of.of(Property.SHEAR)


def _off(of: Strength, kind: str) -> Figure | None:
    return of.of(Property.TENSION_ACROSS, Property.TENSION)
