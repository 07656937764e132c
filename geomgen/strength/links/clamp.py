"""A split collar that is clamped on the spar: whether it slips, and what the grip that it needs does to the tube."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Clamped
from geomgen.figures import mm
from geomgen.materials.bolts import bolt_proof_n
from geomgen.materials.figure import Figure, worked_out
from geomgen.materials.screws import SCREWS
from geomgen.materials.strength import Property
from geomgen.root.root import COLLAR, COLLAR_SCREW
from geomgen.strength.blade_loads import GREATEST, TYPICAL
from geomgen.strength.build import Build
from geomgen.strength.formulas.ring import Pressed, crushing_mpa
from geomgen.strength.formulas.screw import PRELOAD_LEFT, clamp_torque_nmm
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.glued_instead import glued_instead
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.root_tube import RootTube, collar_mm, hanging_n, root_tube, spar_link

FRICTION = Figure(0.15, 0.20, 0.25, "-", "metal or plastic on carbon, from memory")
TIGHTENED = Figure(
    0.4 * PRELOAD_LEFT,
    0.4,
    0.6,
    "-",
    "of the screw's proof load, tightened by hand; low end: in plastic, of which a month leaves 0.3; from memory",
)
SCREWS_KEY, LENGTH_KEY = "hub.collar.fixing.count", "hub.collar.length"


def clamp_links(build: Build, clamped: Clamped) -> Iterator[Link]:
    """Friction against the pull; and the tube pinched by the grip that holds that pull."""
    tube, pull = root_tube(build), hanging_n(build)
    yield _slips(build, tube, clamped, pull)
    yield _pinched(build, tube, pull)


def grip_n(size: str, count: int, diameter: float) -> Figure:
    """Pull along the tube that friction holds [N].

    size, count : of the screws
    diameter    : of the tube [mm]
    source      : 2 mu F for each screw, two rigid halves
    """

    def held(tightened: float, proof: float, friction: float) -> float:
        return float(clamp_torque_nmm(tightened * proof, friction, diameter)[0]) / diameter * count

    source = f"2 mu F for each screw; F: {TIGHTENED.source}; mu: {FRICTION.source}"
    return worked_out(held, TIGHTENED, bolt_proof_n(size), FRICTION, unit="N", source=source)


def _slips(build: Build, tube: RootTube, clamped: Clamped, pull: FloatArray) -> Link:
    def by(size: str, count: int) -> Loaded:
        return Loaded(pull, grip_n(size, count, tube.outside))

    now, more = by(clamped.screw, clamped.count), clamped.count + 1
    larger = _larger(clamped.screw)
    helped = helps(
        now,
        Change(SCREWS_KEY, f"{clamped.count}", f"{more}", by(clamped.screw, more)),
        *(Change("hub.collar.fixing.screw", clamped.screw, size, by(size, clamped.count)) for size in larger),
        glued_instead(build, "clamped"),
    )
    name, note = "clamp of the collar on the spar", "friction alone; a screw that works loose lets go"
    return spar_link(tube, collar_mm(build), Fails.SLIPS, now, helped, name=name, why="", note=note, unit="N",
                     path=COLLAR_SCREW.path, between=(tube.key, COLLAR))  # fmt: skip


def _pinched(build: Build, tube: RootTube, pull: FloatArray) -> Link:
    """The tube under the grip that holds the pull: half of it over the friction, from either side."""
    needed = np.empty_like(pull)
    needed[TYPICAL] = pull[TYPICAL] / (2.0 * FRICTION.typical)
    needed[GREATEST] = pull[GREATEST] / (2.0 * FRICTION.low)
    strength = tube.across()

    def over(length: float, inside: float) -> Loaded:
        stress = crushing_mpa(needed, length, tube.outside, inside, Pressed.BETWEEN_TWO_LINES)
        return Loaded(stress, strength)

    length, inside = build.design.hub.collar.length, tube.inside
    longer, now = stepped(build.design, length, 4.0), over(length, inside)
    helped = helps(
        now,
        Change(LENGTH_KEY, mm(length), mm(longer), over(longer, inside)),
        *tube.thicker(build, lambda inside: over(length, inside)),
        glued_instead(build, "clamped"),
    )
    why, name = tube.strength.why_not(Property.TENSION_ACROSS), "spar under the collar's clamp"
    note = "by the grip that this pull needs, pinched along two lines; a dowel in the tube under it carries that"
    return spar_link(tube, collar_mm(build), Fails.CRUSHED, now, helped, name=name, why=why, note=note,
                     path=COLLAR_SCREW.path, between=(tube.key, COLLAR))  # fmt: skip


def _larger(size: str) -> tuple[str, ...]:
    """The next larger screw of its own system."""
    alike = [name for name in SCREWS if name.startswith("M") == size.startswith("M")]
    larger = [name for name in alike if SCREWS[name].diameter > SCREWS[size].diameter + 1e-9]
    return (min(larger, key=lambda name: SCREWS[name].diameter),) if larger else ()
