"""The left half of a comparison's picture: one bar for each option, made up of a blade's kinds of part."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from geomgen.study.comparison import Column
from geomgen.study.figures import Figures
from geomgen.views.quantity import Mass

if TYPE_CHECKING:
    from matplotlib.axes import Axes

INK, GREY = "#22262b", "#646b74"
HALF = 0.27  # of a bar's height [rows]
SMALLEST = 0.035  # share of the axis from which a piece of a bar has its grams written in it
LETTER = 0.0135  # width of a letter of a label, share of the axis
FAULT_LETTERS = 64

# Group: words of the kinds of part in it, and its colour: Okabe and Ito's set (from memory), which people of any colour
# vision can tell apart, its yellow darkened and its black made grey.
GROUPS: dict[str, tuple[tuple[str, ...], str]] = {
    "ribs": (("rib", "former", "doubler", "tip"), "#e69f00"),
    "skin": (("skin", "covering", "sheeting", "film", "core"), "#56b4e9"),
    "edges": (("nose", "tail", "strip"), "#d55e00"),
    "spars": (("spar", "web", "box", "sleeve"), "#009e73"),
    "wires": (("wire",), "#cc79a7"),
    "glue": (("glue",), "#c9b400"),
    "fittings": (("fitting",), "#0072b2"),
    "caps, pins, screws": (("cap", "collar", "pin", "screw"), "#8d949c"),
    "other": ((), "#3b4048"),
}
DARK = ("fittings", "other")


def grouped(figures: Figures) -> dict[str, float]:
    """Typical mass of each group of kinds in one blade [g], in the order of `GROUPS`."""
    sums = dict.fromkeys(GROUPS, 0.0)
    for kind in figures.kinds:
        words = set(kind.role.split())  # "cap strip" is a strip before it is a cap
        group = next((name for name, (known, _) in GROUPS.items() if words.intersection(known)), "other")
        sums[group] += kind.mass_g[1]
    return sums


def draw_bars(axes: Axes, columns: Sequence[Column]) -> None:
    """Bars with their pieces' grams, low to high as a line, and the options' names.

    axes : rows 0, 1, 2... downwards, one for each option
    """
    built = [column.figures for column in columns if column.figures is not None]
    most = max((figures.blade_g.high for figures in built), default=1.0) * 1.17
    axes.set_xlim(0, most)
    axes.set_xlabel("mass of one blade, g, typical" if built else "", fontsize=8, color=GREY, loc="left")
    for k, column in enumerate(columns):
        name: dict[str, Any] = {"fontweight": "bold", "ha": "right", "va": "center", "annotation_clip": False}
        axes.annotate(column.name, (0, k), (-8, 6), "data", "offset points", **name)
        words = column.construction
        if column.figures is not None:
            words += f", craft {Mass(column.figures.craft_g.typical).shown('')} g"
        small = name | {"fontweight": "normal", "fontsize": 8, "color": GREY}
        axes.annotate(words, (0, k), (-8, -7), "data", "offset points", **small)
        if column.figures is None:
            _draw_fault(axes, column, k, most)
        else:
            _draw_bar(axes, column.figures, k, most)
    if built:
        _draw_names(axes, next(c.figures for c in columns if c.figures is not None), built, most)


def _draw_bar(axes: Axes, figures: Figures, k: int, most: float) -> None:
    start = 0.0
    for group, grams in grouped(figures).items():
        if grams <= 0.0:
            continue
        colour = GROUPS[group][1]
        axes.barh(k, grams, 2 * HALF, left=start, color=colour, edgecolor="white", linewidth=0.8, zorder=2)
        if grams >= SMALLEST * most:
            ink = "white" if group in DARK else INK
            axes.text(start + grams / 2, k, f"{grams:.0f}", ha="center", va="center", fontsize=8, color=ink, zorder=3)
        start += grams
    band = figures.blade_g
    for colour, wide in (("white", 3.4), (INK, 1.4)):
        axes.plot([band.low, band.high], [k + HALF] * 2, color=colour, linewidth=wide, zorder=4, solid_capstyle="butt")
        for end in (band.low, band.high):
            rise = [k + HALF - 0.07, k + HALF + 0.07]
            axes.plot([end, end], rise, color=colour, linewidth=wide, zorder=4, solid_capstyle="butt")
    axes.annotate(
        f"{Mass(band.typical).shown('')} g", (band.high, k), (6, 4), "data", "offset points", fontweight="bold"
    )
    ends = f"{band.low:.0f} to {band.high:.0f}"
    axes.annotate(ends, (band.high, k), (6, -8), "data", "offset points", fontsize=7.5, color=GREY)


def _draw_fault(axes: Axes, column: Column, k: int, most: float) -> None:
    first = column.faults[0] if column.faults else None
    words = f"{first.path}: {first.wrong}" if first is not None else ""
    words = words if len(words) <= FAULT_LETTERS else words[: FAULT_LETTERS - 1] + "…"
    axes.text(0.01 * most, k - 0.14, "not buildable as it stands", va="center", color="#b03a00", fontweight="bold")
    axes.text(0.01 * most, k + 0.16, words, va="center", fontsize=8, color=GREY)


def _draw_names(axes: Axes, first: Figures, built: Sequence[Figures], most: float) -> None:
    """The groups' names above the bars, each led down to its piece of the first bar, none over another."""
    there = [group for group in GROUPS if any(grouped(one)[group] > 0.0 for one in built)]
    sums, start, anchors = grouped(first), 0.0, []
    for group in there:
        anchors.append(start + sums[group] / 2)
        start += sums[group]
    halves = [(len(group) + 2) * LETTER * most / 2 for group in there]
    top = -HALF
    for group, anchor, middle in zip(there, anchors, _spread(anchors, halves, most), strict=True):
        colour = GROUPS[group][1]
        axes.plot(
            [anchor, middle], [top, -0.62], color=colour, linewidth=1.0, clip_on=False, zorder=5, solid_capstyle="round"
        )
        axes.annotate(
            group, (middle, -0.62), (0, 2), "data", "offset points", ha="center", annotation_clip=False, fontsize=8.5
        )


def _spread(anchors: Sequence[float], halves: Sequence[float], most: float) -> list[float]:
    """Middles of labels as near their anchors as they may be, in order, none over another, none beyond the axis."""
    middles = list(anchors)
    for k in range(len(middles)):
        least = middles[k - 1] + halves[k - 1] + halves[k] if k else halves[k]
        middles[k] = max(middles[k], least)
    for k in reversed(range(len(middles))):
        greatest = middles[k + 1] - halves[k + 1] - halves[k] if k + 1 < len(middles) else most - halves[k]
        middles[k] = min(middles[k], greatest)
    return middles
