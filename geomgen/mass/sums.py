"""Sums of a mass statement's lines: one blade in the blade frame, the whole craft in the rotor frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.frames import applied, blade_to_rotor, hub_to_rotor
from geomgen.mass.band import Band, Triple, mean_band, sum_band
from geomgen.mass.unit_mass import StockFigure
from geomgen.model.role import Assembly, Role

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Line:
    """One part in the statement.

    name, role, stock, path, assembly, count : as in `Part`; count is that of one blade, or of the hub
    amount          : measure of one, in `figure.per` [mm3] | [mm2] | [mm] | pieces
    figure          : what one measure weighs, and where that is from
    share           : printed mass over solid mass; 1 for what isn't printed [-]
    one_g           : (low, typical, high) mass of one [g]
    set_g           : the same of all in one blade, or on the hub [g]
    place_mm        : centre (out, forward, up) in the blade frame at the reference pitch; in the rotor frame of the
                      anticlockwise twin for what is on the hub [mm]
    out_forward_mm2 : mean of out times forward over its mass [mm2]
    """

    name: str
    role: Role
    stock: str
    path: str
    assembly: Assembly
    count: int
    amount: float
    figure: StockFigure
    share: float
    one_g: Triple
    set_g: Triple
    place_mm: Triple
    out_forward_mm2: float

    @property
    def doubt(self) -> str:
        """Lines of one name rise and fall together: those of one stock, else of one table."""
        return f"stock {self.stock}" if self.stock else self.path


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
    mine = [line for line in lines if line.assembly == "blade"]
    grams, groups = _grams(mine), [line.doubt for line in mine]
    out, forward, up = np.array([line.place_mm for line in mine]).reshape(-1, 3).T
    out_forward = np.array([line.out_forward_mm2 for line in mine])
    one = np.ones(len(mine))
    return BladeMass(
        mass_g=sum_band(grams, one, groups),
        cg_radius_mm=mean_band(grams, out, one, groups),
        cg_chordwise_mm=mean_band(grams, forward, one, groups),
        cg_chordwise_r_weighted_mm=mean_band(grams, out_forward, out, groups),
        cg_vertical_mm=mean_band(grams, up, one, groups),
        static_moment_g_mm=sum_band(grams, out, groups),
    )


def craft_mass(lines: Sequence[Line], design: Design) -> CraftMass:
    """The sums of all lines, blades placed by azimuth, coning and the pitch set, mirrored last if clockwise."""
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    blades = [
        blade_to_rotor(number, rotor.blades, design.pitch.set, rotor.coning, clockwise)
        for number in range(1, rotor.blades + 1)
    ]
    frames = {Assembly.BLADE: np.array(blades), Assembly.HUB: hub_to_rotor(clockwise)[None]}
    places = [np.mean([applied(matrix, line.place_mm) for matrix in frames[line.assembly]], axis=0) for line in lines]
    grams = _grams(lines) * np.array([[len(frames[line.assembly])] for line in lines]).reshape(-1, 1)
    groups, one = [line.doubt for line in lines], np.ones(len(lines))
    x, y, z = (mean_band(grams, at, one, groups) for at in np.array(places).reshape(-1, 3).T)
    mass = sum_band(grams, one, groups)
    payload = design.duty.payload
    return CraftMass(rotor.blades, mass, payload, mass.plus(payload), x, y, z)


def _grams(lines: Sequence[Line]) -> FloatArray:
    return np.array([line.set_g for line in lines]).reshape(-1, 3)
