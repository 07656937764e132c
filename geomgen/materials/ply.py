"""The ply rule: what a plywood of one kind of veneer is worth along its face grain and across it, by its layers."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Any

from geomgen.figures import mm
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property

VENEER_MM, SANDED_MM = 1.4, 1.1  # of construction birch ply: inside, and on its faces; handbook, from memory
THREE_UP_TO_MM = 1.5  # thin ply has 3 equal veneers up to this, 1.5 mm itself among them; measure yours
FIVE_UP_TO_MM = 3.3  # and 5 up to this; thicker ply is of VENEER_MM


@dataclass(frozen=True)
class Share:
    """What the layers that run one way are, of a ply that were solid veneer.

    stretch : of its section [-]
    stiff   : of its bending stiffness [-]
    bend    : of its section modulus: its outermost such layer is where it breaks [-]
    """

    stretch: float
    stiff: float
    bend: float


def layers_mm(thickness_mm: float) -> tuple[float, ...]:
    """Its veneers from face to face, the first along the face grain [mm]; thick ply comes out as it is, sanded: of 4 mm
    3.6, of 6.5 mm 6.4, of 9 mm 9.2."""
    if thickness_mm <= FIVE_UP_TO_MM:
        count = 3 if thickness_mm <= THREE_UP_TO_MM else 5
        return (thickness_mm / count,) * count
    thinner = 2 * (VENEER_MM - SANDED_MM)
    count = max(3, 2 * math.floor((thickness_mm + thinner) / VENEER_MM / 2) + 1)
    return (SANDED_MM, *(VENEER_MM,) * (count - 2), SANDED_MM)


def shares(layers: Sequence[float]) -> tuple[Share, Share]:
    """What layers along the face grain come to, and what those across it; each counts the others as nothing.

    layers : odd in number, alike from both faces, the first along [mm]
    """
    return _share(layers, 0), _share(layers, 1)


def _share(layers: Sequence[float], first: int) -> Share:
    tops = list(accumulate(layers))
    total, middle = tops[-1], tops[-1] / 2
    mine = [(top - thick - middle, top - middle) for top, thick in zip(tops, layers, strict=True)][first::2]
    second = sum(top**3 - bottom**3 for bottom, top in mine) / 3
    outermost = max(abs(end) for layer in mine for end in layer)
    return Share(
        sum(top - bottom for bottom, top in mine) / total,
        second / (total**3 / 12),
        second / outermost / (total**2 / 6),
    )


def ply_figures(rule: Mapping[str, Any], thickness_mm: float) -> dict[Property, Figure]:
    """All that the rule gives of a ply, in its plane and bent [MPa], on the thickness that its veneers come to.

    rule : [ply_rule] of strength.toml
    """
    layers = layers_mm(thickness_mm)
    source = f"{rule['source']}; {len(layers)} layers, {mm(sum(layers), significant=3)} in all"
    along, across = shares(layers)

    def figure(what: str, share: float) -> Figure:
        low, high = rule["modulus_ends" if what == "modulus" else "strength_ends"]
        typical = float(rule[f"{what}_mpa"]) * share
        return Figure(low * typical, typical, high * typical, "MPa", source)

    return {
        Property.TENSION: figure("tension", along.stretch),
        Property.COMPRESSION: figure("compression", along.stretch),
        Property.BENDING: figure("bending", along.bend),
        Property.MODULUS: figure("modulus", along.stretch),
        Property.BENDING_MODULUS: figure("modulus", along.stiff),
        Property.TENSION_ACROSS: figure("tension", across.stretch),
        Property.PLANE_COMPRESSION_ACROSS: figure("compression", across.stretch),
        Property.BENDING_ACROSS: figure("bending", across.bend),
        Property.MODULUS_ACROSS: figure("modulus", across.stretch),
        Property.BENDING_MODULUS_ACROSS: figure("modulus", across.stiff),
    }
