"""Where options differ from the base, in words and figures that add up to the last digit shown."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.study.comparison import Comparison
from geomgen.study.difference import Difference, KindChange, LineChange
from geomgen.views.page import Row, Section, Table
from geomgen.views.quantity import Number

DIGITS = 2
ONE = 100  # of the last digit shown make a gram
MOST_STORIES = 3  # told of one kind


def differences(comparison: Comparison) -> list[Section]:
    """A section for each option but the base; none where there is nothing to hold against anything."""
    if not comparison.differences and comparison.columns[0].figures is None and len(comparison.columns) > 1:
        return [(f"No differences: {comparison.base}, which they are taken from, can't be built.",)]
    return [_section(one, comparison.base) for one in comparison.differences]


def _section(one: Difference, base: str) -> Section:
    """Differences of the craft's typical mass, the largest first, what didn't change last.

    Base and difference are rounded row by row, option and sums follow from what is shown: so all of it adds up.
    """
    changed = [kind for kind in one.kinds if _shows(kind)]
    if not changed:
        return (f"{one.option} against {base}: every line weighs the same",)
    cents = [(_rounded(kind.base_g), _rounded(kind.difference_g)) for kind in changed]
    names, behind = [str(kind.role) for kind in changed], [_made_by(kind) for kind in changed]
    rest = [kind for kind in one.kinds if not _shows(kind)]
    if rest:
        left = _rounded(one.base_g) - sum(row[0] for row in cents)  # so that the base weighs the same on every page
        cents.append((left, _rounded(sum(kind.difference_g for kind in rest))))
        names.append("all else")
        behind.append("less than is shown" if cents[-1][1] else "alike")
    cents.append((sum(row[0] for row in cents), sum(row[1] for row in cents)))
    rows = tuple(_row(name, *row) for name, row in zip((*names, "craft"), cents, strict=True))
    head = (("kind", ""), (base, "g"), (one.option, "g"), ("difference", ""))
    title = f"{one.option} against {base}, typical masses of the whole craft"
    return title, Table(head, rows, foot=1, behind=(*behind, ""))


def _shows(kind: KindChange) -> bool:
    """Whether a kind has a row of its own: a difference that can be shown, or another stock."""
    return bool(_rounded(kind.difference_g)) or any(line.stock != line.base_stock for line in kind.lines)


def _row(name: str, base: int, difference: int) -> Row:
    """Base, option and difference, from base and difference in the last digit shown."""
    option = (base + difference) / ONE
    return name, Number(base / ONE, DIGITS), Number(option, DIGITS), _signed(difference / ONE)


def _made_by(kind: KindChange) -> str:
    """Which lines make a difference, those that tell the same story together, the largest first."""
    stories: dict[str, list[LineChange]] = {}
    for line in kind.lines:
        if line.changed and (line.stock != line.base_stock or _rounded(line.difference_g)):
            stories.setdefault(_story(line), []).append(line)
    ordered = sorted(stories.items(), key=lambda item: -abs(_difference(item[1])))
    words = [f"{_names(lines)}: {story} {_grams(lines)}" for story, lines in ordered[:MOST_STORIES]]
    rest = [line for _, lines in ordered[MOST_STORIES:] for line in lines]
    if rest:
        words.append(f"{len(rest)} other{'s' * (len(rest) > 1)} {_grams(rest)}")
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


def _grams(lines: Sequence[LineChange]) -> str:
    return _signed(_difference(lines)).shown("")


def _rounded(value: float) -> int:
    return round(value * ONE)


def _signed(grams: float) -> Number:
    """With its sign, nought without."""
    return Number(grams, DIGITS, signed=bool(round(grams, DIGITS)))
