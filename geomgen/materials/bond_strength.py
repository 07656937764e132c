"""What a glue line carries: never more than the glue on either side, nor than what it is on."""

from __future__ import annotations

from enum import StrEnum
from typing import assert_never

from geomgen.materials.catalogue import find_glue, known
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.materials.strength_table import strength_table

Known = tuple[Figure | None, str]
"""A figure and ""; or None, and why there is none."""


class Surface(StrEnum):
    """What glue lies on. Its value is the word of strength.toml."""

    WOOD_ALONG = "wood_along"  # solid wood, on its long grain
    WOOD_END = "wood_end"  # on its end grain
    PLY_FACE = "ply_face"
    FOAM = "foam"
    BOARD_FACE = "board_face"  # paper
    TUBE = "tube"  # carbon, glass or metal, sanded and degreased
    PRINT = "print"
    FILM = "film"


def surface_of(material: str, *, end_grain: bool = False) -> Surface | None:
    """What glue lies on where it lies on a material's usual face; None where nothing is known of gluing it.

    material  : as the catalogue has it, or another word of the trade
    end_grain : of solid wood
    """
    found = known(material)
    kind = "" if found is None else found.kind
    if kind == "wood" and end_grain:
        return Surface.WOOD_END
    return {
        "wood": Surface.WOOD_ALONG,
        "ply": Surface.PLY_FACE,
        "board": Surface.BOARD_FACE,
        "foam": Surface.FOAM,
        "film": Surface.FILM,
        "fibre": Surface.TUBE,
        "metal": Surface.TUBE,
        "print": Surface.PRINT,
    }.get(kind)


def glue_strength(glue: str | None, on: Surface | None) -> Known:
    """Mean shear of a glue line on a surface [MPa], whatever is on its other side.

    glue   : name in the catalogue; None where the design states only what glue weighs
    on     : None where nothing is known of gluing it
    raises : DesignError where the catalogue has no such glue
    """
    if glue is None:
        return None, "unpublished: the design doesn't say which glue it is"
    if on is None:
        return None, "unpublished: nothing was found on gluing it"
    if on is Surface.FILM:
        return None, "unpublished: film holds by its own glue; see its peel"
    name = find_glue(glue).name
    entry = strength_table()["glue"][name]
    row = entry.get(Surface.WOOD_ALONG if on is Surface.WOOD_END else on)
    if row is not None:
        low, typical, high = map(float, row["mpa"])
        return Figure(low, typical, high, "MPa", f"{name}: {row['source']}"), ""
    why = entry.get("none", {})
    return None, why.get(on, why.get("any", f"unpublished: no figure was found for {name} on {on.replace('_', ' ')}"))


def bond_strength(glue: str | None, a: Strength, b: Strength, surfaces: tuple[Surface | None, Surface | None]) -> Known:
    """Mean shear that a glue line between two stocks carries [MPa]: the least of glue on either side and of what it is
    on, end by end; the source is of what is least at the low end.

    surfaces : what it lies on, of a and of b
    returns  : None, and why, where any of the four isn't known
    """
    found = [glue_strength(glue, on) for on in surfaces]
    found += [_own(side, on) for side, on in zip((a, b), surfaces, strict=True) if on is not None]
    figures = [figure for figure, _ in found if figure is not None]
    if len(figures) < len(found):
        return None, next(why for figure, why in found if figure is None)
    weakest = min(figures, key=lambda figure: figure.low)
    typical, high = min(one.typical for one in figures), min(one.high for one in figures)
    return Figure(weakest.low, typical, high, "MPa", weakest.source), ""


def _own(side: Strength, on: Surface) -> Known:
    """What a stock itself stands at a glued face [MPa]."""
    match on:
        case Surface.WOOD_END:
            tension, end = side.of(Property.TENSION), strength_table()["end_grain"]
            if tension is None:
                return None, side.why_not(Property.TENSION)
            low, typical, high = map(float, end["share"])
            return tension.times(Figure(low, typical, high, "-", str(end["source"])), "MPa"), ""
        case Surface.PLY_FACE | Surface.PRINT:
            one = Property.SHEAR_ACROSS
        case Surface.WOOD_ALONG | Surface.FOAM | Surface.BOARD_FACE | Surface.TUBE | Surface.FILM:
            one = Property.SHEAR
        case _:
            assert_never(on)
    figure = side.of(one)
    return (figure, "") if figure is not None else (None, side.why_not(one))
