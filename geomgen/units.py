"""Quantities written as text, read into house units: mm, g, deg, g/m2, kg/m3, g/m, rpm, degC, shares of 1.

Exact by definition (international yard and pound, 1959): 1 in = 25.4 mm, 1 lb = 453.59237 g, 1 oz = 1/16 lb.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

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
    """

    name: str
    house: str
    units: Mapping[str, float]
    example: str
    offset: Mapping[str, float] = field(default_factory=dict)


LENGTH = Kind("length", "mm", {"mm": 1, "cm": 10, "m": 1000, "in": _IN, "ft": _FT}, "25 mm")
MASS = Kind("mass", "g", {"g": 1, "kg": 1000, "oz": _OZ, "lb": _LB}, "25 g")
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

_KINDS = (LENGTH, MASS, ANGLE, AREAL, DENSITY, LINEAR, SPEED, TEMPERATURE, SHARE)
_EXACT = 1e-12  # share of a figure that is no difference
LONGEST = 80  # no value is written with more characters
_SIGNS = {"²": "2", "³": "3", "°": "deg", "\u2212": "-", "\u00a0": " "}
_TEXT = re.compile(
    r"""\s*(?P<sign>[-+]?)\s*
    (?: (?:(?P<whole>[0-9]+)(?:\s+|\s*-\s*))? (?P<over>[0-9]+)\s*/\s*(?P<under>[0-9]+)
      | (?P<decimal>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?) )
    \s*(?P<unit>[A-Za-z%][A-Za-z0-9/%]*)?\s*""",
    re.VERBOSE,
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


def in_unit(value: float, kind: Kind, unit: str) -> float:
    """A value in house units, given in another unit of its kind; "" is the bare number of a share."""
    return value / kind.units.get(unit, 1.0) + kind.offset.get(unit, 0.0)


def shown(value: float, kind: Kind, unit: str | None = None, digits: int = 4) -> str:
    """A value in house units as text, "5.118 in": in `unit` (or the house unit), to `digits` significant digits."""
    unit = unit or kind.house
    return f"{in_unit(value, kind, unit):.{digits}g} {unit}".strip()


def passing(value: float, kind: Kind, unit: str | None = None, *, up: bool, digits: int = 4) -> str:
    """A bound in house units as text, rounded to the side that passes: up for a least one, else down."""
    unit = unit or kind.house
    number = in_unit(value, kind, unit)
    if number == 0.0 or not math.isfinite(number):
        return shown(value, kind, unit, digits)
    places = digits - 1 - math.floor(math.log10(abs(number)))
    scaled = number * 10.0**places
    whole = math.ceil(scaled - _EXACT * abs(scaled)) if up else math.floor(scaled + _EXACT * abs(scaled))
    return f"{whole / 10.0**places:.{digits + 1}g} {unit}".strip()


def _split(text: str, kind: Kind, bare: str | None) -> tuple[float, str | None]:
    if len(text) > LONGEST:
        raise UnitError("is too long to be a value", _allowed(kind, bare))
    plain = text.strip()
    for sign, word in _SIGNS.items():
        plain = plain.replace(sign, word)
    match = _TEXT.fullmatch(plain)
    if match is None:
        remedy = f'write "{plain.replace(",", ".")}"' if _TEXT.fullmatch(plain.replace(",", ".")) else ""
        raise UnitError(f"is not {_a(kind.name)}", _allowed(kind, bare), remedy)
    unit = match["unit"]
    if unit is not None and unit not in kind.units:
        raise UnitError(_wrong_unit(unit, kind), _allowed(kind, bare))
    if match["decimal"]:
        number = _finite(float(match["decimal"]))
    elif int(match["under"]) == 0:
        raise UnitError("divides by 0", _allowed(kind, bare))
    else:
        number = _finite(int(match["whole"] or 0) + int(match["over"]) / int(match["under"]))
    return (-number if match["sign"] == "-" else number), unit


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
