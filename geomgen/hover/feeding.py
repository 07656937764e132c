"""What drives a design's rotor, from tables to records: its fan, its pack, the copper between them; and what lacks."""

from __future__ import annotations

from dataclasses import dataclass, replace

from geomgen.blade.blade import Blade
from geomgen.design.schema import Design
from geomgen.design.schema import Fan as FanTable
from geomgen.hover.air import Air
from geomgen.hover.power.chain import Chain
from geomgen.hover.power.fan import PLUS_MINUS, Fan, class_fan, measured_fan
from geomgen.hover.power.pack import Pack
from geomgen.hover.power.wire import Wire
from geomgen.hover.rotor import FanPlace
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.materials.packs import cell_resistance_ohm
from geomgen.materials.wires import gauge_mm2
from geomgen.model.made import Made
from geomgen.model.part import Length
from geomgen.model.role import Role

CELL_V = 3.6  # of a cell under load, midway; what a class fan's power is taken to hold for; common practice
MOTOR_WIRES, CURRENT_WIRES = 3, 2


@dataclass(frozen=True, eq=False)
class Drive:
    """What drives the rotor.

    place : where the fans pull; None where no fitting is one
    fan   : one of them; None likewise
    chain : from pack to fan; None where no pack feeds it
    lacks : what isn't known, and what to state
    words : where figures came from, and what to doubt of them
    """

    place: FanPlace | None
    fan: Fan | None
    chain: Chain | None
    lacks: tuple[str, ...]
    words: tuple[str, ...]


def fan_fitting(design: Design) -> str | None:
    """Name of the fitting that is a fan; the rules see to it that there is one at most."""
    return next((name for name, fitting in design.fitting.items() if fitting.fan is not None), None)


def drive(design: Design, blade: Blade, wires: Made, air: Air, turned_deg: float, warm_deg_c: float) -> Drive:
    """What drives a design's rotor.

    wires      : as they lie along one blade
    turned_deg : how far the fan's mount is turned, nose down against its rib's chord line [deg]
    warm_deg_c : of the copper [degC]
    raises     : DesignError where a fan's figures aren't to be believed
    """
    name = fan_fitting(design)
    if name is None:
        return Drive(None, None, None, (NO_FAN,), ())
    fitting, table = design.fitting[name], design.fan[design.fitting[name].fan or ""]
    pack_name, pack = _pack(design, name)
    fan = _fan(table, air, f"fan.{fitting.fan}.static", CELL_V * pack.cells if pack is not None else None)
    r = design.r(fitting.at)
    tilt = float(blade.angle.at(r)) - turned_deg
    place = FanPlace(fitting.count, r * 1e-3, tilt, fan.drag_area_m2)
    scale = SCALE if table.static is None else ""
    words = tuple(word for word in (f"fan: {fan.source}", fan.caution, scale) if word)
    if pack is None:
        return Drive(place, fan, None, (f'no pack feeds the fan: [pack.*] with feeds = ["{name}"]',), words)
    wire, at_tip, lacks = _wire(design, name, wires)
    where = f"pack {pack_name}: a cell's resistance: {pack.cell_resistance_ohm.source}"
    chain = Chain(fan, fitting.count * design.rotor.blades, pack, wire, at_tip, warm_deg_c)
    return Drive(place, fan, chain, lacks, (*words, where))


NO_FAN = 'no fitting is a fan: fan = "..." in its fitting, and [fan.*] with what it pulls on a scale'
SCALE = "a kitchen scale and a watt meter at three throttles say more of a fan than any label"


def _fan(table: FanTable, air: Air, path: str, volts: float | None) -> Fan:
    if table.static is not None:
        measured = table.static
        fan = measured_fan(
            table.inside, table.centre, measured.thrust, measured.power, measured.voltage, air,
            PLUS_MINUS if table.plus_minus is None else table.plus_minus, path,
        )  # fmt: skip
    else:
        fan = class_fan(table.class_ or "", air, voltage_v=volts, path=path.replace(".static", ".class"))
        if table.plus_minus is not None:
            typical, off = fan.efficiency.typical, table.plus_minus
            spread = Figure(typical * (1 - off), typical, typical * (1 + off), "-", fan.efficiency.source)
            fan = replace(fan, efficiency=spread)
    if table.drag is not None:
        fan = replace(fan, drag_area_m2=table.drag.frontal * 1e-6 * table.drag.coefficient)
    if table.inertia is not None:
        fan = replace(fan, inertia_kg_m2=_stated(table.inertia * 1e-7, "kg m2"))
    return fan


def _stated(value: float, unit: str) -> Figure:
    return Figure(value, value, value, unit, DESIGN_FILE)


def _pack(design: Design, fed: str) -> tuple[str | None, Pack | None]:
    """The pack that feeds a fitting, so many of them side by side as lie on the hub."""
    for name, table in design.pack.items():
        if fed in table.feeds:
            stated = table.resistance
            ohm = _stated(stated, "ohm") if stated else cell_resistance_ohm(table.capacity)
            count = sum(fitting.count for fitting in design.fitting.values() if fitting.pack == name)
            return name, Pack(table.cells, table.capacity, ohm, table.floor, max(count, 1))
    return None, None


def _wire(design: Design, name: str, wires: Made) -> tuple[Wire | None, bool, tuple[str, ...]]:
    """The wire that carries the fan's current, which has its name; where its controller sits; what lacks."""
    controls = [fitting for fitting in design.fitting.values() if name in fitting.controls]
    at_tip = bool(controls) and controls[0].on == "blade"
    lacks = (
        [] if controls else [f'where the speed control sits: taken at the hub; controls = ["{name}"] in its fitting']
    )
    table = design.wire.get(name)
    if table is None:
        return None, at_tip, (*lacks, f"what feeds the fan along the blade: a [wire.{name}] in a channel")
    copper = gauge_mm2(table.awg) if table.awg is not None else table.copper
    if copper is None:
        return None, at_tip, (*lacks, f"copper of [wire.{name}]: copper or awg; nothing is lost in it until then")
    needed, each = CURRENT_WIRES if at_tip else MOTOR_WIRES, table.count / design.fitting[name].count
    if each < needed:
        lacks.append(
            f"{needed} wires go to a fan whose speed control sits at the {'tip' if at_tip else 'hub'}: {each:g}"
        )
    lengths = (part.shape for part in wires.parts if part.role == Role.WIRE and part.path == f"wire.{name}")
    length = next((shape.length_mm for shape in lengths if isinstance(shape, Length)), 0.0)
    passed = next((each.passes.wires for each in design.blade.channel.values() if name in each.passes.wires), [name])
    beside = sum(design.wire[each].count for each in passed)
    return Wire(copper * max(each / needed, 1.0), table.outside, length * 1e-3, needed, beside), at_tip, tuple(lacks)
