"""A collar held by a pin across it and the spar: the pin, and what its hole leaves of the spar."""

from __future__ import annotations

from collections.abc import Iterator

from geomgen.arrays import FloatArray
from geomgen.design.schema import Pinned
from geomgen.figures import mm
from geomgen.materials.figure import Figure
from geomgen.materials.strength import Property
from geomgen.root.root import COLLAR, COLLAR_PIN
from geomgen.strength.build import Build
from geomgen.strength.formulas.pin import BRITTLE_HOLE_RISE, bearing_mpa, pin_shear_mpa, shear_out_mpa
from geomgen.strength.formulas.tube import pierced_tube
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.glued_instead import glued_instead
from geomgen.strength.links.helping import Change, Loaded, helps, stepped
from geomgen.strength.links.root_tube import RootTube, collar_mm, hanging_n, root_tube, spar_link


def cross_pin_links(build: Build, pinned: Pinned) -> Iterator[Link]:
    """The pin in double shear, its bearing in the spar's walls, shear-out to the spar's end, the spar at the hole."""
    tube, pull = root_tube(build), hanging_n(build)
    yield _cut(build, tube, pinned, pull)
    yield _bears(build, tube, pinned, pull)
    yield _torn_out(build, tube, pinned, pull)
    yield _left(build, tube, pinned, pull)


def _cut(build: Build, tube: RootTube, pinned: Pinned, pull: FloatArray) -> Link:
    """The pin, cut on either side of the spar."""
    known = build.strengths[pinned.stock]
    now = Loaded(pin_shear_mpa(pull, pinned.diameter), known.of(Property.SHEAR))
    helped, why = helps(now, glued_instead(build, "pinned")), known.why_not(Property.SHEAR)
    note = "cut twice; its bending is left out: collar and spar lie close"
    return _link(build, tube, "pin of the collar", Fails.SHEARED, now, helped, why=why, note=note)


def _bears(build: Build, tube: RootTube, pinned: Pinned, pull: FloatArray) -> Link:
    """Both walls of the spar under the pin."""

    def of(inside: float) -> Loaded:
        wall = (tube.outside - inside) / 2.0
        return Loaded(bearing_mpa(pull / 2.0, pinned.diameter, wall), tube.strength.of(Property.BEARING))

    now, why = of(tube.inside), tube.strength.why_not(Property.BEARING)
    helped = helps(now, *tube.thicker(build, of), glued_instead(build, "pinned"))
    return _link(build, tube, "spar under the collar's pin", Fails.BEARING, now, helped, why=why, note="both walls")


def _torn_out(build: Build, tube: RootTube, pinned: Pinned, pull: FloatArray) -> Link:
    """The spar between its inner end and the pin, which that end is pulled against."""
    face = build.root.face
    middle = collar_mm(build)
    strength = tube.strength.of(Property.SHEAR)

    def to(end: float, inside: float) -> Loaded:
        wall = (tube.outside - inside) / 2.0
        return Loaded(shear_out_mpa(pull / 2.0, pinned.diameter, wall, middle - end), strength)

    now, longer = to(face.spar_from_mm, tube.inside), stepped(build.design, face.spar_from_mm, -5.0)
    further = Change(f"{tube.path}.from", mm(face.spar_from_mm), mm(longer), to(longer, tube.inside))
    thicker = tube.thicker(build, lambda inside: to(face.spar_from_mm, inside))
    helped = helps(now, further, *thicker, glued_instead(build, "pinned"))
    note = f"{mm(middle - face.spar_from_mm, 1)} from the pin's middle to the end, both walls"
    why, name = tube.strength.why_not(Property.SHEAR), "spar between the collar's pin and its inner end"
    return _link(build, tube, name, Fails.SHEARED_OUT, now, helped, why=why, note=note)


def _left(build: Build, tube: RootTube, pinned: Pinned, pull: FloatArray) -> Link:
    """What the hole leaves of the spar, pulled."""
    rise = BRITTLE_HOLE_RISE if tube.of_fibres else 1.0
    strength: Figure | None = tube.strength.of(Property.TENSION)

    def of(inside: float) -> Loaded:
        return Loaded(rise * pull / pierced_tube(tube.outside, inside, pinned.diameter).area_mm2, strength)

    now = of(tube.inside)
    helped = helps(now, *tube.thicker(build, of), glued_instead(build, "pinned"))
    note = f"stress counted {rise:g} times beside the hole" if rise > 1.0 else "the net section"
    why = tube.strength.why_not(Property.TENSION)
    return _link(build, tube, "spar at the collar's pin", Fails.PULLED_APART, now, helped, why=why, note=note)


def _link(
    build: Build, tube: RootTube, name: str, fails: Fails, now: Loaded, helped: tuple[Help, ...], *, why: str, note: str
) -> Link:
    between = (COLLAR_PIN, COLLAR) if fails is Fails.SHEARED else (tube.key, COLLAR_PIN)
    return spar_link(tube, collar_mm(build), fails, now, helped, name=name, why=why, note=note, path=COLLAR_PIN.path,
                     between=between)  # fmt: skip
