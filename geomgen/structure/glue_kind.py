"""Which kind of glue holds what: that for all, and that for what sits on tubes; and which would melt foam."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from geomgen.design.schema import Design
from geomgen.errors import Fault
from geomgen.materials.catalogue import find, find_glue, known, meant
from geomgen.model.joint import Joint
from geomgen.model.part import Part
from geomgen.model.role import Role

TUBES: Final = {"fibre", "metal"}  # kinds of material on which wood glue doesn't hold
KIND: Final = "glue.kind"
ON_TUBE: Final = "glue.on_tube"


def is_tube(design: Design, stock: str) -> bool:
    """Whether a stock is of what tubes and rods are sold in that aren't wood, by its kind of material in the catalogue.

    stock : its name; "" for what is bought, which is none
    """
    of = design.stock[stock].of if stock else None
    kinds = {find(name).kind for name in meant(of or "")}  # "carbon" alone may be more than one
    return bool(kinds) and kinds <= TUBES


def glue_of(design: Design, *stocks: str) -> str | None:
    """Kind of glue between parts, by name, as the design has it; None where it only says what glue weighs.

    stocks : names of the parts' stocks; "" for what is bought
    """
    if design.glue is None:
        return None
    on_tube = design.glue.on_tube if glue_key(design, *stocks) == ON_TUBE else None
    return on_tube or design.glue.kind


def glue_key(design: Design, *stocks: str) -> str:
    """Key path at which the design may say that kind: where it sits on a tube, of its own."""
    return ON_TUBE if any(is_tube(design, stock) for stock in stocks) else KIND


def melts(design: Design, parts: Sequence[Part]) -> Iterator[Fault]:
    """Whether the glue attacks the foam of any part."""
    kind = design.glue.kind if design.glue is not None else None
    if kind is not None:
        yield from _melted(KIND, kind, design, parts, 'for instance "wood glue", "epoxy" or a kind for foam')


def melts_on_tube(design: Design, parts: Sequence[Part], joints: Sequence[Joint]) -> Iterator[Fault]:
    """Whether what is glued on tubes with another kind is of foam that it attacks; a foam core lies round its spars."""
    kind = design.glue.on_tube if design.glue is not None else None
    tubes = {part.key for part in parts if is_tube(design, part.stock)}
    if kind is None or not tubes:
        return
    touched = {
        key for joint in joints if joint.bond.wants_glue for key in (joint.a, joint.b) if tubes & {joint.a, joint.b}
    }
    beside = [part for part in parts if part.key in touched or part.role is Role.CORE]
    yield from _melted(ON_TUBE, kind, design, beside, 'for instance "epoxy" or a kind for foam')


def _melted(path: str, kind: str, design: Design, parts: Sequence[Part], remedy: str) -> Iterator[Fault]:
    """The first of some parts whose foam a kind of glue attacks."""
    if not find_glue(kind).melts_foam:
        return
    for part in parts:
        material = known(design.stock[part.stock].of) if part.stock else None
        if material is not None and (material.kind == "foam" or material.name == "foam board"):
            wrong = f"melts polystyrene, and {part.name} is of {material.name}: {find_glue(kind).foam_source}"
            yield Fault(path, "", wrong, remedy=remedy)
            return
