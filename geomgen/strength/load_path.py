"""What holds the blade in: skin to rib to spar to collar to hub, and the pull on each link at the highest speed.

No margins yet: the pulls are what each joint has to be made for.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.errors import Fault, MakeError
from geomgen.mass.band import Triple
from geomgen.mass.sums import Line

FORMULA = "pull = sum of m r Omega^2 of all that a link carries, r along the feather axis, coning left out"
SKINS = ("skin", "covering")
FITTING, COLLAR = "fitting", "collar"


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
    links    : skin to rib, ribs to spar, spar to collar, collar to hub; a link that carries nothing is left out
    fittings : each bought thing to what it is fixed to on the blade
    """

    rpm_max: float
    links: tuple[Link, ...]
    fittings: tuple[Link, ...]
    formula: str = FORMULA


def load_path(lines: Sequence[Line], main_spar: str, rpm_max: float) -> LoadPath:
    """The load path of one blade.

    lines     : lines of the mass statement; those on the hub are passed over
    main_spar : key path of the spar on the feather axis, "blade.spar.main"
    rpm_max   : highest speed of the rotor [1/min]
    raises    : MakeError where no main spar or no collar is among the parts: nothing would hold the blade
    source    : equilibrium of a body carried round, F = m r Omega^2
    """
    blade = [line for line in lines if line.assembly == "blade"]
    faults = []
    if not any(line.path == main_spar for line in blade):
        faults.append(Fault(main_spar, "", "no part is made of it: nothing carries the ribs' pull to the hub"))
    if not any(line.role == COLLAR for line in blade):
        faults.append(Fault("hub.collar", "", "no part is made of it: nothing holds the blade against its pull"))
    if faults:
        raise MakeError(faults)

    def link(carried: str, held_by: str, which: Callable[[Line], bool]) -> Link:
        return _link(carried, held_by, [line for line in blade if which(line)], rpm_max)

    links = (
        link("skin", "ribs", lambda line: line.role in SKINS),
        link("skin, ribs and all that they hold", "spar", lambda line: line.path != main_spar and line.role != COLLAR),
        link("the blade with its spar", "collar", lambda line: line.role != COLLAR),
        link("the blade with its collar", "hub", lambda line: True),
    )
    fittings = tuple(_link(line.name, "its fixing", [line], rpm_max) for line in blade if line.role == FITTING)
    return LoadPath(rpm_max, tuple(one for one in links if one.mass_g[2] > 0.0), fittings)


def pull_n(mass_g: float, radius_mm: float, rpm: float) -> float:
    """Pull of a mass carried round [N]: mass [g], radius of its centre [mm], speed [1/min]."""
    return mass_g * 1e-3 * radius_mm * 1e-3 * (rpm * float(np.pi) / 30) ** 2


def _link(carried: str, held_by: str, lines: Sequence[Line], rpm: float) -> Link:
    def each(end: int) -> tuple[float, float]:
        masses = [line.set_g[end] for line in lines]
        pulls = [pull_n(grams, line.place_mm[0], rpm) for grams, line in zip(masses, lines, strict=True)]
        return sum(masses), sum(pulls)

    (low_g, low_n), (typical_g, typical_n), (high_g, high_n) = each(0), each(1), each(2)
    return Link(carried, held_by, (low_g, typical_g, high_g), (low_n, typical_n, high_n))
