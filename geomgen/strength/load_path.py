"""What holds the blade in: cover to rib to spar to collar to hub, and the pull on each link at the highest speed.

A walk of the joints from the hub outwards: each part hangs on the part next nearer the hub. No margins yet: the pulls
are what each joint has to be made for.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.errors import Fault, MakeError
from geomgen.figures import mm
from geomgen.mass.band import Triple
from geomgen.mass.lines import Line
from geomgen.model.groups import Group, group, is_cover
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.made import Made
from geomgen.model.part import Part
from geomgen.model.role import Assembly, Role

FORMULA = "pull = sum of m r Omega^2 of all that a link carries, r along the feather axis, coning left out"
HUB = Key(Role.HUB, "hub")


@dataclass(frozen=True)
class Link:
    """One joint of the load path.

    carried : what hangs on it, in words
    held_by : what it hangs on
    mass_g  : (low, typical, high) mass carried [g]
    pull_n  : (low, typical, high) pull at the highest speed [N]
    """

    carried: str
    held_by: str
    mass_g: Triple
    pull_n: Triple


@dataclass(frozen=True)
class LoadPath:
    """The links of one blade from the outside in, and what is fixed to the ribs on the way.

    rpm_max  : speed at which the pulls are stated [1/min]
    links    : cover and what sticks to it to rib, ribs to spar, spar to collar, collar to hub; a link that carries
               nothing is left out
    fittings : each bought thing to what it is fixed to on the blade, and each kind of wire to its ties
    """

    rpm_max: float
    links: tuple[Link, ...]
    fittings: tuple[Link, ...]
    formula: str = FORMULA

    @property
    def to_collar(self) -> Link:
        """The blade with its spar on its collar."""
        return self.links[-2]


def hung(flying: Made, *, main_spar: str) -> dict[Key, Key]:
    """What each part hangs on: the part next nearer the hub; nothing for the hub.

    flying    : all that turns, and where it touches
    main_spar : key path of the spar on the feather axis, "blade.spar.main"
    raises    : MakeError where no chain of joints carries a part of the blade to the hub; where `flying` is at fault
                itself, nothing more is blamed
    """
    held = hanging(flying.read().joints)
    blade = [part for part in flying if part.assembly == Assembly.BLADE]
    if faults := _loose(blade, held, flying.joints, main_spar):
        raise MakeError(faults)
    return held


def load_path(lines: Sequence[Line], held: Mapping[Key, Key], *, main_spar: str, rpm_max: float) -> LoadPath:
    """The load path of one blade.

    lines     : lines of the mass statement; those on the hub are passed over
    held      : what each part hangs on, see `hung`
    main_spar : key path of the spar on the feather axis, "blade.spar.main"
    rpm_max   : highest speed of the rotor [1/min]
    source    : equilibrium of a body carried round, F = m r Omega^2
    """
    blade = [line for line in lines if line.assembly == Assembly.BLADE]

    def under(beneath: Callable[[Key], bool]) -> list[Line]:
        """What hangs on some parts, these left out."""
        return [line for line in blade if not beneath(line.key) and any(map(beneath, chain(line.key, held)))]

    covers = [line for line in blade if is_cover(line.role)]
    stuck = [line for line in blade if line.role is Role.FITTING and is_cover(held[line.key].role)]
    beneath = dict.fromkeys(_frame_beneath(line.key, held).role for line in covers)
    links = (
        _link(_words(line.role for line in covers), _words(beneath, "s"), [*covers, *stuck], rpm_max),
        _link("skin, ribs and all that they hold", "spar", under(lambda key: key.path == main_spar), rpm_max),
        _link("the blade with its spar", "collar", under(lambda key: key.role == Role.COLLAR), rpm_max),
        _link("the blade with its collar", "hub", under(lambda key: key == HUB), rpm_max),
    )
    fittings = tuple(
        _link(line.name, "its ties" if line.role == Role.WIRE else "its fixing", [line], rpm_max)
        for line in blade
        if line.role in (Role.FITTING, Role.WIRE)
    )
    return LoadPath(rpm_max, tuple(one for one in links if one.mass_g[2] > 0.0), fittings)


def hanging(joints: Iterable[Joint]) -> dict[Key, Key]:
    """What each part hangs on: the part next nearer the hub through joints that hold a pull; nothing for the hub."""
    beside: dict[Key, list[Key]] = {}
    for joint in joints:
        if joint.bond.holds_pull and joint.a != joint.b:
            beside.setdefault(joint.b, []).append(joint.a)
            if joint.bond != Bond.BEARING:  # what lies against a part holds nothing of it
                beside.setdefault(joint.a, []).append(joint.b)
    held, outwards = dict[Key, Key](), deque([HUB])
    while outwards:
        inner = outwards.popleft()
        for outer in beside.get(inner, ()):
            if outer not in held and outer != HUB:
                held[outer] = inner
                outwards.append(outer)
    return held


def chain(key: Key, held: Mapping[Key, Key]) -> Iterator[Key]:
    """What a part hangs on, and what that hangs on, to the hub."""
    while key in held:
        key = held[key]
        yield key


def pull_n(mass_g: float, radius_mm: float, rpm: float) -> float:
    """Pull of a mass carried round [N]: mass [g], radius of its centre [mm], speed [1/min]."""
    return mass_g * 1e-3 * radius_mm * 1e-3 * (rpm * float(np.pi) / 30) ** 2


def _loose(blade: Sequence[Part], held: Mapping[Key, Key], joints: Sequence[Joint], main_spar: str) -> list[Fault]:
    """What nothing holds in, told once for each table; first what all else hangs on."""
    faults = []
    if not any(part.path == main_spar for part in blade):
        faults.append(Fault(main_spar, "", "no part is made of it: nothing carries the ribs' pull to the hub"))
    if not any(part.role == Role.COLLAR for part in blade):
        faults.append(Fault("hub.collar", "", "no part is made of it: nothing holds the blade against its pull"))
    if faults:
        return faults
    found = [*_uncovered(blade, joints), *_flying_off(blade, held), *_beyond_the_spars(blade, held, main_spar)]
    return list({fault.path: fault for fault in reversed(found)}.values())[::-1]  # the first of each path


def _flying_off(blade: Sequence[Part], held: Mapping[Key, Key]) -> Iterator[Fault]:
    """What no chain of joints carries to the hub."""
    loose: dict[str, Part] = {}
    for part in blade:
        if part.key not in held:
            loose.setdefault(part.path, part)
    for path, part in loose.items():
        remedy = (
            f"{path}.rib = true puts a rib there to fix it to, stuck = true sticks it to the cover"
            if part.role is Role.FITTING
            else ""
        )
        yield Fault(path, "", f"{part.name} hangs on nothing that is held by the hub: it would fly off", "", remedy)


def _beyond_the_spars(blade: Sequence[Part], held: Mapping[Key, Key], main_spar: str) -> Iterator[Fault]:
    """Ribs that no spar reaches, so that they and all that is on them hang on the cover."""
    beyond = [part for part in blade if part.role is Role.RIB and part.key in held and _soft(held[part.key].role)]
    if beyond:
        ribs = ", ".join(f"{part.name} (r {mm(part.r_mm or 0.0, 1)})" for part in beyond)
        wrong = f"no spar reaches {ribs}: what is there hangs on the cover alone"
        last = max(part.r_mm or 0.0 for part in beyond)
        yield Fault(
            f"{main_spar}.to", "", wrong, f"beyond r {mm(last, 1)}", "a longer spar, or ribs that end before it"
        )


def _uncovered(blade: Sequence[Part], joints: Sequence[Joint]) -> Iterator[Fault]:
    """A blade that nothing covers, and covers that fewer than two ribs hold in shape."""
    covers = [part for part in blade if is_cover(part.role)]
    if any(part.role is Role.CORE for part in blade):
        return
    if not covers:
        wrong = "nothing covers the blade: no air is turned down by ribs"
        yield Fault("blade.construction", "", wrong, "", "a [blade.skin.*], or a construction of another kind")
    for cover in covers:
        pairs = [(each.a, each.b) for each in joints if cover.key in (each.a, each.b)]
        ribs = {key for pair in pairs for key in pair if key.role in (Role.RIB, Role.CAP_STRIP)}
        if len(ribs) < 2:
            wrong = f"{cover.name} lies on {len(ribs) or 'no'} rib{'s' * (len(ribs) != 1)}: nothing gives it its shape"
            yield Fault(cover.path, "", wrong, "at least two ribs", "more ribs there, or a longer panel")


def _soft(role: Role) -> bool:
    return group(role) in (Group.SKIN, Group.EDGES)


def _frame_beneath(cover: Key, held: Mapping[Key, Key]) -> Key:
    """The first part beneath a cover that is no cover, foam or strip itself."""
    return next(key for key in chain(cover, held) if not _soft(key.role))


def _words(roles: Iterable[Role], ending: str = "") -> str:
    return " and ".join(f"{role}{ending}" for role in dict.fromkeys(roles))


def _link(carried: str, held_by: str, lines: Sequence[Line], rpm: float) -> Link:
    def each(end: int) -> tuple[float, float]:
        masses = [line.set_g[end] for line in lines]
        pulls = [pull_n(grams, line.place_mm[0], rpm) for grams, line in zip(masses, lines, strict=True)]
        return sum(masses), sum(pulls)

    (low_g, low_n), (typical_g, typical_n), (high_g, high_n) = each(0), each(1), each(2)
    return Link(carried, held_by, (low_g, typical_g, high_g), (low_n, typical_n, high_n))
