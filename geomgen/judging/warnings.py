"""Warnings: what can be made, and a builder would shake their head at. Each by a rule that says where it comes from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from geomgen.balance.stages import Balance
from geomgen.design.schema import Design, Fitting, Glued, LengthStock
from geomgen.errors import Fault
from geomgen.figures import at_least, at_most, figure, g, mm, newton, percent
from geomgen.hover.feeding import Drive, fan_fitting
from geomgen.hover.hovering import Hovering, carrying_rpm
from geomgen.hover.mean_lift import MeanLift
from geomgen.hover.power.chain import Beyond
from geomgen.hover.power.wire import MOST_RISE_K, Warmth
from geomgen.hover.rotor import NoSetting
from geomgen.judging.bonds import Hold, RibHold
from geomgen.mass.statement import MassStatement
from geomgen.materials.bond_strength import Surface, glue_strength
from geomgen.materials.catalogue import find_glue, known
from geomgen.materials.fans import find_fan
from geomgen.materials.figure import Figure
from geomgen.materials.packs import pack_mass_g
from geomgen.model.joint import Bond
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.root.hub_spec import HubSpec
from geomgen.root.reach import below_mm
from geomgen.root.root import blind_mm
from geomgen.strength.load_path import LoadPath, pull_n

GUESS_OFF = 0.2  # guess and weight further apart than this share of the guess; common practice
TIP_M_S = 60.0  # a tip faster than this asks for more than a home workshop can see to; common practice
LEAST_WALL_MM, LEAST_WALL_SHARE = 0.3, 0.05  # of a tube, and of its outside; thinner ones crush as cut; common practice
STUCK_N = 10.0  # what its own adhesive may be trusted with on film, foam or balsa; common practice
SCREW_SHARE = 2.0  # sheet that crushes wants this many diameters under a screw; common practice

PRACTICE = "common practice"


def about_the_craft(design: Design, mass: MassStatement) -> Iterator[Fault]:
    """Weight against guess, and how fast the tip goes."""
    duty, rotor, weight = design.duty, design.rotor, mass.craft.lift_g.typical
    if duty.mass_guess and abs(weight - duty.mass_guess) > GUESS_OFF * duty.mass_guess:
        over = weight / duty.mass_guess - 1.0
        wrong = f"the craft comes to {g(weight, 0)}, {abs(over):.0%} {'over' if over > 0 else 'under'} the guess"
        allowed = f"within {GUESS_OFF:.0%} of what it weighs ({PRACTICE})"
        yield Fault("duty.mass_guess", g(duty.mass_guess, 0), wrong, allowed, f'"{g(weight, 0)}"')
    tip = duty.rpm_max * math.pi / 30 * rotor.radius * 1e-3 * math.cos(math.radians(rotor.coning))
    if tip > TIP_M_S:
        allowed = f"at most {math.floor(TIP_M_S / tip * duty.rpm_max)} rpm: {figure('m/s', TIP_M_S)} ({PRACTICE})"
        yield Fault("duty.rpm_max", f"{duty.rpm_max:g} rpm", f"the tips go {figure('m/s', tip, 0)}", allowed)


def about_hover(design: Design, mass: MassStatement, lift: MeanLift, hover: Hovering | None) -> Iterator[Fault]:
    """Whether it lifts at its pitch, with what it has; rpm against what carries it; wires' warmth.

    lift  : mean lift at the typical mass to lift, for where hover finds no rpm
    hover : None where it can't be reckoned
    """
    duty, weight = design.duty, mass.craft.lift_g.typical
    (_, carrying, _), by_hover = carrying_rpm(hover, (lift.rpm, lift.rpm, lift.rpm))
    how = (
        f"at {design.pitch.set:g} deg" if by_hover else "by mean lift, which leaves out what the rotor does to the air,"
    )
    for path, rpm in (("duty.rpm", duty.rpm), ("duty.rpm_max", duty.rpm_max)):
        if rpm < carrying:
            wrong = f"{how} that carries {g(weight * (rpm / carrying) ** 2, 0)} of {g(weight, 0)}"
            remedy = "more rpm, more blade, or less weight"
            yield Fault(path, f"{rpm:g} rpm", wrong, f"at least {math.ceil(carrying)} rpm", remedy)
    if hover is not None:
        yield from _about_lift(design, hover)
        yield from _about_wires(design, hover)


def _about_lift(design: Design, hover: Hovering) -> Iterator[Fault]:
    flown, wanted = hover.flown, hover.lift_left
    pitch, value = "pitch.set", f"{hover.flown.pitch_deg:g} deg"
    best = hover.best_pinned
    does = best is not None and best.reaches(wanted) and best is not flown
    instead = (
        f'set = "{best.pitch_deg:g} deg"' if does and best is not None else "stronger fans, more blade, less weight"
    )
    if isinstance(flown.setting, NoSetting):
        yield Fault(pitch, value, f"nothing carries it there: {flown.setting.why}", "", instead)
    elif isinstance(flown.working, Beyond):
        wrong = f"fans and pack are too weak to hold {flown.setting.rpm:.0f} rpm there"
        yield Fault(pitch, value, wrong, "full throttle at most", instead)
    elif flown.at_floor and flown.lasts is not None:
        yield Fault(pitch, value, f"{flown.lasts.stop.value} there", "", f"a larger pack, or {instead}")
    elif flown.full is not None:
        if not flown.reaches(wanted):
            wrong = f"full throttle leaves {percent(flown.full.lift_left)} of lift over"
            yield Fault(pitch, value, wrong, f"at least {percent(wanted)} (duty.lift_left)", instead)
        if flown.full.rpm > design.duty.rpm_max:
            wrong = f"full throttle turns it at {flown.full.rpm:.0f} rpm there, and pulls are stated for less"
            remedy = "a higher rpm_max, or a throttle that can't be opened so far"
            yield Fault(
                "duty.rpm_max", f"{design.duty.rpm_max:g} rpm", wrong, f"{math.ceil(flown.full.rpm)} rpm", remedy
            )


def about_fans(design: Design, driven: Drive) -> Iterator[Fault]:
    """A fan whose stated thrust is hard to believe of its power; fans and packs that don't weigh what their like do."""
    for path, one, kind in _of_a_class(design):
        if not kind.low <= one.mass <= kind.high:
            wrong = f"things of its kind weigh {g((kind.low, kind.high), 0, '{} to {} {u}')}"
            yield Fault(f"{path}.mass", g(one.mass), wrong, "", "weigh it, or look at what the file says that it does")
    name = fan_fitting(design)
    if driven.fan is not None and driven.fan.caution and name is not None:
        path, thrust = f"fan.{design.fitting[name].fan}.static", newton(driven.fan.static_thrust_n)
        yield Fault(path, thrust, driven.fan.caution, "", "a kitchen scale and a watt meter")


def _of_a_class(design: Design) -> Iterator[tuple[str, Fitting, Figure]]:
    """Path of each fitting that is a pack, or a fan of a class; the fitting; what its like weigh [g]."""
    for name, fitting in design.fitting.items():
        if fitting.pack is not None:
            pack = design.pack[fitting.pack]
            yield f"fitting.{name}", fitting, pack_mass_g(pack.cells, pack.capacity)
        if fitting.fan is not None and (of := design.fan[fitting.fan].class_) is not None:
            yield f"fitting.{name}", fitting, find_fan(of).mass


def _about_wires(design: Design, hover: Hovering) -> Iterator[Fault]:
    name = fan_fitting(design)
    if not hover.controls or name is None or (here := hover.controls[0]).stands is not Warmth.HOT:
        return
    wrong = f"full throttle makes its wires {here.full_rise_k:.0f} K warmer than still air, beside all of their channel"
    allowed = f"{MOST_RISE_K:g} K in foam, glue and print (from memory)"
    yield Fault(f"wire.{name}", "", wrong, allowed, "more copper, or the speed control at the fan")


def about_tubes(design: Design) -> Iterator[Fault]:
    """Tubes of spars whose wall is thinner than a tube is sold with, or can be cut without crushing."""
    stocks = dict.fromkeys(spar.stock for spar in design.blade.spar.values())
    for name in stocks:
        tube = design.stock.get(name)
        if not isinstance(tube, LengthStock) or tube.outside is None or not tube.inside:
            continue
        wall, least = (tube.outside - tube.inside) / 2, max(LEAST_WALL_MM, LEAST_WALL_SHARE * tube.outside)
        if wall < least - 1e-9:
            users = [f"spar {spar}" for spar, table in design.blade.spar.items() if table.stock == name]
            wrong = f"{', '.join(users)}: that leaves a wall of {mm(wall, significant=3)}"
            most = at_most(tube.outside - 2 * least, 2)
            allowed = f"at most {most}: {mm(LEAST_WALL_MM)} or a twentieth of the outside ({PRACTICE})"
            yield Fault(f"stock.{name}.inside", mm(tube.inside), wrong, allowed)


def about_balance(balance: Balance) -> Iterator[Fault]:
    """More unbalance, as designed and with the best trim, than the design would leave."""
    aim, left = balance.aim_g_mm, balance.left.static
    if aim is None or left.size <= aim:
        return
    where = f" at {left.whole_deg} deg from blade 1, anticlockwise seen from above"
    wrong = f"what turns is out of balance by {figure('g mm', left.size, 0)}{where}"
    if balance.trim is not None and balance.trim.weights:
        before = figure("g mm", balance.unbalance.static.size, 0)
        wrong += f", with {g(balance.trim.mass_g)} of weights in its pockets: {before} as designed"
    remedy = "move what lies off the axis, or give it something opposite"
    if balance.trim is None or balance.trim.out_of_reach.size > aim:
        remedy += ", or pockets where no weight can be put now: [hub.trim]"
    yield Fault("balance.aim", figure("g mm", aim), wrong, f"at most {figure('g mm', aim)}", remedy)


def about_screws(design: Design, flying: Made) -> Iterator[Fault]:
    """Screws through a rib of a sheet that crushes under their heads, and thinner than twice their diameter."""
    parts = {part.key: part for part in flying}
    backed = {key for j in flying.joints for key in (j.a, j.b) if Role.DOUBLER in (j.a.role, j.b.role)}
    told = dict[tuple[str, str], str]()
    for joint in flying.joints:
        screw, rib = parts.get(joint.a), parts.get(joint.b)
        if joint.bond is not Bond.SCREWED or screw is None or screw.role is not Role.SCREW or rib is None:
            continue
        if rib.role is not Role.RIB or rib.key in backed or not _crushes(design, rib):
            continue
        sheet, wants = design.sheet(rib.stock), SCREW_SHARE * screw.facts["diameter_mm"]
        if sheet.thickness < wants - 1e-9:
            wrong = f"{rib.name} of {rib.stock}, {mm(sheet.thickness, significant=3)}: {screw.name} crushes it"
            allowed = f"{mm(wants)}, twice the screw's diameter ({PRACTICE})"
            told[joint.path, wrong] = allowed
    for (path, wrong), allowed in told.items():
        yield Fault(path, "", wrong, allowed, "a rib of ply there, or a doubler of ply")


def about_bonds(ribs: Sequence[RibHold], flying: Made) -> Iterator[Fault]:
    """Ribs whose glue lines on the spars carry less than what pulls on them; what is fixed to them is blamed."""
    for rib in ribs:
        if rib.holds_n is None or rib.pull_n <= rib.holds_n:
            continue
        wrong = (
            f"{rib.name} at r {mm(rib.r_mm, 0)}, {rib.stock}: {newton(rib.pull_n, 1)} pull on it at rpm_max, and its "
            f"glue lines on the spars carry {newton(rib.holds_n, 1)} at the least"
        )
        fixed = [joint.a for joint in flying.joints if joint.b == rib.rib and joint.a.role is Role.FITTING]
        remedy = f"a rib of ply there, or a thicker one ({rib.source})"
        yield Fault(fixed[0].path if fixed else rib.rib.path, "", wrong, "", remedy)


def about_stuck(design: Design, mass: MassStatement) -> Iterator[Fault]:
    """Fittings whose own adhesive holds more than it may be trusted with."""
    for line in mass.lines:
        fitting = design.fitting.get(line.path.removeprefix("fitting.")) if line.role is Role.FITTING else None
        pull = pull_n(line.set_g[2], line.place_mm[0], design.duty.rpm_max)
        if fitting is not None and fitting.stuck and pull > STUCK_N:
            wrong = f"{line.name}: {newton(pull, 1)} pull on its adhesive at rpm_max"
            allowed = f"at most {newton(STUCK_N)} ({PRACTICE})"
            yield Fault(f"{line.path}.stuck", "true", wrong, allowed, "a rib there to fix it to: rib = true")


def about_the_collar(design: Design, path: LoadPath, held: Hold | None) -> Iterator[Fault]:
    """A collar that nothing fixes to its spar, or a glue line that carries less than what hangs on it.

    path : its link to the collar is read
    held : how its glue line holds it, where that is known
    """
    collar, at = design.hub.collar, "hub.collar.fixing"
    pull = path.to_collar.pull_n[2]
    if collar.fixing is None:
        wrong = f"nothing says what fixes the collar to the spar, and {newton(pull, 0)} hang on it at rpm_max"
        remedy = (
            f'for instance fixing = {{ kind = "glued", length = "{at_most(collar.length)}" }}; or pinned, or clamped'
        )
        yield Fault(at, "", wrong, "", remedy)
    if not isinstance(collar.fixing, Glued):
        return
    glue, length = find_glue(collar.fixing.glue), collar.fixing.length
    shear, _ = glue_strength(glue.name, Surface.TUBE)
    if held is None or shear is None:
        wrong = f"the collar: no figure is known for {glue.name} on a tube, and {newton(pull, 0)} hang on it"
        yield Fault(f"{at}.glue", f'"{glue.name}"', wrong, "", 'glue = "epoxy", or a pin, or a clamp')
    elif pull > held.holds_n:
        wrong = (
            f"the collar: {newton(pull, 0)} pull on its glue line at rpm_max, and it carries {newton(held.holds_n, 0)}"
        )
        allowed = f"at least {at_least(length * held.share, 1)} ({shear.source})"
        yield Fault(f"{at}.length", mm(length), wrong, allowed, "with a collar as long")


def about_the_pins(design: Design) -> Iterator[Fault]:
    """Pins that friction alone keeps from leaving outwards."""
    if design.pitch.pin.clip is None and not blind_mm(design):
        wrong = "the pitch pins go through both caps, and nothing keeps them from leaving outwards"
        remedy = "a printed turning cap, in which they end; or a clip on each: clip = { outside = ..., mass = ... }"
        yield Fault("pitch.pin.clip", "", wrong, "", remedy)


def about_the_underside(design: Design, caps: Made, spec: HubSpec) -> Iterator[Fault]:
    """Caps that reach below the hub's underside, on which it stands and is bolted down."""
    names = {part.key: part.name for part in caps}
    smaller = "two pins, which stand fore and aft" if design.pitch.pin.count > 2 else "smaller pins, or a larger step"
    for key, below in below_mm(design, caps, axis_height_mm=spec.axis_height).items():
        if below > 0.0:
            bay = at_least(spec.bay_height + 2 * below, 1)
            wrong = (
                f"the {names[key]} reaches {mm(below, 1)} below the hub's underside: it can't stand on anything flat"
            )
            remedy = f"hub.bay.height = {bay}, or a smaller cap: {smaller}"
            yield Fault(key.path, "", wrong, "", remedy)


def _crushes(design: Design, rib: Part) -> bool:
    material = known(design.sheet(rib.stock).of)
    return material is not None and material.working.soft
