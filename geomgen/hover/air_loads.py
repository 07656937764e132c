"""What air and fans do to one blade, handed over as plain data: along the blade, for each square of its speed."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.planform import planform
from geomgen.design.schema import Design
from geomgen.figures import figure
from geomgen.frames import applied, turn
from geomgen.hover.air import Air
from geomgen.hover.carried import Carried
from geomgen.hover.doubt import MODEL_THRUST
from geomgen.hover.feeding import Drive, fan_fitting
from geomgen.hover.flight import pulled_n
from geomgen.hover.hovering import Hovering
from geomgen.hover.mean_lift import MeanLift
from geomgen.hover.power.chain import at_throttle
from geomgen.hover.power.duct import air_power_w, thrust_at_power_n
from geomgen.hover.power.fan import Fan
from geomgen.hover.rotor import Rotor, Setting
from geomgen.model.air_loads import AirLoads, FanPull, Three
from geomgen.section.polar.record import AlongBlade

FULL_CHARGE = 1.0  # a full pack pulls most
FAN_SPEEDS = np.linspace(0.0, 60.0, 25)  # through the air, at which full throttle's pull is told [m/s]
# Speed at the tips of a small ducted fan's blades at full throttle, where its maker doesn't state its rpm: from memory
TIP_M_S: Three = (90.0, 130.0, 170.0)
PIECES = 40  # of a blade whose wake isn't known
# What its sections are taken to do there: from memory, for cambered sections of 12 to 15 %
DRAG_COEFFICIENT, MOMENT_COEFFICIENT, SLOPE_PER_RAD = 0.03, -0.08, 5.7
BY_WAKE = "lift and drag along the blade by hover's lifting line"
BY_MEAN_LIFT = "lift along the blade by one lift coefficient, drag and moment of sections from memory"


def air_loads(
    design: Design,
    blade: Blade,
    rotor: Rotor | None,
    found: Hovering | None,
    mean: tuple[MeanLift, MeanLift, MeanLift],
    drive: Drive,
    air: Air,
) -> AirLoads:
    """What air and fans do to one blade at the pitch to fly at.

    rotor, found : hover's; None where the wake isn't known
    mean         : mean lift at the low, typical and high mass, which stands in then
    """
    at = _flown(found)
    carries: Three | None
    if rotor is None or at is None:
        along, carries, source = _by_mean_lift(design, blade, air), _speeds(each.rpm for each in mean), BY_MEAN_LIFT
    else:
        along, source = _by_wake(rotor, at), BY_WAKE
        band = found.bands.get("rpm") if found is not None else None
        carries = None if band is None else _speeds((band.low, band.typical, band.high))
    r, wide, up, back, moment, slope = along
    stations = blade.stations(r)
    pitched = turn("x", design.pitch.set)
    quarter = [station.to_blade(np.array([[station.chord_mm / 4.0, 0.0]]))[0] for station in stations]
    full = found.flown.full if found is not None else None
    return AirLoads(
        r_mm=r,
        wide_mm=wide,
        up_n_s2=up,
        back_n_s2=back,
        turn_nm_s2=moment,
        slope_n_s2=slope,
        quarter_mm=applied(pitched, np.array(quarter))[:, 1:],
        spread=(1.0 - MODEL_THRUST, 1.0, 1.0 + MODEL_THRUST),
        carries=carries,
        full_rad_s=None if full is None else full.rpm * math.pi / 30.0,
        fans=_fans(design, blade, drive, air),
        density_kg_m3=air.density_kg_m3,
        source=source,
    )


Along = tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]


def _flown(found: Hovering | None) -> Carried | None:
    """The blades at the pitch to fly at, past stall too."""
    if found is None:
        return None
    at = found.flown.setting
    if isinstance(at, Setting):
        return at.blades
    return at.nearest.blades if at.nearest is not None else None


def _by_wake(rotor: Rotor, at: Carried) -> Along:
    loads, tip = at.point.loads, at.tip_speed_m_s
    radius, square = at.task.radius_m, at.rad_s**2
    down, scale = np.arctan2(loads.inflow, loads.r), at.task.force_n(tip) / math.pi / square
    wide = loads.dr * radius
    back = (loads.lift * np.sin(down) + loads.drag * np.cos(down)) * loads.dr * scale
    chord = rotor.wake.blade.chord * radius
    stream = 0.5 * at.task.air_density * (loads.r**2 + loads.inflow**2) * tip**2 / square
    assert isinstance(rotor.polar, AlongBlade), "a design's rotor has a polar at each panel"
    moment = rotor.polar.moment_at(loads.alpha_rad, loads.reynolds) * stream * chord**2 * wide
    slope = loads.forces.slope_per_rad * stream * chord * wide
    return at.r_m * 1e3, wide * 1e3, at.lift_n / square, np.asarray(back), np.asarray(moment), np.asarray(slope)


def _by_mean_lift(design: Design, blade: Blade, air: Air) -> Along:
    r_mm, chord_mm = planform(design, blade)
    edges = np.linspace(float(r_mm[0]), float(r_mm[-1]), PIECES + 1)
    r, wide = (edges[1:] + edges[:-1]) / 2.0, np.diff(edges)
    chord = np.interp(r, r_mm, chord_mm) * 1e-3
    pressed = 0.5 * air.density_kg_m3 * (r * 1e-3) ** 2 * chord * wide * 1e-3
    return (
        r,
        wide,
        pressed * design.duty.lift_coefficient,
        pressed * DRAG_COEFFICIENT,
        pressed * chord * MOMENT_COEFFICIENT,
        pressed * SLOPE_PER_RAD,
    )


def _speeds(rpm: Iterable[float]) -> Three:
    low, typical, high = (each * math.pi / 30.0 for each in rpm)
    return low, typical, high


def _fans(design: Design, blade: Blade, drive: Drive, air: Air) -> FanPull | None:
    name, place, fan = fan_fitting(design), drive.place, drive.fan
    if name is None or place is None or fan is None:
        return None
    table, density = design.fitting[name], air.density_kg_m3
    station = blade.station(design.r(table.at))
    at = np.array([station.r_mm, 0.0, 0.0])
    if table.chord is not None:
        at = station.to_blade(np.array([station.place(table.chord, table.height or "camber")]))[0]
    tilt = math.radians(place.tilt_deg + design.pitch.set)
    spin, words = _spin(design, fan, place.count)
    return FanPull(
        place=applied(turn("x", design.pitch.set), at),
        forward=np.array([0.0, math.cos(tilt), math.sin(tilt)]),
        speeds_m_s=FAN_SPEEDS,
        full_n=place.count * np.array([_full_n(drive, fan, float(speed), density) for speed in FAN_SPEEDS]),
        drag_n_s2=place.count * 0.5 * density * place.drag_area_m2 * place.r_m**2,
        spin=spin,
        spin_words=words,
    )


def _full_n(drive: Drive, fan: Fan, speed_m_s: float, density: float) -> float:
    """Pull of one fan at full throttle [N]: of a full pack, or as measured standing where no pack feeds it."""
    if drive.chain is not None:
        return pulled_n(drive.chain, at_throttle(drive.chain, 1.0, 0.0, density, FULL_CHARGE), speed_m_s, density)
    power_w = air_power_w(fan.static_thrust_n, 0.0, fan.density_kg_m3, fan.exit_area_m2)
    return thrust_at_power_n(power_w, speed_m_s, density, fan.exit_area_m2)


def _spin(design: Design, fan: Fan, count: int) -> tuple[Three, str]:
    """Inertia times speed of all fans of one blade, + where it lifts the nose of the anticlockwise twin."""
    table = next(design.fan[each.fan] for each in design.fitting.values() if each.fan is not None)
    if fan.inertia_kg_m2 is None:
        return (0.0, 0.0, 0.0), "the fan's couple isn't in it: state inertia in [fan.*]"
    if table.turn is None:
        return (0.0, 0.0, 0.0), "the fan's couple isn't in it: state turn in [fan.*], as seen from behind"
    speed, words = _fan_rad_s(table.speed, fan)
    sign = 1.0 if (table.turn == "clockwise") == (design.rotor.turn == "anticlockwise") else -1.0
    inertia = fan.inertia_kg_m2
    low, typical, high = (
        sign * count * i * w for i, w in zip((inertia.low, inertia.typical, inertia.high), speed, strict=True)
    )
    return (low, typical, high), f"fan's inertia: {inertia.source}; its speed: {words}"


def _fan_rad_s(rpm: float | None, fan: Fan) -> tuple[Three, str]:
    if rpm is not None:
        stated = rpm * math.pi / 30.0
        return (stated, stated, stated), "design file"
    radius = fan.inside_mm * 0.5e-3
    low, typical, high = (speed / radius for speed in TIP_M_S)
    return (low, typical, high), f"its blades' tips at {figure('m/s', TIP_M_S[::2], 0, ' to ')}, from memory"
