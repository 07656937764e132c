"""The spar in the hub's socket, and the socket: bending at its outer end, crushing where it bears, the plastic's wall.

The spar isn't clamped: it bears on both ends of the socket. A socket with play meets it along a line.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import at_most, mm
from geomgen.materials.strength import Property
from geomgen.root.root import HUB
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import BRITTLE_HOLE_RISE, bearing_mpa, net_tension_mpa
from geomgen.strength.formulas.ring import Pressed, crushing_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import filled, root_link, stands
from geomgen.strength.links.root_tube import RootTube, root_tube, spar_link

SNUG_MM = 0.05  # play on the diameter up to which a socket presses half round; from memory
FIT = "hub.socket.fit"


def socket_links(build: Build) -> Iterator[Link]:
    """Crushing of the tube at that end of the socket where it bears hardest, its bearing on the plastic there, and the
    socket's wall at its outer end pulled apart."""
    tube, socket, spec = root_tube(build), build.loads.socket, build.hub
    outer, inner = (np.hypot(each[..., 0], each[..., 1]) for each in (socket.outer_n, socket.inner_n))
    end, r_mm, force = ("outer", spec.seat, outer)
    if inner.max() > outer.max():
        end, r_mm, force = ("inner", spec.collar_seat, inner)
    yield _crushed(build, tube, end, r_mm, force)
    yield _bears(build, tube, end, r_mm, force)
    yield _split(build, tube, outer)


def pressed(fit_mm: float) -> Pressed:
    """How a socket with so much play on the diameter [mm] presses a tube."""
    return Pressed.IN_A_SNUG_BED if fit_mm <= SNUG_MM else Pressed.ON_A_LINE


def _crushed(build: Build, tube: RootTube, end: str, r_mm: float, force: FloatArray) -> Link:
    fit, strength = build.design.hub.socket.fit, tube.across()

    def with_(inside: float, how: Pressed) -> Loaded:
        return Loaded(crushing_mpa(force, tube.outside, tube.outside, inside, how), strength)

    now = with_(tube.inside, pressed(fit))
    snug = with_(tube.inside, Pressed.IN_A_SNUG_BED)
    said = "half round" if fit <= SNUG_MM else f"along a line, as {mm(fit)} of play lets it"
    thicker = tube.thicker(build, lambda inside: with_(inside, pressed(fit)))
    helped = helps(now, Change(FIT, mm(fit), at_most(SNUG_MM, 2), snug), *thicker)
    name, why = f"spar at the socket's {end} end", tube.strength.why_not(Property.TENSION_ACROSS)
    note = f"pressed {said}, over its own diameter of length (from memory); a dowel in the tube carries it"
    return spar_link(tube, r_mm, Fails.CRUSHED, now, helped, name=name, why=why, note=note, between=(tube.key, HUB))


def _bears(build: Build, tube: RootTube, end: str, r_mm: float, force: FloatArray) -> Link:
    """The spar's pressure on the socket's plastic."""
    hub, stock = build.design.hub.stock, f"stock.{tube.stock}"
    strength, why = stands(build, hub, build.hub.wall, Property.BEARING)

    def under(outside: float) -> Loaded:
        return Loaded(bearing_mpa(force, outside, outside), strength)

    now, wider = under(tube.outside), stepped(build.design, tube.outside, 2.0)
    thicker = Change(f"{stock}.outside", mm(tube.outside), mm(wider), under(wider))
    helped = helps(now, thicker, filled(build, hub, build.hub.wall, now, Property.BEARING))
    name, notes = f"socket at its {end} end, under the spar", ("over a length of the spar's diameter (from memory)",)
    return root_link(build, name, Fails.PRESSED, now, helped, r_mm=r_mm, why=why, notes=notes,
                    path="hub.socket", between=(tube.key, HUB))  # fmt: skip


def _split(build: Build, tube: RootTube, force: FloatArray) -> Link:
    """The socket's wall on either side of the spar, which the outer reaction pulls apart.

    Across the layers, whichever way the hub lies: the reaction may point anywhere.
    """
    spec, hub = build.hub, build.design.hub.stock
    over = min(tube.outside, spec.flange_thickness)

    def of(wall: float) -> Loaded:
        strength, _ = stands(build, hub, wall, Property.TENSION_ACROSS)
        whole = tube.outside + 2.0 * wall
        return Loaded(net_tension_mpa(force, whole, tube.outside, over, BRITTLE_HOLE_RISE), strength)

    now, thicker = of(spec.wall), stepped(build.design, spec.wall, 1.0)
    why = stands(build, hub, spec.wall, Property.TENSION_ACROSS)[1]
    solid = filled(build, hub, spec.wall, now, Property.TENSION_ACROSS)
    helped = helps(now, Change("hub.wall", mm(spec.wall), mm(thicker), of(thicker)), solid)
    notes = (f"across layers; stress counted {BRITTLE_HOLE_RISE:g} times beside a hole; the flange isn't counted",)
    name = "socket's wall beside the spar"
    return root_link(build, name, Fails.SPLIT, now, helped, r_mm=spec.seat, why=why, notes=notes, path="hub.socket")
