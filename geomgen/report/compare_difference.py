"""Where options differ from the base, in words and figures that add up to the last digit shown."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from geomgen.report.table import table
from geomgen.study.comparison import Comparison
from geomgen.study.difference import Difference, KindChange, LineChange

WIDTH = 110
DIGITS = 2
ONE = 100  # of the last digit shown make a gram
MOST_STORIES = 3  # told of one kind


def differences_text(comparison: Comparison) -> list[str]:
    """A page for each option but the base; no item where there is nothing to hold against anything."""
    if not comparison.differences:
        unbuilt = comparison.columns[0].figures is None and len(comparison.columns) > 1
        return [f"No differences: {comparison.base}, which they are taken from, can't be built."] if unbuilt else []
    return [_page(one, comparison.base) for one in comparison.differences]


def _page(one: Difference, base: str) -> str:
    """Differences of the craft's typical mass, the largest first, what didn't change last.

    Base and difference are rounded row by row, option and sums follow from what is shown: so all of it adds up.
    """
    changed = [kind for kind in one.kinds if _tells(kind)]
    if not changed:
        return f"{one.option} against {base}: every line weighs the same"
    rows = [(_rounded(kind.base_g), _rounded(kind.difference_g)) for kind in changed]
    told = [[kind.role, *_shown(*row), _made_by(kind)] for kind, row in zip(changed, rows, strict=True)]
    rest = [kind for kind in one.kinds if not _tells(kind)]
    if rest:
        left = _rounded(one.base_g) - sum(row[0] for row in rows)  # so that the base weighs the same on every page
        rows.append((left, _rounded(sum(kind.difference_g for kind in rest))))
        told.append(["all else", *_shown(*rows[-1]), "less than is shown" if rows[-1][1] else "alike"])
    told.append(["craft", *_shown(sum(row[0] for row in rows), sum(row[1] for row in rows)), ""])
    return f"{one.option} against {base}, typical masses of the whole craft\n{_with_words(base, one.option, told)}"


def _tells(kind: KindChange) -> bool:
    """Whether a kind has a row of its own: a difference that can be shown, or another stock."""
    return bool(_rounded(kind.difference_g)) or any(line.stock != line.base_stock for line in kind.lines)


def _with_words(base: str, option: str, rows: Sequence[Sequence[str]]) -> str:
    """The table of figures, with what makes each row behind it, wrapped."""
    lines = table(["kind", f"{base}, g", f"{option}, g", "difference"], [row[:4] for row in rows], foot=1).split("\n")
    wide = max(len(line) for line in lines)
    words = iter(row[4] for row in rows)
    told = []
    for line in lines:
        if set(line) == {"-"} or line is lines[0]:
            told.append(line)
            continue
        first, *more = textwrap.wrap(next(words), max(WIDTH - wide - 3, 30)) or [""]
        told.append(f"{line:<{wide}}   {first}".rstrip())
        told += [" " * (wide + 3) + text for text in more]
    return "\n".join(told)


def _made_by(kind: KindChange) -> str:
    """Which lines make a difference, those that tell the same story together, the largest first."""
    stories: dict[str, list[LineChange]] = {}
    for line in kind.lines:
        if line.changed and (line.stock != line.base_stock or _rounded(line.difference_g)):
            stories.setdefault(_story(line), []).append(line)
    told = sorted(stories.items(), key=lambda item: -abs(_difference(item[1])))
    words = [f"{_names(lines)}: {story} {_signed(_difference(lines))}" for story, lines in told[:MOST_STORIES]]
    rest = [line for _, lines in told[MOST_STORIES:] for line in lines]
    if rest:
        words.append(f"{len(rest)} other{'s' * (len(rest) > 1)} {_signed(_difference(rest))}")
    return "; ".join(words)


def _story(line: LineChange) -> str:
    if line.base_stock is None:
        return f"new, {line.stock}" if line.stock else "new"
    if line.stock is None:
        return f"gone, {line.base_stock}" if line.base_stock else "gone"
    if line.base_stock != line.stock:
        return f"{line.base_stock or 'bought'} -> {line.stock or 'bought'}"
    return "heavier" if line.difference_g > 0 else "lighter"


def _names(lines: Sequence[LineChange]) -> str:
    names = sorted(line.name for line in lines)
    return ", ".join(names) if len(names) <= 3 else f"{names[0]} … {names[-1]} ({len(names)})"


def _difference(lines: Sequence[LineChange]) -> float:
    return sum(line.difference_g for line in lines)


def _rounded(value: float) -> int:
    return round(value * ONE)


def _shown(base: int, difference: int) -> list[str]:
    """Base, option and difference, from base and difference in the last digit shown."""
    return [f"{base / ONE:.{DIGITS}f}", f"{(base + difference) / ONE:.{DIGITS}f}", _signed(difference / ONE)]


def _signed(value: float) -> str:
    return f"{value + 0.0:+.{DIGITS}f}" if round(value, DIGITS) else f"{0:.{DIGITS}f}"
