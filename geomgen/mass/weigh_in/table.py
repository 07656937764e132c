"""The form as it is read back: rows into readings, every row at fault told with its line."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from geomgen.errors import DesignError, Fault
from geomgen.figures import is_imperial
from geomgen.mass.weigh_in.file import MOST_BYTES, AsWritten
from geomgen.mass.weigh_in.reading import FORWARD, OUT, ROOT, TIP, WHOLE, Kind, Reading
from geomgen.section.listing import Origin
from geomgen.units import LENGTH, MASS, UnitError, read
from geomgen.units import Kind as Quantity

COLUMNS = ("kind", "which", "blade", "pieces", "mass", "place")
WORDS = COLUMNS[:4]
HEADING = "kind, which, blade, pieces, mass [g] or mass [oz], place [mm] or place [in]"
DESIGN, SCALE, RULER = "design", "scale", "ruler"
NAN = math.nan
_MOST_FAULTS = 20
_HEAD = re.compile(r"(?P<name>\w+)(?: \[(?P<unit>\w+)\])?")
_MASSES, _LENGTHS = ("g", "oz"), ("mm", "in")


@dataclass(frozen=True)
class Heading:
    """What each column holds, and in which unit.

    at         : the column of each of `COLUMNS`
    mass, place : units of the two
    """

    at: dict[str, int]
    mass: str
    place: str


def heading(units: str) -> list[str]:
    """The head of a form for a design with lengths in some unit."""
    mass, place = ("oz", "in") if is_imperial(units) else ("g", "mm")
    return [*WORDS, f"mass [{mass}]", f"place [{place}]"]


def readings(form: AsWritten) -> tuple[Reading, ...]:
    """Every row of a form that is filled in.

    raises : DesignError with the file and every line at fault: another unit, nothing or less on the scale, a row that
             stands twice, another design's form. What the rows name is judged in `sense`
    """
    origin = Origin(form.name, "weighed", form.name)
    if form.missing:
        raise origin.refusal(
            None, f"can't be read: {form.missing}", "", "`geomgen weigh --blank` writes one to fill in"
        )
    if len(form.data) > MOST_BYTES:
        raise origin.refusal(None, f"is longer than {MOST_BYTES // 1000} kB, too long for a form")
    rows = _cells(form.data.decode("utf-8-sig", errors="replace"))
    if not rows:
        raise origin.refusal(None, "is empty", f"a heading, {HEADING}, then one weighing a line")
    head = _heading(*rows[0], origin)
    return _Rows(origin, head, form.title).read(rows[1:])


def _cells(text: str) -> list[tuple[int, list[str]]]:
    """Rows that aren't empty or a remark, each with its line."""
    lines = text.splitlines()
    first = next((line for line in lines if line.strip() and not line.lstrip('" ').startswith("#")), "")
    apart = ";" if first.count(";") > first.count(",") else ","
    found = []
    for number, line in enumerate(lines, start=1):
        cells = [" ".join(cell.split()) for cell in next(csv.reader([line], delimiter=apart), [])]
        if any(cells) and not line.lstrip('" ').startswith("#"):
            found.append((number, cells))
    return found


def _heading(line: int, cells: Sequence[str], origin: Origin) -> Heading:
    at: dict[str, int] = {}
    units = {}
    for k, cell in enumerate(cells):
        match = _HEAD.fullmatch(cell.lower())
        if match is not None and match["name"] in COLUMNS and match["name"] not in at:
            at[match["name"]], units[match["name"]] = k, match["unit"]
        elif cell:
            raise origin.refusal(line, f'"{cell[:40]}" is no column of the form', HEADING)
    bad = [name for name in COLUMNS if name not in at]
    if bad:
        raise origin.refusal(line, f"the form has no column {' and no column '.join(bad)}", HEADING)
    if any(units[name] for name in WORDS) or units["mass"] not in _MASSES or units["place"] not in _LENGTHS:
        raise origin.refusal(line, "the heading has another unit, or none", HEADING)
    return Heading(at, units["mass"], units["place"])


class _Rows:
    """Reads rows one by one, and gathers what is wrong."""

    def __init__(self, origin: Origin, head: Heading, title: str) -> None:
        self.origin, self.head, self.title = origin, head, title
        self.faults: list[Fault] = []
        self.steps: dict[str, float] = {}
        self.seen: dict[tuple[str, ...], int] = {}
        self.belongs = False

    def read(self, rows: Sequence[tuple[int, list[str]]]) -> tuple[Reading, ...]:
        """The readings. raises : DesignError"""
        found = [self._row(line, cells) for line, cells in rows]
        if not self.belongs and not self.faults:
            remedy = f"a row design, then {self.title}"
            raise self.origin.refusal(None, "doesn't say which design it belongs to", remedy=remedy)
        if self.faults:
            raise DesignError(self.faults[:_MOST_FAULTS])
        grams, mm = self.steps.get(SCALE), self.steps.get(RULER)
        return tuple(
            replace(each, step_g=each.step_g if grams is None else grams, step_mm=each.step_mm if mm is None else mm)
            for each in found
            if each is not None
        )

    def _row(self, line: int, cells: list[str]) -> Reading | None:
        more = [cell for k, cell in enumerate(cells) if k not in self.head.at.values() and cell]
        if more:
            self._wrong(line, f'"{more[0][:40]}" stands beyond the columns', "6 columns; quote what has a comma")
            return None
        row = {name: cells[at] if at < len(cells) else "" for name, at in self.head.at.items()}
        kind = row["kind"].lower()
        if kind == DESIGN:
            self._design(line, row)
        elif kind in (SCALE, RULER):
            self._step(line, kind, row)
        elif kind not in list(Kind):
            self._wrong(line, f'"{row["kind"][:40]}" is no kind of row', ", ".join((DESIGN, SCALE, RULER, *Kind)))
        elif row["mass"] or row["place"]:
            return self._reading(line, Kind(kind), row)
        return None

    def _design(self, line: int, row: dict[str, str]) -> None:
        self.belongs = True
        if row["which"].casefold() != " ".join(self.title.split()).casefold():
            wrong = f'is the form of another design, "{row["which"][:60]}"'
            self._wrong(line, wrong, f'that of "{self.title}"', "fill in this design's own form")

    def _step(self, line: int, kind: str, row: dict[str, str]) -> None:
        column = "mass" if kind == SCALE else "place"
        if row[column]:
            step = self._value(line, column, row[column], lambda value: value > 0.0, "above 0")
            if step is not None:
                self.steps[kind] = step

    def _reading(self, line: int, kind: Kind, row: dict[str, str]) -> Reading | None:
        before = len(self.faults)
        which, blade = row["which"], self._whole(line, "blade", row["blade"])
        pieces = self._whole(line, "pieces", row["pieces"])
        forward = which.lower() == FORWARD
        mass = self._value(line, "mass", row["mass"], lambda value: value > 0.0, "above 0")
        any_place: Callable[[float], bool] = lambda value: forward or value >= 0.0  # noqa: E731
        place = self._value(line, "place", row["place"], any_place, "0 or more, from the rotor's axis")
        self._columns(line, kind, which.lower(), row)
        if (where := self.seen.setdefault((kind, which.lower(), str(blade)), line)) != line:
            self._wrong(line, f"{kind} {which} stands twice, first in line {where}", "one row for each")
        if len(self.faults) > before:
            return None
        steps = _last_digit(row["mass"], self.head.mass, MASS), _last_digit(row["place"], self.head.place, LENGTH)
        given = (NAN if mass is None else mass, NAN if place is None else place)
        return Reading(line, kind, which, blade, pieces or 0, *given, *steps)

    def _columns(self, line: int, kind: Kind, which: str, row: dict[str, str]) -> None:
        """Which of mass and place a row must have, and which it can't."""
        edge, lever = which in (OUT, FORWARD), which in (ROOT, TIP)
        if kind == Kind.BLADE and which not in (WHOLE, ROOT, TIP, OUT, FORWARD):
            self._wrong(line, f'"{which[:40]}" is no row of a blade', ", ".join((WHOLE, ROOT, TIP, OUT, FORWARD)))
        elif kind == Kind.BLADE and edge and row["mass"]:
            self._wrong(line, "a place where a blade balances has no mass", "a place alone")
        elif kind == Kind.BLADE and lever and not (row["mass"] and row["place"]):
            self._wrong(
                line, f"{which} has no {'place' if row['mass'] else 'mass'}", "what it says, and where it stands"
            )
        elif not (kind == Kind.BLADE and (edge or lever)) and row["place"]:
            self._wrong(line, f"{kind} {which} has no place", "a mass alone")

    def _whole(self, line: int, column: str, text: str) -> int | None:
        if not text:
            return None
        if not re.fullmatch(r"[1-9][0-9]{0,4}", text):
            self._wrong(line, f'{column} "{text[:20]}" is no count', "a whole number from 1")
            return None
        return int(text)

    def _value(self, line: int, column: str, text: str, fits: Callable[[float], bool], allowed: str) -> float | None:
        """A mass [g] or a place [mm]; None where there is none, or it can't be."""
        quantity, unit = (MASS, self.head.mass) if column == "mass" else (LENGTH, self.head.place)
        if not text:
            return None
        try:
            value = read(text, quantity, unit)
        except UnitError as error:
            self._wrong(line, f'{column} "{text[:20]}" {error.wrong}', f"a number in {unit}", error.remedy)
            return None
        if (said := re.search(r"[A-Za-z'\"]+\.?$", text)) and said[0] != unit:
            self._wrong(line, f'{column} "{text[:20]}" is in another unit', f"a number in {unit}, as the heading says")
            return None
        if not fits(value):
            self._wrong(line, f'{column} "{text[:20]}" can\'t be', allowed)
            return None
        return value

    def _wrong(self, line: int, wrong: str, allowed: str = "", remedy: str = "") -> None:
        self.faults.append(self.origin.fault(line, wrong, allowed, remedy))


def _last_digit(text: str, unit: str, quantity: Quantity) -> float:
    """One of the last digit written, in house units: 0.1 for "12.5"."""
    match = re.search(r"\d*\.?(\d*)", text.strip().lstrip("+-"))
    digits = len(match[1]) if match and "." in match[0] else 0
    return float(10.0**-digits) * quantity.units[unit]
