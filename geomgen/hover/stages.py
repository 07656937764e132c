"""The air, what it does to a section, what drives the rotor, and the rpm that carries the craft."""

from __future__ import annotations

import math

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.planform import planform
from geomgen.blade.stages import PLACES, Files
from geomgen.design.schema import Covered, Design, Sheeted
from geomgen.hover import air_loads as loads
from geomgen.hover import as_twisted as twisted
from geomgen.hover import feeding, pitch_slope
from geomgen.hover.air import GRAVITY_M_S2, Air, air
from geomgen.hover.air_side import REYNOLDS, along_blade, doubts_of, looks_mm, moved, panels_of
from geomgen.hover.as_twisted import AsTwisted
from geomgen.hover.coning import coning_rad
from geomgen.hover.feeding import Drive
from geomgen.hover.hovering import Hovering, hovering
from geomgen.hover.mean_lift import MeanLift, mean_lift
from geomgen.hover.pitch_slope import LiftPerPitch
from geomgen.hover.rotor import Rotor, Setting
from geomgen.hover.wake.influence import Wake, wake
from geomgen.mass.statement import MassStatement
from geomgen.model.air_loads import AirLoads
from geomgen.model.element import Element
from geomgen.model.made import Made
from geomgen.model.role import Assembly
from geomgen.root.fan_tilt import FanTilt
from geomgen.root.pattern import PitchPattern
from geomgen.root.pitch_error import PitchError
from geomgen.section.listing import Origin
from geomgen.section.polar.forces import zero_lift_rad
from geomgen.section.polar.own_table import read_table
from geomgen.section.polar.record import Polar
from geomgen.section.polar.stated import stated_polar
from geomgen.section.section import Section
from geomgen.stages import reads

OUTSIDE = "Reynolds numbers along the blade reach beyond those that a section's polar knows; its end is held there"
TELLING = 0.75  # share of the radius at which a section tells most of a rotor: common practice
WARM_DEG_C = 20.0  # that copper is taken to stand above the air in hover; its resistance changes by 8 % with that


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


@reads(*PLACES, "rotor.blades")
def wake_of(design: Design, blade: Blade) -> Wake | None:
    """The table of the blades' wake; None where they overlap at the root, or hardly reach beyond it."""
    found = panels_of(design, blade)
    return wake(found) if found is not None else None


@reads("blade.along", "blade.construction.kind", "blade.construction.cover")
def polars_of(design: Design, blade: Blade, *, files: Files) -> tuple[tuple[float, Polar], ...]:
    """Radius [mm], and what the section does in the air there; the maker's own table where there is one."""
    built = design.blade.construction
    open_bays = isinstance(built, Covered) or (isinstance(built, Sheeted) and built.cover is not None)
    own = [(i, entry.section.polar) for i, entry in enumerate(design.blade.along) if entry.section is not None]
    at: dict[tuple[Section, str | None], Polar] = {}
    radii = looks_mm(blade)
    if blade.fold is not None:
        return tuple((each.r_mm, stated_polar(each.section)) for each in blade.stations(radii))
    for (i, file), (_, section) in zip(own, blade.sections, strict=True):
        if (section, file) not in at and file is not None and files.folder is not None:
            at[section, file] = read_table(files.folder / file, Origin(file, f"blade.along[{i}].section.polar", file))
        elif (section, file) not in at:
            at[section, file] = stated_polar(section, open_bays=open_bays)
    pairs = zip(own, blade.sections, strict=True)
    return tuple((r, at[section, file]) for (_, file), (r, section) in pairs)


@reads(*PLACES, "fitting", "fan", "pack", "wire", "blade.channel", "rotor.blades")
def drive(design: Design, blade: Blade, wires: Made, around: Air, tilts: tuple[FanTilt, ...]) -> Drive:
    """What drives the rotor."""
    turned = {tilt.name: tilt.turned_deg for tilt in tilts}
    warm = around.temperature_k - 273.15 + WARM_DEG_C
    return feeding.drive(design, blade, wires, around, turned.get(feeding.fan_fitting(design) or "", 0.0), warm)


@reads("rotor.radius", "rotor.coning")
def rotor_of(
    design: Design,
    blade: Blade,
    table: Wake | None,
    polars: tuple[tuple[float, Polar], ...],
    around: Air,
    driven: Drive,
) -> Rotor | None:
    """The rotor as hover takes it; None where its wake isn't known."""
    if table is None:
        return None
    radius = design.rotor.radius
    r = table.blade.r * radius
    return Rotor(
        table,
        np.radians(blade.angle.at(r)),
        along_blade(r, np.array([at for at, _ in polars]), tuple(polar for _, polar in polars)),
        radius * 1e-3,
        math.radians(design.rotor.coning),
        around,
        driven.place,
    )


@reads("pitch.set", "pitch.range", "duty.lift_left", "rotor.radius")
def hover(
    design: Design,
    rotor: Rotor | None,
    driven: Drive,
    mass: MassStatement,
    error: PitchError,
    pattern: PitchPattern,
    polars: tuple[tuple[float, Polar], ...],
    elements: tuple[Element, ...],
) -> Hovering | None:
    """Whether it lifts, at which rpm and throttle, for how long, and at which pitch better."""
    if rotor is None:
        return None
    lift = mass.craft.lift_g
    without_lift = zero_lift_rad(rotor.polar, np.full(rotor.twist_rad.shape, REYNOLDS))
    weight = (lift.likely_high - lift.likely_low) / 2.0 / lift.typical
    inwards = sorted(polars, key=lambda each: abs(each[0] - TELLING * design.rotor.radius), reverse=True)
    alike = {polar.words[1:2]: polar.words for _, polar in inwards}  # what names the section stands first
    words = tuple(dict.fromkeys(word for told in alike.values() for word in told))
    found = hovering(
        rotor,
        driven.chain,
        weight_n=lift.typical * 1e-3 * GRAVITY_M_S2,
        pitch_deg=design.pitch.set,
        settings_deg=pattern.settings_deg,
        range_deg=design.pitch.range,
        lift_left=design.duty.lift_left,
        doubts=doubts_of(polars, weight, error.likely_deg, driven.fan.efficiency if driven.fan else None),
        doubted_polar=lambda draw: moved(rotor.polar, draw, without_lift),
        lacks=driven.lacks,
        words=(*words, *driven.words),
    )
    at = found.flown.setting
    if isinstance(at, Setting) and not all(polar.covers(at.blades.point.loads.reynolds) for _, polar in polars):
        found = found.saying(OUTSIDE)
    return found.coned(_coning(found, rotor, elements))


@reads(*PLACES, "fitting", "fan", "rotor.turn", "pitch.set", "duty.lift_coefficient")
def air_loads(
    design: Design,
    blade: Blade,
    rotor: Rotor | None,
    found: Hovering | None,
    mean: tuple[MeanLift, MeanLift, MeanLift],
    driven: Drive,
    around: Air,
) -> AirLoads:
    """What air and fans do to one blade at the pitch to fly at."""
    return loads.air_loads(design, blade, rotor, found, mean, driven, around)


@reads(*PLACES, "pitch.zero_at")
def as_twisted(
    design: Design, rotor: Rotor | None, found: Hovering | None, twist: tuple[FloatArray, FloatArray]
) -> AsTwisted | None:
    """Hover of a blade that its own loads twist."""
    return twisted.as_twisted(rotor, found, *twist, design.r(design.pitch.zero_at))


def carries(hover: Hovering | None) -> float | None:
    """The rpm that carries the craft at the pitch to fly at [1/min]; None where hover finds none."""
    return hover.bands["rpm"].typical if hover is not None and "rpm" in hover.bands else None


def _coning(found: Hovering, rotor: Rotor, elements: tuple[Element, ...]) -> float | None:
    """The coning at which lift, weight and centrifugal force of one blade would balance [deg]."""
    at = found.flown.setting
    if not isinstance(at, Setting):
        return None
    mine = [each for each in elements if each.assembly == Assembly.BLADE and each.blade in (None, 1)]
    r, kg = (np.array(column) for column in zip(*((e.centre[0] * 1e-3, e.mass_g * 1e-3) for e in mine), strict=True))
    lift_r, lift_n = at.blades.r_m, at.blades.lift_n
    if rotor.fans is not None:  # what they pull up hangs on the blade too
        up_n = at.fans_up_n / rotor.blades / math.cos(rotor.coning_rad)
        lift_r, lift_n = np.append(lift_r, rotor.fans.r_m), np.append(lift_n, up_n)
    free = math.degrees(coning_rad(lift_r, lift_n, r, kg, at.blades.rad_s))
    return None if math.isnan(free) else free
