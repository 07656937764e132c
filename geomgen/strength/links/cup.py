"""The cup of the hub round the collars: its wall bent outwards and sheared through, and the whole pulled apart."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.strength import Property
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root import COLLAR, HUB
from geomgen.strength.build import Build
from geomgen.strength.formulas.bar import rectangle_bending_mpa
from geomgen.strength.formulas.boss_plate import boss_plate_mpa, round_wall_reach
from geomgen.strength.formulas.plate import ring_shear_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.hub_changed import with_wall
from geomgen.strength.links.printed import (
    CORNER,
    SHARP_CORNER,
    bent_as_mm,
    filled,
    flat,
    in_plane,
    lies,
    root_link,
    sheared,
    up_and_down,
    upright,
)

PLATE = "as a flat plate, held where a round wall's bending has died out"
CUT = "cut through bore, two bolts and what is open of the walls there"
TURNS_DEG = np.arange(0.0, 360.0, 1.0)  # ways in which the hub is cut across


def cup_links(build: Build) -> Iterator[Link]:
    """Wall bent and sheared by a collar, the hub pulled apart between opposite blades."""
    yield _pushed_through(build)
    yield _wall_bent(build, along=True)
    yield _wall_bent(build, along=False)
    yield _floor_bent(build)
    yield _apart(build)


def _pushed_through(build: Build) -> Link:
    """A plug as wide as the collar, sheared out of wall and arm."""
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n
    outside = design.hub.collar.outside

    def of(wall: float) -> Loaded:
        deep = plug_mm(with_wall(spec, wall), outside)
        return Loaded(ring_shear_mpa(force, outside, deep), sheared(build, deep)[0])

    now, thicker, deep = of(spec.wall), stepped(design, spec.wall, 1.0), plug_mm(spec, outside)
    solid = filled(build, design.hub.stock, deep, now, Property.SHEAR_ACROSS)
    helped = helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker)), solid)
    notes = (f"a plug as wide as the collar through {mm(deep, 1)} of plastic, between layers on two of its sides",)
    name, why = "hub's wall ahead of the collar", sheared(build, deep)[1]
    return root_link(build, name, Fails.SHEARED, now, helped, r_mm=spec.collar_seat, why=why, notes=notes,
                    between=(COLLAR, HUB))  # fmt: skip


def plug_mm(spec: HubSpec, outside: float) -> float:
    """How much plastic lies ahead of a collar's rim [mm]: to where the taper has come in to it, or to the arm's end.

    outside : diameter of the collar [mm]
    """
    if outside <= spec.arm:
        return spec.seat - spec.collar_seat
    return spec.boss_end - spec.collar_seat + max(0.0, (spec.boss - outside) / 2.0)


def wall_mpa(spec: HubSpec, collar_n: FloatArray) -> FloatArray:
    """(2, c) bending of the cup's wall round an arm's thick root, up and down it [MPa].

    source : a flat plate, held where a round wall's bending has died out. Solid models of hubs like the demo's, without
             ducts, of cubes of 1 mm, 104 N: across layers 3.8 MPa with a wall of 3 mm and 2.3 with 5 mm, where this
             says 4.5 and 1.8; along them, in the corner beside the root, 7.7 and 3.7, where twice this is 8.9 and 3.5
    """
    middle = spec.bay_radius + spec.wall / 2.0
    held = spec.boss + 2.0 * round_wall_reach(middle, spec.wall)
    return boss_plate_mpa(collar_n, held, spec.boss, spec.wall)


def _wall_bent(build: Build, *, along: bool) -> Link:
    """Bent along the rim, where stress is greatest at the corner beside the thick root; or up and down the wall."""
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n
    hub, rise = design.hub.stock, SHARP_CORNER if along else 1.0
    known = in_plane if along else up_and_down

    def of(wall: float) -> Loaded:
        bent = bent_as_mm(design, hub, wall)
        return Loaded(rise * wall_mpa(with_wall(spec, wall), force), known(build, bent)[0])

    now, thicker, bent = of(spec.wall), stepped(design, spec.wall, 1.0), bent_as_mm(design, hub, spec.wall)
    wall = Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker))
    helped = helps(now, wall, flat(build, now, bent)) if along else helps(now, wall)
    across = along is upright(design)
    name = "cup's wall beside the arm's root" if along else "cup's wall above and below the arm's root"
    notes = "across its layers" if across else "along its layers", CORNER if along else "", PLATE
    fails = Fails.SPLIT if across else Fails.BENT
    return root_link(build, name, fails, now, helped, r_mm=spec.collar_seat, why=known(build, bent)[1], notes=notes)


def floor_mpa(spec: HubSpec, collar_n: FloatArray, circle: float, floor: float) -> FloatArray:
    """(2, c) bending of the hub's floor by a collar that bears above it [MPa].

    circle : radius of the bolts, which hold the floor down [mm]
    floor  : its thickness [mm]
    source : a strip that spreads at 45 deg from the arm's thick root in to the bolts. The solid model that `wall_mpa`
             names has 5.0 MPa there for 104 N, where this says 7.4
    """
    rise = spec.axis_height + spec.bay_radius * float(np.sin(np.radians(spec.coning)))
    lever = rise - spec.floor + floor / 2.0  # the arms rise with the floor
    wide = min(spec.boss + 2.0 * (spec.bay_radius - circle), 2.0 * spec.bay_radius)
    return rectangle_bending_mpa(collar_n * lever, wide, floor)


def _floor_bent(build: Build) -> Link:
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n

    def of(floor: float) -> Loaded:
        stress = floor_mpa(spec, force, design.hub.bolt_circle, floor)
        return Loaded(stress, in_plane(build, bent_as_mm(design, design.hub.stock, floor))[0])

    now, thicker = of(spec.floor), stepped(design, spec.floor, 1.0)
    bent = bent_as_mm(design, design.hub.stock, spec.floor)
    helped = helps(now, Change("hub.floor", mm(spec.floor), mm(thicker), of(thicker)), flat(build, now, bent))
    notes = "collars bear above it; a strip that spreads at 45 deg in to the bolts", lies(design)
    why, fails = in_plane(build, bent)[1], Fails.SPLIT if upright(design) else Fails.BENT
    name, r_mm = "hub's floor below the arm", spec.bay_radius
    return root_link(build, name, fails, now, helped, r_mm=r_mm, why=why, notes=notes)


def _apart(build: Build) -> Link:
    """The hub cut across through its middle: what pulls on one half of it, and bends it, as collars bear above the
    floor."""
    design, spec, socket = build.design, build.hub, build.loads.socket
    up_nmm = spec.seat * socket.outer_n[..., 1] + spec.collar_seat * socket.inner_n[..., 1]

    def of(floor: float, wall: float) -> Loaded:
        stress = apart_mpa(spec, socket.collar_n, up_nmm, floor=floor, wall=wall)
        return Loaded(stress, in_plane(build, min(floor, wall))[0])

    now, thin = of(spec.floor, spec.wall), min(spec.floor, spec.wall)
    floor, wall = (stepped(design, value, 1.0) for value in (spec.floor, spec.wall))
    helped = helps(
        now,
        Change("hub.floor", mm(spec.floor), mm(floor), of(floor, spec.wall)),
        Change("hub.wall", mm(spec.wall), mm(wall), of(spec.floor, wall)),
        flat(build, now, thin),
    )
    name, notes = "middle of the hub, between opposite blades", (CUT, lies(design))
    why = in_plane(build, thin)[1]
    return root_link(build, name, Fails.PULLED_APART, now, helped, r_mm=0.0, why=why, notes=notes)


def one_sided(blades: int) -> FloatArray:
    """(n,) what all blades on one side of a cut pull square to it, over one blade's pull [-], for each way to cut."""
    arms = 360.0 / blades * np.arange(blades)
    return np.asarray(np.maximum(0.0, np.cos(np.radians(TURNS_DEG[:, None] - arms))).sum(axis=1))


def opened_mm(spec: HubSpec) -> FloatArray:
    """(n, 2) how much of its height each of the two walls of the cup lacks where it is cut, for each way to cut [mm]:
    the collar's pocket, or a duct, counted on both sides of its arm."""
    arms = 360.0 / spec.blades * np.arange(spec.blades)
    cuts = TURNS_DEG[:, None] + np.array([-90.0, 90.0])
    off = np.abs((cuts[..., None] - arms + 180.0) % 360.0 - 180.0).min(axis=-1)
    beside = np.where(off < 90.0, spec.bay_radius * np.sin(np.radians(np.minimum(off, 90.0))), np.inf)
    lost = np.where(beside < spec.pocket / 2.0, spec.pocket, 0.0)
    for duct in spec.ducts:
        x0, _, x1, _ = duct.reach()
        near, far = sorted((abs(x0), abs(x1)))
        lost = np.maximum(lost, np.where((beside > near) & (beside < far), duct.width, 0.0))
    return np.asarray(lost)


def apart_mpa(spec: HubSpec, collar_n: FloatArray, up_nmm: FloatArray, *, floor: float, wall: float) -> FloatArray:
    """(2, c) greatest tension across the hub's middle [MPa].

    collar_n    : (2, c) pull of one blade [N]
    up_nmm      : (2, c) moment of its spar on the socket about the rotor axis, + where it lifts the arm [N mm]
    floor, wall : thicknesses [mm]
    source      : pull and bending of the cut, closed form; height of the axis and of the bay stay
    """
    most, lost = np.zeros_like(collar_n), opened_mm(spec)
    pulls = one_sided(spec.blades)
    rise, rim = spec.axis_height - spec.floor + floor, floor + spec.bay_height
    wide = 2.0 * (spec.bay_radius + wall) - spec.bore - 2.0 * spec.bolt
    for gone in np.unique(lost, axis=0):
        share = float(pulls[(lost == gone).all(axis=1)].max())
        bars = [(wide, 0.0, floor)]
        for each in gone:  # what is open lies about the arms' axes
            bars += [(wall, floor, rise - each / 2.0), (wall, rise + each / 2.0, rim)]
        area, centre, second = _stacked(bars)
        bent = collar_n * (rise - centre) - up_nmm
        ends = np.maximum(bent * (rim - centre), -bent * centre) / second
        most = np.maximum(most, share * (collar_n / area + ends))
    return most


def _stacked(bars: list[tuple[float, float, float]]) -> tuple[float, float, float]:
    """Area, height of its centre and second moment about that of upright bars, each (width, from, to) [mm]."""
    wide, low, high = np.array(bars).T
    tall = np.maximum(high - low, 0.0)
    areas, middles = wide * tall, (low + high) / 2.0
    area = float(areas.sum())
    centre = float(areas @ middles / area)
    return area, centre, float((areas * (tall**2 / 12.0 + (middles - centre) ** 2)).sum())
