"""The collar that holds a blade in: what fixes it to the spar, and the face that it bears on."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.design.schema import Clamped, Glued, Pinned
from geomgen.figures import mm
from geomgen.materials.bond_strength import Surface, glue_strength
from geomgen.materials.strength import Property
from geomgen.root.root import COLLAR, HUB
from geomgen.strength.build import Build
from geomgen.strength.formulas.glue import ring_glue_pull_mpa
from geomgen.strength.formulas.plate import face_pressure_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.clamp import clamp_links
from geomgen.strength.links.cross_pin import cross_pin_links
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import filled, root_link, stands
from geomgen.strength.links.root_tube import collar_mm, hanging_n, root_tube, spar_link

FIXING = "hub.collar.fixing"


def collar_links(build: Build) -> Iterator[Link]:
    """How the collar holds on to the spar, the collar itself, and its face on the hub."""
    match build.design.hub.collar.fixing:
        case Glued() as glued:
            yield _glued(build, glued)
        case Pinned() as pinned:
            yield from cross_pin_links(build, pinned)
        case Clamped() as clamped:
            yield from clamp_links(build, clamped)
        case None:
            yield _unfixed(build)
    yield _itself(build)
    yield _face(build)


def _glued(build: Build, glued: Glued) -> Link:
    tube, pull, collar = root_tube(build), hanging_n(build), build.design.hub.collar
    strength, why = glue_strength(glued.glue, Surface.TUBE)

    def over(length: float, outside: float) -> Loaded:
        return Loaded(ring_glue_pull_mpa(pull, outside, length), strength)

    now = over(glued.length, tube.outside)
    longer = min(collar.length, stepped(build.design, glued.length, 4.0))
    both = stepped(build.design, collar.length, 4.0)
    wider = stepped(build.design, tube.outside, 2.0)
    helped = helps(
        now,
        Change(f"{FIXING}.length", mm(glued.length), mm(longer), over(longer, tube.outside)),
        Change(
            "hub.collar.length",
            mm(collar.length),
            f"{mm(both)}, glued over all of it",
            None if longer > glued.length else over(both, tube.outside),
        ),
        Change(f"stock.{tube.stock}.outside", mm(tube.outside), mm(wider), over(glued.length, wider)),
    )
    note = "mean shear round the spar, sanded and degreased; it peaks at the ends, which its strength counts in"
    return spar_link(tube, collar_mm(build), Fails.UNSTUCK, now, helped, name="glue of the collar on the spar", why=why,
                     note=note, path=FIXING, between=(tube.key, COLLAR), alone=True)  # fmt: skip


def _unfixed(build: Build) -> Link:
    why = f"no fixing is stated in {FIXING}: nothing says what holds the blade in"
    return _unknown(build, "collar on the spar", Fails.SLIPS, why)


def _itself(build: Build) -> Link:
    why = "unpublished: the design doesn't say what it is made of"
    return _unknown(build, "the collar itself", Fails.PULLED_APART, why)


def _unknown(build: Build, name: str, fails: Fails, why: str) -> Link:
    """All that hangs on the spar, on what nothing is known of."""
    tube, now = root_tube(build), Loaded(hanging_n(build), None)
    return spar_link(tube, collar_mm(build), fails, now, (), name=name, why=why, note="", unit="N", path="hub.collar",
                     between=(tube.key, COLLAR))  # fmt: skip


def _face(build: Build) -> Link:
    design, spec, force = build.design, build.hub, build.loads.socket.collar_n
    collar, wall = design.hub.collar, (spec.boss - spec.socket) / 2.0
    why = stands(build, design.hub.stock, wall, Property.COMPRESSION)[1]

    def on(outside: float) -> Loaded:
        thick = wall + (outside - collar.outside) / 2.0  # the arm's thick root goes with it
        strength, _ = stands(build, design.hub.stock, thick, Property.COMPRESSION)
        return Loaded(face_pressure_mpa(force, outside, spec.socket), strength)

    now, wider = on(collar.outside), stepped(design, collar.outside, 2.0)
    solid = filled(build, design.hub.stock, wall, now, Property.COMPRESSION)
    helped = helps(now, Change("hub.collar.outside", mm(collar.outside), mm(wider), on(wider)), solid)
    name, path, notes = "hub under the collar's face", "hub.collar", ("the ring between socket and collar's rim",)
    return root_link(build, name, Fails.PRESSED, now, helped, r_mm=spec.collar_seat, why=why, notes=notes, path=path,
                    between=(COLLAR, HUB))  # fmt: skip
