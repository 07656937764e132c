"""A design file in the other system of units, by exact fractions; and figures in metric units, wherever they are said.

1 in = 25.4 mm, 1 ft = 12 in, 1 lb = 16 oz = 453.59237 g, 1 lbf is 1 lb at 9.80665 m/s2, 1 hp = 550 ft lbf/s: the
definitions, NIST SP 811, from memory. Volts, amperes, ohms and hours are the same in both.
"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from importlib import resources
from typing import Any

from remedies import file_of

IN, FT, OZ = Fraction("25.4"), Fraction("304.8"), Fraction("453.59237") / 16  # [mm], [mm], [g]
LBF = 16 * OZ / 1000 * Fraction("9.80665")  # [N]
HP = 550 * FT / 1000 * LBF  # [W]
# unit -> (in the other system, how many of that it is)
METRIC = {
    "in": ("mm", IN), "ft": ("mm", FT), "oz": ("g", OZ), "lb": ("g", 16 * OZ), "oz/ft": ("g/m", OZ / FT * 1000),
    "oz/ft2": ("g/m2", OZ / FT**2 * 10**6), "lb/ft3": ("kg/m3", 16 * OZ / FT**3 * 10**6),
    "lbf": ("N", LBF), "ozf": ("N", LBF / 16), "hp": ("W", HP), "in2": ("mm2", IN**2),
    "oz in2": ("g cm2", OZ * IN**2 / 100), "oz in": ("g mm", OZ * IN),
    "psi": ("MPa", LBF / IN**2), "lbf/in": ("N/mm", LBF / IN),
}  # fmt: skip
INCHES = {
    "mm": ("in", 1 / IN), "cm": ("in", 10 / IN), "m": ("ft", 1000 / FT), "g": ("oz", 1 / OZ),
    "kg": ("lb", 1000 / (16 * OZ)), "g/m": ("oz/ft", FT / OZ / 1000), "g/m2": ("oz/ft2", FT**2 / OZ / 10**6),
    "kg/m3": ("lb/ft3", FT**3 / (16 * OZ) / 10**6), "N": ("lbf", 1 / LBF), "W": ("hp", 1 / HP),
    "mm2": ("in2", 1 / IN**2), "cm2": ("in2", 100 / IN**2), "g cm2": ("oz in2", 100 / OZ / IN**2),
    "g mm": ("oz in", 1 / OZ / IN), "MPa": ("psi", IN**2 / LBF), "GPa": ("psi", 1000 * IN**2 / LBF),
    "N/mm": ("lbf/in", IN / LBF),
}  # fmt: skip
NUMBERS = {  # keys whose bare numbers are no lengths
    "schema", "blades", "rpm", "rpm_max", "lift_coefficient", "count", "bolts", "solid", "slope", "plus_minus", "set",
    "range", "step", "twist", "coning", "azimuth", "first", "upper", "lower", "cells", "awg", "coefficient",
    "lift_left", "price", "spares", "least", "done", "walls", "top", "bottom", "infill", "factor", "speed",
}  # fmt: skip
CLASS = re.compile(r'\bclass(?: =|, as) "[0-9]+ mm"')  # of a fan: a name, in either system
NAMES = {"class"}  # keys whose text is a name, though it reads as a length
VALUE = re.compile(
    r"(?P<sign>-?)(?:(?P<whole>[0-9]+)[ -])?(?P<number>[0-9]*\.?[0-9]+(?:/[0-9]+)?) ?"
    r"(?P<unit>[A-Za-z][A-Za-z0-9/]*(?: (?:[A-Za-z]+2|mm|in))?)"
)
SOURCES = ("catalogue.toml", "strength.toml")  # whose words on sources are let pass
SAID = re.compile(r"\d ?(?:mm|cm|m|g|kg|N|MPa|N/mm|m/s|kg/m3|g/m2|g/m|mm2|mm3|cm2|cm3|m2|kg/m2|degC)(?![\w/])")


def other_system(text: str) -> str:
    """A design file in inches, feet and pounds where it is metric, in mm and g where it isn't, on long lines."""
    raw = tomllib.loads(text)
    to_metric = raw.get("units") in ("in", "ft")
    return file_of(_table(raw, (), METRIC if to_metric else INCHES, Fraction(IN if to_metric else 1 / IN)))


def _table(value: Any, path: tuple[str, ...], units: dict[str, tuple[str, Fraction]], bare: Fraction) -> Any:
    if isinstance(value, dict):
        return {key: _table(item, (*path, key), units, bare) for key, item in value.items()}
    if isinstance(value, list):
        return [_table(item, path, units, bare) for item in value]
    if path == ("units",):
        return "mm" if units is METRIC else "in"
    if isinstance(value, str):
        return value if path[-1] in NAMES else _written(value, units)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or _is_number(path):
        return value
    return float(Fraction(str(value)) * bare)


def _is_number(path: tuple[str, ...]) -> bool:
    """Whether a bare number is a share or a count: of chords, only those of sections along the blade are lengths."""
    *_, around, key = ("", *path)
    shares = (key == "chord" and around != "along") or (key in ("from", "to") and around in ("construction", "flat"))
    return key in NUMBERS or shares


def _written(value: str, units: dict[str, tuple[str, Fraction]]) -> str:
    match = VALUE.fullmatch(value)
    if match is None:
        return value
    number = (Fraction(match["whole"] or 0) + Fraction(match["number"])) * (-1 if match["sign"] else 1)
    if match["unit"] == "degF" and units is METRIC:
        return f"{float((number - 32) * 5 / 9)!r} degC"
    if match["unit"] == "degC" and units is INCHES:
        return f"{float(number * 9 / 5 + 32)!r} degF"
    unit, times = units.get(match["unit"], (match["unit"], None))
    return value if times is None else f"{float(number * times)!r} {unit}"


def metric_figures(text: str) -> list[str]:
    """Each figure in a metric unit that a text holds, with what is around it; but for the catalogue's own words."""
    text = CLASS.sub("", " ".join(text.split()))
    for piece in _catalogue():
        text = text.replace(piece, "")
    return [text[max(found.start() - 60, 0) : found.end() + 20] for found in SAID.finditer(text)]


@cache
def _catalogue() -> list[str]:
    """What the catalogue and the table of strengths say of where their figures come from, the longest first."""
    files = (each for each in resources.files("geomgen.materials").iterdir() if each.name in SOURCES)
    raw = [tomllib.loads(each.read_text(encoding="utf-8")) for each in files]
    found = {" ".join(text.split()) for text in _texts(raw)}
    return sorted((text for text in found if len(text) > 12), key=len, reverse=True)


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for item in value.values() if isinstance(value, dict) else value:
            yield from _texts(item)
