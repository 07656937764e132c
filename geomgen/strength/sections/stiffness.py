"""How stiff cross-sections are: stretched, bent either way, and twisted."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.cross_section import Cell, CrossSection, Piece, Stiffness
from geomgen.strength.formulas.cell import cell_gj_nmm2

TYPICAL = 1  # of (low, typical, high)
NM2 = 1e-6  # [N m2] of 1 [N mm2]


def stiffness(sections: Sequence[CrossSection], column: int = TYPICAL) -> Stiffness:
    """What cross-sections come to.

    sections : (k,) along r
    column   : of moduli: 0 low, 1 typical, 2 high
    returns  : bending stiffness is the sum of that of each body about its own centre: what ribs alone tie together
               bends side by side, forward and back as far together as a closed sheet makes it (`together`), and at the
               root the main spar alone does (`taken_up`). `centre` is that of all by E times area. Twist: each piece's
               own, and closed cells
    """
    groups = [list(bodies(section, column).values()) for section in sections]
    ei = np.array([_bent(some, section.taken_up) for some, section in zip(groups, sections, strict=True)])
    ei = ei.reshape(-1, 2, 2) * NM2
    ei[:, 0, 0] += [section.together * apart_nm2(section, column)[0] for section in sections]
    ea = np.array([sum(ea for ea, _, _, _ in some) for some in groups])
    first = np.array([sum((ea * centre for ea, centre, _, _ in some), np.zeros(2)) for some in groups]).reshape(-1, 2)
    share = {piece.key: np.zeros(len(sections)) for section in sections for piece in section.pieces}
    for k, some in enumerate(groups):
        whole, up = sum(float(own[1, 1]) for _, _, own, _ in some), sections[k].taken_up
        for number, (_, _, own, pieces) in enumerate(some):
            part = up * float(own[1, 1]) / whole if whole > 0.0 else 0.0
            for piece in pieces:
                share[piece.key][k] = part + (1.0 - up) * (number == 0)
    return Stiffness(
        r_mm=np.array([section.r_mm for section in sections]),
        ea_n=ea,
        ei_nm2=ei,
        gj_nm2=np.array([gj_nm2(section, column) for section in sections]),
        centre=np.divide(first, ea[:, None], out=np.zeros_like(first), where=ea[:, None] > 0.0),
        share=share,
    )


def apart_nm2(section: CrossSection, column: int = TYPICAL) -> tuple[float, FloatArray]:
    """What pulling on one and pressing another adds to bending forward, if they act wholly together [N m2]; and the
    (2,) middle of all by E times area [mm]."""
    each = [(ea, centre) for ea, centre, _, _ in bodies(section, column).values()]
    whole = sum(ea for ea, _ in each)
    if whole <= 0.0:
        return 0.0, np.zeros(2)
    middle = np.asarray(sum((ea * centre for ea, centre in each), np.zeros(2)) / whole)
    return sum(ea * float(centre[0] - middle[0]) ** 2 for ea, centre in each) * NM2, middle


Body = tuple[float, FloatArray, FloatArray, list[Piece]]
"""E A [N], centre (2,) [mm], E I about it (2, 2) [N mm2], and its pieces."""


@lru_cache(maxsize=256)  # a blade's sections, asked again and again for their pieces
def bodies(section: CrossSection, column: int = TYPICAL) -> dict[int, Body]:
    """What bends as one, by number."""
    found: dict[int, list[Piece]] = {}
    for piece in section.pieces:
        found.setdefault(piece.bends_with, []).append(piece)
    return {number: _body(pieces, column) for number, pieces in found.items()}


def _bent(some: Sequence[Body], taken_up: float) -> FloatArray:
    """(2, 2) bending stiffness of bodies side by side, of which those after the first have so much of their share:
    moment over the first one's curvature [N mm2]."""
    whole = np.asarray(sum((ei for _, _, ei, _ in some), np.zeros((2, 2))))
    if taken_up >= 1.0 or not some or np.linalg.det(some[0][2]) <= 0.0:
        return whole
    give = (1.0 - taken_up) * np.linalg.inv(some[0][2]) + taken_up * np.linalg.inv(whole)
    return np.asarray(np.linalg.inv(give))


def _body(pieces: list[Piece], column: int) -> Body:
    stretched = [piece.modulus_mpa[column] * piece.area_mm2 for piece in pieces]
    ea = sum(stretched)
    if ea <= 0.0:
        return 0.0, np.zeros(2), np.zeros((2, 2)), pieces
    centre = np.asarray(sum((e * p.centre for e, p in zip(stretched, pieces, strict=True)), np.zeros(2)) / ea)
    ei = np.zeros((2, 2))
    for each, piece in zip(stretched, pieces, strict=True):
        ei += piece.modulus_mpa[column] * piece.second + each * np.outer(piece.centre - centre, piece.centre - centre)
    return ea, centre, ei, pieces


def gj_nm2(section: CrossSection, column: int = TYPICAL) -> float:
    """Twisting stiffness of a cross-section [N m2]."""
    own = sum(piece.shear_mpa[column] * piece.torsion_mm4 for piece in section.pieces)
    return own * NM2 + sum(cell_gj_nm2(cell, column) for cell in section.cells)


def cell_gj_nm2(cell: Cell, column: int = TYPICAL) -> float:
    """Twisting stiffness of a closed cell, by Bredt [N m2]."""
    _, long, thick, shear = zip(*cell.walls, strict=True)
    return float(cell_gj_nmm2(cell.area_mm2, np.array(long), np.array(thick), np.array(shear)[:, column])) * NM2
