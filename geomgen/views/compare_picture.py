"""One picture of a comparison: what a blade is made of, the rpm that carries it, where its mass sits."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from geomgen.figures import bare, fixed, g, name_in, number_in, unit_of
from geomgen.mass.band import Band, Triple
from geomgen.model.groups import Group, group
from geomgen.study.comparison import Column, Comparison
from geomgen.study.figures import Figures
from geomgen.views.drawing import Drawing, Drawn, Line, Ring, Words, rectangle
from geomgen.views.quantity import Mass

HEAD, ROW, FOOT = 36.0, 18.3, 14.7  # heights [mm]: above the rows, of one option, below them
EDGE, NAMES, BARS, GAP, PANEL, NEXT = 6.4, 4.0, 137.0, 10.0, 40.6, 6.1  # widths [mm]
LETTER = 2.4  # width of a letter of an option's name
FEWEST, MOST, TITLE, FAULT = 18, 40, 90, 64  # letters of a name that room is left for; of the title; of a fault
HALF = 0.27 * ROW  # of a bar's height
NORMAL, SMALL, TINY = 3.2, 2.85, 2.65  # size of letters
SMALLEST = 0.035 * BARS  # from which a piece of a bar has its grams written in it
STYLES = {one: one.name.lower() for one in Group}
DARK = (Group.FITTINGS, Group.OTHER)


@dataclass(frozen=True)
class _Scale:
    """A scale across the picture: least and greatest figure, where they stand [mm], how many figures make one shown."""

    low: float
    high: float
    left: float
    wide: float
    by: float = 1.0

    def at(self, value: float) -> float:
        """Where a figure stands [mm]."""
        return self.left + self.wide * (value - self.low) / (self.high - self.low)

    def ticks(self, most: int) -> list[float]:
        """Round figures on it, as they are shown, at most so many steps."""
        low, high = self.low / self.by, self.high / self.by
        step = 10.0 ** math.floor(math.log10((high - low) / most))
        step *= next((times for times in (1, 2, 5) if times * step * most >= high - low), 10)
        return [k * step for k in range(math.ceil(low / step), math.floor(high / step) + 1)]


def grouped(figures: Figures) -> dict[Group, float]:
    """Typical mass of each group of roles in one blade [g]."""
    sums = dict.fromkeys(Group, 0.0)
    for kind in figures.kinds:
        sums[group(kind.role)] += kind.mass_g[1]
    return sums


def compare_picture(comparison: Comparison) -> Drawing:
    """A row for each option, the base at the top: a bar of its mass at the left, other figures at the right."""
    columns, unit = comparison.columns, comparison.units
    left = EDGE + NAMES + LETTER * max(FEWEST, min(MOST, max(len(column.name) for column in columns)))
    panels = _panels(unit)
    starts = [left + BARS + GAP + k * (PANEL + NEXT) for k in range(len(panels))]
    title = textwrap.shorten(comparison.title, TITLE, placeholder=" …")
    about = "Ways of building it, side by side. Lines run from low to high: masses at their worst end, rpm nine of ten."
    items: list[Drawn] = [
        Words(title, (EDGE, HEAD - 10.0), 4.6, bold=True),
        Words(about, (EDGE, HEAD - 16.5), NORMAL, "faint"),
    ]
    for start, wide in ((left, BARS), *((start, PANEL) for start in starts)):
        items += [
            rectangle(start, -ROW * (k + 1), start + wide, -ROW * k, "stripe-fill") for k in range(0, len(columns), 2)
        ]
    items += _bars(columns, left, unit)
    for start, panel in zip(starts, panels, strict=True):
        items += _panel(columns, start, panel)
    box = (0.0, -ROW * len(columns) - FOOT, starts[-1] + PANEL + NEXT + EDGE, HEAD)
    return Drawing(box, f"{title}: ways of building it", about, tuple(items), unit=unit)


def _middle(k: int) -> float:
    """Height of an option's row [mm]."""
    return -ROW * (k + 0.5)


def _axis(scale: _Scale, rows: int, most: int) -> Iterator[Drawn]:
    foot = -ROW * rows
    yield Line([(scale.left, foot), (scale.left + scale.wide, foot)], "faint", 0.2)
    for value in scale.ticks(most):
        x = scale.at(value * scale.by)
        yield Line([(x, foot), (x, foot - 1.0)], "faint", 0.2)
        yield Words(_signed(f"{value:g}"), (x, foot - 4.4), SMALL, "faint", "middle")


def _signed(figure: str) -> str:
    return figure.replace("-", "\u2212")


def _bars(columns: Sequence[Column], left: float, unit: str) -> Iterator[Drawn]:
    """The options' names, bars with their pieces' grams, low to high as a line."""
    built = [column.figures for column in columns if column.figures is not None]
    most = 1.17 * max((one.blade_g.high for one in built), default=1.0)
    scale = _Scale(0.0, most, left, BARS, 1.0 / number_in("g", 1.0, unit))
    for k, column in enumerate(columns):
        words = column.construction
        if column.figures is not None:
            words += f", craft {g(column.figures.craft_g.typical)}"
        yield Words(column.name, (left - 2.8, _middle(k) + 1.3), NORMAL, "ink", "end", bold=True)
        yield Words(words, (left - 2.8, _middle(k) - 3.2), SMALL, "faint", "end")
        yield from _fault(column, k, left) if column.figures is None else _bar(column.figures, k, scale, unit)
    if built:
        yield from _axis(scale, len(columns), 7)
        yield Words(f"mass of one blade, {unit_of('g')}, typical", (left, -ROW * len(columns) - 8.6), SMALL, "faint")
        yield from _names(next((k, c.figures) for k, c in enumerate(columns) if c.figures is not None), built, scale)


def _bar(figures: Figures, k: int, scale: _Scale, unit: str) -> Iterator[Drawn]:
    start, y = 0.0, _middle(k)
    for one, grams in grouped(figures).items():
        if grams <= 0.0:
            continue
        x0, x1 = scale.at(start), scale.at(start + grams)
        yield rectangle(x0, y - HALF, x1, y + HALF, f"{STYLES[one]}-fill paper", 0.28)
        if x1 - x0 >= SMALLEST:
            on = "on-dark" if one in DARK else "on-light"
            yield Words(bare("g", grams, 0, unit), ((x0 + x1) / 2, y - 1.0), SMALL, on, "middle")
        start += grams
    band, y = figures.blade_g, y - HALF
    low, high = scale.at(band.low), scale.at(band.high)
    for style, wide in (("paper", 1.2), ("ink", 0.5)):
        yield Line([(low, y), (high, y)], style, wide)
        for x in (low, high):
            yield Line([(x, y - 1.2), (x, y + 1.2)], style, wide)
    ends = (bare("g", end, 0, unit) for end in (band.low, band.high))
    yield Words(f"{Mass(band.typical).shown(unit)} {unit_of('g')}", (high + 2.1, y + 6.4), NORMAL, bold=True)
    yield Words(" to ".join(ends), (high + 2.1, y + 2.1), TINY, "faint")


def _fault(column: Column, k: int, left: float) -> Iterator[Drawn]:
    first = f"{column.faults[0].path}: {column.faults[0].wrong}" if column.faults else ""
    words = first if len(first) <= FAULT else first[: FAULT - 1] + "…"
    yield Words("not buildable as it stands", (left + 1.4, _middle(k) + 1.5), NORMAL, "fault", bold=True)
    yield Words(words, (left + 1.4, _middle(k) - 3.4), SMALL, "faint")


def _names(first: tuple[int, Figures], built: Sequence[Figures], scale: _Scale) -> Iterator[Drawn]:
    """The groups' names above the bars, each led down to its piece of the first bar, none over another."""
    k, figures = first
    there = [one for one in Group if any(grouped(figures)[one] > 0.0 for figures in built)]
    sums, start, anchors = grouped(figures), 0.0, []
    for one in there:
        anchors.append(scale.at(start + sums[one] / 2))
        start += sums[one]
    halves = [(len(one) + 2) * 0.29 * NORMAL for one in there]
    middles = spread(anchors, halves, scale.left, scale.left + scale.wide)
    for one, anchor, middle in zip(there, anchors, middles, strict=True):
        yield Line([(anchor, _middle(k) + HALF), (middle, 2.2)], STYLES[one], 0.35)
        yield Words(one, (middle, 3.0), 3.0, "ink", "middle")


def spread(anchors: Sequence[float], halves: Sequence[float], low: float, high: float) -> list[float]:
    """Middles of labels as near their anchors as they may be, in order, none over another, none beyond the ends."""
    middles = list(anchors)
    for k in range(len(middles)):
        least = middles[k - 1] + halves[k - 1] + halves[k] if k else low + halves[k]
        middles[k] = max(middles[k], least)
    for k in reversed(range(len(middles))):
        greatest = middles[k + 1] - halves[k + 1] - halves[k] if k + 1 < len(middles) else high - halves[k]
        middles[k] = min(middles[k], greatest)
    return middles


_Panel = tuple[str, str, Callable[[Figures], Triple], Callable[[float], str], float]


def _panels(unit: str) -> tuple[_Panel, ...]:
    """Name, unit, figure (low, typical, high), how that is written and what makes one shown, of each panel."""

    def ends(band: Band) -> Triple:
        return band.low, band.typical, band.high

    def show(value: float) -> str:
        return bare("mm", value, 1, unit)

    name, by = name_in("mm", unit), 1.0 / number_in("mm", 1.0, unit)
    return (
        ("rotor speed", "that carries it, rpm", lambda one: one.rpm, lambda value: fixed(value, 0), 1.0),
        ("centre of gravity", f"out from the rotor axis, {name}", lambda one: ends(one.cg_out_mm), show, by),
        ("", f"forward of the feather axis, {name}", lambda one: ends(one.cg_forward_mm), show, by),
    )


def _panel(columns: Sequence[Column], left: float, panel: _Panel) -> Iterator[Drawn]:
    """Typical as a dot with its figure, low to high as a line; the base's typical as a line down the panel."""
    name, what, ends, show, by = panel
    yield Words(name, (left, 7.0), NORMAL, bold=True)
    yield Words(what, (left, 2.6), SMALL, "faint")
    found = {k: ends(column.figures) for k, column in enumerate(columns) if column.figures is not None}
    if not found:
        return
    least, most = min(map(min, found.values())), max(map(max, found.values()))
    room = 0.16 * ((most - least) or abs(most) or 1.0)
    scale = _Scale(least - room, most + room, left, PANEL, by)
    yield from _axis(scale, len(columns), 4)
    if 0 in found:
        x = scale.at(found[0][1])
        yield Line([(x, 0.0), (x, -ROW * len(columns))], "base", 0.3, (1.2, 0.9))
    for k, triple in found.items():
        y, (low, typical, high) = _middle(k), (scale.at(value) for value in (min(triple), triple[1], max(triple)))
        words = _signed(show(triple[1]))
        wide = 0.3 * NORMAL * len(words)
        behind = "paper-fill" if k % 2 else "stripe-fill"
        yield rectangle(typical - wide, y + 2.0, typical + wide, y + 5.6, behind)
        yield Line([(low, y), (high, y)], "point", 0.56)
        yield Ring((typical, y), 1.1, "paper point-fill", 0.35)
        yield Words(words, (typical, y + 2.6), 3.0, "ink", "middle")
