"""The air, and the rpm that carries the craft."""

from __future__ import annotations

from geomgen.blade.blade import Blade
from geomgen.blade.planform import planform
from geomgen.blade.stages import PLACES
from geomgen.design.schema import Design
from geomgen.hover import pitch_slope
from geomgen.hover.air import Air, air
from geomgen.hover.mean_lift import MeanLift, mean_lift
from geomgen.hover.pitch_slope import LiftPerPitch
from geomgen.mass.statement import MassStatement
from geomgen.stages import reads


@reads("duty.air")
def air_of(design: Design) -> Air:
    """The air of the design's duty."""
    return air(design.duty.air.height * 1e-3, design.duty.air.temperature)


@reads(*PLACES, "duty.lift_coefficient", "rotor.blades", "rotor.coning")
def lifts(design: Design, blade: Blade, mass: MassStatement, around: Air) -> tuple[MeanLift, MeanLift, MeanLift]:
    """Mean lift at the low, typical and high mass to lift."""
    r, chord = planform(design, blade)

    def carrying(grams: float) -> MeanLift:
        rotor, lift_coefficient = design.rotor, design.duty.lift_coefficient
        return mean_lift(r, chord, rotor.blades, grams, lift_coefficient, around.density_kg_m3, rotor.coning)

    lift = mass.craft.lift_g
    return carrying(lift.low), carrying(lift.typical), carrying(lift.high)


@reads("rotor.radius")
def lift_per_pitch(design: Design, lifts: tuple[MeanLift, MeanLift, MeanLift]) -> LiftPerPitch:
    """What a degree of pitch does to the lift at the weight and rpm that are typical."""
    return pitch_slope.lift_per_pitch(lifts[1], radius_mm=design.rotor.radius)
