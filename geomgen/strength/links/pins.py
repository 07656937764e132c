"""The pins that lock the pitch, between the caps: cut, bent, what their holes in both caps stand, and the stop pin.

The blade's moment about the feather axis is shared by the pins by how far out they stand; a pin is loose, and tilts in
both caps.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.root.root import CLIP, FIXED_CAP, FLOOR_MM, PIN, STOP_PIN, TURNING_CAP, blind_mm
from geomgen.root.seat import RUNNING_GAP_MM
from geomgen.root.wedge_pattern import made_of
from geomgen.root.wedges import wedge_key
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import bearing_mpa, pin_shear_mpa, rod_bending_mpa, shear_out_mpa
from geomgen.strength.formulas.single_shear import tilted_bending_nmm, tilted_length
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.own_pull import own_pull_n
from geomgen.strength.links.printed import filled, is_print, root_link, stands

COUNT, WEB = "pitch.pin.count", "pitch.pin.web"
EDGE_OF_PLY, EDGE_OF_PRINT = 3.0, 2.5  # diameters from a pin's middle to the edge that it presses at: from memory
SHARED = "shared by all pins, a loose pin tilts in both caps"


@dataclass(frozen=True)
class Plate:
    """What a pin goes through: a cap, or a wedge.

    key, path  : the part, and the key path of its table
    name       : for people
    stock      : what it is made of
    deep       : how much of it the pin goes through [mm]
    web        : least left beside the pin's hole, to an edge or the next hole [mm]
    """

    key: Key
    path: str
    name: str
    stock: str
    deep: float
    web: float


@dataclass(frozen=True, eq=False)
class Locked:
    """What the pins of one blade carry.

    diameter, count : of the pins, those in place [mm], [-]
    force_n         : (2, c) on each of them, across it [N]
    engaged         : how deep they go into the shallower of what they cross [mm]
    gap             : between the two [mm]
    """

    diameter: float
    count: int
    force_n: FloatArray
    engaged: float
    gap: float = RUNNING_GAP_MM

    @property
    def bears_on(self) -> float:
        """Length of each plate that bears, counted as if evenly [mm]."""
        return float(tilted_length(self.engaged, self.gap))


def pin_links(build: Build) -> Iterator[Link]:
    """Pins cut and bent; their holes drawn long and torn out, in what turns and in what stands; ends; the stop."""
    locked, plates = locked_by(build), (turning_plate(build), standing_plate(build))
    yield _cut(build, locked)
    yield _bent(build, locked)
    for plate in plates:
        yield _bears(build, locked, plate)
        yield _torn(build, locked, plate)
    yield _floor(build, plates[0]) if blind_mm(build.design) else _ends(build)
    if build.pattern.stop is not None:
        yield _stop(build)


def pin_force_n(build: Build) -> FloatArray:
    """(2, c) on the pin that carries most: moment over the sum of squares of all radii, times its own [N]."""
    places, _ = build.pattern.pins(build.design.pitch.set)
    radius = np.hypot(*places.T)
    return np.asarray(1e3 * np.abs(build.loads.socket.pins_nm) * radius.max() / (radius @ radius))


def locked_by(build: Build) -> Locked:
    """The pins at the pitch to fly at."""
    pin = build.design.pitch.pin
    engaged = min(turning_plate(build).deep, standing_plate(build).deep)
    return Locked(pin.diameter, pin.count, pin_force_n(build), engaged)


def turning_plate(build: Build) -> Plate:
    """The turning cap, whose holes are blind where clips don't hold the pins."""
    cap = build.design.pitch.turning_cap
    deep = blind_mm(build.design) or cap.thickness
    places, _ = build.pattern.pins(build.design.pitch.set)
    web = _web(build, places, build.pattern.turning())
    return Plate(TURNING_CAP, TURNING_CAP.path, "turning cap", cap.stock, deep, web)


def standing_plate(build: Build) -> Plate:
    """The fixed cap; or the wedge in its window."""
    design, pattern = build.design, build.pattern
    if pattern.wedge is not None:
        stock, thick = made_of(design)
        key = wedge_key(pattern.settings_deg[pattern.setting(design.pitch.set)])
        return Plate(key, key.path, "wedge", stock, thick, pattern.web_mm)
    cap = design.pitch.fixed_cap
    _, places = pattern.pins(design.pitch.set)
    web = _web(build, places, pattern.fixed())
    return Plate(FIXED_CAP, FIXED_CAP.path, "fixed cap", cap.stock, cap.thickness, web)


def _web(build: Build, places: FloatArray, holes: FloatArray) -> float:
    """Least left between the holes that take pins and any others, or the edge, which has the web that was asked for."""
    apart = np.hypot(*(places[:, None] - holes).transpose(2, 0, 1))
    between = apart[apart > 1e-6].min(initial=np.inf) - build.pattern.hole_mm
    return float(min(between, build.pattern.web_mm))


def _cut(build: Build, locked: Locked) -> Link:
    stock = build.design.pitch.pin.stock
    strength = build.strengths[stock].of(Property.SHEAR)

    def of(one: Locked) -> Loaded:
        return Loaded(pin_shear_mpa(one.force_n, one.diameter, 1.0), strength)

    now = of(locked)
    helped, why = helps(now, _another(locked, of(_more(locked)))), build.strengths[stock].why_not(Property.SHEAR)
    return _pin(build, Fails.SHEARED, now, helped, why=why, note="cut once")


def _bent(build: Build, locked: Locked) -> Link:
    stock = build.design.pitch.pin.stock
    known = build.strengths[stock]
    strength = known.of(Property.BENDING, Property.TENSION)

    def of(one: Locked) -> Loaded:
        moment = tilted_bending_nmm(one.force_n, one.engaged, one.gap)
        return Loaded(rod_bending_mpa(moment, one.diameter), strength)

    now = of(locked)
    helped, why = helps(now, _another(locked, of(_more(locked)))), known.why_not(Property.BENDING)
    return _pin(build, Fails.BENT, now, helped, why=why, note=SHARED)


def _pin(build: Build, fails: Fails, now: Loaded, helped: tuple[Help, ...], *, why: str, note: str) -> Link:
    stock, r_mm = build.design.pitch.pin.stock, build.root.seat_mm
    return root_link(build, "pitch pin between the caps", fails, now, helped, stock=stock, r_mm=r_mm, why=why,
                     notes=(note,), path=PIN.path, between=(TURNING_CAP, PIN))  # fmt: skip


def _bears(build: Build, locked: Locked, plate: Plate) -> Link:
    """The hole's wall: bearing is counted up where its middle lies nearer to an edge than the rule for it asks."""
    asked = EDGE_OF_PRINT if is_print(build.design, plate.stock) else EDGE_OF_PLY

    def of(one: Locked, web: float) -> Loaded:
        return Loaded(hole_mpa(one, web, asked), stands(build, plate.stock, web, Property.BEARING)[0])

    wants = f"its middle wants {asked:g} diameters to an edge: what is missing of that raises stress alike"
    name = f"pitch pin's hole in the {plate.name}"
    return _hole(build, locked, plate, name, Fails.BEARING, Property.BEARING, of, (SHARED, wants))


def _around(build: Build, locked: Locked, plate: Plate, of: Callable[[Locked, float], Loaded]) -> tuple[Change, ...]:
    """What helps a hole: another pin, more web, more depth."""
    wide = stepped(build.design, plate.web, 1.0)
    return (
        _another(locked, of(_more(locked), plate.web)),
        Change(WEB, mm(plate.web), mm(wide), of(locked, wide)),
        *_deeper(build, locked, lambda one: of(one, plate.web)),
    )


def hole_mpa(locked: Locked, web: float, asked: float) -> FloatArray:
    """(2, c) pressure in a pin's hole, by as much greater as its middle lies nearer to an edge than asked [MPa].

    web   : from the hole to the edge, or to the next hole [mm]
    asked : least from its middle to the edge [diameters]
    """
    edge = web + locked.diameter / 2.0
    near = max(1.0, asked * locked.diameter / edge)
    return near * bearing_mpa(locked.force_n, locked.diameter, locked.bears_on)


def _torn(build: Build, locked: Locked, plate: Plate) -> Link:
    """The web beside the hole, torn out in the plate's plane."""

    def of(one: Locked, web: float) -> Loaded:
        stress = shear_out_mpa(one.force_n, one.diameter, one.bears_on, web + one.diameter / 2.0)
        return Loaded(stress, stands(build, plate.stock, web, Property.SHEAR)[0])

    name = f"web beside the pitch pin's hole in the {plate.name}"
    return _hole(build, locked, plate, name, Fails.SHEARED_OUT, Property.SHEAR, of, (f"{mm(plate.web, 1)} of web",))


def _hole(
    build: Build,
    locked: Locked,
    plate: Plate,
    name: str,
    fails: Fails,
    one: Property,
    of: Callable[[Locked, float], Loaded],
    notes: tuple[str, ...],
) -> Link:
    """A link at a pin's hole.

    one : the strength of its plate that it is held to
    of  : the link by pins and web [mm]
    """
    now, why = of(locked, plate.web), stands(build, plate.stock, plate.web, one)[1]
    helped = helps(now, *_around(build, locked, plate, of), filled(build, plate.stock, plate.web, now, one))
    return root_link(build, name, fails, now, helped, stock=plate.stock, r_mm=build.root.seat_mm, why=why, notes=notes,
                     path=plate.path, between=(PIN, plate.key))  # fmt: skip


def _floor(build: Build, plate: Plate) -> Link:
    """The floor of a blind hole, on which a pin's own pull lies."""
    pin = build.design.pitch.pin
    strength, why = stands(build, plate.stock, FLOOR_MM, Property.SHEAR_ACROSS)
    now = Loaded(own_pull_n(build, PIN) / (np.pi * pin.diameter * FLOOR_MM), strength)
    name, r_mm = "floor of the turning cap's blind holes", build.root.face.r_mm
    return root_link(build, name, Fails.SHEARED, now, (), stock=plate.stock, r_mm=r_mm, why=why,
                     notes=("a pin's own pull",), path=plate.path, between=(PIN, TURNING_CAP))  # fmt: skip


def _ends(build: Build) -> Link:
    """A clip, or where there is none friction, that keeps a pin from leaving outwards."""
    clip = build.design.pitch.pin.clip is not None
    why = "what a clip holds along its pin" if clip else "nothing but friction keeps it in; a clip would"
    return Link(
        name="clip of a pitch pin" if clip else "pitch pin along itself",
        fails=Fails.SLIPS,
        path=CLIP.path if clip else PIN.path,
        r_mm=build.root.seat_mm,
        between=(PIN, CLIP if clip else TURNING_CAP),
        stress=own_pull_n(build, PIN),
        unit="N",
        strength=None,
        unpublished=f"unpublished: {why}",
    )


def _stop(build: Build) -> Link:
    """The stop pin: it carries nothing while the pins are in."""
    stock = build.design.pitch.pin.stock
    return Link(
        name="stop pin of the turning cap",
        fails=Fails.SHEARED,
        path=STOP_PIN.path,
        r_mm=build.root.seat_mm,
        between=(STOP_PIN, TURNING_CAP),
        stress=np.zeros_like(build.loads.socket.pins_nm),
        unit="MPa",
        strength=build.strengths[stock].of(Property.SHEAR),
        unpublished=build.strengths[stock].why_not(Property.SHEAR),
        note="it carries nothing while the pins are in",
    )


def _deeper(build: Build, locked: Locked, of: Callable[[Locked], Loaded]) -> tuple[Change, ...]:
    """A cap so much thicker, where the pins go less deep into it than into what is across from it; not one that is cut,
    whose sheet would be another."""
    changes, plates = list[Change](), (turning_plate(build), standing_plate(build))
    for plate, other in (plates, plates[::-1]):
        if is_print(build.design, plate.stock) and plate.deep < other.deep and plate.key in (TURNING_CAP, FIXED_CAP):
            now = getattr(build.design.pitch, plate.key.path.split(".")[1]).thickness
            then = stepped(build.design, now, 1.0)
            deep = replace(locked, engaged=min(plate.deep + then - now, other.deep))
            changes.append(Change(f"{plate.path}.thickness", mm(now), mm(then), of(deep)))
    return tuple(changes)


def _more(locked: Locked) -> Locked:
    more = locked.count + 1
    return replace(locked, count=more, force_n=locked.force_n * locked.count / more)


def _another(locked: Locked, then: Loaded) -> Change:
    return Change(COUNT, f"{locked.count}", f"{locked.count + 1}", then)
