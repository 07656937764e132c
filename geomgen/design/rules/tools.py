"""What the rules share."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from geomgen.design.keypath import KeyPath, written
from geomgen.design.near import near
from geomgen.design.schema.design import Design
from geomgen.design.schema.gaps import GapReached
from geomgen.design.schema.place import NAMED_PLACES, Place
from geomgen.errors import Fault

Faults = Iterator[Fault]
EXACT = 1e-6  # two r closer than this are one [mm]


def guarded(*checks: Iterable[Fault]) -> Faults:
    """The faults of several checks; a check that meets a gap stops there, the others go on."""
    for check in checks:
        try:
            yield from check
        except GapReached:
            continue


def fault(path: KeyPath, wrong: str, allowed: str = "", remedy: str = "") -> Fault:
    """A fault at a key path; its value is filled in from the file."""
    return Fault(written(path), "", wrong, allowed, remedy)


def quoted(name: str) -> str:
    """A name as the file would have it."""
    return f'"{name}"'


def r_of(design: Design, place: Place) -> float:
    """The r of a place [mm]; a name that leads nowhere is a gap, as another rule speaks of it."""
    name = place.name
    if name is not None and name not in NAMED_PLACES:
        at = design.fitting[name].at if name in design.fitting else None
        if at is None or (at.name is not None and at.name not in NAMED_PLACES):
            raise GapReached
    return design.r(place)


def known_place(design: Design, path: KeyPath, place: Place) -> Faults:
    """A place's name is one of ours or a fitting's."""
    if place.name is not None and place.name not in NAMED_PLACES and place.name not in design.fitting:
        names = [*NAMED_PLACES, *design.fitting]
        yield fault(
            path,
            "is no place on the blade",
            f"a length, a share of the radius, or {_listed(names)}",
            near(place.name, names),
        )


def known(path: KeyPath, name: str, table: Mapping[str, Any], what: str) -> Faults:
    """A name stands in a named table."""
    if name not in table:
        there = f"[{what}.*] here: {_listed(table)}" if table else f"a [{what}.{name}] table; there is none at all"
        yield fault(path, f"there is no [{what}.{name}]", there, near(name, table))


def _listed(names: Iterable[str]) -> str:
    some = list(names)
    return ", ".join(some if len(some) <= 12 else [*some[:12], "..."])
