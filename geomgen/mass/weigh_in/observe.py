"""Readings as equations: what each unknown mass counts for in each, and what scale and ruler may do to it.

A blade that lies on two scales at r1 and r2 gives the tip's scale the sum of m (r - r1) / (r2 - r1), the root's the
rest: the lever. A place that is off by e moves e W / (r2 - r1) from one scale to the other, W what that support
carries. Where a blade balances on an edge, the sum of m (r - edge) is 0.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.mass.lines import Line
from geomgen.mass.weigh_in.gaussian import Observed
from geomgen.mass.weigh_in.reading import OUT, ROOT, TIP, UNIFORM, Kind, Reading
from geomgen.mass.weigh_in.unknowns import Unknown
from geomgen.model.role import Assembly

Error = tuple[str, int | None, float]  # which error, of which blade, what one standard deviation of it does


@dataclass(frozen=True, eq=False)
class Equation:
    """One reading.

    counts : (n,) what each unknown counts for [-], or for a place [mm/g]
    said   : what is left of the reading once its constant is taken off [g] | [mm]
    base   : that constant: a place, from which it is told how far off the centre lies [mm]; 0 of a mass
    errors : of scale and ruler
    """

    counts: FloatArray
    said: float
    base: float
    errors: tuple[Error, ...]


def observed(equations: Sequence[Equation]) -> Observed:
    """Equations as arrays; errors of one name are one."""
    names = dict.fromkeys(error[:2] for each in equations for error in each.errors)
    number = {name: k for k, name in enumerate(names)}
    loads = np.zeros((len(equations), len(number)))
    for row, each in enumerate(equations):
        for name, blade, size in each.errors:
            loads[row, number[name, blade]] += size
    rows = np.array([each.counts for each in equations])
    return Observed(rows, np.array([each.said for each in equations]), loads)


def equations(readings: Sequence[Reading], unknowns: Sequence[Unknown], lines: Sequence[Line]) -> list[Equation]:
    """An equation for each reading.

    unknowns : those of the lines, then one for each bare sheet or lot of lengths, in the order of their readings
    """
    bare = iter([k for k, each in enumerate(unknowns) if each.line is None])
    levers = {(each.blade, each.which): each for each in readings if each.is_lever}
    return [_equation(each, unknowns, lines, bare, levers) for each in readings]


def _equation(
    reading: Reading,
    unknowns: Sequence[Unknown],
    lines: Sequence[Line],
    bare: Iterator[int],
    levers: Mapping[tuple[int | None, str], Reading],
) -> Equation:
    mine = np.array([float(_counts(each, reading, lines)) for each in unknowns])
    if reading.kind in (Kind.SHEET, Kind.LENGTH):
        mine[next(bare)] = 1.0
    own: Error = (f"scale, line {reading.line}", reading.blade, reading.step_g * UNIFORM)
    if reading.is_edge:
        typical = np.array([each.grams[1] for each in unknowns])
        at = np.array([each.at[0 if reading.which == OUT else 1] for each in unknowns])
        counts = mine * (at - reading.place) / float(mine @ typical)
        return Equation(
            counts, 0.0, reading.place, (("edge, " + reading.which, reading.blade, reading.step_mm * UNIFORM),)
        )
    other = levers.get((reading.blade, TIP if reading.which == ROOT else ROOT)) if reading.is_lever else None
    if other is None:
        return Equation(mine, reading.mass_g, 0.0, (own,))
    root, tip = (reading, other) if reading.which == ROOT else (other, reading)
    apart = tip.place - root.place
    out = np.array([each.at[0] for each in unknowns])
    share = (out - root.place) / apart if reading is tip else (tip.place - out) / apart
    way = -1.0 if reading is tip else 1.0
    moved = tuple(
        ("place of " + each.which, each.blade, way * each.mass_g / apart * each.step_mm * UNIFORM)
        for each in (root, tip)
    )
    return Equation(mine * share, reading.mass_g, 0.0, (own, *moved))


def _counts(unknown: Unknown, reading: Reading, lines: Sequence[Line]) -> bool:
    """Whether a mass lies on the scale."""
    if unknown.line is None or reading.kind in (Kind.SHEET, Kind.LENGTH):
        return False
    line = lines[unknown.line]
    if reading.kind == Kind.PART:
        return line.name == reading.which and unknown.blade == reading.blade
    if reading.kind == Kind.HUB:
        return line.assembly == Assembly.HUB
    return reading.kind == Kind.CRAFT or unknown.blade == reading.blade
