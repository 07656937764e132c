"""The bolts that hold the hub down on the mast, by what the rotor lifts."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import mm
from geomgen.materials.bolts import bolt_proof_n
from geomgen.materials.screws import SCREWS
from geomgen.materials.strength import Property
from geomgen.root.root import HUB, MAST_BOLT
from geomgen.strength.build import Build
from geomgen.strength.formulas.plate import ring_shear_mpa
from geomgen.strength.formulas.screw import washer_pressure_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import noted, print_note, sheared, stands, stands_across, upright

BOLTS = "hub.bolts"
WHAT = "all that the blades lift hangs on the mast; unbalance, which isn't known here, is left out"


def mast_bolt_links(build: Build) -> Iterator[Link]:
    """Bolts pulled, their washers on the hub's floor, the floor sheared through round them."""
    lift = build.design.rotor.blades * np.abs(build.loads.air_up_n.sum(axis=-1))
    yield _pulled(build, lift)
    yield _pressed(build, lift)
    yield _through(build, lift)


def _pulled(build: Build, lift: FloatArray) -> Link:
    hub = build.design.hub
    strength = bolt_proof_n(hub.bolt)

    def of(count: int) -> Loaded:
        return Loaded(lift / count, strength)

    now = of(hub.bolts)
    change = Change(BOLTS, f"{hub.bolts}", f"{hub.bolts + 1}", of(hub.bolts + 1))
    return Link(
        name="bolts to the mast",
        fails=Fails.PULLED_APART,
        path="hub.bolt",
        r_mm=None,
        between=(HUB, MAST_BOLT),
        stress=now.stress,
        unit="N",
        strength=strength,
        helps=helps(now, change),
        note=WHAT,
    )


def _pressed(build: Build, lift: FloatArray) -> Link:
    hub, spec = build.design.hub, build.hub
    washer = SCREWS[hub.bolt].washer
    which = Property.COMPRESSION if upright(build.design) else Property.COMPRESSION_ACROSS
    press = stands if upright(build.design) else stands_across
    strength = press(build, hub.stock, spec.floor, which, Property.COMPRESSION)

    def of(count: int) -> Loaded:
        return Loaded(washer_pressure_mpa(lift / count, washer, spec.bolt), strength)

    now = of(hub.bolts)
    change = Change(BOLTS, f"{hub.bolts}", f"{hub.bolts + 1}", of(hub.bolts + 1))
    return Link(
        name="hub's floor under the bolts' washers",
        fails=Fails.PRESSED,
        path="hub",
        r_mm=None,
        between=(MAST_BOLT, HUB),
        stress=now.stress,
        unit="MPa",
        strength=strength,
        unpublished=build.strengths[hub.stock].why_not(which),
        alone=True,
        helps=helps(now, change),
        note=noted(WHAT, "what bolts are tightened with comes on top", print_note(build, hub.stock)),
    )


def _through(build: Build, lift: FloatArray) -> Link:
    hub, spec = build.design.hub, build.hub
    washer = SCREWS[hub.bolt].washer

    def of(floor: float) -> Loaded:
        return Loaded(ring_shear_mpa(lift / hub.bolts, washer, floor), sheared(build, floor)[0])

    now, thicker = of(spec.floor), stepped(build.design, spec.floor, 1.0)
    return Link(
        name="hub's floor round the bolts",
        fails=Fails.SHEARED,
        path="hub",
        r_mm=None,
        between=(MAST_BOLT, HUB),
        stress=now.stress,
        unit="MPa",
        strength=now.strength,
        unpublished=sheared(build, spec.floor)[1],
        alone=True,
        helps=helps(now, Change("hub.floor", mm(spec.floor), mm(thicker), of(thicker))),
        note=noted(WHAT, print_note(build, hub.stock)),
    )
