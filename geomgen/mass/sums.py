"""Sums of a mass statement's lines: one blade in the blade frame, the whole craft in the rotor frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.frames import applied, blades_to_rotor, hub_to_rotor
from geomgen.mass.band import Band, mean_bands, sum_bands
from geomgen.mass.doubt import Doubts, sheets_of
from geomgen.mass.lines import Line
from geomgen.model.role import Assembly
from geomgen.stock.sharing import Sharing

NO_SHARING: Sharing = MappingProxyType({})


@dataclass(frozen=True)
class BladeMass:
    """One blade, in the blade frame at the reference pitch; r is taken along the feather axis, coning left out.

    mass_g                        : mass [g]
    cg_radius_mm                  : centre of gravity from the rotor axis [mm]
    cg_chordwise_mm               : centre of gravity from the feather axis, + forward [mm]
    cg_chordwise_r_weighted_mm    : the same weighted by r, integral of x r dm over integral of r dm: where the pull
                                    of the turning blade acts [mm]
    cg_vertical_mm                : centre of gravity from the feather axis, + up [mm]
    static_moment_g_mm            : mass times radius of the centre of gravity [g mm]
    apart_g, apart_g_mm           : nine of ten pairs of blades differ by no more, in mass and in static moment
    weigh_first                   : lots by what share of the doubt about its mass they bring, the largest first [-]
    """

    mass_g: Band
    cg_radius_mm: Band
    cg_chordwise_mm: Band
    cg_chordwise_r_weighted_mm: Band
    cg_vertical_mm: Band
    static_moment_g_mm: Band
    apart_g: float
    apart_g_mm: float
    weigh_first: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class CraftMass:
    """All blades at the pitch set, coned, and the hub, in the rotor frame of the craft's own hand.

    blades    : [-]
    mass_g    : mass of all parts [g]
    payload_g : carried besides [g]
    lift_g    : both: what the rotor has to lift [g]
    cg_x_mm, cg_y_mm, cg_z_mm : centre of gravity of the parts, without payload [mm]
    """

    blades: int
    mass_g: Band
    payload_g: float
    lift_g: Band
    cg_x_mm: Band
    cg_y_mm: Band
    cg_z_mm: Band


def blade_mass(lines: Sequence[Line], sharing: Sharing = NO_SHARING) -> BladeMass:
    """The sums of one blade's lines; what is on the hub is passed over.

    sharing : by part, the sheet of each copy
    """
    mine = [line for line in lines if line.assembly == Assembly.BLADE]
    grams, doubts = _grams(mine), doubts_of(mine, sharing, 0)
    out, forward, up = _places(mine).T
    out_forward, one = np.array([line.out_forward_mm2 for line in mine]), np.ones(len(mine))
    mass, moment = sum_bands(grams, np.array([one, out]), doubts)
    over, under = np.array([out, forward, out_forward, up]), np.array([one, one, out, one])
    radius, chordwise, r_weighted, vertical = mean_bands(grams, over, under, doubts)
    apart = difference(grams, np.array([one, out]), mine, sharing)
    return BladeMass(
        mass,
        radius,
        chordwise,
        r_weighted,
        vertical,
        moment,
        float(apart[0]),
        float(apart[1]),
        weigh_first(grams, doubts),
    )


def craft_mass(lines: Sequence[Line], design: Design, sharing: Sharing = NO_SHARING) -> CraftMass:
    """The sums of all lines, blades placed by azimuth, coning and the pitch set, mirrored last if clockwise.

    design : where blades, pitch, coning, turn and payload are read
    """
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    places = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, clockwise)
    on_blade, at = np.array([line.assembly == Assembly.BLADE for line in lines], dtype=bool)[:, None], _places(lines)
    centres = np.where(on_blade, applied(np.mean(places, axis=0), at), applied(hub_to_rotor(clockwise), at))
    grams, doubts = _grams(lines) * np.where(on_blade, rotor.blades, 1), doubts_of(lines, sharing, None, rotor.blades)
    one, payload = np.ones((1, len(lines))), design.duty.payload
    (mass,) = sum_bands(grams, one, doubts)
    x, y, z = mean_bands(grams, centres.T, np.repeat(one, 3, axis=0), doubts)
    return CraftMass(rotor.blades, mass, payload, mass.plus(payload), x, y, z)


def doubts_of(lines: Sequence[Line], sharing: Sharing, blade: int | None, blades: int = 1) -> Doubts:
    """How the errors of lines hang together.

    blade : the one that is meant, from 0; None for all of them
    """
    on = {line.key: _mine(line, sharing.get(line.key, ()), blade) for line in lines}
    pieces = [line.count * (blades if line.assembly == Assembly.BLADE and blade is None else 1) for line in lines]
    shares = np.array([line.split.shares for line in lines]).reshape(-1, 3)
    sheets = sheets_of([line.key for line in lines], on)
    return Doubts(tuple(line.lot for line in lines), shares, sheets, np.array(pieces, dtype=np.float64))


def weigh_first(grams: FloatArray, doubts: Doubts) -> tuple[tuple[str, float], ...]:
    """Lots by the share of a sum's variance that they bring: to weigh the first of them takes most doubt away.

    grams : (n, 3) low, typical, high mass of each line [g]
    """
    half = (grams[:, 2] - grams[:, 0]) / 2.0
    lots = list(dict.fromkeys(doubts.lots))
    alone = np.array([[half[k] if of == lot else 0.0 for k, of in enumerate(doubts.lots)] for lot in lots])
    squares = doubts.combined(alone.reshape(len(lots), len(half))) ** 2
    whole = float(squares.sum())
    found = [(lot, float(square) / whole) for lot, square in zip(lots, squares, strict=True) if whole > 0.0]
    return tuple(sorted(found, key=lambda each: -each[1]))


def difference(grams: FloatArray, levers: FloatArray, mine: Sequence[Line], sharing: Sharing) -> FloatArray:
    """(q,) by how much the sums of two blades differ, nine of ten: what all of a stock share drops out.

    grams, levers : as in `sum_bands`
    """
    half = (grams[:, 2] - grams[:, 0]) / 2.0
    keys = [line.key for line in mine]
    both = {key: sharing.get(key, ()) for key in keys}
    count = {line.key: line.count for line in mine}
    names = sorted({name for some in both.values() for name in some})
    apart = np.zeros((len(keys), len(names)))
    for row, key in enumerate(keys):
        for blade, sign in ((0, 1.0), (1, -1.0)):
            for name in both[key][blade * count[key] : (blade + 1) * count[key]]:
                apart[row, names.index(name)] += sign / count[key]
    unknown = np.array([0.0 if both[key] else 2.0 for key in keys])
    _, sheet, own = np.array([line.split.shares for line in mine]).reshape(-1, 3).T
    pieces = np.array([line.count for line in mine], dtype=np.float64)
    effects = levers * half
    shared = ((effects * np.sqrt(sheet)) @ apart) ** 2
    alone = effects**2 * (sheet * unknown + 2.0 * own / pieces)
    return np.asarray(np.sqrt(shared.sum(axis=1) + alone.sum(axis=1)))


def _mine(line: Line, sheets: Sequence[str], blade: int | None) -> Sequence[str]:
    """The sheets of a line's pieces in one blade, or in all."""
    if blade is None or line.assembly != Assembly.BLADE:
        return sheets
    return sheets[blade * line.count : (blade + 1) * line.count]


def _grams(lines: Sequence[Line]) -> FloatArray:
    return np.array([line.set_g for line in lines]).reshape(-1, 3)


def _places(lines: Sequence[Line]) -> FloatArray:
    return np.array([line.place_mm for line in lines]).reshape(-1, 3)
