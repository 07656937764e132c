"""What a fit coupon tries: slots and holes of rising width, and the line of the design file that each one tells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from geomgen.figures import is_imperial
from geomgen.units import LENGTH

TRIES = 10  # slots or holes of a row
STEP_MM, STEP_IN = 0.05, 0.002  # of width, from one to the next
NARROWER = 3  # tries narrower than the thing, once the kerf is known
LEAST_MM = 0.2  # width of a slot; one that a beam wouldn't get into is left out, too

_PLAIN_KEY = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-")


@dataclass(frozen=True)
class Round:
    """What goes through the sheet in a round hole.

    goes_in  : in words, "rod"
    round_mm : its diameter [mm]
    path     : key path of the table that its fit is typed into; "" where there is none
    """

    goes_in: str
    round_mm: float
    path: str = ""


@dataclass(frozen=True)
class Try:
    """One slot or hole.

    letter   : that is engraved below it
    width_mm : as it is drawn, or as it is to be where the kerf is taken off [mm]
    line     : to type into the design file where it is the first that lets its thing in
    """

    letter: str
    width_mm: float
    line: str


@dataclass(frozen=True)
class Row:
    """What is tried with one thing.

    goes_in : in words, "the sheet itself"
    size_mm : its thickness or diameter [mm]
    path    : key path of the table that its fit is typed into; "" where there is none
    tries   : narrowest first
    """

    goes_in: str
    size_mm: float
    path: str
    tries: tuple[Try, ...]


def different(through: Sequence[Round]) -> Iterator[Round]:
    """Each different thing once: what has another table is another."""
    seen = set()
    for each in through:
        which = each.path, round(each.round_mm, 4)
        if which not in seen:
            seen.add(which)
            yield each


def tried(stock: str, thing: Round, kerf_mm: float | None, unit: str) -> Row:
    """The row of one thing, narrowest first, from the narrowest slot that can be cut on.

    stock   : name of the sheet's [stock.*] table
    kerf_mm : as far as it is known: a step is then a fit, or a wider kerf; None where it isn't: a step is a kerf [mm]
    unit    : the design's own unit of length
    """
    step = STEP_IN * LENGTH.units["in"] if is_imperial(unit) else STEP_MM
    tries = []
    for k in range(TRIES):
        letter = chr(ord("A") + k)
        if kerf_mm is None:
            less = (TRIES - 1 - k) * step
            tries.append(Try(letter, thing.round_mm - less, _kerf_line(stock, less, unit)))
            continue
        more = (k - NARROWER) * step
        line = f"fit = {_typed(more, unit)}" if k >= NARROWER else _kerf_line(stock, kerf_mm - more, unit)
        tries.append(Try(letter, thing.round_mm + more, line))
    some = tuple(each for each in tries if each.width_mm > least_mm(kerf_mm) - 1e-9)
    return Row(thing.goes_in, thing.round_mm, thing.path, some)


def least_mm(kerf_mm: float | None) -> float:
    """Width of the narrowest slot that is drawn [mm]."""
    return max(LEAST_MM, (kerf_mm or 0.0) + STEP_MM)


def _kerf_line(stock: str, kerf_mm: float, unit: str) -> str:
    key = stock if set(stock) <= _PLAIN_KEY else f'"{stock}"'
    return f"kerf = {{ {key} = {_typed(kerf_mm, unit)} }}"


def _typed(length_mm: float, unit: str) -> str:
    """A length as it is typed into a design file: bare in mm, else with its unit."""
    if is_imperial(unit):
        return f'"{length_mm / LENGTH.units["in"]:.3f} in"'
    return f"{length_mm:.2f}" if unit == "mm" else f'"{length_mm:.2f} mm"'
