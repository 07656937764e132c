"""What a glue line between two parts carries: the least of the glue on either side, and of both parts themselves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.materials.bond_strength import Known, bond_strength, glue_strength, surface_of
from geomgen.materials.catalogue import find_glue, known
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Help, Link
from geomgen.structure.glue_kind import ON_TUBE, glue_key, glue_of

BOUGHT = "unpublished: what it is made of isn't known"
STRONG = ("epoxy", "polyurethane glue")  # kinds that hold on most of what a blade is built of


@dataclass(frozen=True)
class Bonded:
    """What a glue line carries, and why not where it isn't known.

    shear  : along its face [MPa]
    pulled : square off its face [MPa]
    helps  : what another kind of glue does to the shear
    """

    shear: Figure | None
    pulled: Figure | None
    why_not_shear: str = ""
    why_not_pulled: str = ""
    helps: tuple[Help, ...] = ()


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
    one, other = stock_of(build, a), stock_of(build, b)
    if one is None or other is None:
        return Bonded(None, None, BOUGHT, BOUGHT)
    stocks = build.part(a).stock, build.part(b).stock
    glue, path = glue_of(build.design, *stocks), glue_key(build.design, *stocks)
    shear, why = _shear(glue, one, other)
    pulled, why_pulled = _pulled(build, glue, (a, one), (b, other))
    if shear is None and path == ON_TUBE:
        why += f"; {ON_TUBE} may name another kind"
    helps = tuple(_other_glue(path, glue, one, other, shear)) if shear is not None else ()
    return Bonded(shear, pulled, why, why_pulled, helps)


def glue_link(
    bonded: Bonded,
    name: str,
    fails: Fails,
    stress: FloatArray,
    *,
    path: str,
    r_mm: float | None,
    between: tuple[Key, Key],
    helps: Sequence[Help],
    note: str,
) -> Link:
    """A glue line, which nothing backs: it comes unstuck by shear, or is pulled off its face. Stress in MPa."""
    sheared = fails is Fails.UNSTUCK
    figure, why = (bonded.shear, bonded.why_not_shear) if sheared else (bonded.pulled, bonded.why_not_pulled)
    return Link(
        name=name,
        fails=fails,
        path=path,
        r_mm=r_mm,
        between=between,
        stress=stress,
        unit="MPa",
        strength=figure,
        unpublished=why,
        alone=True,
        helps=tuple(helps),
        note=note,
    )


def least(some: list[Figure]) -> Figure:
    """The one that is least at its low end."""
    return min(some, key=lambda one: (one.low, one.typical))


def _shear(glue: str | None, one: Strength, other: Strength) -> Known:
    return bond_strength(glue, one, other, (surface_of(one.name), surface_of(other.name)))


def _pulled(build: Build, glue: str | None, *sides: tuple[Key, Strength]) -> Known:
    """Square off the face: of both parts across, and of the glue no more than it stands in shear: from memory."""
    found = list[Figure]()
    for key, of in sides:
        own, why = _off(of, kind_of(build, key))
        stuck, why_not = glue_strength(glue, surface_of(of.name))
        if own is None or stuck is None:
            return None, why if own is None else why_not
        found += [own, stuck]
    return least(found), ""


def _off(of: Strength, kind: str) -> Known:
    """What a stock stands that is pulled off by its face [MPa]: a ply no more than its rolling shear, from memory."""
    wanted = {
        "wood": Property.TENSION_ACROSS,
        "print": Property.TENSION_ACROSS,
        "ply": Property.SHEAR_ACROSS,
        "board": Property.PEEL,
    }.get(kind, Property.TENSION)
    figure = of.of(wanted)
    if figure is None or wanted is Property.PEEL:  # by width: not a stress
        return None, of.why_not(wanted)
    return figure, ""


def _other_glue(path: str, glue: str | None, one: Strength, other: Strength, shear: Figure) -> Iterator[Help]:
    for kind in STRONG:
        if glue is not None and find_glue(glue).name != kind:
            then, _ = _shear(kind, one, other)
            if then is not None and then.low > shear.low:
                yield Help(path, glue, kind, then.low / shear.low)
