"""Round figures of what stocks are made of, made up so that hand sums can be done with them. [MPa], [N/mm]"""

from __future__ import annotations

import numpy as np

from geomgen.craft import Craft
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.layout import Layout
from geomgen.model.made import Made
from geomgen.strength.blade_loads import Resultants
from geomgen.strength.cross_section import CrossSection, Piece
from geomgen.strength.sections.cross_sections import cross_sections

FIGURES = {
    "carbon tube": {"modulus": 100e3, "shear_modulus": 4000.0},
    "spruce": {"modulus": 10e3, "shear_modulus": 600.0},
    "balsa": {"modulus": 2000.0, "modulus_across": 50.0, "shear_modulus": 100.0},
    "birch ply": {"modulus": 8000.0, "shear_modulus": 600.0},
    "extruded polystyrene": {"modulus": 10.0, "shear_modulus": 4.0},
    "foam board": {"width_stiffness": 300.0, "shear_modulus": 2.0},
    "polyester film, laminating": {"width_stiffness": 80.0},
}


def strength(of: str) -> Strength:
    """Of one material; nothing is known of others."""
    known = FIGURES.get(of, {})
    return Strength(of, {Property(k): Figure(0.8 * v, v, 1.5 * v, "MPa", "made up") for k, v in known.items()}, {})


def strengths(craft: Craft) -> dict[str, Strength]:
    return {name: strength(getattr(stock, "of", "")) for name, stock in craft.design.stock.items()}


def cut(craft: Craft, *r_mm: float, joints_of: Made | None = None, layout: Layout | None = None) -> CrossSection:
    """The last of some cross-sections of a craft; made of other joints and parts than its own where given."""
    made = craft.flying if joints_of is None else joints_of
    return cross_sections(layout or craft.layout, made, strengths(craft), r_mm)[-1]


def one(section: CrossSection, role: str, *mark: object) -> Piece:
    """The only piece of a role whose mark begins so."""
    (found,) = [p for p in section.pieces if p.key.role == role and p.key.mark[: len(mark)] == mark]
    return found


def loads(pull: float = 0.0, flap: float = 0.0, lag: float = 0.0, turn: float = 0.0) -> Resultants:
    """The same typical and greatest, in one case. [N], [N m]"""
    none = np.zeros((2, 1))
    return Resultants(none + pull, none, none, none + lag, none + flap, none + turn)
