"""Foam board as what it is: two papers on a core. Figures by width, of one paper."""

from __future__ import annotations

from geomgen.figures import mm
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.strength import Property, Strength
from geomgen.strength.formulas.sandwich import wrinkling_mpa

FACES = 2.0  # papers of a board
PAPER_MM = 0.12  # how thick a paper is: from memory
CORE_MODULUS = 2.4  # of the core, over its shear modulus: 6 to 2.5 MPa, from memory
PAPER_SHEAR = 0.5  # of what a paper stands pulled, what it stands sheared: from memory


def is_board(of: Strength) -> bool:
    """Whether a stock is known by its papers."""
    return of.of(Property.WIDTH_STIFFNESS) is not None and of.of(Property.SHEAR_MODULUS) is not None


def wrinkles(of: Strength) -> Figure | None:
    """Force by width at which a pressed paper wrinkles on its core [N/mm]."""
    board, core = of.of(Property.WIDTH_STIFFNESS), of.of(Property.SHEAR_MODULUS)
    if board is None or core is None:
        return None

    def by_width(w: float, g: float) -> float:
        return float(wrinkling_mpa(w / PAPER_MM, CORE_MODULUS * g, g)) * PAPER_MM

    source = f"half of (E E G)^(1/3), a paper of {mm(PAPER_MM)}, from memory; {board.source}"
    return worked_out(by_width, board, core, unit="N/mm", source=source)


def paper_shear(of: Strength) -> Figure | None:
    """Shear flow that a paper stands [N/mm]."""
    paper = of.of(Property.WIDTH_TENSION)
    share = Figure(PAPER_SHEAR, PAPER_SHEAR, PAPER_SHEAR, "-", "a paper's shear over its tension, from memory")
    return paper.times(share, "N/mm") if paper is not None else None
