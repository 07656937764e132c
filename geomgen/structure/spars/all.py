"""Every spar of a blade, whatever its kind: what is cut of ribs, what is wrong, its parts, how it is built in."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import Any

from geomgen.blade.rib_places import RibPlace
from geomgen.errors import Fault, MakeError
from geomgen.model.joint import Key
from geomgen.model.layout import Layout, Slice
from geomgen.model.made import Made, attempted, together
from geomgen.model.part import Part
from geomgen.model.step import Phase, Task
from geomgen.structure.spars.crossing import crossing
from geomgen.structure.spars.cuts import Cuts, outside_notches
from geomgen.structure.spars.kind import Member, Passage
from geomgen.structure.spars.kinds import kind_of, members


def spar_cuts(layout: Layout, rib: RibPlace, at: Slice) -> dict[str, Cuts]:
    """What each spar asks of a rib, by its name: none where it doesn't fit, which `spar_faults` tells.

    at : the rib's edge before notches
    """
    return {member.name: kind_of(member).cuts(member, rib, at) for member in members(layout)}


def spar_faults(layout: Layout) -> tuple[Fault, ...]:
    """Why spars and channels don't fit into the blade: they leave too little of a rib, or run into one another; that
    plain lengths and channels come out of it, `straying` tells."""
    some = members(layout)
    own = {member.name: _found(partial(kind_of(member).faults, member)) for member in some}
    fitting = [member for member in some if not own[member.name]]
    hit = _found(partial(crossing, layout, fitting))
    return (*(fault for faults in own.values() for fault in faults), *hit)


def _found(judge: Callable[[], Iterable[Fault]]) -> tuple[Fault, ...]:
    try:
        return tuple(judge())
    except MakeError as error:
        return error.faults


def spars(layout: Layout, *, faults: Sequence[Fault] = ()) -> Made:
    """The parts of every [blade.spar.*] table, what they touch, and what is wrong with them.

    faults : what `spar_faults` found in the layout: a spar at fault isn't made
    """
    passages, made = _passages(layout), list[Made]()
    for member in members(layout):
        if not any(_belongs(fault.path, member) for fault in faults):
            made.append(attempted(partial(kind_of(member).make, member, passages[member.name])))
    return together(*made)


def _belongs(path: str, member: Member[Any]) -> bool:
    """Whether a key path is that of a spar's table, or beneath it."""
    return path == member.path or path.startswith(f"{member.path}.")


def _passages(layout: Layout) -> dict[str, list[Passage]]:
    """Where each spar passes through ribs, by its name; what runs through another's notch has no hole of its own."""
    found: dict[str, list[Passage]] = {name: [] for name in layout.spars}
    inside = layout.inside([rib.r_mm for rib in layout.ribs], "blade.ribs")
    for rib, at in zip(layout.ribs, inside, strict=True):
        if at is None:
            continue
        cuts = spar_cuts(layout, rib, at)
        notches = [notch for each in cuts.values() for notch in each.notches]
        for name, cut in cuts.items():
            found[name].append(Passage(rib, at.station, Cuts(outside_notches(cut.openings, notches), cut.notches)))
    return found


def spar_tasks(layout: Layout, parts: Sequence[Part]) -> tuple[Task, ...]:
    """How spars are built in, in order; what is said of several spars alike is one task.

    parts : those of the blade, or of its spars alone
    """
    said: dict[tuple[Phase, str, str], tuple[Key, ...]] = {}
    for member in members(layout):
        own = [part for part in parts if _belongs(part.path, member)]
        for task in kind_of(member).steps(member, own):
            key = task.phase, task.does, task.caution
            said[key] = (*said.get(key, ()), *task.keys)
    done = [Task(phase, does, keys, caution) for (phase, does, caution), keys in said.items() if keys]
    return tuple(sorted(done, key=lambda task: task.phase))
