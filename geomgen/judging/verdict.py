"""The verdict: the few figures that a maker came for, before any table."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.hover.mean_lift import MeanLift, chord_moment
from geomgen.judging.bonds import Hold
from geomgen.mass.band import Triple
from geomgen.mass.statement import MassStatement
from geomgen.strength.load_path import LoadPath


@dataclass(frozen=True)
class Verdict:
    """What is known of the craft as a whole.

    lift_g             : (low, typical, high) mass to lift, payload included [g]
    guess_g            : the design's guess of it [g]; None where it makes none
    blade_area_mm2     : of all blades, seen from above, from root to tip [mm2]
    disc_area_mm2      : of the circle that the tips go round, as if they didn't rise [mm2]
    disc_loading_kg_m2 : typical mass to lift over disc area [kg/m2]
    carrying_rpm       : (low, typical, high) rpm at which mean lift carries it [1/min]
    rpm, rpm_max       : of the design [1/min]
    lifted_g           : what mean lift carries at `rpm` [g]
    pull_n             : (low, typical, high) pull of one blade on the hub at `rpm_max` [N]
    tightest           : of the glue lines that could be judged, the one that is used up most; None where none could
    """

    lift_g: Triple
    guess_g: float | None
    blade_area_mm2: float
    disc_area_mm2: float
    disc_loading_kg_m2: float
    carrying_rpm: Triple
    rpm: float
    rpm_max: float
    lifted_g: float
    pull_n: Triple
    tightest: Hold | None

    @property
    def off_the_guess(self) -> float | None:
        """How far the typical mass to lift is over the guess, as a share of it; None where there is no guess [-]."""
        return self.lift_g[1] / self.guess_g - 1.0 if self.guess_g else None

    @property
    def carries(self) -> bool:
        """Whether mean lift carries the typical mass at the design's rpm."""
        return self.rpm >= self.carrying_rpm[1]


def verdict(
    design: Design,
    *,
    plan: tuple[FloatArray, FloatArray],
    mass: MassStatement,
    lifts: Sequence[MeanLift],
    path: LoadPath,
    used_most: Hold | None,
) -> Verdict:
    """The verdict on a craft.

    design : its guess, blades and speeds
    plan   : radii and chords between which the chord runs straight [mm]
    lifts  : mean lift at the low, typical and high mass to lift
    path   : load path of one blade, whose last link is the one to the hub
    used_most : of the glue lines that could be judged, the one that is used up most
    """
    duty, rotor, lift = design.duty, design.rotor, mass.craft.lift_g
    disc = math.pi * rotor.radius**2
    return Verdict(
        lift_g=(lift.low, lift.typical, lift.high),
        guess_g=duty.mass_guess,
        blade_area_mm2=rotor.blades * chord_moment(*plan, 0),
        disc_area_mm2=disc,
        disc_loading_kg_m2=lift.typical * 1e-3 / (disc * 1e-6),
        carrying_rpm=(lifts[0].rpm, lifts[1].rpm, lifts[2].rpm),
        rpm=duty.rpm,
        rpm_max=duty.rpm_max,
        lifted_g=lift.typical * (duty.rpm / lifts[1].rpm) ** 2,
        pull_n=path.links[-1].pull_n,
        tightest=used_most,
    )
