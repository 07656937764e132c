"""The spar in the hub's socket, and the socket: bending at its outer end, crushing where it bears, the plastic's wall.

The spar isn't clamped: it bears on both ends of the socket. A socket with play meets it along a line.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.strength import Property
from geomgen.root.root import HUB
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import BRITTLE_HOLE_RISE, bearing_mpa
from geomgen.strength.formulas.ring import Pressed, crushing_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import across, noted, print_note, stands
from geomgen.strength.links.root_tube import RootTube, root_tube

SNUG_MM = 0.05  # play on the diameter up to which a socket presses half round; from memory
FIT = "hub.socket.fit"


def socket_links(build: Build) -> Iterator[Link]:
    """Crushing of the tube at both ends of the socket, its bearing on the plastic, the socket's wall pulled apart."""
    tube, socket, spec = root_tube(build), build.loads.socket, build.hub
    ends = (("outer", spec.seat, socket.outer_n), ("inner", spec.collar_seat, socket.inner_n))
    for end, r_mm, forces in ends:
        force = np.hypot(forces[..., 0], forces[..., 1])
        yield _crushed(build, tube, end, r_mm, force)
        yield _bears(build, tube, end, r_mm, force)
    yield _split(build, tube, np.hypot(socket.outer_n[..., 0], socket.outer_n[..., 1]))


def pressed(fit_mm: float) -> Pressed:
    """How a socket with so much play on the diameter [mm] presses a tube."""
    return Pressed.IN_A_SNUG_BED if fit_mm <= SNUG_MM else Pressed.ON_A_LINE


def _crushed(build: Build, tube: RootTube, end: str, r_mm: float, force: FloatArray) -> Link:
    fit, strength = build.design.hub.socket.fit, tube.across()

    def with_(inside: float, how: Pressed) -> Loaded:
        return Loaded(crushing_mpa(force, tube.outside, tube.outside, inside, how), strength)

    thicker = stepped(build.design, tube.inside, -1.0)
    now = with_(tube.inside, pressed(fit))
    snug = with_(tube.inside, Pressed.IN_A_SNUG_BED)
    solid = with_(max(0.0, thicker), pressed(fit)) if tube.inside else None
    said = "half round" if fit <= SNUG_MM else f"along a line, as {mm(fit)} of play lets it"
    return Link(
        name=f"spar at the socket's {end} end",
        fails=Fails.CRUSHED,
        path=tube.path,
        r_mm=r_mm,
        between=(tube.key, HUB),
        stress=now.stress,
        unit="MPa",
        strength=strength,
        unpublished=tube.strength.why_not(Property.TENSION_ACROSS),
        helps=helps(
            now,
            Change(FIT, mm(fit), mm(SNUG_MM), snug),
            Change(f"stock.{tube.stock}.inside", mm(tube.inside), mm(thicker), solid),
        ),
        note=f"pressed {said}, over a length of its own diameter (from memory); a dowel in the tube there carries it",
    )


def _bears(build: Build, tube: RootTube, end: str, r_mm: float, force: FloatArray) -> Link:
    """The spar's pressure on the socket's plastic."""
    hub = build.design.hub.stock
    strength = stands(build, hub, build.hub.wall, Property.BEARING)

    def under(outside: float) -> Loaded:
        return Loaded(bearing_mpa(force, outside, outside), strength)

    now, wider = under(tube.outside), stepped(build.design, tube.outside, 2.0)
    return Link(
        name=f"socket at its {end} end, under the spar",
        fails=Fails.PRESSED,
        path="hub.socket",
        r_mm=r_mm,
        between=(tube.key, HUB),
        stress=now.stress,
        unit="MPa",
        strength=strength,
        unpublished=build.strengths[hub].why_not(Property.BEARING),
        alone=True,
        helps=helps(now, Change(f"stock.{tube.stock}.outside", mm(tube.outside), mm(wider), under(wider))),
        note=noted("over a length of the spar's diameter (from memory)", print_note(build, hub)),
    )


def _split(build: Build, tube: RootTube, force: FloatArray) -> Link:
    """The socket's wall on either side of the spar, which the outer reaction pulls apart."""
    spec, design = build.hub, build.design
    over = min(tube.outside, spec.flange_thickness)

    def of(wall: float) -> Loaded:
        strength, _ = across(build, wall)
        return Loaded(BRITTLE_HOLE_RISE * force / (2.0 * wall * over), strength)

    now, thicker = of(spec.wall), stepped(design, spec.wall, 1.0)
    return Link(
        name="socket's wall beside the spar",
        fails=Fails.SPLIT,
        path="hub.socket",
        r_mm=spec.seat,
        between=(HUB, HUB),
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=across(build, spec.wall)[1],
        alone=True,
        helps=helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker))),
        note=noted(
            f"across the layers, whichever way the hub lies; stress counted {BRITTLE_HOLE_RISE:g} times beside a hole",
            print_note(build, design.hub.stock),
        ),
    )
