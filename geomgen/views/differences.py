"""Where options differ from the base, in words and figures that add up to the last digit shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.figures import is_imperial, number_in
from geomgen.study.comparison import Comparison
from geomgen.study.difference import Difference, KindChange, LineChange
from geomgen.views.page import Row, Section, Table
from geomgen.views.quantity import Number

MOST_STORIES = 3  # told of one kind


@dataclass(frozen=True)
class _Cents:
    """Masses as whole numbers of the last digit shown, so that they add up.

    unit : the design's own unit of length
    """

    unit: str

    @property
    def digits(self) -> int:
        """Decimals shown: of g two, of oz three."""
        return 3 if is_imperial(self.unit) else 2

    def of(self, grams: float) -> int:
        """How many a mass [g] is."""
        return round(number_in("g", grams, self.unit) * 10.0**self.digits)

    def shown(self, cents: int, signed: bool = False) -> Number:
        """What is shown of them, with its sign if it is to be signed, nought without."""
        return Number(cents / 10.0**self.digits, self.digits, signed and cents != 0)


def differences(comparison: Comparison) -> list[Section]:
    """A section for each option but the base; none where there is nothing to hold against anything."""
    if not comparison.differences and comparison.columns[0].figures is None and len(comparison.columns) > 1:
        return [(f"No differences: {comparison.base}, which they are taken from, can't be built.",)]
    return [_section(one, comparison.base, _Cents(comparison.units)) for one in comparison.differences]


def _section(one: Difference, base: str, mass: _Cents) -> Section:
    """Differences of the craft's typical mass, the largest first, what didn't change last.

    Base and difference are rounded row by row, option and sums follow from what is shown: so all of it adds up.
    """
    changed = [kind for kind in one.kinds if _shows(kind, mass)]
    if not changed:
        return (f"{one.option} against {base}: every line weighs the same",)
    cents = [(mass.of(kind.base_g), mass.of(kind.difference_g)) for kind in changed]
    names, behind = [str(kind.role) for kind in changed], [_made_by(kind, mass) for kind in changed]
    rest = [kind for kind in one.kinds if not _shows(kind, mass)]
    if rest:
        left = mass.of(one.base_g) - sum(row[0] for row in cents)  # so that the base weighs the same on every page
        cents.append((left, mass.of(sum(kind.difference_g for kind in rest))))
        names.append("all else")
        behind.append("less than is shown" if cents[-1][1] else "alike")
    cents.append((sum(row[0] for row in cents), sum(row[1] for row in cents)))
    rows: tuple[Row, ...] = tuple(
        (name, mass.shown(was), mass.shown(was + more), mass.shown(more, signed=True))
        for name, (was, more) in zip((*names, "craft"), cents, strict=True)
    )
    head = (("kind", ""), (base, "g"), (one.option, "g"), ("difference", ""))
    title = f"{one.option} against {base}, typical masses of the whole craft"
    return title, Table(head, rows, foot=1, behind=(*behind, ""))


def _shows(kind: KindChange, mass: _Cents) -> bool:
    """Whether a kind has a row of its own: a difference that can be shown, or another stock."""
    return bool(mass.of(kind.difference_g)) or any(line.stock != line.base_stock for line in kind.lines)


def _made_by(kind: KindChange, mass: _Cents) -> str:
    """Which lines make a difference, those that tell the same story together, the largest first."""
    stories: dict[str, list[LineChange]] = {}
    for line in kind.lines:
        if line.changed and (line.stock != line.base_stock or mass.of(line.difference_g)):
            stories.setdefault(_story(line), []).append(line)
    ordered = sorted(stories.items(), key=lambda item: -abs(_difference(item[1])))
    words = [f"{_names(lines)}: {story} {_told(lines, mass)}" for story, lines in ordered[:MOST_STORIES]]
    rest = [line for _, lines in ordered[MOST_STORIES:] for line in lines]
    if rest:
        words.append(f"{len(rest)} other{'s' * (len(rest) > 1)} {_told(rest, mass)}")
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


def _told(lines: Sequence[LineChange], mass: _Cents) -> str:
    return mass.shown(mass.of(_difference(lines)), signed=True).shown(mass.unit)
