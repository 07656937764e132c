"""Both pitch caps as they are screwed on: the turning one to the root rib, the fixed one to the hub's flange.

What the pins hold goes through either cap's screws, across them. The fixed cap pulls outwards by its own mass, along
its screws; the turning one is pressed on its rib.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema.hub import Cap
from geomgen.figures import mm
from geomgen.materials.screws import SCREWS, Screw
from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.root.root import FIXED_CAP, FIXED_SCREW, HUB, TURNING_CAP, TURNING_SCREW
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import bearing_mpa, circle_pin_n, shear_out_mpa
from geomgen.strength.formulas.screw import thread_shear_mpa, thread_that_bears
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.own_pull import own_pull_n
from geomgen.strength.links.printed import filled, is_print, root_link, stands

FIXING, COUNT = "pitch.fixing", "pitch.fixing.count"
HELD = 2.0  # diameters of a screw in plastic that bear across it; from memory


@dataclass(frozen=True, eq=False)
class Screws:
    """The screws of one cap.

    screw  : their size
    circle : diameter of the circle that they stand on [mm]
    count  : [-]
    nm     : (2, c) moment about the feather axis that they hold [N m]
    """

    screw: Screw
    circle: float
    count: int
    nm: FloatArray

    def each_n(self, count: int) -> FloatArray:
        """(2, c) force across each of so many [N]."""
        return circle_pin_n(1e3 * np.abs(self.nm), self.circle, count)


@dataclass(frozen=True)
class Hole:
    """Where screws press across.

    name      : for people
    stock     : what they press on
    deep      : how much of its thickness they press on [mm]
    around    : how thick it is beside them: walls of a print [mm]
    path      : key path of that thickness, "" where it isn't one key's
    thickness : [mm]
    """

    name: str
    stock: str
    deep: float
    around: float
    path: str = ""
    thickness: float = 0.0


def cap_links(build: Build) -> Iterator[Link]:
    """Screws in both caps, in the root rib and in the hub's flange; the flange's threads."""
    pitch, nm = build.design.pitch, build.loads.socket.pins_nm
    screw = SCREWS[pitch.fixing.screw]
    turning = Screws(screw, _circle(build.root.fixing()), pitch.fixing.count, nm)
    fixed = Screws(screw, _circle(np.array(build.root.seat.screws)), pitch.fixing.count, nm)
    seat, rib = build.root.seat_mm, build.root.face
    yield _bears(build, turning, _in_cap(build, TURNING_CAP, pitch.turning_cap), rib.r_mm, (TURNING_SCREW, TURNING_CAP))
    yield _bears(build, turning, _in_rib(build), rib.r_mm, (TURNING_SCREW, rib.rib))
    yield _torn(build, turning)
    yield _bears(build, fixed, _in_cap(build, FIXED_CAP, pitch.fixed_cap), seat, (FIXED_CAP, FIXED_SCREW))
    yield _bears(build, fixed, _in_flange(build), seat, (FIXED_SCREW, HUB))
    yield _stripped(build, fixed)


def _in_cap(build: Build, key: Key, cap: Cap) -> Hole:
    """Below the countersunk head."""
    path = f"{key.path}.thickness" if is_print(build.design, cap.stock) else ""  # of what is cut, the sheet is another
    pitch, screw = build.design.pitch, SCREWS[build.design.pitch.fixing.screw]
    around = pitch.pin.web + (screw.head - screw.clearance()) / 2.0  # the web lies round the heads
    deep = cap.thickness - screw.head_height
    return Hole(f"{key.role}'s screws in the cap", cap.stock, deep, around, path, cap.thickness)


def _in_rib(build: Build) -> Hole:
    stock = build.part(build.root.face.rib).stock
    sheet = build.design.sheet(stock).thickness
    name, web = f"{Role.TURNING_CAP}'s screws in the root rib", build.design.blade.construction.web
    return Hole(name, stock, build.root.face.thickness_mm, web, f"stock.{stock}.thickness", sheet)


def _in_flange(build: Build) -> Hole:
    screw = SCREWS[build.root.seat.screw]
    deep = min(_grip(build), HELD * screw.diameter)
    return Hole(f"{Role.FIXED_CAP}'s screws in the hub's flange", build.design.hub.stock, deep, build.hub.wall)


def _circle(places: FloatArray) -> float:
    """Diameter of the circle that some places stand on [mm]."""
    return float(2.0 * np.hypot(*places.T).min())


def _grip(build: Build) -> float:
    """Length of the fixed cap's screws in the hub [mm]."""
    screw, cap = SCREWS[build.root.seat.screw], build.design.pitch.fixed_cap.thickness
    return screw.lengths.at_most(cap + build.hub.pilot_depth) - cap


def _bears(build: Build, screws: Screws, hole: Hole, r_mm: float, between: tuple[Key, Key]) -> Link:
    """Screws pressed on the walls of their holes."""
    d, force = screws.screw.diameter, screws.each_n(screws.count)

    def of(deep: float) -> Loaded:
        return Loaded(bearing_mpa(force, d, deep), stands(build, hole.stock, hole.around, Property.BEARING)[0])

    now = of(hole.deep)
    solid = filled(build, hole.stock, hole.around, now, Property.BEARING)
    helped = helps(now, *_thicker(build, hole, of), solid)
    why = stands(build, hole.stock, hole.around, Property.BEARING)[1]
    notes = (f"over {mm(hole.deep, 1)}, shared by all of them",)
    return root_link(build, hole.name, Fails.BEARING, now, helped, stock=hole.stock, r_mm=r_mm, why=why, notes=notes,
                     path=FIXING, between=between)  # fmt: skip


def _thicker(build: Build, hole: Hole, of: Callable[[float], Loaded]) -> tuple[Change, ...]:
    """What it would be in a thicker part."""
    if not hole.path:
        return ()
    to = stepped(build.design, hole.thickness, 1.0)
    return (Change(hole.path, mm(hole.thickness), mm(to), of(hole.deep + to - hole.thickness)),)


def _torn(build: Build, screws: Screws) -> Link:
    """The root rib between a screw and its edge."""
    rib, web = _in_rib(build), build.design.blade.construction.web
    strength, hole = build.strengths[rib.stock].of(Property.SHEAR), screws.screw.clearance()

    def of(thick: float) -> Loaded:
        force = screws.each_n(screws.count)
        return Loaded(shear_out_mpa(force, hole, thick, web + hole / 2.0), strength)

    now = of(rib.deep)
    helped, why = helps(now, *_thicker(build, rib, of)), build.strengths[rib.stock].why_not(Property.SHEAR)
    name, face = "root rib beside the turning cap's screws", build.root.face
    notes = (f"as if each had but the least web of {mm(web)} to the rib's edge",)
    return root_link(build, name, Fails.SHEARED_OUT, now, helped, stock=rib.stock, r_mm=face.r_mm, why=why, notes=notes,
                     path=FIXING, between=(TURNING_SCREW, face.rib))  # fmt: skip


def _stripped(build: Build, screws: Screws) -> Link:
    """The fixed cap's own pull on the threads in the flange."""
    hub, grip, pull = build.design.hub.stock, _grip(build), own_pull_n(build, FIXED_CAP)
    strength, why = stands(build, hub, build.hub.wall, Property.THREAD)

    bears = thread_that_bears(screws.screw.diameter, grip)

    def of(count: int) -> Loaded:
        return Loaded(thread_shear_mpa(pull / count, screws.screw.diameter, bears), strength)

    now, more = of(screws.count), screws.count + 1
    solid = filled(build, hub, build.hub.wall, now, Property.THREAD)
    helped = helps(now, Change(COUNT, f"{screws.count}", f"{more}", of(more)), solid)
    notes = "by the cap's own mass, as if it were solid", "what they are tightened with comes on top, and creeps away"
    name = "threads of the fixed cap's screws in the hub"
    return root_link(build, name, Fails.STRIPPED, now, helped, r_mm=build.hub.seat, why=why, notes=notes,
                    path=FIXING, between=(FIXED_CAP, HUB))  # fmt: skip
