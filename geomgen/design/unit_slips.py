"""Metres or millimetres? A length that would pass in another unit is one fault, which says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice
from typing import Any

from geomgen import units
from geomgen.design.faults import as_written, look_up
from geomgen.design.judge import Found, Verdict, judge
from geomgen.design.keypath import KeyPath, written
from geomgen.design.options import Laid, Raw
from geomgen.errors import Fault
from geomgen.figures import mm, spelled
from geomgen.units import LENGTH, UnitError

ALWAYS: tuple[KeyPath, ...] = (
    ("rotor", "radius"),
    ("rotor", "root"),
    ("hub", "bay", "radius"),
)  # others are held against
WORDS = {"mm": "millimetres", "m": "metres", "in": "inches"}
LEAST_RATIO = 20.0  # of two units that are taken for one another
FAR = 2.0  # what would pass within so many times what stands there is off by something else
MOST_TRIED = 12  # values
MOST_SLIPS = 4  # are looked for in one design
SEVERAL = 3  # faults, from which on the whole file may be in another unit


def told_as_slips(laid: Laid, verdict: Verdict) -> tuple[Laid, Verdict, Found]:
    """Find lengths that are off by a unit.

    returns : the raw tables with each as it would pass, the verdict on those, and one fault for each
    """
    told: list[tuple[KeyPath, Fault]] = []
    while verdict.faults and len(told) < MOST_SLIPS:
        found = next(_slips(laid, verdict), None)
        if found is None:
            break
        path, fault, laid, verdict = found
        told.append((path, fault))
    return laid, verdict, tuple(told)


Slip = tuple[KeyPath, Fault, Laid, Verdict]


def _slips(laid: Laid, verdict: Verdict) -> Iterator[Slip]:
    if len(verdict.faults) >= SEVERAL and (found := _whole(laid, verdict)):
        yield found
    paths = dict.fromkeys([path for path, _ in verdict.faults] + list(ALWAYS))
    for path in islice(paths, MOST_TRIED):
        if found := _one(laid, verdict, path):
            yield found


def _whole(laid: Laid, verdict: Verdict) -> Slip | None:
    """The unit of all bare lengths, where another one mends every fault."""
    unit, path = laid.raw.get("units"), ("units",)
    for other in WORDS:
        if isinstance(unit, str) and unit in WORDS and other != unit:
            mended = replace(laid, raw=_with(laid.raw, path, other))
            if not (better := judge(mended)).faults:
                wrong = f"makes {len(verdict.faults)} faults: {_question(unit, other)}"
                return path, Fault("units", f'"{unit}"', wrong, remedy=f'write "{other}"'), mended, better
    return None


def _one(laid: Laid, verdict: Verdict, path: KeyPath) -> Slip | None:
    """The length at a key path in another unit, where that mends something and breaks nothing."""
    value = look_up(laid.raw, path)
    number, unit = _parted(value, laid.raw.get("units"))
    if unit not in WORDS:
        return None
    passing = []
    for other in WORDS:
        ratio = LENGTH.units[other] / LENGTH.units[unit]
        if max(ratio, 1 / ratio) >= LEAST_RATIO:
            mended = replace(laid, raw=_with(laid.raw, path, f"{number} {other}"))
            better = judge(mended)
            if _mends(verdict, better, path) and _far_off(laid, path, number, unit, ratio > 1, better):
                passing.append((other, mended, better))
    if not passing:
        return None
    choices = [f'"{number} {other}" ({_in_own(number, other, unit)})' for other, _, _ in passing]
    other, mended, better = passing[0]
    wrong = f"is {number} {unit} here: {_question(unit, other)}"
    fault = Fault(written(path), as_written(value), wrong, remedy=f"write {' or '.join(choices)}")
    return path, fault, mended, better


def _parted(value: Any, bare: Any) -> tuple[str, str]:
    """Number and unit of a length as written; no unit where it is none."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return "", ""
    text = str(value).strip() if not isinstance(value, int) or abs(value) < 1e9 else ""
    number = text.rstrip("mincft ")
    unit = text[len(number) :].strip() or (bare if isinstance(bare, str) else "")
    try:
        units.read(f"{number} {unit}", LENGTH)
    except UnitError:
        return "", ""
    return number, unit


def _mends(before: Verdict, after: Verdict, path: KeyPath) -> bool:
    """Whether faults have gone, none at the key is left, and none has come."""
    old, new = ({(at, fault.wrong) for at, fault in one.faults} for one in (before, after))
    return new < old and all(at != path for at, _ in new)


def _far_off(laid: Laid, path: KeyPath, number: str, unit: str, up: bool, better: Verdict) -> bool:
    """Whether a value nearer to what stands there would not do as well: then it is off by no unit."""
    between = units.read(f"{number} {unit}", LENGTH) * (FAR if up else 1 / FAR)
    tried = judge(replace(laid, raw=_with(laid.raw, path, f"{between:.9g} mm")))
    return len(tried.faults) > len(better.faults)


def _in_own(number: str, other: str, unit: str) -> str:
    return spelled(mm(units.read(f"{number} {other}", LENGTH), significant=5), unit)


def _question(unit: str, other: str) -> str:
    return f"{WORDS[other]} or {WORDS[unit]}?"


def _with(raw: Any, path: KeyPath, value: Any) -> Any:
    """Raw tables with another value at a key path that is there."""
    step, *rest = path
    if isinstance(raw, list):
        return [_with(item, tuple(rest), value) if rest and i == step else value if i == step else item
                for i, item in enumerate(raw)]  # fmt: skip
    inner: Raw = raw
    return inner | {step: _with(inner[step], tuple(rest), value) if rest else value}
