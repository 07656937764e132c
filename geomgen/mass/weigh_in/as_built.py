"""The craft as it was built: every mass after the weigh-in, what the scale fixed, what followed, and what stayed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from geomgen.arrays import BoolArray, FloatArray
from geomgen.design.schema import Design
from geomgen.errors import DesignError, Fault
from geomgen.figures import g
from geomgen.mass.band import Triple
from geomgen.mass.doubt import NINE_OF_TEN
from geomgen.mass.lines import Line
from geomgen.mass.weigh_in.gaussian import Conditioned, against_others, conditioned
from geomgen.mass.weigh_in.observe import Equation, equations, observed
from geomgen.mass.weigh_in.reading import Kind, Reading
from geomgen.mass.weigh_in.unknowns import Unknown, bare, covariance, of_lines
from geomgen.materials.doubt import Split
from geomgen.materials.figure import Figure
from geomgen.model.joint import Key
from geomgen.stock.sharing import Sharing

WEIGHED_IN = "weighed in"
SPLIT = Split(0.0, 1.0, 0.0, WEIGHED_IN)  # what is left hangs together piece by piece, no longer grade by grade
FIT = 3.0  # standard deviations: what lies beyond doesn't fit
_REPLACES = 100.0  # so many times the scale's error, where a figure's own band would hold against the scale


class Standing(StrEnum):
    """What the readings did to a mass or a stock."""

    WEIGHED = "weighed"  # they fix it by themselves
    FITTED = "fitted"  # it follows from sums that it is in, or from its stock
    STAYS = "as catalogued"  # none of them bears on it


@dataclass(frozen=True)
class BuiltPart:
    """All pieces of one part in one blade, or on the hub.

    key, name : of the part
    blade     : its number, from 1; None on the hub
    computed  : (low, typical, high) before [g]
    mass_g    : after
    half_g    : nine of ten lie within [g]
    standing  : what the readings did to it
    """

    key: Key
    name: str
    blade: int | None
    computed: Triple
    mass_g: float
    half_g: float
    standing: Standing

    @property
    def band(self) -> Triple:
        """(low, typical, high) after [g]: as it was, where nothing bears on it."""
        if self.standing == Standing.STAYS:
            return self.computed
        return max(self.mass_g - self.half_g, 0.0), self.mass_g, self.mass_g + self.half_g


@dataclass(frozen=True)
class BuiltStock:
    """What all parts of one stock weigh against what was computed.

    lot      : key path of the stock, else of the table
    name     : of it
    figure   : typical, before
    times    : after over before [-]
    half     : nine of ten lie within [-]
    standing : what the readings did to it
    """

    lot: str
    name: str
    figure: Figure
    times: float
    half: float
    standing: Standing


@dataclass(frozen=True)
class Check:
    """A reading beside what was computed before.

    line     : of the form
    name     : what lay on the scale
    unit     : "g", or "mm" of a place
    computed : by the statement before
    weighed  : the reading
    within   : nine of ten lie within that of what was computed
    off      : how far it lies from that, in standard deviations
    against  : how far it lies from what the statement and the other readings say
    """

    line: int
    name: str
    unit: str
    computed: float
    weighed: float
    within: float
    off: float
    against: float

    @property
    def as_computed(self) -> bool:
        """Whether the figures before allow for it."""
        return abs(self.off) <= FIT

    @property
    def agrees(self) -> bool:
        """Whether the other readings do."""
        return abs(self.against) <= FIT

    @property
    def fits(self) -> bool:
        """Whether both do."""
        return self.as_computed and self.agrees


@dataclass(frozen=True, eq=False)
class AsBuilt:
    """What a weigh-in makes of a statement.

    unknowns : every line in every blade, or on the hub, in the order of lines; bare sheets come last
    solved   : their masses [g]
    parts    : of the lines among them
    stocks   : in the order of the lines
    checks   : in the order of the form
    file     : name of the form
    """

    unknowns: tuple[Unknown, ...]
    solved: Conditioned
    parts: tuple[BuiltPart, ...]
    stocks: tuple[BuiltStock, ...]
    checks: tuple[Check, ...]
    file: str

    def of_line(self, number: int) -> tuple[BuiltPart, ...]:
        """A line's parts, blade after blade."""
        some = zip(self.unknowns, self.parts, strict=False)
        return tuple(part for unknown, part in some if unknown.line == number)


def as_built(
    readings: Sequence[Reading], lines: Sequence[Line], design: Design, sharing: Sharing, file: str = ""
) -> AsBuilt:
    """The statement's masses after a weigh-in.

    readings : of this craft, at least one
    lines    : of the statement, as catalogued
    design   : where blades and stocks are read
    sharing  : by part, the sheet of each copy
    raises   : DesignError where readings would leave a part less than nothing
    """
    unknowns = of_lines(lines, sharing, design.rotor.blades)
    count = len(unknowns)
    sheets = {name for each in unknowns for name in each.sheets}
    unknowns += [bare(each, design, tuple(sheets)) for each in readings if each.kind in (Kind.SHEET, Kind.LENGTH)]
    mean, before = np.array([each.grams[1] for each in unknowns]), covariance(unknowns)
    rows = equations(readings, unknowns, lines)
    seen = observed(rows)
    first = conditioned(mean, before, seen)
    spread = np.sqrt(np.einsum("ij,jk,ik->i", seen.rows, before, seen.rows) + (seen.loads**2).sum(axis=1))
    alone = [each.kind in (Kind.PART, Kind.SHEET, Kind.LENGTH) for each in readings]
    held = np.abs(seen.said - seen.rows @ first.mean) > FIT * np.array([row.errors[0][2] for row in rows])
    wrong = np.abs(seen.said - seen.rows @ mean) > FIT * spread
    solved = first
    if np.any(held & alone):
        solved = conditioned(mean, before + _wider(held & alone, readings, rows, unknowns), seen)
    parts = tuple(_part(k, each, lines, solved) for k, each in enumerate(unknowns[:count]))
    if less := [each for each in parts if each.mass_g < 0.0 and each.standing != Standing.STAYS]:
        raise DesignError(_less_than_nothing(less[0], file))
    stocks = tuple(_stocks(unknowns[:count], lines, solved, len(unknowns)))
    wider = before + _wider((held | wrong) & alone, readings, rows, unknowns)
    against = against_others(mean, wider, seen, FIT).tolist()
    checks = tuple(
        _check(each, row, mean, deviation, off)
        for each, row, deviation, off in zip(readings, rows, spread.tolist(), against, strict=True)
    )
    return AsBuilt(tuple(unknowns), solved, parts, stocks, checks, file)


def rebuilt(lines: Sequence[Line], built: AsBuilt) -> tuple[Line, ...]:
    """Lines as they were weighed in: the mean of the blades, from the lightest's low to the heaviest's high; each
    blade's beside it. A line that no reading bears on stays as it is."""
    return tuple(_rebuilt(line, built.of_line(number)) for number, line in enumerate(lines))


def _rebuilt(line: Line, parts: Sequence[BuiltPart]) -> Line:
    if all(part.standing == Standing.STAYS for part in parts):
        return line
    bands = tuple(part.band for part in parts)
    typical = sum(band[1] for band in bands) / len(bands)
    all_g = (min(band[0] for band in bands), typical, max(band[2] for band in bands))
    one = (all_g[0] / line.count, all_g[1] / line.count, all_g[2] / line.count)
    figure, share = line.figure, line.share
    if share is not None and line.one_g[1] > 0.0:  # how much of a print is there is what is known least
        at = figure.figure.typical
        figure = replace(figure, figure=replace(figure.figure, low=at, high=at))
        low, middle, high = (share.typical * each / line.one_g[1] for each in one)
        share = Figure(low, middle, high, share.unit, WEIGHED_IN)
    elif line.one_g[1] > 0.0:
        low, middle, high = (figure.figure.typical * each / line.one_g[1] for each in one)
        figure = replace(figure, figure=Figure(low, middle, high, figure.figure.unit, WEIGHED_IN))
    each_blade = bands if parts[0].blade is not None else ()
    return replace(line, figure=figure, share=share, one_g=one, set_g=all_g, split=SPLIT, blades=each_blade)


def _wider(
    which: BoolArray, readings: Sequence[Reading], rows: Sequence[Equation], unknowns: Sequence[Unknown]
) -> FloatArray:
    """What is added to the covariance, so that what was weighed by itself is what the scale said, also where its figure
    was taken as sharper than that.

    which : (m,) the readings that are meant, of parts, sheets or lengths
    """
    found = np.zeros((len(unknowns), len(unknowns)))
    for reading, row in ((readings[k], rows[k]) for k in np.flatnonzero(which).tolist()):
        one = int(np.argmax(row.counts))
        also = np.array([_follows(each, unknowns[one], reading) for each in unknowns])
        also[one] = 1.0
        size = np.array([each.grams[1] for each in unknowns]) / max(unknowns[one].grams[1], 1e-12)
        error_g = max(_REPLACES * row.errors[0][2], abs(row.said - unknowns[one].grams[1]))
        way = error_g * np.where(size > 0.0, size, 1.0) * also
        found += np.outer(way, way)
    return found


def _follows(each: Unknown, one: Unknown, reading: Reading) -> float:
    """How much of a mass is cut from what was weighed bare."""
    if reading.kind == Kind.SHEET and one.sheets:
        return sum(name == one.sheets[0] for name in each.sheets) / max(len(each.sheets), 1)
    return float(reading.kind != Kind.PART and each.lot == one.lot)


def _part(number: int, unknown: Unknown, lines: Sequence[Line], solved: Conditioned) -> BuiltPart:
    line = lines[unknown.line or 0]
    lever = np.zeros(len(solved.mean))
    lever[number] = 1.0
    standing = _standing(lever, solved)
    return BuiltPart(
        line.key, line.name, unknown.blade, unknown.grams, solved.value(lever), solved.half(lever), standing
    )


def _stocks(
    unknowns: Sequence[Unknown], lines: Sequence[Line], solved: Conditioned, count: int
) -> Iterator[BuiltStock]:
    for lot in dict.fromkeys(each.lot for each in unknowns):
        mine = [k for k, each in enumerate(unknowns) if each.lot == lot]
        before = sum(unknowns[k].grams[1] for k in mine)
        if before <= 0.0:
            continue
        lever = np.zeros(count)
        lever[mine] = 1.0
        line = lines[unknowns[mine[0]].line or 0]
        figure = line.figure.figure if line.share is None else line.share
        standing, half = _standing(lever, solved), solved.half(lever) / before
        times = 1.0 if standing == Standing.STAYS else solved.value(lever) / before
        yield BuiltStock(lot, line.stock or line.path, figure, times, half, standing)


def _standing(lever: FloatArray, solved: Conditioned) -> Standing:
    if not np.any(solved.touched[lever != 0.0]):
        return Standing.STAYS
    return Standing.WEIGHED if solved.is_fixed(lever) else Standing.FITTED


def _check(reading: Reading, row: Equation, mean: FloatArray, deviation: float, against: float) -> Check:
    told = reading.place if reading.is_edge else reading.mass_g
    return Check(
        reading.line,
        reading.name,
        "mm" if reading.is_edge else "g",
        row.base + float(row.counts @ mean),
        told,
        NINE_OF_TEN * deviation,
        (row.said - float(row.counts @ mean)) / deviation,
        against,
    )


def _less_than_nothing(part: BuiltPart, file: str) -> Fault:
    where = "" if part.blade is None else f" in blade {part.blade}"
    wrong = f"its readings can't all be: they leave {part.name}{where} {g(part.mass_g, 1)}"
    return Fault("weighed", file, wrong, remedy="weigh again what `geomgen weigh` says doesn't fit")
