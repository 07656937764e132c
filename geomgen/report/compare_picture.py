"""One picture of a comparison: what a blade is made of, the rpm that carries it, where its mass sits. By matplotlib."""

from __future__ import annotations

import io
import textwrap
import warnings
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from geomgen.report.compare_bars import GREY, INK, draw_bars
from geomgen.study.comparison import Column, Comparison
from geomgen.study.figures import Figures
from geomgen.views.quantity import fixed, length

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Ends = tuple[float, float, float]
HEAD_IN, ROW_IN, FOOT_IN = 1.42, 0.72, 0.58
EDGE_IN, LETTER_IN, BARS_IN, GAP_IN, PANEL_IN, NEXT_IN = 0.25, 0.094, 5.4, 0.4, 1.6, 0.24
FEWEST, MOST, TITLE = 18, 40, 90  # letters of a name at the left that room is left for; of the title
MARK, BASE_LINE, STRIPE = "#1f4e79", "#a9aeb6", "#f3f4f6"
FONTS = "'DejaVu Sans', Verdana, Arial, sans-serif"  # the first is matplotlib's own; the second is as wide
STYLE: Any = {
    "svg.hashsalt": "geomgen",
    "svg.fonttype": "none",
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
    "axes.linewidth": 0.6,
    "axes.edgecolor": GREY,
    "text.color": INK,
    "xtick.color": GREY,
    "path.simplify": False,
    "text.parse_math": False,
}


def compare_picture(comparison: Comparison) -> str:
    """Text of an SVG file, the same for the same comparison; words stay words, no clock, no path."""
    import matplotlib

    with matplotlib.rc_context(STYLE), warnings.catch_warnings():
        warnings.simplefilter(
            "ignore", UserWarning
        )  # a letter that matplotlib's own font lacks is the viewer's to find
        file = io.StringIO()
        drawn(comparison).savefig(file, format="svg", metadata={"Date": None, "Creator": None})
    return file.getvalue().replace("'DejaVu Sans'", FONTS)


def drawn(comparison: Comparison) -> Figure:
    """The figure, to be saved within `STYLE`."""
    from matplotlib.figure import Figure

    columns, panels = comparison.columns, _panels(comparison.units)
    letters = max(FEWEST, min(MOST, max(len(column.name) for column in columns)))
    first = EDGE_IN + LETTER_IN * letters + 0.15
    wide = first + BARS_IN + GAP_IN + len(panels) * (PANEL_IN + NEXT_IN) + 0.1
    tall = HEAD_IN + ROW_IN * len(columns) + FOOT_IN
    figure = Figure(figsize=(wide, tall), facecolor="white")

    def placed(left: float, across: float) -> Axes:
        return figure.add_axes((left / wide, FOOT_IN / tall, across / wide, ROW_IN * len(columns) / tall))

    title = textwrap.shorten(comparison.title, TITLE, placeholder=" …")
    figure.text(EDGE_IN / wide, 1 - 0.34 / tall, title, fontsize=13, fontweight="bold", va="center")
    words = "Ways of building it, side by side. Lines run from low to high, every figure at its worst end."
    figure.text(EDGE_IN / wide, 1 - 0.60 / tall, words, color=GREY, va="center")
    bars = placed(first, BARS_IN)
    _rows(bars, columns)
    draw_bars(bars, columns)
    left = first + BARS_IN + GAP_IN
    for name, what, ends, show in panels:
        axes = placed(left, PANEL_IN)
        _rows(axes, columns)
        _draw_dots(axes, columns, ends, show)
        _head(axes, name, what)
        left += PANEL_IN + NEXT_IN
    return figure


def _panels(unit: str) -> tuple[tuple[str, str, Callable[[Figures], Ends], Callable[[float], str]], ...]:
    """Name, unit, figure (low, typical, high), and how it is written, of each panel at the right."""
    return (
        ("rotor speed", "that carries it, rpm", lambda one: one.rpm, lambda value: fixed(value, 0)),
        (
            "centre of gravity",
            f"out from the rotor axis, {unit}",
            lambda one: (one.cg_out_mm.low, one.cg_out_mm.typical, one.cg_out_mm.high),
            lambda value: length(value, unit),
        ),
        (
            "",
            f"forward of the feather axis, {unit}",
            lambda one: (one.cg_forward_mm.low, one.cg_forward_mm.typical, one.cg_forward_mm.high),
            lambda value: length(value, unit),
        ),
    )


def _rows(axes: Axes, columns: tuple[Column, ...]) -> None:
    """One row for each option, the base at the top, no frame."""
    axes.set_ylim(len(columns) - 0.5, -0.5)
    axes.set_yticks([])
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.tick_params(axis="x", length=3, width=0.6, labelsize=8)
    for k in range(0, len(columns), 2):
        axes.axhspan(k - 0.5, k + 0.5, color=STRIPE, linewidth=0, zorder=0)


def _head(axes: Axes, name: str, what: str) -> None:
    axes.annotate(name, (0, 1), (0, 19), "axes fraction", "offset points", fontweight="bold")
    axes.annotate(what, (0, 1), (0, 7), "axes fraction", "offset points", fontsize=8, color=GREY)


def _draw_dots(
    axes: Axes, columns: tuple[Column, ...], ends: Callable[[Figures], Ends], show: Callable[[float], str]
) -> None:
    """Typical as a dot with its figure, low to high as a line; the base's typical as a line down the panel."""
    from matplotlib.ticker import MaxNLocator

    found = [(k, ends(column.figures)) for k, column in enumerate(columns) if column.figures is not None]
    if not found:
        axes.set_xticks([])
        return
    least, most = min(min(triple) for _, triple in found), max(max(triple) for _, triple in found)
    room = 0.16 * ((most - least) or abs(most) or 1.0)
    axes.set_xlim(least - room, most + room)
    axes.xaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 5, 10]))
    if found[0][0] == 0:
        axes.axvline(found[0][1][1], color=BASE_LINE, linewidth=0.9, dashes=(3, 2), zorder=1)
    for k, triple in found:
        axes.plot([min(triple), max(triple)], [k, k], color=MARK, linewidth=1.6, solid_capstyle="round", zorder=3)
        axes.plot([triple[1]], [k], "o", color=MARK, markersize=6, markeredgecolor="white", zorder=4)
        behind = {"facecolor": "white" if k % 2 else STRIPE, "edgecolor": "none", "pad": 1.0}
        words = show(triple[1]).replace("-", "\u2212")
        text: dict[str, Any] = {"ha": "center", "fontsize": 8.5, "bbox": behind, "zorder": 2}
        axes.annotate(words, (triple[1], k), (0, 7), "data", "offset points", **text)
