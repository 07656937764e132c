"""Stress in all that runs along the blade, section by section, from the root rib's outer face on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property, Strength
from geomgen.model.joint import Key
from geomgen.model.part import Flat, Part
from geomgen.strength.blade_loads import Resultants
from geomgen.strength.build import Build
from geomgen.strength.cross_section import CrossSection, Piece
from geomgen.strength.sections.stiffness import TYPICAL, bodies
from geomgen.strength.sections.stress import stress_at_rim, to_rotor

GRAIN_ACROSS = 90.0


@dataclass(frozen=True, eq=False)
class Running:
    """One piece at one radius.

    section         : what else is there
    piece           : it
    loads           : (2, c) through the section
    pulled, pressed : (2, c) greatest tension and compression in it, each >= 0 [MPa]
    """

    section: CrossSection
    piece: Piece
    loads: Resultants
    pulled: FloatArray
    pressed: FloatArray

    @property
    def r_mm(self) -> float:
        """Where [mm]."""
        return self.section.r_mm

    @property
    def key(self) -> Key:
        """The part it is of."""
        return self.piece.key


Runs = Mapping[Key, Sequence[Running]]
"""What runs along the blade, by part, each from the root out."""


def outboard(build: Build) -> tuple[CrossSection, ...]:
    """Sections beyond the root rib's outer face: what lies inboard is the root's."""
    root = build.blanks[0].place
    return tuple(one for one in build.sections if one.r_mm > root.r_mm + root.thickness_mm / 2.0 - 1e-6)


def running(build: Build) -> Runs:
    """Stress in every piece at every section."""
    found = dict[Key, list[Running]]()
    main, pitch = main_spar(build), build.design.pitch.set
    for section in outboard(build):
        loads = build.loads.at(section.r_mm)
        for piece in section.pieces:
            pulled, pressed = stress_at_rim(section, piece, loads, pitch_deg=pitch, main_spar=main)
            found.setdefault(piece.key, []).append(Running(section, piece, loads, pulled, pressed))
    return found


def main_spar(build: Build) -> str:
    """Key path of the spar on the feather axis."""
    return f"blade.spar.{build.design.main_spar}"


def near(runs: Sequence[Running], r_mm: float) -> Running:
    """A piece at the last section inboard of a radius, where it is loaded more; else at its first."""
    return next((one for one in reversed(runs) if one.r_mm <= r_mm), runs[0])


def body_shear_n(build: Build, run: Running) -> FloatArray:
    """(2, c) shear up, square to the chord, of what a piece bends with: its share by stiffness [N]."""
    some = bodies(run.section)
    stiff = {number: float(ei[1, 1]) for number, (_, _, ei, _) in some.items()}
    whole = sum(stiff.values())
    share = run.section.taken_up * stiff[run.piece.bends_with] / whole if whole > 0.0 else 0.0
    force = np.stack([run.loads.lag_n, run.loads.flap_n], axis=-1) @ to_rotor(build.design.pitch.set)
    return np.asarray(share * np.abs(force[..., 1]))


def bending_share(run: Running) -> float:
    """Share of all the bending stiffness up and down that is one piece's own [-]."""
    some = bodies(run.section)
    whole = sum(float(ei[1, 1]) for _, _, ei, _ in some.values())
    away = float(run.piece.centre[1] - some[run.piece.bends_with][1][1])
    own = run.piece.modulus_mpa[TYPICAL] * (float(run.piece.second[1, 1]) + run.piece.area_mm2 * away**2)
    return min(own / whole, 1.0) if whole > 0.0 else 1.0


def across_grain(part: Part) -> bool:
    """Whether a part's grain runs across the blade."""
    return isinstance(part.shape, Flat) and part.shape.grain == GRAIN_ACROSS


def stands(part: Part, of: Strength) -> Iterator[tuple[Property, Figure | None]]:
    """What a part stands along the blade: pulled, then pressed."""
    across = across_grain(part)
    pulled = (Property.TENSION_ACROSS,) if across else (Property.TENSION, Property.BENDING)
    pressed = (Property.PLANE_COMPRESSION_ACROSS, Property.COMPRESSION_ACROSS) if across else (Property.COMPRESSION,)
    yield pulled[0], of.of(*pulled)
    yield pressed[0], of.of(*pressed)
