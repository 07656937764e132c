"""Moduli of a part along the blade, from what its stock is known to be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from geomgen.design.schema import Design, SheetStock
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.part import Flat, Part

Three = tuple[float, float, float]

NONE: Final = (0.0, 0.0, 0.0)
FACES = 2.0  # of a board: what is known by width is of one paper face
POISSON = 0.3  # of paper, from memory: shear stiffness by width = stiffness by width / (2 (1 + 0.3))


@dataclass(frozen=True)
class Moduli:
    """Of one part along the blade, each (low, typical, high); zeros where it isn't known.

    stretched_mpa : stretched or pressed along the blade [MPa]
    shear_mpa     : shear modulus in its plane [MPa]
    """

    stretched_mpa: Three
    shear_mpa: Three


def moduli(part: Part, design: Design, strengths: Mapping[str, Strength]) -> Moduli:
    """A part's moduli along the blade.

    A sheet whose grain runs across the blade has its modulus across the grain. A board has two paper faces along, and
    one in shear: the other is scored through where it is folded, and the core beside it.
    """
    of = strengths.get(part.stock)
    if of is None:
        return Moduli(NONE, NONE)
    across = isinstance(part.shape, Flat) and part.shape.grain == 90.0
    stretched = of.of(Property.MODULUS_ACROSS if across else Property.MODULUS)
    shear, face = of.of(Property.SHEAR_MODULUS), of.of(Property.WIDTH_STIFFNESS)
    sheet = design.stock.get(part.stock)
    if stretched is None and face is not None and isinstance(sheet, SheetStock):
        smeared = _over(face, sheet.thickness)
        core = _three(shear)
        low, typical, high = (one / (2.0 * (1.0 + POISSON)) + c for one, c in zip(smeared, core, strict=True))
        return Moduli((FACES * smeared[0], FACES * smeared[1], FACES * smeared[2]), (low, typical, high))
    return Moduli(_three(stretched), _three(shear))


def _three(figure: Figure | None) -> Three:
    return NONE if figure is None else (figure.low, figure.typical, figure.high)


def _over(figure: Figure, thickness_mm: float) -> Three:
    return figure.low / thickness_mm, figure.typical / thickness_mm, figure.high / thickness_mm
