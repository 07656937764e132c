"""Whether spars of several kinds, and the ways of wires, run into one another anywhere along the blade."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import shapely

from geomgen.errors import Fault
from geomgen.figures import mm
from geomgen.model.layout import Layout, Slice
from geomgen.structure.openings import disc
from geomgen.structure.spars.kind import Member
from geomgen.structure.spars.kinds import kind_of

LEAST_MM2 = 1e-4  # less than that is a touch


@dataclass(frozen=True, eq=False)
class _Taken:
    """What something takes of a slice: key path, shape, and whether it is a plain length or a way for wires."""

    path: str
    shape: shapely.Polygon
    plain: bool = False


Worst = dict[tuple[str, str], tuple[float, Fault]]  # of each two: the area they share [mm2], and the fault


def crossing(layout: Layout, fitting: Sequence[Member[Any]]) -> list[Fault]:
    """One fault for each two that run into one another, of which one is no plain tube, rod or strip; where it is worst.

    fitting : spars that fit in
    Looked at on every rib, at every spar's ends, and at both ends of every piece that stands between ribs.
    """
    if not any(member.spar.built_up for member in fitting):
        return []
    ends = [r for member in fitting for r in (member.start_mm, member.end_mm)]
    r = [*(rib.r_mm for rib in layout.ribs), *ends]
    worst = Worst()
    for at in layout.inside(np.unique(np.clip(r, layout.blade.root_mm, layout.design.frame_end)), "blade.spar"):
        if at is not None:
            _note(worst, at, combinations([*_spars(fitting, at), *_channels(layout, at)], 2))
    for member in fitting:
        rest = [other for other in fitting if other is not member]
        for piece in kind_of(member).standing(member):
            own, others = _Taken(piece.path, piece.shape), [*_spars(rest, piece.at), *_channels(layout, piece.at)]
            _note(worst, piece.at, ((own, other) for other in others))
    return [fault for _, fault in worst.values()]


def _note(worst: Worst, at: Slice, pairs: Iterable[tuple[_Taken, _Taken]]) -> None:
    """Keep the faults of pairs at one slice that are worse than those found before."""
    for one, other in pairs:
        blamed, hit = (other, one) if one.plain else (one, other)
        if blamed.path == hit.path or blamed.plain:
            continue
        both, key = blamed.shape.intersection(hit.shape), (blamed.path, hit.path)
        if both.area > LEAST_MM2 and (key not in worst or both.area > worst[key][0]):
            worst[key] = both.area, _fault(blamed.path, hit.path, at, both.bounds)


def _fault(path: str, other: str, at: Slice, bounds: tuple[float, float, float, float]) -> Fault:
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    wrong = f"it runs into {other} at r {mm(at.station.r_mm, 0)}, over {mm((wide, high), 1, ' x ')}"
    webs = ", or put the webs on the other side" if path.endswith("web") else ""
    return Fault(path, "", wrong, "nothing in its way", f"move one of them along the chord{webs}")


def _spars(some: Sequence[Member[Any]], at: Slice) -> Iterator[_Taken]:
    for member in some:
        if member.route.passes(at.station.r_mm):
            for shape in kind_of(member).shapes(member, at):
                yield _Taken(member.path, shape, plain=not member.spar.built_up)


def _channels(layout: Layout, at: Slice) -> Iterator[_Taken]:
    for name, route in layout.channels.items():
        if route.passes(at.station.r_mm):
            hole = disc(route.in_station(at.station)[0], layout.design.blade.channel[name].diameter)
            yield _Taken(route.path, hole, plain=True)
