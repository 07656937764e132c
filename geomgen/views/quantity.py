"""Figures for cells of tables, whose headings have their units: kept in mm, g and N, shown in a design's own system."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.figures import bare, figure, fixed, grams_digits, number_in, spelled

_MADE, _BOUGHT = {"mm2": ("cm2", 1), "mm3": ("cm3", 2)}, {"mm2": ("m2", 2), "mm3": ("cm3", 1), "mm": ("m", 2)}


@dataclass(frozen=True)
class Length:
    """A length [mm]; to so many decimals in mm, and to the like resolution in other units."""

    mm: float
    digits: int = 1

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("mm", self.mm, self.digits, unit)


@dataclass(frozen=True)
class Area:
    """An area [mm2], to four digits."""

    mm2: float

    def shown(self, unit: str) -> str:
        """As text, in squares of the unit."""
        return f"{number_in('mm2', self.mm2, unit):.4g}"


@dataclass(frozen=True)
class Mass:
    """A mass [g]; to so many decimals, or to as many as its size asks for."""

    g: float
    digits: int | None = None

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("g", self.g, grams_digits(self.g) if self.digits is None else self.digits, unit)


@dataclass(frozen=True)
class Moment:
    """A static moment [g mm]."""

    g_mm: float

    def shown(self, unit: str) -> str:
        """As text, in a mass times the unit."""
        return bare("g mm", self.g_mm, 0, unit)


@dataclass(frozen=True)
class Inertia:
    """A moment of inertia, or what has its unit [g mm2]; in g cm2, or oz in2, to so many decimals."""

    g_mm2: float
    digits: int = 0

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("g cm2", self.g_mm2 / 100.0, self.digits, unit)


@dataclass(frozen=True)
class Torque:
    """A moment of forces [N m]; in N mm, or lbf in."""

    n_m: float
    digits: int = 1

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("N mm", 1000.0 * self.n_m, self.digits, unit)


@dataclass(frozen=True)
class Bending:
    """A moment of forces that is told in N m, or in lbf in [N m]; to so many decimals in N m."""

    n_m: float
    digits: int = 2

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("N m", self.n_m, self.digits, unit)


@dataclass(frozen=True)
class Stiff:
    """A stiffness against bending or twist [N m2]; to so many decimals in N m2."""

    n_m2: float
    digits: int = 2

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("N m2", self.n_m2, self.digits, unit)


@dataclass(frozen=True)
class Times:
    """A margin, rounded down, so that none below 1 is told as 1: two decimals below 10, none above."""

    value: float

    def shown(self, unit: str = "mm") -> str:
        """As text."""
        if not math.isfinite(self.value):
            return "-"
        digits = 2 if self.value < 10.0 else 0
        return f"{math.floor(self.value * 10**digits + 1e-9) / 10**digits:.{digits}f}"


@dataclass(frozen=True)
class Far:
    """A length that is told in m, or in feet where the design's unit is inches or feet [mm]."""

    mm: float

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("m", self.mm, 1, unit)


@dataclass(frozen=True)
class Force:
    """A force [N]; to so many decimals in N, and to the like resolution in other units."""

    n: float
    digits: int = 1

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("N", self.n, self.digits, unit)


@dataclass(frozen=True)
class Speed:
    """A speed [m/s]."""

    m_s: float

    def shown(self, unit: str) -> str:
        """As text."""
        return bare("m/s", self.m_s, 1, unit)


@dataclass(frozen=True)
class Number:
    """A number that no unit changes, to so many decimals; signed: with a plus where it is one."""

    value: float
    digits: int
    signed: bool = False

    def shown(self, unit: str) -> str:
        """As text, never "-0.0"."""
        return "+" * (self.signed and self.value >= 0.0) + fixed(self.value, self.digits)


@dataclass(frozen=True)
class Amount:
    """So much of a stock, by an area [mm2], a volume [mm3] or a length [mm]; on a shopping list in larger units."""

    value: float
    per: str
    bought: bool = False

    def shown(self, unit: str) -> str:
        """As text, with its unit."""
        kind, digits = (_BOUGHT if self.bought else _MADE).get(self.per, (self.per, 1))
        return spelled(figure(kind, self.value, digits), unit)


@dataclass(frozen=True)
class Span:
    """From one figure to another."""

    low: Single
    high: Single

    def shown(self, unit: str) -> str:
        """As text."""
        return f"{self.low.shown(unit)} to {self.high.shown(unit)}"


Single = Length | Area | Mass | Moment | Inertia | Torque | Bending | Stiff | Times | Far | Force | Speed | Number
Quantity = Single | Amount | Span
