"""Both pitch caps as they are screwed on: the turning one to the root rib, the fixed one to the hub's flange.

What the pins hold goes through either cap's screws, across them. The fixed cap pulls outwards by its own mass, along
its screws; the turning one is pressed on its rib.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.mass.unit_mass import of_stock
from geomgen.materials.screws import SCREWS, Screw
from geomgen.materials.strength import Property
from geomgen.model.joint import Key
from geomgen.model.part import Flat
from geomgen.root.root import FIXED_CAP, FIXED_SCREW, HUB, TURNING_CAP, TURNING_SCREW
from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import bearing_mpa, circle_pin_n, shear_out_mpa
from geomgen.strength.formulas.screw import thread_shear_mpa, thread_that_bears
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import filled, hub_link, is_print, noted, print_note, stands
from geomgen.strength.load_path import pull_n

COUNT = "pitch.fixing.count"
HELD_MM = 2.0  # diameters of a screw in plastic that bear across it; from memory


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


def cap_links(build: Build) -> Iterator[Link]:
    """Screws in both caps, in the root rib and in the hub's flange; the flange's threads."""
    pitch, nm = build.design.pitch, build.loads.socket.pins_nm
    screw = SCREWS[pitch.fixing.screw]
    turning = Screws(screw, _circle(build.root.fixing()), pitch.fixing.count, nm)
    fixed = Screws(screw, _circle(np.array(build.root.seat.screws)), pitch.fixing.count, nm)
    face, cap = build.root.face, pitch.turning_cap
    yield _bears(build, turning, "turning cap's screws in the cap", TURNING_CAP, cap.stock,
                 cap.thickness - screw.head_height, (TURNING_SCREW, TURNING_CAP))  # fmt: skip
    yield _bears(build, turning, "turning cap's screws in the root rib", face.rib, _rib_stock(build),
                 face.thickness_mm, (TURNING_SCREW, face.rib))  # fmt: skip
    yield _torn(build, turning)
    cap = pitch.fixed_cap
    yield _bears(build, fixed, "fixed cap's screws in the cap", FIXED_CAP, cap.stock,
                 cap.thickness - screw.head_height, (FIXED_CAP, FIXED_SCREW))  # fmt: skip
    grip = min(_grip(build), HELD_MM * screw.diameter)
    yield _bears(build, fixed, "fixed cap's screws in the hub's flange", HUB, build.design.hub.stock, grip,
                 (FIXED_SCREW, HUB))  # fmt: skip
    yield _stripped(build, fixed)


def _circle(places: FloatArray) -> float:
    """Diameter of the circle that some places stand on [mm]."""
    return float(2.0 * np.hypot(*places.T).min())


def _rib_stock(build: Build) -> str:
    return build.part(build.root.face.rib).stock


def _grip(build: Build) -> float:
    """Length of the fixed cap's screws in the hub [mm]."""
    screw, cap = SCREWS[build.root.seat.screw], build.design.pitch.fixed_cap.thickness
    return screw.lengths.at_most(cap + build.hub.pilot_depth) - cap


def _bears(
    build: Build, screws: Screws, name: str, where: Key, stock: str, deep: float, between: tuple[Key, Key]
) -> Link:
    """Screws pressed on the walls of their holes. deep : of hole that bears [mm]"""
    printed = is_print(build.design, stock)
    strength, why = stands(build, stock, deep, Property.BEARING)

    def of(count: int) -> Loaded:
        return Loaded(bearing_mpa(screws.each_n(count), screws.screw.diameter, deep), strength)

    now, more = of(screws.count), screws.count + 1
    return Link(
        name=name,
        fails=Fails.BEARING,
        path="pitch.fixing",
        r_mm=build.root.seat_mm if where in (FIXED_CAP, HUB) else build.root.face.r_mm,
        between=between,
        stress=now.stress,
        unit="MPa",
        strength=strength,
        unpublished=why,
        alone=printed,
        helps=helps(
            now,
            Change(COUNT, f"{screws.count}", f"{more}", of(more)),
            filled(build, stock, now, Property.BEARING),
        ),
        note=noted(f"over {mm(deep, 1)}, shared by all of them", print_note(build, stock)),
    )


def _torn(build: Build, screws: Screws) -> Link:
    """The root rib between a screw and its edge."""
    stock, web, thick = _rib_stock(build), build.design.blade.construction.web, build.root.face.thickness_mm
    strength = build.strengths[stock].of(Property.SHEAR)
    hole = screws.screw.clearance()

    def of(count: int, left: float) -> Loaded:
        return Loaded(shear_out_mpa(screws.each_n(count), hole, thick, left + hole / 2.0), strength)

    now, more, wider = of(screws.count, web), screws.count + 1, stepped(build.design, web, 1.0)
    return Link(
        name="root rib beside the turning cap's screws",
        fails=Fails.SHEARED_OUT,
        path="pitch.fixing",
        r_mm=build.root.face.r_mm,
        between=(TURNING_SCREW, build.root.face.rib),
        stress=now.stress,
        unit="MPa",
        strength=strength,
        unpublished=build.strengths[stock].why_not(Property.SHEAR),
        helps=helps(
            now,
            Change(COUNT, f"{screws.count}", f"{more}", of(more, web)),
            Change("blade.construction.web", mm(web), mm(wider), of(screws.count, wider)),
        ),
        note=f"as if each had but the least web of {mm(web)} to the rib's edge",
    )


def _stripped(build: Build, screws: Screws) -> Link:
    """The fixed cap's own pull on the threads in the flange."""
    hub, grip, pull = build.design.hub.stock, _grip(build), fixed_cap_n(build)
    strength, why = stands(build, hub, build.hub.wall, Property.THREAD)

    bears = thread_that_bears(screws.screw.diameter, grip)

    def of(count: int) -> Loaded:
        return Loaded(thread_shear_mpa(pull / count, screws.screw.diameter, bears), strength)

    now, more = of(screws.count), screws.count + 1
    solid = filled(build, hub, now, Property.THREAD)
    helped = helps(now, Change(COUNT, f"{screws.count}", f"{more}", of(more)), solid)
    notes = "by the cap's own mass, as if it were solid", "what they are tightened with comes on top, and creeps away"
    name = "threads of the fixed cap's screws in the hub"
    return hub_link(build, name, Fails.STRIPPED, now, helped, r_mm=build.hub.seat, why=why, notes=notes,
                    path="pitch.fixing", between=(FIXED_CAP, HUB))  # fmt: skip


def fixed_cap_n(build: Build) -> FloatArray:
    """(2, c) outward pull of one fixed cap, as if it were solid [N]."""
    part = build.part(FIXED_CAP)
    assert isinstance(part.shape, Flat)
    figure, r_mm = of_stock(build.design, part.stock), build.root.fixed_mid_mm
    amount = part.shape.volume_mm3 / (1.0 if figure.per == "mm3" else part.shape.thickness_mm)
    grams = figure.grams
    pulls = np.empty_like(build.loads.socket.collar_n)
    for row, each in ((TYPICAL, grams[1]), (GREATEST, grams[2])):
        pulls[row] = [pull_n(each * amount, r_mm, case.rad_s * 30.0 / np.pi) for case in build.loads.cases]
    return pulls
