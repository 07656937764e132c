"""Quantities written as text, read into house units: mm, g, deg, g/m2, kg/m3, g/m, rpm, degC, shares of 1; of what is
bought to drive the rotor: N, W, V, A, Ah, ohm, mm2, g cm2; of balance: g mm; of strength: MPa, N/mm, s.

Exact by definition (international yard and pound, 1959): 1 in = 25.4 mm, 1 lb = 453.59237 g, 1 oz = 1/16 lb; 1 lbf is
1 lb at 9.80665 m/s2, 1 kgf = 9.80665 N, 1 hp = 550 ft lbf/s.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

_IN, _FT, _YD = 25.4, 304.8, 914.4  # [mm]
_LB = 453.59237  # [g]
_OZ = _LB / 16


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity.

    name    : "length"
    house   : the unit its values are kept in
    units   : unit as written -> how many house units it is
    example : what a maker may write
    offset  : unit -> what to take off before multiplying (temperatures)
    joined  : units that are written one after the other, "2 ft 4 in" -> how many of the last each is, largest first
    """

    name: str
    house: str
    units: Mapping[str, float]
    example: str
    offset: Mapping[str, float] = field(default_factory=dict)
    joined: Mapping[str, int] = field(default_factory=dict)


LENGTH = Kind("length", "mm", {"mm": 1, "cm": 10, "m": 1000, "in": _IN, "ft": _FT}, "25 mm", joined={"ft": 12, "in": 1})
MASS = Kind("mass", "g", {"g": 1, "kg": 1000, "oz": _OZ, "lb": _LB}, "25 g", joined={"lb": 16, "oz": 1})
ANGLE = Kind("angle", "deg", {"deg": 1, "rad": 180 / math.pi}, "8 deg")
AREAL = Kind(
    "mass per area",
    "g/m2",
    {"g/m2": 1, "kg/m2": 1000, "oz/ft2": _OZ / (_FT * 1e-3) ** 2, "oz/yd2": _OZ / (_YD * 1e-3) ** 2},
    "180 g/m2",
)
DENSITY = Kind("density", "kg/m3", {"kg/m3": 1, "g/cm3": 1000, "lb/ft3": _LB * 1e-3 / (_FT * 1e-3) ** 3}, "160 kg/m3")
LINEAR = Kind("mass per length", "g/m", {"g/m": 1, "kg/m": 1000, "oz/ft": _OZ / (_FT * 1e-3)}, "18 g/m")
SPEED = Kind("speed of rotation", "rpm", {"rpm": 1}, "260 rpm")
TEMPERATURE = Kind("temperature", "degC", {"degC": 1, "degF": 5 / 9}, "15 degC", {"degF": 32})
SHARE = Kind("share", "", {"%": 0.01}, "25 %")
_KGF = 9.80665  # [N]
FORCE = Kind(
    "force",
    "N",
    {"N": 1, "mN": 1e-3, "kgf": _KGF, "gf": _KGF * 1e-3, "lbf": _LB * _KGF * 1e-3, "ozf": _OZ * _KGF * 1e-3},
    "1.7 N",
)
POWER = Kind("power", "W", {"W": 1, "kW": 1000, "hp": 550 * _FT * _LB * _KGF * 1e-6}, "80 W")
VOLTAGE = Kind("voltage", "V", {"V": 1, "mV": 1e-3}, "11.1 V")
CURRENT = Kind("current", "A", {"A": 1, "mA": 1e-3}, "12 A")
CHARGE = Kind("charge", "Ah", {"Ah": 1, "mAh": 1e-3}, "2.2 Ah")
RESISTANCE = Kind("resistance", "ohm", {"ohm": 1, "mohm": 1e-3}, "8 mohm")
AREA = Kind("area", "mm2", {"mm2": 1, "cm2": 100, "in2": _IN**2}, "1.3 mm2")
FEED = Kind(
    "cutting speed",
    "mm/s",
    {"mm/s": 1, "mm/min": 1 / 60, "m/min": 1000 / 60, "in/s": _IN, "in/min": _IN / 60},
    "20 mm/s",
)
MOMENT = Kind(
    "static moment",
    "g mm",
    {"g mm": 1, "g cm": 10, "g m": 1000, "kg mm": 1000, "oz in": _OZ * _IN, "oz ft": _OZ * _FT},
    "60 g mm",
)
_PSI = _LB * _KGF * 1e-3 / _IN**2  # [MPa]
STRESS = Kind(
    "stress",
    "MPa",
    {"MPa": 1, "GPa": 1000, "kPa": 1e-3, "N/mm2": 1, "psi": _PSI, "ksi": 1000 * _PSI},
    "40 MPa",
)
BY_WIDTH = Kind(
    "force by width",
    "N/mm",
    {"N/mm": 1, "N/cm": 0.1, "N/m": 1e-3, "lbf/in": _LB * _KGF * 1e-3 / _IN},
    "1.5 N/mm",
)
TIME = Kind("time", "s", {"s": 1, "ms": 1e-3, "min": 60}, "3 s")
PRICE = Kind("price", "", {}, "6.80")
INERTIA = Kind("inertia", "g cm2", {"g cm2": 1, "kg m2": 1e7, "oz in2": _OZ * (_IN * 0.1) ** 2}, "12 g cm2")

_KINDS = (
    LENGTH, MASS, ANGLE, AREAL, DENSITY, LINEAR, SPEED, TEMPERATURE, SHARE, FORCE, POWER, VOLTAGE, CURRENT, CHARGE,
    RESISTANCE, AREA, INERTIA, MOMENT, FEED, STRESS, BY_WIDTH, TIME, PRICE,
)  # fmt: skip
LONGEST = 80  # no value is written with more characters
_SIGNS = {
    "²": "2", "³": "3", "°": "deg", "\u2212": "-", "\u2010": "-", "\u2011": "-", "\u2013": "-", "\u00a0": " ",
    "\u2126": "ohm", "\u03a9": "ohm", "\u00b7": " ", "\u2032": "'", "\u2019": "'", "\u2033": '"', "\u201d": '"',
}  # fmt: skip
_WORDS = {
    "'": "ft", "foot": "ft", "feet": "ft", '"': "in", "''": "in", "inch": "in", "inches": "in",
    "g*cm2": "g cm2", "gcm2": "g cm2", "kg*m2": "kg m2", "kgm2": "kg m2", "oz*in2": "oz in2",
    "g*mm": "g mm", "gmm": "g mm", "g*cm": "g cm", "gcm": "g cm", "kg*mm": "kg mm", "oz*in": "oz in",
    "mOhm": "mohm", "Ohm": "ohm", "ohms": "ohm",
    "volt": "V", "volts": "V", "watt": "W", "watts": "W", "amp": "A", "amps": "A", "newton": "N",
    "newtons": "N", "mpa": "MPa", "Mpa": "MPa", "gpa": "GPa", "Gpa": "GPa", "sec": "s", "second": "s",
    "seconds": "s", "minute": "min", "minutes": "min",
    "lbs": "lb", "pound": "lb", "pounds": "lb", "ounce": "oz", "ounces": "oz",
}  # fmt: skip
_NUMBER = r"""(?: (?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))? (?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)
      | (?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?) )"""
_UNIT = r"[A-Za-z%][A-Za-z0-9/%]*(?:[ *](?:[A-Za-z]+2|mm|cm|in|ft|m))?"
_SIGN, _MARK = r"\s*(?P<sign>[-+]?)\s*", r"""''|'|\""""
_TEXT = re.compile(
    rf"{_SIGN}{_NUMBER}\s*(?P<unit>{_UNIT}|{_MARK})?\s*",
    re.VERBOSE,
)
_PART = re.compile(  # of several, and what joins it to the next: blanks, a hyphen, a comma, nothing
    rf"(?P<number>{_NUMBER})\s*(?P<unit>[A-Za-z]+|{_MARK})?(?:(?:\s*,\s*|\s+-\s+|-|\s*)(?=[0-9.])|$)", re.VERBOSE
)


class UnitError(ValueError):
    """A value that can't be read as the quantity asked for.

    wrong, allowed, remedy : as in `geomgen.errors.Fault`
    """

    def __init__(self, wrong: str, allowed: str = "", remedy: str = "") -> None:
        self.wrong, self.allowed, self.remedy = wrong, allowed, remedy
        super().__init__("; ".join(text for text in (wrong, allowed, remedy) if text))


def read(value: object, kind: Kind, bare: str | None = None) -> float:
    """Read a quantity, as text with its unit or as a bare number.

    value   : text such as "1 1/4 in", or a number
    kind    : the kind of quantity asked for
    bare    : the unit a bare number is in; "" where it is dimensionless; None where it must carry a unit
    returns : value in the kind's house unit
    raises  : UnitError
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise UnitError(f"is not {_a(kind.name)}", _allowed(kind, bare))
    if isinstance(value, str):
        number, unit = _split(value, kind, bare)
    else:
        number, unit = _finite(value), None
    if unit is None:
        if bare is None:
            raise UnitError("has no unit", _allowed(kind, bare), _unit_remedy(kind))
        unit = bare
    times = kind.units[unit] if unit else 1.0
    number -= kind.offset.get(unit, 0.0)
    return _finite(number * times if times >= 1 else number / (1 / times))  # so that "94 %" is 0.94 to the last bit


def _split(text: str, kind: Kind, bare: str | None) -> tuple[float, str | None]:
    if len(text) > LONGEST:
        raise UnitError("is too long to be a value", _allowed(kind, bare))
    plain = text.strip()
    if not plain.isascii():
        for sign, word in _SIGNS.items():
            plain = plain.replace(sign, word)
    match = _TEXT.fullmatch(plain)
    unit = match and _unit(match)
    if (match is None or (unit is not None and unit not in kind.units)) and (parts := _parts(plain)):
        number, unit = _joined(parts, kind, bare), [*kind.joined][-1]
        return (-number if plain[0] == "-" else number), unit
    if match is None:
        remedy = f'write "{plain.replace(",", ".")}"' if _TEXT.fullmatch(plain.replace(",", ".")) else ""
        raise UnitError(f"is not {_a(kind.name)}", _allowed(kind, bare), remedy)
    if unit is not None and unit not in kind.units:
        raise UnitError(_wrong_unit(unit, kind), _allowed(kind, bare))
    number = _number(match, kind, bare)
    return (-number if match["sign"] == "-" else number), unit


def _unit(match: re.Match[str]) -> str | None:
    unit: str | None = match["unit"]
    return _WORDS.get(unit, unit) if unit else None


def _number(match: re.Match[str], kind: Kind, bare: str | None) -> float:
    if match["decimal"]:
        return _finite(float(match["decimal"]))
    if int(match["under"]) == 0:
        raise UnitError("divides by 0", _allowed(kind, bare))
    return _finite(int(match["whole"] or 0) + int(match["over"]) / int(match["under"]))


def _parts(plain: str) -> list[re.Match[str]]:
    """The parts of a value written in several, "2 ft 4 in", its sign left out; none where it isn't."""
    found, at = list[re.Match[str]](), 0
    if (sign := re.match(_SIGN, plain)) is not None:
        at = sign.end()
    while at < len(plain):
        match = _PART.match(plain, at)
        if match is None or (found and _unit(found[-1]) is None):
            return []
        found.append(match)
        at = match.end()
    return found if len(found) > 1 else []


def _joined(parts: Sequence[re.Match[str]], kind: Kind, bare: str | None) -> float:
    """The sum of the parts in the last of the units that are written together."""
    times = [kind.joined.get(_unit(part) or "", 0) for part in parts]
    if 0 in times or any(here <= after for here, after in pairwise(times)):
        raise _unjoined([(part["number"], _unit(part)) for part in parts], kind, bare)
    return sum(each * _number(part, kind, bare) for each, part in zip(times, parts, strict=True))


def _unjoined(parts: Sequence[tuple[str, str | None]], kind: Kind, bare: str | None) -> UnitError:
    """What is wrong with parts, each a number and its unit, that don't go together; and what would do."""
    named = [unit for _, unit in parts if unit is not None]
    unknown = [unit for unit in named if all(unit not in one.units for one in _KINDS)]
    if unknown or not any(unit in kind.units for unit in named):
        return UnitError(_wrong_unit([*unknown, *named][0], kind), _allowed(kind, bare))
    joined = list(kind.joined)
    allowed = f'one unit, or {" and ".join(joined)}, as "2 {joined[0]} 4 {joined[1]}"' if joined else "one unit"
    if len(named) < len(parts):
        smaller = joined[joined.index(named[-1]) + 1 :] if named[-1] in joined else []
        write = f'write "{_written([*parts[:-1], (parts[-1][0], smaller[0])])}"' if smaller else ""
        return UnitError("has no unit at its last number", allowed, write)
    if set(named) == set(joined) and len(named) == len(joined):
        write = _written(sorted(parts, key=lambda part: joined.index(part[1] or "")))
        return UnitError(f"has {named[0]} before {named[-1]}", "the larger unit first", f'write "{write}"')
    return UnitError(f"puts {' and '.join(named)} together", allowed)


def _written(parts: Sequence[tuple[str, str | None]]) -> str:
    return " ".join(f"{number} {unit}" for number, unit in parts)


def _finite(number: float) -> float:
    try:
        number = float(number)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise UnitError("is not a finite number", "numbers only; nan and infinity are none")
    return number


def _wrong_unit(unit: str, kind: Kind) -> str:
    other = next((other.name for other in _KINDS if unit in other.units), None)
    if other:
        return f"is {_a(other)}, not {_a(kind.name)}"
    return f'has a unit we don\'t know, "{unit}"'


def _a(name: str) -> str:
    return f"{'an' if name[0] in 'aeiou' else 'a'} {name}"


def _allowed(kind: Kind, bare: str | None) -> str:
    text = f'{_a(kind.name)} in {", ".join(kind.units)}, as "{kind.example}"'
    return text + (" or a bare number" if bare is not None else "")


def _unit_remedy(kind: Kind) -> str:
    return 'write its unit, or `units = "mm"` at the top' if kind is LENGTH else "write its unit"
