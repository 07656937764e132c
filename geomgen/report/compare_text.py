"""What `geomgen compare` prints: the options side by side, where they differ, and what each takes of every stock."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence

from geomgen.hover.mean_lift import FORMULA
from geomgen.mass.band import Band, Triple
from geomgen.report.compare_difference import differences_text
from geomgen.report.compare_stock import stocks_text
from geomgen.report.table import fixed, length, mass, table
from geomgen.study.comparison import Column, Comparison
from geomgen.study.figures import Figures
from geomgen.views.cautions import BALANCE, SPINNING

WIDTH = 110
WIDEST = 130  # of a table
MOST_FAULTS = 3
CAUTION = (
    "Comparing: these figures are for choosing between ways of building. The mean-lift formula leaves out every loss, "
    "so the real speed is higher for all of them; no strength is compared: a lighter blade may be a weaker one."
)
_SCALE = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
Show = Callable[[Figures], str]


def compare_text(comparison: Comparison) -> str:
    """The whole page, lengths in the design's own unit, masses in g.

    returns : text without a newline at the end
    """
    unit = comparison.units
    pages = [
        f"{comparison.title}: ways of building it, side by side\n"
        f"Masses in g, lengths in {unit}; typical where nothing else is said.",
        *_faults(comparison.columns),
        *_figures(comparison.columns, unit),
        *differences_text(comparison),
        *stocks_text(comparison.columns, unit),
        "\n".join(textwrap.fill(f"! {one}", WIDTH, subsequent_indent="  ") for one in (CAUTION, BALANCE, SPINNING)),
    ]
    return "\n\n".join(pages)


def _faults(columns: Sequence[Column]) -> list[str]:
    """What can't be built, and the first reasons; no item where all can."""
    pages = []
    for column in columns:
        if column.figures is None:
            told = [
                textwrap.fill(str(fault), WIDTH, initial_indent="  ", subsequent_indent="    ", break_long_words=False)
                for fault in column.faults[:MOST_FAULTS]
            ]
            more = len(column.faults) - MOST_FAULTS
            told += [f"  and {more} more"] if more > 0 else []
            pages.append("\n".join([f"{column.name}: not buildable as it stands", *told]))
    return pages


def _figures(columns: Sequence[Column], unit: str) -> list[str]:
    """The table of figures, options as columns; split where it would be too wide, the base leading each piece."""
    lift = next((column.figures for column in columns if column.figures is not None), None)
    if lift is None:
        return []
    rows = [["built", "", *(column.construction for column in columns)]]
    for k, (name, what, show) in enumerate(_rows(unit)):
        missing = "-" if k else "not buildable"
        rows.append([name, what, *(missing if one.figures is None else show(one.figures) for one in columns)])
    pages = []
    for picked in _chunks(rows, [column.name for column in columns]):
        head = ["", "", *(columns[k].name for k in picked)]
        pages.append(table(head, [[*row[:2], *(row[2 + k] for k in picked)] for row in rows], 2))
    pages[-1] += "\n" + "\n".join(textwrap.fill(line, WIDTH) for line in _words(lift).split("\n"))
    return pages


def _words(lift: Figures) -> str:
    return (
        "bound: every mass at its worst end; likely: stocks differ on their own. out: from the rotor axis; forward: of "
        "the feather axis, at the pitch where the reference station's chord is level. pull: of all that lies on one "
        "blade, at that rpm. cuts: outlines and holes of all blades' sheet parts. Aids to build by, as jigs, aren't "
        "weighed, and stand in no figure but their own.\n"
        f"{FORMULA}; at a mean lift coefficient of {lift.lift_coefficient:g} in air of "
        f"{lift.air_density_kg_m3:.4g} kg/m3."
    )


def _rows(unit: str) -> list[tuple[str, str, Show]]:
    """Name, unit, and how a figure is shown."""
    far = "ft" if unit in ("in", "ft") else "m"
    scale = _SCALE[unit]
    return [
        *_band("blade", "g", lambda one: one.blade_g, mass),
        *_band("craft, all parts", "g", lambda one: one.craft_g, mass),
        ("craft and payload", "g", lambda one: mass(one.lift_g.typical)),
        ("centre of gravity, out", unit, lambda one: length(one.cg_out_mm.typical, unit)),
        ("centre of gravity, forward", unit, lambda one: length(one.cg_forward_mm.typical, unit)),
        ("static moment", f"g·{unit}", lambda one: fixed(one.static_moment_g_mm.typical / scale, 0)),
        *_triple("rpm that carries it", "1/min", lambda one: one.rpm, 0),
        ("tip speed", "m/s", lambda one: fixed(one.tip_speed_m_s[1], 1)),
        *_triple("pull at the root", "N", lambda one: one.root_pull_n, 1),
        ("length of cuts", far, lambda one: fixed(one.cut_mm / _SCALE[far], 1)),
        ("different parts", "", lambda one: str(one.parts)),
        ("pieces", "", lambda one: str(one.pieces)),
        ("pieces to build by", "", lambda one: str(one.bench_pieces)),
        ("glue", "g", lambda one: mass(one.glue_g[1])),
        ("parts with a note", "", lambda one: str(one.notes)),
    ]


def _band(
    name: str, unit: str, band: Callable[[Figures], Band], show: Callable[[float], str]
) -> list[tuple[str, str, Show]]:
    return [
        (name, unit, lambda one: show(band(one).typical)),
        ("  likely", "", lambda one: f"{show(band(one).likely_low)} to {show(band(one).likely_high)}"),
        ("  bound", "", lambda one: f"{show(band(one).low)} to {show(band(one).high)}"),
    ]


def _triple(name: str, unit: str, triple: Callable[[Figures], Triple], digits: int) -> list[tuple[str, str, Show]]:
    return [
        (name, unit, lambda one: fixed(triple(one)[1], digits)),
        ("  bound", "", lambda one: f"{fixed(min(triple(one)), digits)} to {fixed(max(triple(one)), digits)}"),
    ]


def _chunks(rows: Sequence[Sequence[str]], names: Sequence[str]) -> list[list[int]]:
    """Numbers of the columns of each table: as many as go side by side, the first of all in each."""
    widths = [2 + max(len(name), *(len(row[k + 2]) for row in rows)) for k, name in enumerate(names)]
    start = sum(2 + max(len(row[k]) for row in rows) for k in range(2))
    chunks = [[0]]
    for k in range(1, len(names)):
        if len(chunks[-1]) > 1 and start + sum(widths[i] for i in chunks[-1]) + widths[k] > WIDEST:
            chunks.append([0])
        chunks[-1].append(k)
    return chunks
