"""Loads of one blade on one sheet: pull and bending along r in every case; how it swings against the rotor's speed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.figures import name_in, number_in
from geomgen.strength.blade_loads import GREATEST
from geomgen.strength.held import Held, rpm_of
from geomgen.views.axis import Axis
from geomgen.views.drawing import Drawing, Drawn, Line, Ring, Words, rectangle

WIDE, HIGH, GAP, EDGE, BETWEEN = 92.0, 62.0, 26.0, 20.0, 34.0  # of a panel, between two, round them, below one [mm]
TALL, BROAD = 96.0, 210.0  # of the panel of swings [mm]
SIZE, TITLE = 3.4, 4.6
HARDLY = 0.01  # of the greatest, below which what is less than none makes an axis no longer
TINTS = ("#1f6fb2", "#c4541a", "#6a8f3c", "#8d4fa3", "#b8860b", "#3a9a92", "#a3385a", "#6b6f76")
COLOURS = (
    *((f"line{k}", "", tint) for k, tint in enumerate(TINTS)),
    ("working-fill", "#7f9fbf40", ""),
)
DASHES = ((), (2.4, 1.4))  # of the first eight cases, of those after them
PANELS = (("pull_n", "N", "pull"), ("flap_nm", "N m", "bending up"), ("lag_nm", "N m", "bending forward"))


def loads_picture(found: Held, title: str, unit: str = "mm") -> Drawing:
    """All of it; masses and air at their high end."""
    words = f"{title}: loads along a blade, and how it swings"
    about = "Pull and bending along r in every case, worst of masses and air; swings in a second against rpm and turns."
    top = TALL + BETWEEN
    items: list[Drawn] = [Words(words, (0.0, top + HIGH + 16.0), TITLE, bold=True)]
    for k, panel in enumerate(PANELS):
        items += _along(found, (k * (WIDE + GAP), top), panel, unit)
    items += _swings(found)
    items += _cases(found, (BROAD + GAP + 24.0, TALL - 6.0))
    wide = 3 * WIDE + 2 * GAP
    return Drawing((-EDGE, -EDGE, wide + EDGE, top + HIGH + 24.0), words, about, tuple(items), None, COLOURS, unit)


def _along(found: Held, start: tuple[float, float], panel: tuple[str, str, str], unit: str) -> Iterator[Drawn]:
    key, kind, name = panel
    loads = found.loads
    r = np.array([number_in("mm", float(one), unit) for one in loads.r_mm])
    by = number_in(kind, 1.0, unit)
    values = getattr(loads.along, key)[GREATEST] * by
    high = float(values.max(initial=0.0))
    least = float(values.min(initial=0.0))
    x, y = Axis(0.0, float(r[-1])), Axis(least if -least > HARDLY * high else 0.0, high)
    yield from _frame(start, (WIDE, HIGH), x, y, (f"r, {name_in('mm', unit)}", f"{name}, {name_in(kind, unit)}"))
    names = _names(found)
    for k in sorted(range(len(values)), key=lambda k: -len(names[loads.cases[k].name])):  # a start below the others
        name = loads.cases[k].name
        curve = _curve(start, (WIDE, HIGH), x, r, y, values[k], list(names).index(name))
        yield curve if len(names[name]) == 1 else replace(curve, width=0.25)


def _swings(found: Held) -> Iterator[Drawn]:
    of, box = found.frequencies, (BROAD, TALL)
    # twist swings fast: what lies far above the turns that are drawn is left out of the scale
    turns = of.per_turn[-1] * float(of.rpm[-1]) / 60.0
    shown = [mode for mode in of.modes if float(mode.hz.min()) <= 2.0 * turns]
    x, y = Axis(0.0, float(of.rpm[-1])), Axis(0.0, max([turns, *(float(mode.hz.max()) for mode in shown)]))
    low, high = (x.at(rpm, BROAD) for rpm in of.working)
    yield rectangle(low, 0.0, high, TALL, "working-fill")
    yield Words("works here", ((low + high) / 2, 2.0), SIZE, "faint", "middle")
    yield from _frame((0.0, 0.0), box, x, y, ("rpm", "swings in a second"))
    for n in of.per_turn:
        end = float(of.rpm[-1]), n * float(of.rpm[-1]) / 60.0
        at = x.at(end[0], BROAD), y.at(end[1], TALL)
        yield Line([(0.0, 0.0), at], "faint", 0.25, (1.2, 1.2))
        yield Words(f"{n} per turn{', blades' * (n == of.blades)}", (at[0] + 1.5, at[1] - 1.2), SIZE, "faint")
    heights = _apart([y.at(float(mode.hz[0]), TALL) + 1.2 for mode in shown])
    for mode, height in zip(shown, heights, strict=True):
        yield replace(_curve((0.0, 0.0), box, x, of.rpm, y, mode.hz, 0), style="ink", dashes=())
        yield Words(mode.name, (2.0, height), SIZE, bold=True)
    for each in found.crossings:
        if each.near and each.mode in {mode.name for mode in shown}:
            hz = each.per_turn * each.rpm / 60.0
            at = x.at(each.rpm, BROAD), y.at(hz, TALL)
            yield Ring(at, 1.6, "fault", 0.5)
            yield Words(f"{each.rpm:.0f}", (at[0] + 2.2, at[1] - 4.4), SIZE, "faint")
    left = len(of.modes) - len(shown)
    if left:
        names = ", ".join(mode.name for mode in of.modes if mode not in shown)
        yield Words(f"beyond this scale: {names}", (0.0, -17.5), SIZE, "faint")


def _apart(heights: Sequence[float]) -> list[float]:
    """Heights of words that rise, none over another."""
    found: list[float] = []
    for height in heights:
        found.append(max(height, found[-1] + 1.2 * SIZE) if found else height)
    return found


def _cases(found: Held, at: tuple[float, float]) -> Iterator[Drawn]:
    """Which line is which case."""
    yield Words("above, by case", (at[0], at[1] + 6.0), SIZE, bold=True)
    names = _names(found)
    for k, (name, rpm) in enumerate(names.items()):
        y = at[1] - 5.6 * k
        yield Line([(at[0], y + 1.2), (at[0] + 9.0, y + 1.2)], _style(k), 0.7, _dashes(k))
        yield Words(_ended(name, rpm), (at[0] + 11.0, y), SIZE)
    y = at[1] - 5.6 * (len(names) + 1)
    yield Ring((at[0] + 4.5, y + 1.2), 1.6, "fault", 0.5)
    yield Words("within 10 % of where it works", (at[0] + 11.0, y), SIZE)


def _names(found: Held) -> dict[str, list[float]]:
    """Speeds of each case by its name [1/min]; of a start there are several."""
    names: dict[str, list[float]] = {}
    for case in found.loads.cases:
        names.setdefault(case.name, []).append(rpm_of(case.rad_s))
    return names


def _ended(name: str, rpm: Sequence[float]) -> str:
    low, high = min(rpm), max(rpm)
    return f"{name}, {high:.0f} rpm" if low == high else f"{name}, {low:.0f} to {high:.0f} rpm"


def _style(k: int) -> str:
    return f"line{k % len(TINTS)}"


def _dashes(k: int) -> tuple[float, ...]:
    return DASHES[k // len(TINTS) % 2]


def _curve(
    start: tuple[float, float], box: tuple[float, float], x: Axis, across: FloatArray, y: Axis, up: FloatArray, k: int
) -> Line:
    points = [
        (start[0] + x.at(float(a), box[0]), start[1] + y.at(float(b), box[1])) for a, b in zip(across, up, strict=True)
    ]
    return Line(points, _style(k), 0.6, _dashes(k))


def _frame(
    start: tuple[float, float], box: tuple[float, float], x: Axis, y: Axis, names: Sequence[str]
) -> Iterator[Drawn]:
    """Both axes with their figures, the line of zero, and what is told along them."""
    (left, foot), (wide, high) = start, box
    yield Line([(left, foot + high), (left, foot), (left + wide, foot)], "faint", 0.25)
    for value in x.ticks:
        yield Words(f"{value:g}", (left + x.at(value, wide), foot - 6.0), SIZE, "faint", "middle")
    for value in y.ticks:
        up = foot + y.at(value, high)
        yield Words(f"{value:.10g}".replace("-", "\u2212"), (left - 2.0, up - 1.2), SIZE, "faint", "end")
        yield Line([(left, up), (left + wide, up)], "faint", 0.25 if value == 0.0 else 0.08)
    yield Words(names[0], (left + wide / 2, foot - 12.0), SIZE, "faint", "middle")
    yield Words(names[1], (left - 12.0, foot + high + 5.0), SIZE)
