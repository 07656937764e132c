"""Sums of a craft that was weighed in: each blade by itself, the mean of them, the whole craft.

likely: nine of ten, by what the readings leave; low and high: three standard deviations of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.frames import applied, blades_to_rotor, hub_to_rotor
from geomgen.mass.band import NOTHING, Band
from geomgen.mass.lines import Line
from geomgen.mass.sums import BladeMass, CraftMass
from geomgen.mass.weigh_in.as_built import FIT, AsBuilt


def one_built(lines: Sequence[Line], built: AsBuilt, blade: int) -> BladeMass:
    """The sums of one blade. blade : its number, from 1"""
    one = _of_blade(built, blade)
    out, forward, up = _places(built).T
    out_forward = np.array(
        [lines[each.line].out_forward_mm2 if each.line is not None else 0.0 for each in built.unknowns]
    )
    return BladeMass(
        mass_g=_sum(built, one),
        cg_radius_mm=_mean(built, one * out, one),
        cg_chordwise_mm=_mean(built, one * forward, one),
        cg_chordwise_r_weighted_mm=_mean(built, one * out_forward, one * out),
        cg_vertical_mm=_mean(built, one * up, one),
        static_moment_g_mm=_sum(built, one * out),
        apart_g=0.0,
        apart_g_mm=0.0,
    )


def mean_built(blades: Sequence[BladeMass], built: AsBuilt) -> BladeMass:
    """The mean of the blades, from the lightest's low to the heaviest's high; and how far two of them are apart.

    blades : as of `one_built`
    """
    out = _places(built)[:, 0]
    ones = [_of_blade(built, number) for number in range(1, len(blades) + 1)]
    pairs = [one - other for one, other in combinations(ones, 2)]
    apart = [max((_most(built, pair * lever) for pair in pairs), default=0.0) for lever in (np.ones(len(out)), out)]
    return BladeMass(
        _over(each.mass_g for each in blades),
        _over(each.cg_radius_mm for each in blades),
        _over(each.cg_chordwise_mm for each in blades),
        _over(each.cg_chordwise_r_weighted_mm for each in blades),
        _over(each.cg_vertical_mm for each in blades),
        _over(each.static_moment_g_mm for each in blades),
        apart[0],
        apart[1],
    )


def craft_built(design: Design, built: AsBuilt) -> CraftMass:
    """The whole craft, each blade with its own mass at its own place."""
    rotor, clockwise = design.rotor, design.rotor.turn == "clockwise"
    places = blades_to_rotor(rotor.blades, design.pitch.set, rotor.coning, clockwise)
    on_hub = hub_to_rotor(clockwise)
    flies = np.array([float(each.line is not None) for each in built.unknowns])
    matrices = (on_hub if each.blade is None else places[each.blade - 1] for each in built.unknowns)
    at = np.array([applied(matrix, each.at) for matrix, each in zip(matrices, built.unknowns, strict=True)])
    mass, payload = _sum(built, flies), design.duty.payload
    x, y, z = (_mean(built, flies * column, flies) for column in at.T)
    return CraftMass(rotor.blades, mass, payload, mass.plus(payload), x, y, z)


def _of_blade(built: AsBuilt, blade: int) -> FloatArray:
    return np.array([float(each.blade == blade) for each in built.unknowns])


def _places(built: AsBuilt) -> FloatArray:
    return np.array([each.at for each in built.unknowns]).reshape(-1, 3)


def _sum(built: AsBuilt, levers: FloatArray) -> Band:
    return _band(built.solved.value(levers), built, levers)


def _mean(built: AsBuilt, over: FloatArray, under: FloatArray) -> Band:
    """A quotient of sums; what each mass does to it, taken as straight."""
    below = built.solved.value(under)
    if below == 0.0:
        return NOTHING
    typical = built.solved.value(over) / below
    return _band(typical, built, (over - typical * under) / below)


def _band(typical: float, built: AsBuilt, levers: FloatArray) -> Band:
    half, deviation = built.solved.half(levers), built.solved.deviation(levers)
    return Band(typical - FIT * deviation, typical, typical + FIT * deviation, typical - half, typical + half)


def _most(built: AsBuilt, levers: FloatArray) -> float:
    """Nine of ten lie no further from 0."""
    return abs(built.solved.value(levers)) + built.solved.half(levers)


def _over(bands: Iterable[Band]) -> Band:
    some = list(bands)
    low, high = min(each.low for each in some), max(each.high for each in some)
    typical = sum(each.typical for each in some) / len(some)
    return Band(low, typical, high, min(each.likely_low for each in some), max(each.likely_high for each in some))
