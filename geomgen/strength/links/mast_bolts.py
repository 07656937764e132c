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
from geomgen.strength.formulas.plate import face_pressure_mpa, ring_shear_mpa
from geomgen.strength.link import Fails, Link
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.printed import filled, root_link, sheared, stands, upright

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
    strength, why = stands(build, hub.stock, spec.floor, which)

    def of(count: int) -> Loaded:
        return Loaded(face_pressure_mpa(lift / count, washer, spec.bolt), strength)

    now = of(hub.bolts)
    helped = helps(now, Change(BOLTS, f"{hub.bolts}", f"{hub.bolts + 1}", of(hub.bolts + 1)))
    notes = WHAT, "what bolts are tightened with comes on top, and creeps away"
    name, between = "hub's floor under the bolts' washers", (MAST_BOLT, HUB)
    return root_link(build, name, Fails.PRESSED, now, helped, r_mm=None, why=why, notes=notes, between=between)


def _through(build: Build, lift: FloatArray) -> Link:
    hub, spec = build.design.hub, build.hub
    washer = SCREWS[hub.bolt].washer

    def of(floor: float) -> Loaded:
        return Loaded(ring_shear_mpa(lift / hub.bolts, washer, floor), sheared(build, floor)[0])

    now, thicker = of(spec.floor), stepped(build.design, spec.floor, 1.0)
    solid = filled(build, hub.stock, spec.floor, now, Property.SHEAR_ACROSS)
    helped = helps(now, Change("hub.floor", mm(spec.floor), mm(thicker), of(thicker)), solid)
    name, between, why = "hub's floor round the bolts", (MAST_BOLT, HUB), sheared(build, spec.floor)[1]
    return root_link(build, name, Fails.SHEARED, now, helped, r_mm=None, why=why, notes=(WHAT,), between=between)
