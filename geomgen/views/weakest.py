"""Margins in words and tables: the weakest by name and what would help, all of them, and what has none."""

from __future__ import annotations

import math

from geomgen.figures import figure, fixed, mm, percent
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.held import Held, rpm_of
from geomgen.strength.link import Link
from geomgen.strength.margins import ALONE, GIVES_WAY, Kind, Margin, by_kind
from geomgen.views.loads_along import case_words
from geomgen.views.page import Cell, Item, Row, Section, Table, as_columns
from geomgen.views.quantity import Length, Times

MOST_ROWS = 25


def weakest(found: Held) -> Section:
    """The three weakest by name: what fails, how, where, by which load, and the change that does most."""
    title = f"The three weakest, at the factor of {found.factor:g}"
    three = found.judged.weakest()
    if not three:
        return title, "Nothing could be judged: no link that carries anything has a published strength."
    told = (Item("note", f"{k}. {_in_words(found, kind)}") for k, kind in enumerate(three, 1))
    return title, *told, below(found)


def below(found: Held) -> str:
    """How many don't hold, in plain figures; a margin of 1 is the limit."""
    judged = found.judged
    many, short, apart = len(judged.margins), len(judged.below), len(judged.unknown)
    said = f"Of {many} links that could be judged {short or 'none'} {'is' if short < 2 else 'are'} below 1"
    said += f"; {apart} more {'has' if apart == 1 else 'have'} no figure and {'isn' if apart == 1 else 'aren'}'t judged"
    return f"{said}. A margin of 1 is the limit: the greatest load times the factor takes all of the low strength."


def _in_words(found: Held, kind: Kind) -> str:
    one, others = kind.weakest, kind.others
    link = one.link
    words = [f"{link.name}{_where(link)}: {link.fails}. {margin_words(one, found.factor)}"]
    case = found.case_of(one)
    takes = one.stress[GREATEST], one.strength.low
    each = figure(link.unit, takes, tuple(map(_digits, takes)), "{} of {} {u}")
    words.append(f"Worst case: {case_words(case)} ({fixed(rpm_of(case.rad_s), 0)} rpm), {each}{_asked(one)}.")
    words.append(change_words(one) or "No single key is known that would help.")
    if others:
        more = f"{len(others)} more like it, from {Times(others[0].worst).shown()} up"
        words.append(f"{more}.")
    load = percent(one.by_load)
    words.append(f"Between worst and typical {load} is the load's doubt, {percent(1.0 - one.by_load)} the strength's.")
    return " ".join([*words, *([_ended(link.note)] if link.note else [])])


def change_words(one: Margin) -> str:
    """The one change that does most for a link, and what it does; "" where none is known."""
    if one.help is None or one.helped is None:
        return ""
    then = f"{Times(one.worst).shown()} becomes {Times(one.helped).shown()}"
    return f"{one.help.path} {one.help.was} to {one.help.to}: {then}."


def _digits(value: float) -> int:
    """Decimals that leave three digits of a figure, or its whole number."""
    return max(0, 2 - math.floor(math.log10(value))) if value > 0.0 else 0


def margin_words(one: Margin, factor: float) -> str:
    """A margin at its worst and as it typically is; below 1 in plain words."""
    worst, usual = Times(one.worst).shown(), Times(one.typical).shown()
    said = f"Margin {worst} at its worst, {usual} typically"
    if one.worst >= 1.0:
        return f"{said}."
    if one.link.gives_way:
        return f"{said}: below 1, at half the factor of {factor:g} it gives way."
    return f"{said}: below 1, at the factor of {factor:g} it doesn't hold."


def _where(link: Link) -> str:
    return "" if link.r_mm is None else f", at r {mm(link.r_mm, 0)}"


def _asked(one: Margin) -> str:
    more = ""
    if one.link.alone:
        more = ", a third more than the factor, as glue or a print is all that holds there"
    elif one.link.gives_way:
        more = ", half the factor, as nothing is broken by it"
    return f", taken {_plain(one.asked)} times{more}"


def _plain(times: float) -> str:
    return fixed(times, 2).rstrip("0").rstrip(".")


def _ended(words: str) -> str:
    return f"{words[0].upper()}{words[1:]}{'.' * (not words.endswith('.'))}"


def strengths(found: Held) -> tuple[Item, ...]:
    """Where the strength of the three weakest comes from."""
    three = (kind.weakest for kind in found.judged.weakest())
    return tuple(Item("note", f"strength of {one.link.name}: {_ended(one.strength.source)}") for one in three)


def margins(found: Held) -> Section:
    """All kinds of links, the weakest first, each at its weakest place; the rest in a sentence where there are many."""
    kinds = found.judged.kinds
    if not kinds:
        return ()
    shown = kinds[:MOST_ROWS]
    columns = as_columns("link", "r, mm", "places", "worst", "typical")
    table = Table(columns, tuple(map(_row, shown)), left=1, behind=tuple(map(_behind, shown)))
    alone, gives = _plain(found.factor * ALONE), _plain(found.factor * GIVES_WAY)
    words = (
        "One row for each kind of link, at its weakest place. worst: low strength over greatest stress times "
        f"{found.factor:g}, or {alone} (*) where glue or a print is all that holds, or {gives} (~) where nothing is "
        "broken by it; typical: both typical, at the same factor. Behind it how it fails, and the one change that "
        "does most with what that makes of the worst."
    )
    if len(kinds) > MOST_ROWS:
        words += f" The rest, {len(kinds) - MOST_ROWS} kinds, is at {Times(kinds[MOST_ROWS].weakest.worst).shown()} or "
        words += "above: --json has all."
    return "Margins of all links", table, words, *_idle(found)


def _row(kind: Kind) -> Row:
    one = kind.weakest
    radius: Cell = "" if one.link.r_mm is None else Length(one.link.r_mm, 0)
    times = Times(one.worst), Times(one.typical)
    mark = " *" if one.link.alone else " ~" * one.link.gives_way
    return f"{one.link.name}{mark}", radius, 1 + len(kind.others), *times


def _behind(kind: Kind) -> str:
    """How it fails, and the change that does most."""
    one = kind.weakest
    if one.help is None or one.helped is None:
        return f"{one.link.fails}"
    return f"{one.link.fails}; {one.help.path} {one.help.was} to {one.help.to}: {Times(one.helped).shown()}"


def _idle(found: Held) -> tuple[str, ...]:
    idle = by_kind(found.judged.idle)
    if not idle:
        return ()
    return (f"Carries nothing here, in none of the cases: {', '.join(link.name for link, _ in idle)}.",)


def unpublished(found: Held) -> Section:
    """Links without a figure: nothing says that they hold."""
    apart = found.judged.unknown
    if not apart:
        return ()
    why = {id(link): words for link, words in apart}
    told = []
    for link, count in by_kind([link for link, _ in apart]):
        places = f", at {count} places" if count > 1 else ""
        told.append(Item("note", f"{link.name}{_where(link) if count == 1 else places}: {link.fails}; {why[id(link)]}"))
    words = "No figure for these was found, so they have no margin. That says nothing for them: test them yourself."
    return "Not judged", words, *told
