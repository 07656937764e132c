"""A maker's own polar: a table of Reynolds number, angle, lift and drag, as a CSV file."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.errors import DesignError, Fault
from geomgen.plain_file import read_bytes
from geomgen.section.listing import Origin
from geomgen.section.polar.cells import GRID_RAD
from geomgen.section.polar.plate import SOURCE, blended
from geomgen.section.polar.record import Band, Polar

COLUMNS = ("reynolds number", "angle", "lift", "drag", "moment")
HEADING = "Reynolds number, angle, lift, drag, and moment if there is one"
MOST_BYTES = 1_000_000
LEAST_ANGLES = 3
OWN_BAND = (
    0.05,
    0.3,
    0.10,
    0.85,
    1.15,
)  # slope, zero lift [deg], greatest lift, drag: a good tunnel's: by custom

_MOST_FAULTS = 10
_UNITS = {"angle [deg]": "angle", "angle deg": "angle", "reynolds": "reynolds number"}
_Row = tuple[int, list[float]]  # its line, its values


def read_table(file: Path, origin: Origin | None = None) -> Polar:
    """The polar in a CSV file.

    file   : a heading, then one point a line: Reynolds number, angle [deg], lift, drag, moment if known; angles rising
             at each Reynolds number, Reynolds numbers rising. What follows `#` is left out
    origin : what a fault says of it; its name alone where none is given
    raises : DesignError with the file and every line at fault
    """
    origin = origin or Origin(file.name, "", "")
    try:
        data = read_bytes(file, MOST_BYTES + 1)
    except OSError as error:
        raise DesignError(origin.fault(None, f"can't be read: {(error.strerror or str(error)).lower()}")) from error
    if len(data) > MOST_BYTES:
        raise origin.refusal(None, f"is longer than {MOST_BYTES // 1000} kB, too long for a polar")
    return table(data.decode("utf-8-sig", errors="replace"), origin)


def table(text: str, origin: Origin) -> Polar:
    """The polar in a text; raises as `read_table`."""
    lines = [(number, line.split("#")[0].strip()) for number, line in enumerate(text.splitlines(), start=1)]
    lines = [(number, line) for number, line in lines if line]
    if not lines:
        raise origin.refusal(None, "holds no polar", f"a heading, {HEADING}, then one point a line")
    columns = _heading(*lines[0], origin)
    rows, faults = _rows(lines[1:], columns, origin)
    faults += _disorder(rows, origin)
    if not faults:
        faults = _too_few(rows, lines[0][0], origin)
    if faults:
        raise DesignError(faults[:_MOST_FAULTS])
    return _polar(rows, origin)


def _heading(number: int, line: str, origin: Origin) -> list[str]:
    found = [" ".join(name.split()).lower() for name in line.split(",")]
    found = [_UNITS.get(name, name) for name in found]
    if sorted(found) not in (sorted(COLUMNS), sorted(COLUMNS[:4])):
        raise origin.refusal(number, f'"{line[:60]}" is not the heading of a polar', HEADING)
    return found


def _rows(lines: list[tuple[int, str]], columns: list[str], origin: Origin) -> tuple[list[_Row], list[Fault]]:
    """Values in the order of COLUMNS, and the lines that have none."""
    rows: list[_Row] = []
    faults: list[Fault] = []
    for number, line in lines:
        words = [word.strip() for word in line.split(",")]
        if len(words) != len(columns):
            faults.append(origin.fault(number, f"holds {len(words)} values", f"{len(columns)}, as its heading says"))
            continue
        by_name = dict(zip(columns, words, strict=True))
        values = [_number(by_name.get(name, "0")) for name in COLUMNS]
        bad = [
            origin.fault(number, f'{name} "{by_name.get(name, "")}" can\'t be', allowed)
            for name, value, allowed in zip(COLUMNS, values, _ALLOWED, strict=True)
            if not _fits(name, value)
        ]
        faults += bad
        if not bad:
            rows.append((number, values))
    return rows, faults


_ALLOWED = (
    "a number above 0",
    "-180 to 180 degrees",
    "a number within 5",
    "a number above 0, up to 5",
    "a number",
)


def _fits(name: str, value: float) -> bool:
    if name == "reynolds number":
        return 0.0 < value < 1e9
    if name == "angle":
        return abs(value) <= 180.0
    return 0.0 < value <= 5.0 if name == "drag" else abs(value) <= 5.0


def _number(word: str) -> float:
    try:
        return float(word)
    except ValueError:
        return math.nan


def _disorder(rows: list[_Row], origin: Origin) -> list[Fault]:
    """Reynolds numbers that fall, and angles that don't rise."""
    faults = []
    for (_, before), (number, now) in pairwise(rows):
        if now[0] < before[0]:
            wrong = f"Reynolds number {now[0]:g} comes after {before[0]:g}"
            faults.append(origin.fault(number, wrong, "rising from block to block"))
        elif now[0] == before[0] and now[1] <= before[1]:
            wrong = "stands twice" if now[1] == before[1] else f"comes after {before[1]:g} deg"
            faults.append(origin.fault(number, f"angle {now[1]:g} deg {wrong}", "rising at each Reynolds number"))
    return faults


def _too_few(rows: list[_Row], heading: int, origin: Origin) -> list[Fault]:
    """Reynolds numbers with too few angles."""
    if not rows:
        return [origin.fault(heading, "no points follow the heading", "one point a line")]
    faults = []
    for number, block in _blocks(rows):
        if len(block) < LEAST_ANGLES:
            wrong = f"Reynolds number {block[0, 0]:g} has {len(block)} angles"
            faults.append(origin.fault(number, wrong, f"at least {LEAST_ANGLES}"))
    return faults


def _blocks(rows: list[_Row]) -> list[tuple[int, FloatArray]]:
    """The first line and the values (n, 5) of each Reynolds number."""
    values = np.array([each for _, each in rows])
    starts = [0, *(np.flatnonzero(np.diff(values[:, 0])) + 1).tolist()]
    return [(rows[i][0], values[i:j]) for i, j in pairwise([*starts, len(rows)])]


def _polar(rows: list[_Row], origin: Origin) -> Polar:
    blocks = [block for _, block in _blocks(rows)]
    tables = []
    for block in blocks:
        angles = np.radians(block[:, 1])
        own = np.stack([np.interp(GRID_RAD, angles, column) for column in block[:, 2:].T])
        tables.append(blended(GRID_RAD, own, (float(angles[0]), float(angles[-1]))))
    lift, drag, moment = np.stack(tables, axis=1)
    low, high = max(block[0, 1] for block in blocks), min(block[-1, 1] for block in blocks)
    words = (
        f"the maker's own table, {origin.file}, at {len(blocks)} Reynolds numbers, taken as good as a tunnel's",
        f"beyond the table's angles, {low:g} to {high:g} deg where they are fewest: {SOURCE}",
    )
    slope, zero_deg, greatest, least_drag, most_drag = (np.full(len(blocks), value) for value in OWN_BAND)
    band = Band(slope, np.radians(zero_deg), greatest, least_drag, most_drag)
    return Polar(np.array([block[0, 0] for block in blocks]), GRID_RAD, lift, drag, moment, band, words)
