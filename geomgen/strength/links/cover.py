"""What covers the blade, on its ribs: skin, sheeting and board on glue, film by its own; strips and foam beneath."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

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
from geomgen.strength.links.bonds import Bonded, bond
from geomgen.strength.links.choose import closer, thicker, weakest

SHARED = "pull of the part and of all that hangs on it, even over all of its glue on ribs"
SUCKED = "all of the bay's lift on the glue of one face"


def covers_on_ribs(build: Build) -> Iterator[Link]:
    """Of the parts of each table that lie on ribs the weakest: sheared by their pull, lifted off by the air."""
    every = {bay.key: bay for bay in bays(build)}
    lying = [part for part in build.flying if _lies_on_ribs(part.role)]
    for maker in (_sheared, _lifted):
        links = (link for part in lying for link in maker(build, part, every))
        yield from weakest(links, lambda link: (link.between[0].role, link.path))


def _lies_on_ribs(role: Role) -> bool:
    return (is_cover(role) and role is not Role.FILM) or role in (
        Role.CAP_STRIP,
        Role.NOSE_STRIP,
        Role.TAIL_STRIP,
        Role.CORE,
    )


def on_ribs(build: Build, key: Key) -> dict[Key, list[Joint]]:
    """Where a part is glued to ribs, by rib, from the root out."""
    found = dict[Key, list[Joint]]()
    for joint in build.joints(key):
        other = joint.b if joint.a == key else joint.a
        if other.role is Role.RIB and joint.area_mm2 > 0.0:
            found.setdefault(other, []).append(joint)
    return found


def _sheared(build: Build, part: Part, every: dict[Key, Bay]) -> Iterator[Link]:
    """Its glue, sheared along the blade."""
    held = on_ribs(build, part.key)
    area = sum(joint.area_mm2 for joints in held.values() for joint in joints)
    if area <= 0.0:
        return
    pull = build.loads.pull_of(part.key, *build.hanging_on(part.key))
    rib, bonded = _weakest_bond(build, part.key, list(held), shear=True)
    yield _link(build, part, every[rib], pull / area, Fails.UNSTUCK, bonded, SHARED)


def _lifted(build: Build, part: Part, every: dict[Key, Bay]) -> Iterator[Link]:
    """Its glue, pulled off by the air, at the rib where that is most; strips along the edges and foam aren't."""
    if part.role in (Role.NOSE_STRIP, Role.TAIL_STRIP, Role.CORE):
        return
    held = on_ribs(build, part.key)
    worst = max(held, key=lambda rib: float(_lift(build, every[rib], held[rib])[GREATEST].max()), default=None)
    if worst is not None:
        stress = _lift(build, every[worst], held[worst])
        yield _link(build, part, every[worst], stress, Fails.PEELED, bond(build, part.key, worst), SUCKED)


def _lift(build: Build, bay: Bay, joints: Sequence[Joint]) -> FloatArray:
    """Lift of a bay over the glue on one face of its rib: the less, where a part lies on both [MPa]."""
    return lift_n(build, bay) / min(joint.area_mm2 for joint in joints)


def _weakest_bond(build: Build, key: Key, ribs: Sequence[Key], *, shear: bool) -> tuple[Key, Bonded]:
    """The rib on which a part's glue is weakest, by the ribs' stocks; the outermost of these."""
    by_stock = {build.part(rib).stock: rib for rib in ribs}
    found = [(rib, bond(build, key, rib)) for rib in by_stock.values()]

    def low(one: tuple[Key, Bonded]) -> float:
        figure = one[1].shear if shear else one[1].pulled
        return figure.low if figure is not None else -1.0

    return min(found, key=low)


def _link(build: Build, part: Part, bay: Bay, stress: FloatArray, fails: Fails, bonded: Bonded, note: str) -> Link:
    peeled = fails is Fails.PEELED
    figure, why = (bonded.pulled, bonded.why_not_pulled) if peeled else (bonded.shear, bonded.why_not_shear)
    place = bay.blank.place
    helps: list[Help] = list(thicker(build.design, place.stock, lambda to: to / place.thickness_mm))
    helps += [*closer(build.design, place.run)] if peeled else [*_more_ribs(build, bay), *bonded.helps]
    return Link(
        name=f"glue of {part.name} on its ribs",
        fails=fails,
        path=part.path,
        r_mm=bay.r_mm,
        between=(part.key, bay.key),
        stress=stress,
        unit="MPa",
        strength=figure,
        unpublished="" if figure else why,
        alone=True,
        helps=tuple(helps),
        note=note,
    )


def _more_ribs(build: Build, bay: Bay) -> Iterator[Help]:
    """Ribs of a run that stand closer, by their share of all ribs."""
    run = bay.blank.place.run
    share = np.mean([blank.place.run == run for blank in build.blanks])
    for one in closer(build.design, run):
        yield Help(one.path, one.was, one.to, float(1.0 + share * (one.times - 1.0)))
