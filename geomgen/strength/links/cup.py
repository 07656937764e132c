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
from geomgen.strength.formulas.boss_plate import boss_plate_mpa, round_wall_reach
from geomgen.strength.formulas.plate import ring_shear_mpa
from geomgen.strength.formulas.print import SHARP_CORNER
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.hub_changed import with_wall
from geomgen.strength.links.printed import (
    CORNER,
    across,
    lies,
    noted,
    print_note,
    sheared,
    stands,
    stretched,
    upright,
)

TURNS_DEG = np.arange(0.0, 360.0, 1.0)  # ways in which the hub is cut across


def cup_links(build: Build) -> Iterator[Link]:
    """Wall bent and sheared by a collar, the hub pulled apart between opposite blades."""
    yield _pushed_through(build)
    yield _wall_bent(build)
    yield _apart(build)


def _pushed_through(build: Build) -> Link:
    """A plug as wide as the collar, sheared out of wall and arm."""
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n
    outside = design.hub.collar.outside

    def of(wall: float) -> Loaded:
        deep = plug_mm(with_wall(spec, wall), outside)
        return Loaded(ring_shear_mpa(force, outside, deep), sheared(build, deep)[0])

    now, thicker = of(spec.wall), stepped(design, spec.wall, 1.0)
    deep = plug_mm(spec, outside)
    return Link(
        name="hub's wall ahead of the collar",
        fails=Fails.SHEARED,
        path="hub",
        r_mm=spec.collar_seat,
        between=(COLLAR, HUB),
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=sheared(build, deep)[1],
        alone=True,
        helps=helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker))),
        note=noted(
            f"a plug as wide as the collar through {mm(deep, 1)} of wall, between layers on two of its sides",
            print_note(build, design.hub.stock),
        ),
    )


def plug_mm(spec: HubSpec, outside: float) -> float:
    """How much plastic lies ahead of a collar's rim [mm]: to where the taper has come in to it, or to the arm's end.

    outside : diameter of the collar [mm]
    """
    if outside <= spec.arm:
        return spec.seat - spec.collar_seat
    return spec.boss_end - spec.collar_seat + max(0.0, (spec.boss - outside) / 2.0)


def wall_mpa(spec: HubSpec, collar_n: FloatArray) -> FloatArray:
    """(2, c) bending of the cup's wall round an arm's thick root, a sharp corner counted [MPa]."""
    middle = spec.bay_radius + spec.wall / 2.0
    held = spec.boss + 2.0 * round_wall_reach(middle, spec.wall)
    return SHARP_CORNER * boss_plate_mpa(collar_n, held, spec.boss, spec.wall)


def _wall_bent(build: Build) -> Link:
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n

    def of(wall: float) -> Loaded:
        return Loaded(wall_mpa(with_wall(spec, wall), force), across(build, wall)[0])

    now, thicker = of(spec.wall), stepped(design, spec.wall, 1.0)
    return Link(
        name="cup's wall round the arm's root",
        fails=Fails.BENT,
        path="hub",
        r_mm=spec.collar_seat,
        between=(HUB, HUB),
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=across(build, spec.wall)[1],
        alone=True,
        helps=helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker))),
        note=noted(
            "a flat plate, held where a round wall's bending has died out; floor and curve, which help, aren't counted "
            "further; above and below the arm it is across layers",
            CORNER,
            print_note(build, design.hub.stock),
        ),
    )


def _apart(build: Build) -> Link:
    """The hub cut across through its middle: what pulls on one half of it, and bends it, as collars bear above the
    floor."""
    design, spec, socket = build.design, build.hub, build.loads.socket
    up_nmm = spec.seat * socket.outer_n[..., 1] + spec.collar_seat * socket.inner_n[..., 1]

    def of(floor: float, wall: float) -> Loaded:
        strength, _ = stretched(build, min(floor, wall))
        return Loaded(apart_mpa(spec, socket.collar_n, up_nmm, floor=floor, wall=wall), strength)

    now = of(spec.floor, spec.wall)
    floor, wall = (stepped(design, value, 1.0) for value in (spec.floor, spec.wall))
    flat = Loaded(now.stress, stands(build, design.hub.stock, min(spec.floor, spec.wall), Property.TENSION))
    return Link(
        name="middle of the hub, between opposite blades",
        fails=Fails.PULLED_APART,
        path="hub",
        r_mm=0.0,
        between=(HUB, HUB),
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=stretched(build, min(spec.floor, spec.wall))[1],
        alone=True,
        helps=helps(
            now,
            Change("hub.floor", mm(spec.floor), mm(floor), of(floor, spec.wall)),
            Change("hub.wall", mm(spec.wall), mm(wall), of(spec.floor, wall)),
            Change("hub.layers", "upright", "flat", flat if upright(design) else None),
        ),
        note=noted(
            "cut through bore, two bolts and, where arms stand there, without that wall",
            lies(design),
            print_note(build, design.hub.stock),
        ),
    )


def one_sided(blades: int) -> FloatArray:
    """(n,) what all blades on one side of a cut pull square to it, over one blade's pull [-], for each way to cut."""
    arms = 360.0 / blades * np.arange(blades)
    return np.asarray(np.maximum(0.0, np.cos(np.radians(TURNS_DEG[:, None] - arms))).sum(axis=1))


def walls_cut(spec: HubSpec) -> FloatArray:
    """(n,) how many walls of the cup a cut meets where no arm opens them, 0 to 2, for each way to cut."""
    reach = [spec.pocket / 2.0, *(duct.radius + duct.width / 2.0 for duct in spec.ducts)]
    half = float(np.degrees(np.arcsin(min(1.0, max(reach) / spec.bay_radius))))
    arms = 360.0 / spec.blades * np.arange(spec.blades)
    cuts = TURNS_DEG[:, None] + np.array([-90.0, 90.0])
    off = np.abs((cuts[..., None] - arms + 180.0) % 360.0 - 180.0).min(axis=-1)
    return np.asarray((off > half).sum(axis=1))


def apart_mpa(spec: HubSpec, collar_n: FloatArray, up_nmm: FloatArray, *, floor: float, wall: float) -> FloatArray:
    """(2, c) greatest tension across the hub's middle [MPa].

    collar_n    : (2, c) pull of one blade [N]
    up_nmm      : (2, c) moment of its spar on the socket about the rotor axis, + where it lifts the arm [N mm]
    floor, wall : thicknesses [mm]
    source      : pull and bending of the cut, closed form; height of the axis and of the bay stay
    """
    rise, deep = spec.axis_height - spec.floor + floor, spec.bay_height
    wide = 2.0 * (spec.bay_radius + wall) - spec.bore - 2.0 * spec.bolt
    most = np.zeros_like(collar_n)
    pulls, walls = one_sided(spec.blades), walls_cut(spec)
    for count in np.unique(walls):
        share = float(pulls[walls == count].max())
        areas, middles = np.array([wide * floor, count * wall * deep]), np.array([floor / 2.0, floor + deep / 2.0])
        own = np.array([wide * floor**3, count * wall * deep**3]) / 12.0
        area = areas.sum()
        centre = float(areas @ middles / area)
        second = float((own + areas * (middles - centre) ** 2).sum())
        bent = collar_n * (rise - centre) - up_nmm
        top = floor + deep if count else floor
        at_rim = [bent * (z - centre) / second for z in (0.0, top)]
        most = np.maximum(most, share * (collar_n / area + np.maximum(*at_rim)))
    return most
