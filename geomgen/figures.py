"""Figures in words: marked where a sentence is written, spelled in a design's own system where it is shown.

f"leaves {mm(gap, 2)} of wood" holds a mark with the gap to its last digit; `spelled` makes "0.43 mm" of it where the
design's unit is mm, cm or m, and "0.0169 in" where it is inches or feet. House units go in. Masses in words are in oz
below 1 lb and in decimal lb from there, so that "1.87 to 1.95 lb" reads with one unit; in tables they are all in oz.
Exact by definition: 1 lbf = 1 lb x 9.80665 m/s2; the rest is in `geomgen.units`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar, cast

from geomgen.units import AREAL, DENSITY, INERTIA, LENGTH, LINEAR, MASS

T = TypeVar("T")
Values = float | Iterable[float]
Digits = int | None | tuple[int | None, ...]  # decimals; of several figures, of each its own
Scale = tuple[float, str, int]  # how many house units one is, what it is called, decimals more than in house units

_FT, _OZ, _LB = LENGTH.units["ft"], MASS.units["oz"], MASS.units["lb"]
_LBF = _LB * 9.80665e-3  # [N]
_LENGTHS: dict[str, Scale] = {
    unit: (LENGTH.units[unit], unit, more) for unit, more in {"mm": 0, "cm": 1, "m": 3, "in": 2, "ft": 3}.items()
}
_OTHERS: dict[str, tuple[Scale, Scale]] = {  # kind -> in metric units; in inches, feet and pounds
    "g": ((1.0, "g", 0), (_OZ, "oz", 1)),
    "N": ((1.0, "N", 0), (_LBF, "lbf", 1)),
    "N m": ((1.0, "N·m", 0), (_LBF * 25.4e-3, "lbf·in", -1)),
    "N m2": ((1.0, "N·m2", 0), (_LBF * 25.4e-3**2, "lbf·in2", -2)),
    "N/mm": ((1.0, "N/mm", 0), (_LBF / 25.4, "lbf/in", 1)),
    "MPa": ((1.0, "MPa", 0), (_LBF / 25.4**2, "psi", -2)),
    "N mm": ((1.0, "N·mm", 0), (_LBF * 25.4, "lbf·in", 2)),
    "m/s": ((1.0, "m/s", 0), (_FT * 1e-3, "ft/s", 0)),
    "kg/m3": ((1.0, "kg/m3", 0), (DENSITY.units["lb/ft3"], "lb/ft3", 1)),
    "kg/m2": ((1.0, "kg/m2", 0), (_LB * 1e-3 / (_FT * 1e-3) ** 2, "lb/ft2", 0)),
    "g/m2": ((1.0, "g/m2", 0), (AREAL.units["oz/ft2"], "oz/ft2", 2)),
    "g/m": ((1.0, "g/m", 0), (LINEAR.units["oz/ft"], "oz/ft", 2)),
    "cm2": ((1e2, "cm2", 0), (25.4**2, "in2", 0)),  # areas, volumes and lengths in larger units: [mm2], [mm3], [mm]
    "m2": ((1e6, "m2", 0), (_FT**2, "ft2", 0)),
    "cm3": ((1e3, "cm3", 0), (25.4**3, "in3", 0)),
    "m": ((1e3, "m", 0), (_FT, "ft", 0)),
    "g cm2": ((1.0, "g cm2", 0), (INERTIA.units["oz in2"], "oz in2", 2)),
    "degC": ((1.0, "degC", 0), (5 / 9, "degF", 0)),
}
_SAID = {"in": "inches", "ft": "feet", "oz": "ounces"}
_OPEN, _CUT, _SHUT = "\ue000", "\ue001", "\ue002"
_MARK = re.compile(f"{_OPEN}([^{_OPEN}{_SHUT}]*){_SHUT}")
_FIGURE = re.compile(  # kind, roundings, values, words; a file's own text that looks like a mark is none of ours
    rf"([^{_CUT}]*){_CUT}((?:\d\d?[fguUdD] ?)+){_CUT}((?:-?(?:\d+(?:\.\d+)?(?:e[-+]?\d+)?|inf|nan) ?)*){_CUT}"
    rf"((?:[^{{}}{_CUT}]|\{{[un]?\}})*)"
)
_AS_WRITTEN, _EITHER = "6g", "either"
_EXACT = 1e-9  # share of a figure, and of its last decimal, that is no difference


# Writing figures


def mm(value: Values, digits: Digits = None, words: str = "", *, significant: int = 6) -> str:
    """A length in a sentence, with its unit.

    value       : one, or several that share one unit [mm]
    digits      : decimals in mm, and to the like resolution in other units; None for a figure as the maker wrote it;
                  one for all, or one for each
    words       : of several, what stands between them, " x ", or around them, "{} {u} ({} at best)"; left out, they are
                  listed: "230, 240 and 300 mm"
    significant : digits where decimals aren't said
    """
    return figure("mm", value, digits, words, significant=significant)


def g(value: Values, digits: Digits = None, words: str = "") -> str:
    """A mass in a sentence [g], each to as many decimals as its size asks for; the rest as in `mm`."""
    values = _several(value)
    return figure("g", values, tuple(map(grams_digits, values)) if digits is None else digits, words)


def grams_digits(grams: float) -> int:
    """Decimals that a mass is told to: two below 10 g, one below 1000 g, none above."""
    return 2 if abs(grams) < 9.995 else 1 if abs(grams) < 999.95 else 0


def newton(value: Values, digits: Digits = None, words: str = "") -> str:
    """A force in a sentence [N]; the rest as in `mm`."""
    return figure("N", value, digits, words)


def figure(kind: str, value: Values, digits: Digits = None, words: str = "", *, significant: int = 6) -> str:
    """A figure of any kind in a sentence, in its house unit: "m/s", "kg/m3" ...; the rest as in `mm`."""
    each = digits if isinstance(digits, tuple) else (digits,)
    return _marked(kind, value, " ".join(f"{significant}g" if d is None else f"{d}f" for d in each), words)


def percent(share: float, digits: int = 0) -> str:
    """A share in a sentence, "12 %"."""
    return f"{fixed(100.0 * share, digits)} %"


def at_least(value_mm: float, digits: int | None = None) -> str:
    """A least length [mm], rounded up, so that what is told passes as written, in any unit.

    digits : decimals in mm at most; None for five significant digits
    """
    return _marked("mm", value_mm, "5U" if digits is None else f"{digits}u", "")


def at_most(value_mm: float, digits: int | None = None) -> str:
    """The same for a greatest length, rounded down."""
    return _marked("mm", value_mm, "5D" if digits is None else f"{digits}d", "")


def bound(kind: str, value: float, *, up: bool) -> str:
    """A bound of any kind to four significant digits, rounded to the side that passes."""
    return _marked(kind, value, "4U" if up else "4D", "")


def either(metric: str, imperial: str) -> str:
    """Words for a design in metric units, or those for one in inches."""
    return _OPEN + _CUT.join((_EITHER, metric, imperial)) + _SHUT


def unit_of(kind: str) -> str:
    """The name of the unit that figures of a kind are shown in, in a sentence or a heading: "g", or "oz"."""
    return _marked(kind, (), _AS_WRITTEN, "{u}")


def unit_name(kind: str) -> str:
    """The same as it is said in a sentence of its own: "lengths in inches"."""
    return _marked(kind, (), _AS_WRITTEN, "{n}")


def _marked(kind: str, value: Values, rounding: str, words: str) -> str:
    values = _several(value)
    return _OPEN + _CUT.join((kind, rounding, " ".join(map(repr, values)), _around(len(values), words))) + _SHUT


def _several(value: Values) -> list[float]:
    return [float(each) for each in value] if isinstance(value, Iterable) else [float(value)]


def _around(count: int, words: str) -> str:
    """Words with a place for each of several figures."""
    if words:
        return words if "{" in words else words.join(["{}"] * count)
    *first, last = ["{}"] * count
    return f"{', '.join(first)} and {last}" if first else last


# Spelling them


def spelled(what: T, unit: str | None = None) -> T:
    """Words without marks, figures in a design's own system.

    what    : a text; or records, tuples, lists and tables by name with texts in them, at any depth
    unit    : the design's own unit of length; None for mm
    returns : the same where there is no mark
    """
    return cast(T, _spelled(what, unit or "mm"))


def _spelled(what: Any, unit: str) -> Any:
    if isinstance(what, str):
        return _MARK.sub(lambda mark: _words(mark[1], unit), what) if _OPEN in what else what
    if isinstance(what, dict):
        return {key: _spelled(value, unit) for key, value in what.items()}
    if isinstance(what, list | tuple):
        items = [_spelled(item, unit) for item in what]
        if all(new is old for new, old in zip(items, what, strict=True)):
            return what
        return type(what)(*items) if hasattr(what, "_fields") else type(what)(items)
    if is_dataclass(what) and not isinstance(what, type):
        old = {field.name: getattr(what, field.name) for field in fields(what) if field.init}
        new = {name: _spelled(value, unit) for name, value in old.items()}
        changed = {name: value for name, value in new.items() if value is not old[name]}
        return replace(what, **changed) if changed else what
    return what


def _words(mark: str, unit: str) -> str:
    kind, *rest = mark.split(_CUT)
    if kind == _EITHER and len(rest) == 2:
        return rest[is_imperial(unit)]
    if (found := _FIGURE.fullmatch(mark)) is None:
        return ""
    ways, numbers, words = found[2].split(), [float(value) for value in found[3].split()], found[4]
    ways = ways * len(numbers) if len(ways) == 1 else ways
    if not len(ways) == len(numbers) == words.count("{}"):
        return ""
    scale = _in_words(kind, unit, numbers)
    each = [_rounded(number, way, scale) for number, way in zip(numbers, ways, strict=True)]
    text = words.format(*each, u=scale[1], n=_SAID.get(scale[1], scale[1]))
    return text if "{u}" in words or "{n}" in words else f"{text} {scale[1]}".rstrip()


def _in_words(kind: str, unit: str, values: Iterable[float]) -> Scale:
    if kind == "g" and is_imperial(unit) and max(map(abs, values), default=0.0) >= _LB * (1 - _EXACT):
        return _LB, "lb", 2
    return _scale(kind, unit)


def _scale(kind: str, unit: str) -> Scale:
    by, name, more = _LENGTHS[unit]
    match kind:
        case "mm":
            return by, name, more
        case "mm2":
            return by**2, f"{name}2", 2 * more
        case "g mm":
            by_mass, mass, _ = _scale("g", unit)
            return by * by_mass, f"{mass}·{name}", more * is_imperial(unit)
        case _:
            return _OTHERS[kind][is_imperial(unit)] if kind in _OTHERS else (1.0, kind, 0)


def is_imperial(unit: str) -> bool:
    """Whether a design of this unit of length is in inches, feet and pounds."""
    return unit in ("in", "ft")


def bare(kind: str, value: float, digits: int, unit: str) -> str:
    """A figure for a table, whose heading has its unit, at once in a design's own system.

    digits : decimals in house units, and to the like resolution in others
    """
    return _rounded(value, f"{digits}f", _scale(kind, unit))


def number_in(kind: str, value: float, unit: str) -> float:
    """A figure as a number in a design's own system, for the scale of a picture."""
    return value / _scale(kind, unit)[0]


def name_in(kind: str, unit: str) -> str:
    """What a table's heading calls the unit of figures of a kind; a unit that is the same everywhere stays."""
    return _scale(kind, unit)[1]


def fixed(value: float, digits: int) -> str:
    """A number to so many decimals, never "-0.0"."""
    return f"{round(value, digits) + 0.0:.{digits}f}"


def _rounded(value: float, rounding: str, scale: Scale) -> str:
    by, name, more = scale
    number, digits, way = value / by + 32.0 * (name == "degF"), int(rounding[:-1]), rounding[-1]
    if way == "f":
        return fixed(number, max(digits + more, 0))
    if way == "g":
        return _significant(number, digits, is_house=by == 1.0)
    if not math.isfinite(number) or number == 0.0:
        return f"{number:g}"
    places = digits + more if way in "ud" else digits - 1 - math.floor(math.log10(abs(number)))
    scaled = number * 10.0**places
    slack = _EXACT if way in "ud" else 1e-12 * abs(scaled)
    whole = math.ceil(scaled - slack) if way in "uU" else math.floor(scaled + slack)
    return f"{whole / 10.0**places:.12g}"


def _significant(number: float, digits: int, is_house: bool) -> str:
    """As the maker wrote it; what was written in another system is rounded to four digits."""
    text = f"{number:.{digits}g}"
    return text if is_house or math.isclose(float(text), number, rel_tol=_EXACT) else f"{number:.{min(digits, 4)}g}"
