"""How far a section lies off what is fitted to the three others, against the bands of the stated polar.

    python tests/section/polar/left_out.py

Prints the table of README.md beside it, made from the single values in measured_sections.py. The stated polar's own fit
takes in all four sections, so its errors at these four say too little: what is to be expected of a fifth is this.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from measured_sections import MEASURED, NAMES, Measured, flow, shape
from numpy.typing import NDArray

from geomgen.section.polar.stated import stated_polar

FROM = 1.9e5  # the table's Reynolds numbers: those where the bands are at their narrowest
ALIKE = 0.01  # spread of thickness from which its term can be fitted
Row = list[float]


def bends(each: Measured) -> tuple[float, float]:
    """Tens of Reynolds number from 2e5, and those below it."""
    tens = math.log10(each.reynolds / 2e5)
    return tens, min(tens, 0.0)


@dataclass(frozen=True)
class Quantity:
    """One quantity of the stated polar.

    name         : in the table
    row          : what it is fitted to: terms in the form that stated.py has
    value        : what was measured, in that form
    off          : of a measured value and a fitted one, how far the measured one lies off
    by_thickness : whether the last term is of thickness
    """

    name: str
    row: Callable[[Measured], Row]
    value: Callable[[Measured], float]
    off: Callable[[Measured, float], float]
    by_thickness: bool = False


def _slope(each: Measured) -> Row:
    around = flow(each.section)
    return [around.slope_per_rad * term for term in (1.0, *bends(each), around.thickness - 0.1)]


def _zero(each: Measured) -> Row:
    zero_deg = math.degrees(flow(each.section).zero_lift_rad)
    return [zero_deg * term for term in (1.0, *bends(each))]


def _greatest(each: Measured) -> Row:
    around = flow(each.section)
    return [1.0, *bends(each), around.camber, around.thickness - 0.1]


QUANTITIES = (
    Quantity("slope, %", _slope, lambda m: m.slope_per_rad, lambda m, fit: 100.0 * (m.slope_per_rad / fit - 1.0), True),
    Quantity("angle without lift, deg", _zero, lambda m: m.zero_lift_deg, lambda m, fit: m.zero_lift_deg - fit),
    Quantity("greatest lift", _greatest, lambda m: m.greatest_lift, lambda m, fit: m.greatest_lift - fit, True),
    Quantity(
        "least drag, times",
        lambda m: [1.0, *bends(m)],
        lambda m: math.log(m.drag),
        lambda m, fit: m.drag / math.exp(fit),
    ),
)


def fitted(quantity: Quantity, to: Sequence[Measured]) -> NDArray[np.float64]:
    """Factors of the terms, by least squares; that of thickness is 0 where all are of like thickness."""
    rows, values = np.array([quantity.row(each) for each in to]), np.array([quantity.value(each) for each in to])
    if quantity.by_thickness and np.ptp([flow(each.section).thickness for each in to]) < ALIKE:
        rows[:, -1] = 0.0
    return np.asarray(np.linalg.lstsq(rows, values, rcond=None)[0])


def errors(quantity: Quantity, left_out: str | None, of: str) -> list[float]:
    """How far one section lies off from Re 2e5, where one or none is left out of the fit."""
    factors = fitted(quantity, [each for each in MEASURED if each.section != left_out])
    asked = [each for each in MEASURED if each.section == of and each.reynolds > FROM]
    return [quantity.off(each, float(np.dot(quantity.row(each), factors))) for each in asked]


def worst(quantity: Quantity, left_out: str | None, of: str) -> float:
    """The one of `errors` farthest off, with its sign; of drag as a factor."""
    plain = 1.0 if "times" in quantity.name else 0.0
    return max(errors(quantity, left_out, of), key=lambda off: abs(math.log(off) if plain else off))


def band(quantity: Quantity) -> str:
    """The stated polar's band at Re 2e5, as the table has it."""
    at = stated_polar(shape(NAMES[0])).band_at(2e5)
    return {
        "slope, %": f"±{100 * at.slope[0]:.0f}",
        "angle without lift, deg": f"±{math.degrees(at.zero_lift_rad[0]):.1f}",
        "greatest lift": f"±{at.greatest_lift[0]:.2f}",
        "least drag, times": f"{at.drag_low[0]:.2f} to {at.drag_high[0]:.2f}",
    }[quantity.name]


def table() -> list[str]:
    """Lines of the table: of each quantity and section the worst error with it in the fit, and with it left out."""
    lines = ["| | band | " + " | ".join(NAMES) + " |", "|---|---|" + "---|" * len(NAMES)]
    for quantity in QUANTITIES:
        cells = [f"{worst(quantity, None, name):.3g}, {worst(quantity, name, name):.3g}" for name in NAMES]
        lines.append(f"| {quantity.name} | {band(quantity)} | " + " | ".join(cells) + " |")
    return lines


if __name__ == "__main__":
    print("\n".join(table()))
