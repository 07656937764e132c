"""What `geomgen hover` says: whether it lifts, pitch by pitch, what takes the power, and how sure all of it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.craft import Craft
from geomgen.errors import Fault
from geomgen.figures import figure, fixed, percent
from geomgen.hover.doubt import Doubted
from geomgen.hover.flight import CHARGE, Flight
from geomgen.hover.hovering import Hovering
from geomgen.hover.power.chain import Beyond, Working
from geomgen.hover.rotor import Setting
from geomgen.views.cautions import HOVER, cautions
from geomgen.views.page import Cell, Item, Page, Row, Section, Table, as_columns
from geomgen.views.quantity import Force, Number, Speed
from geomgen.views.verdict import verdict_sections

CAUSES = {
    "weight": "weight",
    "pitch_deg": "blades' pitch",
    "slope": "sections' slope of lift",
    "zero_lift_deg": "sections' angle without lift",
    "greatest": "sections' greatest lift",
    "drag": "sections' drag",
    "efficiency": "fans",
}
NOT_IN = (
    "Not in here: what hub and spars drag, the jet on the tip's vortex, the fan's duct as an end plate (0 to +6 % of "
    "thrust), air that the blades stir among themselves on a craft that stands, wind. A fan's pull at speed is by "
    "momentum, within 10 %, as no measured table was found; its efficiency at part throttle is from memory."
)


def hover_page(craft: Craft, warnings: Sequence[Fault] = ()) -> Page:
    """The whole page: verdict, each pitch, where power goes, speed controls, ground, doubts."""
    design, found = craft.design, craft.hover
    title = f"{design.title}: does it lift?\nStill air, far from the ground, at the typical weight."
    sections: tuple[Section, ...] = ((title,), *verdict_sections(craft.verdict, warnings))
    if found is None:
        return Page((*sections, (UNKNOWN,)), design.units or "mm")
    return Page((*sections, *hover_sections(craft, found), cautions(HOVER)), design.units or "mm")


UNKNOWN = "Hover isn't reckoned for blades that overlap at their root, or begin beyond 80 % of the radius."


def hover_sections(craft: Craft, found: Hovering) -> Iterator[Section]:
    """All that is said below the verdict."""
    if found.lacks:
        yield tuple(Item("note", f"not known: {each}") for each in found.lacks)
    yield _pitches(found)
    if isinstance(found.flown.setting, Setting):
        yield _power(found, found.flown.setting)
        yield from _controls(found)
        yield _along(found.flown.setting)
        yield _sure(found)
        yield _ground(found)
        yield _shape(craft, found, found.flown.setting)
    yield ("What it rests on", *found.words, NOT_IN)


def _pitches(found: Hovering) -> Section:
    """Every pitch, those that can be pinned marked."""
    flights = sorted((*found.pinned, *found.others), key=lambda each: each.pitch_deg)
    pinned = {each.pitch_deg for each in found.pinned}
    rows = tuple(_row(each, each.pitch_deg in pinned, each is found.flown) for each in flights)
    columns = as_columns(
        "pitch, deg", "", "rpm", "air, W", "each fan, N", "throttle, %", "cells, W", "min", "lift left, %",
        "at full, rpm",
    )  # fmt: skip
    words = (
        "air: power that blades and fans' housings take; cells: what the pack's cells give for it. Throttle and lift "
        f"left at {percent(CHARGE)} of the charge, minutes from a full pack; {percent(found.lift_left)} of lift left "
        "are wanted. at full: the rpm of full throttle; stall: part of the blade is past its stall there."
    )
    return "Pitch by pitch", Table(columns, rows, left=0), words


def _row(each: Flight, pinned: bool, flown: bool) -> Row:
    mark = "set" if flown else "pinned" if pinned else ""
    at = each.setting
    if not isinstance(at, Setting):
        return (Number(each.pitch_deg, 1), mark, "past stall" if at.nearest else "no lift", *[""] * 7)
    air: Row = (Number(each.pitch_deg, 1), mark, Number(at.rpm, 0), Number(at.air_w, 1), Force(at.fan_n, 2))
    if isinstance(each.working, Beyond):
        return (*air, "too much", "", "", _left(each), _full(each))
    if each.working is None:
        return (*air, *[""] * 5)
    minutes: Cell = Number(each.lasts.minutes, 1) if each.lasts else ""
    throttle, cells = Number(100.0 * each.working.throttle, 0), Number(each.working.taken_w, 0)
    return (*air, throttle, cells, minutes, _left(each), _full(each))


def _left(each: Flight) -> Cell:
    return Number(100.0 * each.full.lift_left, 0) if each.full else ""


def _full(each: Flight) -> Cell:
    return f"{fixed(each.full.rpm, 0)}{', stall' * each.full.stalled}" if each.full else ""


def power_rows(found: Hovering, at: Setting) -> list[tuple[str, float]]:
    """Where the power goes at the pitch to fly at, from the blades in [W]."""
    rows = [
        ("lift: air driven down", at.blades.induced_w),
        ("drag of the blades' sections", at.blades.profile_w),
        ("drag of the fans' housings", at.nacelle_w),
    ]
    working = found.flown.working
    if isinstance(working, Working):
        rows += [
            ("left in the fans' jets", working.air_w - at.air_w),
            ("lost in fans, motors and speed controls", working.fans_w),
            ("lost in the wires", working.wires_w),
            ("lost in the pack", working.pack_w),
        ]
    return rows


def _power(found: Hovering, at: Setting) -> Section:
    rows = power_rows(found, at)
    total = sum(watt for _, watt in rows)
    cells = tuple((name, Number(watt, 1), Number(100.0 * watt / total, 0)) for name, watt in rows)
    last: Row = ("all of it", Number(total, 1), Number(100.0, 0))
    lasts = found.flown.lasts
    words = f"{fixed(lasts.minutes, 1)} min from a full pack: {lasts.stop.value} then." if lasts else ""
    if isinstance(found.flown.working, Working):
        plug = found.flown.working
        words += f" At the pack's plug a watt meter shows {fixed(plug.plug_w, 0)} W: "
        words += f"{fixed(plug.pack_v, 1)} V, {fixed(plug.pack_a, 1)} A."
    table = Table(as_columns("where it goes", "W", "%"), (*cells, last), left=1, foot=1)
    return (f"Power at {at.pitch_deg:g} deg and {at.rpm:.0f} rpm", table, *((words,) if words else ()))


def _controls(found: Hovering) -> Iterator[Section]:
    if not found.controls:
        return
    rows: list[Row] = []
    for each in found.controls:
        here = "at the fan" if each.at_tip else "at the hub"
        rows.append((
            f"{here}{', as designed' * (each is found.controls[0])}", Number(each.wire_a, 1), Number(each.drop_v, 2),
            Number(each.working.wires_w, 1), Number(each.rise_k, 0), Number(each.full_rise_k, 0),
            Number(each.working.taken_w, 1), Number(each.working.pack_a, 1),
        ))  # fmt: skip
    columns = as_columns(
        "speed controls", "a wire, A", "drop, V", "lost, W", "warmer, K", "at full, K", "from the cells, W", "pack, A"
    )
    words = (
        f"Wires: {found.controls[0].stands.value}. At the hub they carry the motor's current, which at part throttle "
        "is more than the pack's; two of three conduct at a time. warmer: a wire's outside above still air, as many "
        "beside it as its channel holds, alike in current; buried in foam, 0.7 times the current makes as much."
    )
    yield "Speed controls at the hub or at the fan", Table(columns, tuple(rows), left=1), words


def _along(at: Setting) -> Section:
    loads, radius = at.blades.point.loads, at.blades.task.radius_m
    rows: list[Row] = []
    for k in range(0, len(loads.r), 2):
        rows.append((
            Number(100.0 * loads.r[k], 0), Number(float(loads.alpha_rad[k]) * 57.29578, 1),
            Number(float(loads.forces.lift[k]), 2), Number(float(loads.forces.drag[k]), 4),
            Number(float(loads.reynolds[k]) * 1e-3, 0), Speed(float(loads.r[k]) * at.blades.rad_s * radius),
        ))  # fmt: skip
    columns = as_columns("r, % of R", "angle of attack, deg", "lift coefficient", "drag", "Re, 1000", "speed, m/s")
    past = "Part of it is past its stall." if loads.past_stall.any() else "No part of it is past its stall."
    mach = f"Tip: {figure('m/s', at.blades.tip_speed_m_s, 1)}, Mach {at.blades.mach_tip:.3f}. {past}"
    return "Along the blade", Table(columns, tuple(rows), left=0), mach


def _sure(found: Hovering) -> Section:
    names = {"rpm": "rpm", "air_w": "power in the air, W", "cells_w": "power from the cells, W", "minutes": "minutes"}
    rows: list[Row] = [
        (names[name], Number(band.low, 1), Number(band.typical, 1), Number(band.high, 1), _main(band))
        for name, band in found.bands.items()
    ]
    words = [
        "Between low and high lie nine of ten craft like this one, as far as weight, pitch, sections and fans are in "
        "doubt. The model's own error, thrust at a pitch within 12 % and power at a thrust -10 to +20 %, comes on top."
    ]
    if found.theories is not None:
        line, annuli = found.theories.lifting_line, found.theories.annuli
        words.append(
            f"At this pitch and rpm thrust by {annuli.theory} is {percent(found.theories.apart)} above that by "
            f"{line.theory} (thrust coefficient {annuli.thrust:.5f}, {line.thrust:.5f})"
            + (": more than 15 % apart. " if found.theories.warn else ". ")
            + "On broad blades measured rotors had 20 to 45 % less than the former."
        )
    unknown = dict.fromkeys(cause for band in found.bands.values() for cause in band.unknown)
    if unknown:
        words.append(f"Not in it, as nothing hovers at its ends: {', '.join(CAUSES[cause] for cause in unknown)}.")
    table = Table(as_columns("", "low", "typical", "high", "most doubt comes from"), tuple(rows), left=1)
    return ("How sure", table, *words)


def _main(band: Doubted) -> str:
    return ", ".join(f"{CAUSES[cause]} {percent(share)}" for cause, share in band.causes[:2])


def _ground(found: Hovering) -> Section:
    rows: list[Row] = []
    for each in found.ground:
        one = each.rpm[0] == each.rpm[1]
        ends = (each.rpm, 0), (each.air_w, 1)
        cells = [fixed(pair[0], d) if one else f"{fixed(pair[0], d)} to {fixed(pair[1], d)}" for pair, d in ends]
        rows.append((Number(each.height, 2), *cells))
    words = (
        "Two published forms of the ground's effect; where they differ, both. Nothing is known below 0.5 R: a craft on "
        "short legs lifts sooner and less steadily, and that says nothing of free air."
    )
    return "Near the ground", Table(as_columns("height, R", "rpm", "in the air, W"), tuple(rows), left=0), words


def _shape(craft: Craft, found: Hovering, at: Setting) -> Section:
    built, free = craft.design.rotor.coning, found.coning_deg
    if free is None:
        return ("Coning",)
    off = free - built
    more = "up" if off > 0 else "down"
    words = (
        f"Free to flap, a blade would stand at {free:.1f} deg, where lift, weight and centrifugal force balance; "
        f"{built:g} deg are built in. The root bends for the rest, {abs(off):.1f} deg {more}."
    )
    if (fans := craft.drive.place) is not None:
        words += f" Fans lie level at a pitch of {-fans.tilt_deg:.1f} deg; at {at.pitch_deg:g} deg all of them pull "
        words += f"{percent(at.fans_up_n / at.weight_n, 1)} of the weight."
    return "Coning and fans' tilt", words
