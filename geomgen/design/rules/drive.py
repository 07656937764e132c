"""Rules of what drives the rotor: fans, packs, and the copper between them."""

from __future__ import annotations

import math

from geomgen.design.keypath import KeyPath
from geomgen.design.near import near
from geomgen.design.rules.tools import Faults, fault, guarded, known
from geomgen.design.schema.design import Design
from geomgen.design.schema.outfit import Fan, Fitting, Pack, Wire
from geomgen.figures import at_most, figure, mm, percent
from geomgen.materials.fans import fan_names
from geomgen.materials.wires import gauge_mm2

LEAST_FLOOR_V, MOST_FLOOR_V = 2.8, 4.0  # of a lithium polymer cell under load; common practice
LEAST_RING = 0.3  # of a duct's opening, that its middle leaves free; what is less is a slip of the pen


def drive(design: Design) -> Faults:
    """Fans lie on blades, packs on the hub; each has its table, each table its fitting, and each fan one pack."""
    for name, fitting in design.fitting.items():
        yield from guarded(_does(design, ("fitting", name), fitting), _controls(design, ("fitting", name), fitting))
    yield from guarded(_one_fan(design))
    for name, fan in design.fan.items():
        yield from guarded(_used(design, "fan", name), _known_by(("fan", name), fan), _ring(("fan", name), fan))
    for name, pack in design.pack.items():
        yield from guarded(_used(design, "pack", name), _floor(("pack", name), pack), _feeds(design, name, pack))
    for name, wire in design.wire.items():
        yield from guarded(_copper(("wire", name), wire))


def _does(design: Design, path: KeyPath, fitting: Fitting) -> Faults:
    if fitting.fan is not None:
        yield from known((*path, "fan"), fitting.fan, design.fan, "fan")
        if fitting.on == "hub":
            yield fault((*path, "fan"), "would drive nothing on the hub", remedy='on = "blade"')
    if fitting.pack is not None:
        yield from known((*path, "pack"), fitting.pack, design.pack, "pack")
        if fitting.on == "blade":
            wrong = "lies on a blade, where it would be thrown outwards"
            yield fault((*path, "pack"), wrong, remedy='on = "hub"')
    if fitting.fan is not None and fitting.pack is not None:
        yield fault((*path, "pack"), "is a fan already", remedy="a fitting of its own")


def _one_fan(design: Design) -> Faults:
    _, *more = [name for name, fitting in design.fitting.items() if fitting.fan is not None] or [""]
    for name in more:
        wrong = "only one fitting may be a fan: all are alike and at one place"
        yield fault(("fitting", name, "fan"), wrong, "", "count = ... in the first says how many one blade has")


def _controls(design: Design, path: KeyPath, fitting: Fitting) -> Faults:
    for index, name in enumerate(fitting.controls):
        yield from _is_fan(design, (*path, "controls", index), name)
        others = (other for other, each in design.fitting.items() if name in each.controls)
        if next(others) != path[1]:
            yield fault((*path, "controls", index), "has another speed control already", remedy="name it once")


def _is_fan(design: Design, path: KeyPath, name: str) -> Faults:
    yield from known(path, name, design.fitting, "fitting")
    if name in design.fitting and design.fitting[name].fan is None:
        remedy = f'fan = "..." in [fitting.{name}], which says what it does'
        yield fault(path, "is no fan", remedy=remedy)


def _used(design: Design, kind: str, name: str) -> Faults:
    if not any(getattr(fitting, kind) == name for fitting in design.fitting.values()):
        wrong = "no fitting is it, so it has no mass and no place"
        yield fault((kind, name), wrong, remedy=f'{kind} = "{name}" in the fitting that it is, or leave it out')


def _known_by(path: KeyPath, fan: Fan) -> Faults:
    if (fan.static is None) == (fan.class_ is None):
        wrong = "doesn't say what it pulls" if fan.static is None else "says static and class at once"
        yield fault(path, wrong, 'exactly one of static, as measured, and class, as "40 mm"')
    if fan.class_ is not None and fan.class_ not in fan_names():
        names = fan_names()
        remedy = near(fan.class_, names)
        yield fault((*path, "class"), "is not in the catalogue", "" if remedy else ", ".join(names), remedy)


def _ring(path: KeyPath, fan: Fan) -> Faults:
    if 1.0 - (fan.centre / fan.inside) ** 2 < LEAST_RING:
        wrong = f"leaves less than {percent(LEAST_RING)} of a duct of {mm(fan.inside)} free"
        yield fault((*path, "centre"), wrong, f"at most {at_most(fan.inside * math.sqrt(1.0 - LEAST_RING), 1)}")


def _floor(path: KeyPath, pack: Pack) -> Faults:
    if not LEAST_FLOOR_V <= pack.floor <= MOST_FLOOR_V:
        allowed = f"of one cell, {LEAST_FLOOR_V:g} to {figure('V', MOST_FLOOR_V)}"
        yield fault((*path, "floor"), "is no voltage to stop a lithium cell at", allowed)


def _feeds(design: Design, name: str, pack: Pack) -> Faults:
    if not pack.feeds:
        yield fault(("pack", name, "feeds"), "names nothing", "fittings with a fan")
    for index, fed in enumerate(pack.feeds):
        path: KeyPath = ("pack", name, "feeds", index)
        yield from _is_fan(design, path, fed)
        if next(other for other, each in design.pack.items() if fed in each.feeds) != name or fed in pack.feeds[:index]:
            yield fault(path, "has a pack already", remedy="name it once")


def _copper(path: KeyPath, wire: Wire) -> Faults:
    if wire.copper is not None and wire.awg is not None:
        yield fault((*path, "awg"), "says the same as copper", remedy="leave one of them out")
        return
    area = wire.copper if wire.awg is None else gauge_mm2(wire.awg)
    if area is not None and area > math.pi / 4.0 * wire.outside**2:
        key = "copper" if wire.awg is None else "awg"
        wrong = f"is more copper than a wire of {mm(wire.outside)} outside can hold"
        yield fault((*path, key), wrong, f"less than {figure('mm2', math.pi / 4.0 * wire.outside**2, 2)}")
