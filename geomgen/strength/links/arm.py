"""An arm of the hub: bent by the spar's outer reaction, twisted by what the pins hold. The pull doesn't go through it:
the collar bears on the cup's wall.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.strength import Property
from geomgen.plane.polar import on_circle
from geomgen.root.cross_section import arm_cross_section
from geomgen.root.hub_spec import HubSpec
from geomgen.strength.build import Build
from geomgen.strength.formulas.tube import tube_section
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.hub_changed import with_wall
from geomgen.strength.links.printed import (
    CORNER,
    SHARP_CORNER,
    filled,
    flat,
    in_plane,
    lies,
    root_link,
    sheared,
    upright,
)

ROUND = np.arange(0.0, 360.0, 5.0)  # [deg]


@dataclass(frozen=True, eq=False)
class ArmSection:
    """An arm cut across, in the caps' frame: x aft, y up.

    area_mm2 : [mm2]
    centre   : (2,) [mm]
    second   : (2, 2) second moments about the centre, int x2, int xy, int y2 [mm4]
    rim      : (n, 2) places of which some are farthest out, whichever way it is bent [mm]
    """

    area_mm2: float
    centre: FloatArray
    second: FloatArray
    rim: FloatArray

    def stretched_mpa(self, moment_nmm: FloatArray) -> FloatArray:
        """(...,) greatest tension of a bent arm.

        moment_nmm : (..., 2) force at its end times its lever, aft and up: the side that it is bent to is pressed
        source     : unsymmetrical bending, closed form
        """
        slope = moment_nmm @ np.linalg.inv(self.second)
        return np.asarray((-slope @ (self.rim - self.centre).T).max(axis=-1))


def arm_section(spec: HubSpec, *, at_root: bool) -> ArmSection:
    """An arm behind its taper; or at its root, where the thick root leaves the cup."""
    cut = arm_cross_section(spec)
    solid = (cut.shell | (cut.r < spec.boss / 2.0)) if at_root else cut.shell
    area = np.where(solid & ~cut.void, cut.area, 0.0)
    places = np.column_stack((cut.x, cut.y))
    total = float(area.sum())
    centre = area @ places / total
    off = places - centre
    second = (off * area[:, None]).T @ off
    rim = [on_circle(np.full(len(ROUND), (spec.boss if at_root else spec.arm) / 2.0), ROUND)]
    for duct in spec.ducts:
        middles = on_circle(np.full(7, duct.radius), np.linspace(duct.from_deg, duct.to_deg, 7))
        grown = on_circle(np.full(len(ROUND), duct.width / 2.0 + spec.wall), ROUND)
        rim.append((middles[:, None] + grown).reshape(-1, 2))
    return ArmSection(total, centre, second, np.vstack(rim))


def arm_links(build: Build) -> Iterator[Link]:
    """The arm bent where it leaves the cup and behind its taper, and twisted."""
    yield _bent(build, at_root=True)
    yield _bent(build, at_root=False)
    yield _twisted(build)


def _where(spec: HubSpec, *, at_root: bool) -> float:
    """s of the section [mm]."""
    return spec.bay_radius + spec.wall if at_root else spec.taper_end


def bent_mpa(spec: HubSpec, outer_n: FloatArray, *, at_root: bool) -> FloatArray:
    """(2, c) greatest tension of an arm, a sharp corner counted [MPa].

    outer_n : (2, c, 2) forward and up, of the spar on the socket's outer end [N]
    """
    lever = spec.seat - _where(spec, at_root=at_root)
    return SHARP_CORNER * arm_section(spec, at_root=at_root).stretched_mpa(lever * outer_n * (-1.0, 1.0))


def _bent(build: Build, *, at_root: bool) -> Link:
    design, spec, outer = build.design, build.hub, build.loads.socket.outer_n

    def of(wall: float) -> Loaded:
        return Loaded(bent_mpa(with_wall(spec, wall), outer, at_root=at_root), in_plane(build, wall)[0])

    now, thicker = of(spec.wall), stepped(design, spec.wall, 1.0)
    changes = Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker)), flat(build, now, spec.wall)
    name = "arm of the hub at its root" if at_root else "arm of the hub behind its taper"
    fails = Fails.SPLIT if upright(design) else Fails.BENT
    r_mm, why = _where(spec, at_root=at_root), in_plane(build, spec.wall)[1]
    return root_link(build, name, fails, now, helps(now, *changes), r_mm=r_mm, why=why, notes=(lies(design), CORNER))


def twisted_mpa(spec: HubSpec, pins_nm: FloatArray, outer_n: FloatArray) -> FloatArray:
    """(2, c) greatest shear of an arm behind its taper [MPa].

    pins_nm : (2, c) moment about the feather axis that the pins hold [N m]
    outer_n : (2, c, 2) force on its end, forward and up [N]
    source  : tubes round socket and ducts, side by side, which is less than they are as one: each turns by as much;
              and twice the mean shear of the whole section, as in a thin tube
    """
    rings = [(spec.arm, spec.socket), *((duct.width + 2.0 * spec.wall, duct.width) for duct in spec.ducts)]
    stiff = sum(float(tube_section(outside, inside).torsion_mm4) for outside, inside in rings)
    twist = 1e3 * np.abs(pins_nm) * max(outside for outside, _ in rings) / 2.0 / stiff
    across = np.hypot(outer_n[..., 0], outer_n[..., 1])
    return np.asarray(twist + 2.0 * across / arm_section(spec, at_root=False).area_mm2)


def _twisted(build: Build) -> Link:
    spec, socket = build.hub, build.loads.socket

    def of(wall: float) -> Loaded:
        return Loaded(twisted_mpa(with_wall(spec, wall), socket.pins_nm, socket.outer_n), sheared(build, wall)[0])

    now, thicker = of(spec.wall), stepped(build.design, spec.wall, 1.0)
    solid = filled(build, build.design.hub.stock, spec.wall, now, Property.SHEAR_ACROSS)
    helped = helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker)), solid)
    notes, why = ("between layers; round socket and ducts side by side",), sheared(build, spec.wall)[1]
    name = "arm of the hub, twisted by the pins"
    return root_link(build, name, Fails.SHEARED, now, helped, r_mm=spec.taper_end, why=why, notes=notes)
