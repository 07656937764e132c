"""Stress in the pieces of a cross-section: pull, bending both ways at once, and twist."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.strength.blade_loads import Resultants
from geomgen.strength.cross_section import Cell, CrossSection, Piece
from geomgen.strength.formulas.cell import cell_flow_n_mm
from geomgen.strength.sections.stiffness import NM2, TYPICAL, apart_nm2, bodies, cell_gj_nm2, gj_nm2

PULL_NOTE = (
    "all the pull outboard is taken to go down the spar on the feather axis: ribs hand on to it what hangs on them, "
    "and what the skin carries of it is left out"
)


OVER = 1.33  # moment at the second rib over its share of what begins at the root: beams joined at ribs in even bays say
# 1.30 to 1.33, whether it is stiff or limp beside the spar, see tests/strength/sections


def stress_at_rim(
    section: CrossSection, piece: Piece, loads: Resultants, *, pitch_deg: float, main_spar: str
) -> tuple[FloatArray, FloatArray]:
    """Most pulled and most pressed place of a piece, by pull and bending [MPa].

    loads     : through this section: (2, c) each, in the rotor's axes
    pitch_deg : the blade is turned nose up by this against those axes [deg]
    main_spar : key path of the spar that carries all pull; where it doesn't reach, all pieces share it by E A
    returns   : (2, c) greatest tension, 0 where there is none, and (2, c) greatest compression, both >= 0
    source    : plane sections: curvature = EI^-1 M of all bodies together, stress = E (pull/EA - curvature . place),
                places from the centre of what the piece bends with, and as far as a closed sheet ties what lies side
                by side, forward and back from the middle of all; typical moduli
    """
    strain = _pulled(section, piece, loads.pull_n, main_spar)
    curved = curvature(section, loads, pitch_deg=pitch_deg, number=piece.bends_with)
    centre = bodies(section)[piece.bends_with][1]
    beside = section.together * (centre[0] - apart_nm2(section)[1][0])
    away = (piece.rim - centre + np.array([beside, 0.0])) * 1e-3
    stress = piece.modulus_mpa[TYPICAL] * (strain[..., None] - curved @ away.T)
    return np.maximum(stress.max(axis=-1), 0.0), np.maximum(-stress.min(axis=-1), 0.0)


def curvature(section: CrossSection, loads: Resultants, *, pitch_deg: float, number: int) -> FloatArray:
    """(2, c, 2) curvature forward and up in the blade frame, + where it bends the tip that way, of what bends with a
    number [1/m]; 0 where nothing bends.

    All bend alike, but at the root: what hasn't taken up its share bends less, and what goes on to the hub more. Past
    the second rib both are taken at their most.
    """
    each = bodies(section)
    whole = np.asarray(sum((ei for _, _, ei, _ in each.values()), np.zeros((2, 2)))) * NM2
    whole[0, 0] += section.together * apart_nm2(section)[0]
    moments, up = np.stack([loads.lag_nm, loads.flap_nm], axis=-1) @ to_rotor(pitch_deg), section.taken_up
    if np.linalg.det(whole) <= 0.0:
        return np.zeros_like(moments)
    shared = up * np.asarray(moments @ np.linalg.inv(whole))
    own = each[number][2] * NM2
    if number > 0:
        return shared * section.over
    return shared + (1.0 - up) * (moments @ np.linalg.inv(own)) if up < 1.0 else shared


def handed_on_n(section: CrossSection, loads: Resultants, *, pitch_deg: float, bay_mm: float) -> FloatArray:
    """(2, c) force by which the root rib presses on the main spar one way and the second rib the other, so that what
    begins at the root takes up its bending; what the ribs' own pulls and lift are comes on top [N].

    section, loads : at the second rib
    bay_mm         : between the two
    source         : a couple, moment over bay
    """
    others = [ei for number, (_, _, ei, _) in bodies(section).items() if number > 0]
    if section.taken_up <= 0.0 or not others:
        return np.zeros_like(loads.flap_nm)
    curved = curvature(section, loads, pitch_deg=pitch_deg, number=1) / section.taken_up / section.over * OVER
    moments = curved @ (np.asarray(sum(others)) * NM2)
    return np.asarray(np.hypot(moments[..., 0], moments[..., 1]) * 1e3 / bay_mm)


def to_rotor(pitch_deg: float) -> FloatArray:
    """(2, 2) matrix from (forward, up) of the blade frame to those of the rotor's axes, nose up by the pitch [deg]."""
    p = np.radians(pitch_deg)
    return np.array([[np.cos(p), -np.sin(p)], [np.sin(p), np.cos(p)]])


def twist_share(section: CrossSection, piece: Piece) -> float:
    """Share of the twist that a piece takes by itself, closed cells apart [-]."""
    whole = gj_nm2(section)
    return piece.shear_mpa[TYPICAL] * piece.torsion_mm4 * 1e-6 / whole if whole > 0.0 else 0.0


def flow_n_mm(section: CrossSection, cell: Cell, turn_nm: FloatArray) -> FloatArray:
    """Shear flow round a closed cell, which takes its share of the twist by stiffness [N/mm].

    turn_nm : twist through the section, in any shape [N m]
    """
    whole = gj_nm2(section)
    share = cell_gj_nm2(cell) / whole if whole > 0.0 else 0.0
    return np.abs(cell_flow_n_mm(turn_nm * 1e3 * share, cell.area_mm2))


def web_flow_n_mm(section: CrossSection, web: Piece, force_n: FloatArray) -> FloatArray:
    """Shear flow that a web hands from what lies below it to what lies above, the web's own bending left out [N/mm].

    force_n : shear up, square to the chord, of all that bends with it, in any shape [N]
    source  : closed form, V sum(E A z) / EI of what lies above the middle; typical moduli
    """
    _, centre, stiff, pieces = bodies(section)[web.bends_with]
    above = [(one, max(float(one.centre[1] - centre[1]), 0.0)) for one in pieces if one is not web]
    first = sum(one.modulus_mpa[TYPICAL] * one.area_mm2 * up for one, up in above)
    return np.asarray(force_n * first / float(stiff[1, 1]))


def _pulled(section: CrossSection, piece: Piece, pull_n: FloatArray, main_spar: str) -> FloatArray:
    """Strain by pull of a piece [-]."""
    carries = [one for one in section.pieces if one.key.path == main_spar] or list(section.pieces)
    stretched = sum(one.modulus_mpa[TYPICAL] * one.area_mm2 for one in carries)
    if stretched <= 0.0 or all(one is not piece for one in carries):
        return np.zeros_like(pull_n)
    return np.asarray(pull_n / stretched)
