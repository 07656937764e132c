"""Figures with what they are figures of: kept in mm and g, shown in the design's own unit of length."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.units import LENGTH, in_unit

_MADE = {  # measure -> how many of it the unit shown is, its name, decimals; in metric units, in inches and feet
    "mm2": ((100.0, "cm2", 1), (645.16, "in2", 1)),
    "mm3": ((1e3, "cm3", 2), (16387.064, "in3", 2)),
}
_BOUGHT = {
    "mm2": ((1e6, "m2", 2), (92903.04, "ft2", 2)),
    "mm3": ((1e3, "cm3", 1), (16387.064, "in3", 1)),
    "mm": ((1e3, "m", 2), (304.8, "ft", 2)),
}


@dataclass(frozen=True)
class Length:
    """A length [mm]."""

    mm: float

    def shown(self, unit: str) -> str:
        """As text."""
        return length(self.mm, unit)


@dataclass(frozen=True)
class Mass:
    """A mass [g]."""

    g: float

    def shown(self, unit: str) -> str:
        """As text: two decimals below 10 g, one below 1000 g, none above."""
        return fixed(self.g, 2 if abs(self.g) < 9.995 else 1 if abs(self.g) < 999.95 else 0)


@dataclass(frozen=True)
class Moment:
    """A static moment [g mm]."""

    g_mm: float

    def shown(self, unit: str) -> str:
        """As text, in g times the unit."""
        return fixed(in_unit(self.g_mm, LENGTH, unit), 0)


@dataclass(frozen=True)
class Far:
    """A length that is told in m, or in feet where the design's unit is inches or feet [mm]."""

    mm: float

    def shown(self, unit: str) -> str:
        """As text."""
        return fixed(in_unit(self.mm, LENGTH, far_unit(unit)), 1)


@dataclass(frozen=True)
class Number:
    """A number that no unit changes, to so many decimals; signed: with a plus where it is one."""

    value: float
    digits: int
    signed: bool = False

    def shown(self, unit: str) -> str:
        """As text, never "-0.0"."""
        return f"{round(self.value, self.digits) + 0.0:{'+' * self.signed}.{self.digits}f}"


@dataclass(frozen=True)
class Amount:
    """So much of a stock, by an area [mm2], a volume [mm3] or a length [mm]; on a shopping list in larger units."""

    value: float
    per: str
    bought: bool = False

    def shown(self, unit: str) -> str:
        """As text, with its unit."""
        scales = _BOUGHT if self.bought else _MADE
        if self.per not in scales:
            return f"{length(self.value, unit)} {unit}"
        times, name, digits = scales[self.per][unit in ("in", "ft")]
        return f"{fixed(self.value / times, digits)} {name}"


@dataclass(frozen=True)
class Span:
    """From one figure to another."""

    low: Single
    high: Single

    def shown(self, unit: str) -> str:
        """As text."""
        return f"{self.low.shown(unit)} to {self.high.shown(unit)}"


Single = Length | Mass | Moment | Far | Number
Quantity = Single | Amount | Span


def far_unit(unit: str) -> str:
    """What a `Far` length is told in."""
    return "ft" if unit in ("in", "ft") else "m"


def length(value_mm: float, unit: str) -> str:
    """A length in the design's own unit, without its name: 0.1 mm, 0.01 cm, 0.001 in and so on.

    value_mm : [mm]
    unit     : "mm" | "cm" | "m" | "in" | "ft"
    """
    digits = {"mm": 1, "cm": 2, "m": 4, "in": 3, "ft": 4}[unit]
    return fixed(in_unit(value_mm, LENGTH, unit), digits)


def short_length(value_mm: float, unit: str) -> str:
    """The same without needless zeros."""
    return length(value_mm, unit).rstrip("0").rstrip(".")


def fixed(value: float, digits: int) -> str:
    """A number to so many decimals, never "-0.0"."""
    return Number(value, digits).shown("")
