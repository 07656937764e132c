"""How a blade swings, where that meets its turns, when it would twist away, and where its mass lies along the chord."""

from __future__ import annotations

from geomgen.balance.chordwise import Centre
from geomgen.balance.stages import Balance
from geomgen.figures import fixed, g, mm, percent
from geomgen.strength.held import Crossing, Held, rpm_of
from geomgen.views.page import Item, Row, Section, Table, as_columns
from geomgen.views.quantity import Number


def frequencies(found: Held) -> Section:
    """How fast each mode swings at rest, at the ends of the working range and at the highest speed."""
    of = found.frequencies
    low, high = of.working
    speeds = sorted({0.0, low, high, float(of.rpm[-1])})
    at = [of.at(rpm) for rpm in speeds]
    rows: tuple[Row, ...] = tuple(
        (mode.name, *(Number(each[k], 2) for each in at)) for k, mode in enumerate(of.modes)
    )  # fmt: skip
    columns = as_columns("swings in a second, at", *(f"{fixed(rpm, 0)} rpm" for rpm in speeds))
    words = f"It works between {fixed(low, 0)} and {fixed(high, 0)} rpm."
    return "How a blade swings", Table(columns, rows, left=1), words, *of.words, *met(found)


def met(found: Held) -> tuple[str | Item, ...]:
    """At which speeds a blade swings a whole number of times in a turn; those near the working range first."""
    of, low, high = found.frequencies, *found.frequencies.working
    near = [each for each in found.crossings if each.near]
    far = [each for each in found.crossings if not each.near]
    counts = ", ".join(map(str, of.per_turn[:-1])) + f" and {of.per_turn[-1]}"
    within = f"within 10 % of the {fixed(low, 0)} to {fixed(high, 0)} rpm at which it works"
    told: list[str | Item] = []
    if near:
        told.append(f"Swings met {within}: a blade that is struck in time with its own swing moves more each turn.")
        told += [Item("note", crossing_words(each)) for each in near]
    else:
        told.append(f"No swing meets {counts} times a turn {within}.")
    if far:
        told.append(f"Met elsewhere, on the way up or beyond: {'; '.join(map(crossing_words, far))}.")
    return tuple(told)


def crossing_words(each: Crossing) -> str:
    """Where a mode meets the turns."""
    return f"{each.mode} swings {each.per_turn} times a turn at {fixed(each.rpm, 0)} rpm"


def divergence(found: Held) -> str:
    """When lift would twist a blade more than it stands against."""
    fastest = found.loads.cases[found.fastest].rad_s
    if found.divergence_rad_s is None:
        return "Twisting away: no speed was found at which lift twists it more than it stands against."
    rpm, times = fixed(rpm_of(found.divergence_rad_s), 0), fixed(found.divergence_rad_s / fastest, 1)
    more = f"{times} times the highest speed here"
    return f"Twisting away: from {rpm} rpm up, {more}, lift twists it more than it stands against."


def chordwise(balance: Balance) -> Section:
    """Where the mass lies, against the feather axis and the quarter chord, and what would mend it."""
    of = balance.chordwise
    words = f"{_lies('The centre of gravity', of.plain)} {_lies('Weighted by r, where the pull acts, it', of.weighted)}"
    return "Where its mass lies along the chord", words, _mended(balance)


def _lies(what: str, of: Centre) -> str:
    share = percent(0.25 - of.quarter_mm / of.chord_mm)
    return (
        f"{what} lies {_off(of.feather_mm)} the feather axis and {_off(of.quarter_mm)} the quarter chord, at {share} "
        f"of the chord, at r {mm(of.r_mm, 0)}."
    )


def _off(by_mm: float) -> str:
    if abs(by_mm) < 0.05:
        return "on"
    return f"{mm(abs(by_mm), 1)} {'ahead of' if by_mm > 0.0 else 'behind'}"


def _mended(balance: Balance) -> str:
    of, blades = balance.chordwise.mends, balance.blades
    if of.weighted_g is None:
        return "No weight at the nose would bring it to the quarter chord."
    if of.weighted_g == 0.0:
        return "Nothing is to be mended: a centre at the quarter chord or ahead of it is what is aimed for by custom."
    place = f"at the nose at r {mm(of.r_mm, 0)}, {mm(of.forward_mm, 1)} forward of the feather axis"
    return (
        f"{g(of.weighted_g)} {place}, would bring that to the quarter chord, {g(blades * of.weighted_g)} in {blades} "
        "blades. A centre behind the quarter chord lets a soft blade twist as it bends, more with speed. [balance] "
        "nose_weight says what another place would take."
    )
