"""Sums of a mass statement's lines: one blade in the blade frame, the whole craft in the rotor frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.frames import applied, blades_to_rotor, hub_to_rotor
from geomgen.mass.band import Band, mean_bands, sum_bands
from geomgen.mass.lines import Line
from geomgen.model.role import Assembly


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
    """

    mass_g: Band
    cg_radius_mm: Band
    cg_chordwise_mm: Band
    cg_chordwise_r_weighted_mm: Band
    cg_vertical_mm: Band
    static_moment_g_mm: Band


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


def blade_mass(lines: Sequence[Line]) -> BladeMass:
    """The sums of one blade's lines; what is on the hub is passed over."""
    mine = [line for line in lines if line.assembly == Assembly.BLADE]
    grams, lots = _grams(mine), [line.lot for line in mine]
    out, forward, up = _places(mine).T
    out_forward, one = np.array([line.out_forward_mm2 for line in mine]), np.ones(len(mine))
    mass, moment = sum_bands(grams, np.array([one, out]), lots)
    over, under = np.array([out, forward, out_forward, up]), np.array([one, one, out, one])
    radius, chordwise, r_weighted, vertical = mean_bands(grams, over, under, lots)
    return BladeMass(mass, radius, chordwise, r_weighted, vertical, moment)


def craft_mass(lines: Sequence[Line], design: Design) -> CraftMass:
    """The sums of all lines, blades placed by azimuth, coning and the pitch set, mirrored last if clockwise.

    design : where blades, pitch, coning, turn and payload are read
    """
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    places = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, clockwise)
    on_blade, at = np.array([line.assembly == Assembly.BLADE for line in lines], dtype=bool)[:, None], _places(lines)
    centres = np.where(on_blade, applied(np.mean(places, axis=0), at), applied(hub_to_rotor(clockwise), at))
    grams, lots = _grams(lines) * np.where(on_blade, rotor.blades, 1), [line.lot for line in lines]
    one, payload = np.ones((1, len(lines))), design.duty.payload
    (mass,) = sum_bands(grams, one, lots)
    x, y, z = mean_bands(grams, centres.T, np.repeat(one, 3, axis=0), lots)
    return CraftMass(rotor.blades, mass, payload, mass.plus(payload), x, y, z)


def _grams(lines: Sequence[Line]) -> FloatArray:
    return np.array([line.set_g for line in lines]).reshape(-1, 3)


def _places(lines: Sequence[Line]) -> FloatArray:
    return np.array([line.place_mm for line in lines]).reshape(-1, 3)
