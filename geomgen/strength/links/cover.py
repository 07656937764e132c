"""What covers the blade, on its ribs: skin, sheeting and board on glue; the strips along it, and foam between ribs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.groups import is_cover
from geomgen.model.joint import Joint, Key
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.build import Build
from geomgen.strength.link import Fails, Help, Link
from geomgen.strength.links.bays import Bay, bays, lift_n
from geomgen.strength.links.bonds import Bonded, bond, glue_link
from geomgen.strength.links.choose import closer, thicker, weakest

SHARED = "pull of the part and of all that hangs on it, even over all of its glue on ribs"
SUCKED = "all of the bay's lift on the glue of one face"
FACES = "pull of the block and of all that hangs on it, on the glue of one of its two faces"
Bays = Mapping[Key, Bay]


def covers_on_ribs(build: Build) -> Iterator[Link]:
    """Of the parts of each table that lie on ribs the weakest: sheared by their pull, lifted off by the air."""
    every = {bay.key: bay for bay in bays(build)}
    strips = Role.CAP_STRIP, Role.NOSE_STRIP, Role.TAIL_STRIP
    covers = [part for part in build.flying if is_cover(part.role) and part.role is not Role.FILM]
    beside = [part for part in build.flying if part.role in strips]
    cores = [part for part in build.flying if part.role is Role.CORE]
    lifted = [*covers, *(part for part in beside if part.role is Role.CAP_STRIP)]
    for maker, some in ((_sheared, [*covers, *beside]), (_lifted, lifted), (_pulled, cores)):
        links = (link for part in some for link in maker(build, part, every))
        yield from weakest(links, lambda link: (link.between[0].role, link.path))


def _sheared(build: Build, part: Part, every: Bays) -> Iterator[Link]:
    """Its glue, sheared along the blade."""
    held = _on_ribs(build, part.key)
    area = sum(joint.area_mm2 for joints in held.values() for joint in joints)
    if area > 0.0:
        pull = build.loads.pull_of(part.key, *build.hanging_on(part.key))
        rib, bonded = _weakest_bond(build, part.key, list(held))
        yield _link(build, part, every[rib], pull / area, Fails.UNSTUCK, bonded, SHARED)


def _lifted(build: Build, part: Part, every: Bays) -> Iterator[Link]:
    """Its glue, pulled off by the air, at the rib where that is most."""
    held = _on_ribs(build, part.key)
    worst = max(held, key=lambda rib: float(_lift(build, every[rib], held[rib])[GREATEST].max()), default=None)
    if worst is not None:
        stress = _lift(build, every[worst], held[worst])
        yield _link(build, part, every[worst], stress, Fails.PEELED, bond(build, part.key, worst), SUCKED)


def _pulled(build: Build, part: Part, every: Bays) -> Iterator[Link]:
    """A block of foam between ribs, pulled off the inner one's face."""
    held = _on_ribs(build, part.key)
    if held:
        area = min(joint.area_mm2 for joints in held.values() for joint in joints)
        pull = build.loads.pull_of(part.key, *build.hanging_on(part.key))
        rib = next(iter(held))
        yield _link(build, part, every[rib], pull / area, Fails.PULLED_APART, bond(build, part.key, rib), FACES)


def _on_ribs(build: Build, key: Key) -> dict[Key, list[Joint]]:
    """Where a part is glued to ribs, by rib, from the root out."""
    found = dict[Key, list[Joint]]()
    for joint in build.joints(key):
        other = joint.b if joint.a == key else joint.a
        if other.role is Role.RIB and joint.area_mm2 > 0.0 and joint.bond.wants_glue:
            found.setdefault(other, []).append(joint)
    return found


def _lift(build: Build, bay: Bay, joints: Sequence[Joint]) -> FloatArray:
    """Lift of a bay over the glue on one face of its rib: the less, where a part lies on both [MPa]."""
    return lift_n(build, bay) / min(joint.area_mm2 for joint in joints)


def _weakest_bond(build: Build, key: Key, ribs: Sequence[Key]) -> tuple[Key, Bonded]:
    """The rib on which a part's glue is weakest in shear, by the ribs' stocks; the outermost of these."""
    by_stock = {build.part(rib).stock: rib for rib in ribs}
    found = [(rib, bond(build, key, rib)) for rib in by_stock.values()]
    return min(found, key=lambda one: one[1].shear.low if one[1].shear is not None else -1.0)


def _link(build: Build, part: Part, bay: Bay, stress: FloatArray, fails: Fails, bonded: Bonded, note: str) -> Link:
    helped = tuple(_helps(build, bay, fails, bonded))
    return glue_link(bonded, f"glue of {part.name} on its ribs", fails, stress, path=part.path, r_mm=bay.r_mm,
                     between=(part.key, bay.key), helps=helped, note=note)  # fmt: skip


def _helps(build: Build, bay: Bay, fails: Fails, bonded: Bonded) -> Iterator[Help]:
    place = bay.blank.place
    if fails is not Fails.PULLED_APART:
        yield from thicker(build.design, place.stock, lambda to: to / place.thickness_mm)
    if fails is Fails.UNSTUCK:
        yield from bonded.helps
    share = 1.0
    if fails is Fails.UNSTUCK:  # ribs of one run that stand closer, by their share of all ribs
        share = float(np.mean([blank.place.run == place.run for blank in build.blanks]))
    for one in closer(build.design, place.run):
        yield Help(one.path, one.was, one.to, 1.0 + share * (one.times - 1.0))
