"""What `geomgen compare` says: the options side by side, where they differ, and what each takes of every stock."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.figures import figure, unit_of
from geomgen.hover.mean_lift import FORMULA
from geomgen.judging.verdict import Weakest
from geomgen.study.comparison import Column, Comparison
from geomgen.study.figures import Figures
from geomgen.views.cautions import COMPARE, cautions
from geomgen.views.compare_figures import DONE, TAKEN
from geomgen.views.differences import differences
from geomgen.views.page import Item, Page, Row, Section, Table, as_columns
from geomgen.views.quantity import Mass, Number, Times
from geomgen.views.stock_table import stocks
from geomgen.views.to_buy import to_buy
from geomgen.views.verdict import compare_verdict

MOST_FAULTS = 3


def compare_page(comparison: Comparison) -> Page:
    """The whole page."""
    unit, columns = comparison.units, comparison.columns
    title = (
        f"{comparison.title}: ways of building it, side by side\n"
        f"Masses in {unit_of('g')}, lengths in {unit_of('mm')}; typical where nothing else is said."
    )
    verdict = compare_verdict([(column.name, column.verdict, column.warnings) for column in columns])
    unbuilt = (_faults(column) for column in columns if column.figures is None)
    about = (*_figures(columns), *_weakest(columns), *differences(comparison), *stocks(columns), *to_buy(columns))
    return Page(((title,), *verdict, *unbuilt, *about, cautions(COMPARE)), unit)


def _faults(column: Column) -> Section:
    """Why an option can't be built: the first reasons."""
    more = len(column.faults) - MOST_FAULTS
    words = [*map(str, column.faults[:MOST_FAULTS]), *([f"and {more} more"] if more > 0 else [])]
    return f"{column.name}: not buildable as it stands", *(Item("note", one) for one in words)


def _figures(columns: Sequence[Column]) -> list[Section]:
    """The table of figures, options as columns; nothing where none can be built."""
    options = tuple(column.figures for column in columns)
    built = next((one for one in options if one is not None), None)
    if built is None:
        return []
    (name, of, *first), *rest = (row for each in (*DONE, *TAKEN) for row in each.rows(options))
    missing = ("not buildable" if one is None else cell for one, cell in zip(options, first, strict=True))
    rows: tuple[Row, ...] = (("built", "", *(column.construction for column in columns)), (name, of, *missing), *rest)
    head = (("", ""), ("", ""), *((column.name, "") for column in columns))
    return [(Table(head, rows, left=2, lead=3), _words(built))]


def _weakest(columns: Sequence[Column]) -> list[Section]:
    """The weakest link of each option beside what a blade weighs; nothing where loads aren't worked out."""
    rows: list[Row] = []
    behind = []
    for column in columns:
        if column.figures is None or (weak := column.figures.weakest) is None:
            continue
        margins = Times(weak.margin), Times(weak.typical), weak.below, weak.unknown
        rows.append((column.name, Mass(column.figures.blade_g.typical), Number(weak.factor, 1), *margins))
        behind.append(f"{weak.name}: {weak.fails}{_mended(weak)}")
    if not rows:
        return []
    titles = ("", "blade, g", "factor", "least margin", "typical", "below 1", "no figure")
    words = (
        "The weakest link of each, which the words behind it name: low strength over the greatest load, at that "
        "factor; 1 is the limit. below 1: so many links. no figure: so many have no published strength, and say "
        "nothing. geomgen loads has all of them."
    )
    return [("Will each hold", Table(as_columns(*titles), tuple(rows), left=1, behind=tuple(behind)), words)]


def _mended(weak: Weakest) -> str:
    if weak.help is None or weak.helped is None:
        return ""
    path, was, to = weak.help
    return f"; {path} {was} to {to}: {Times(weak.helped).shown()}"


def _words(one: Figures) -> str:
    return (
        "bound: every mass at its worst end; likely: stocks differ on their own; nine of ten: as far as weight, pitch, "
        "sections and fans are in doubt. out: from the rotor axis; forward: of the feather axis, at the pitch where "
        "the reference station's chord is level. pull: of all that lies on one blade, at that rpm, masses and rpm at "
        "their ends. cuts: outlines and holes of all blades' sheet parts. Aids to build by, as jigs, aren't weighed, "
        "and stand in no figure but their own.\n"
        f"{FORMULA}; at a mean lift coefficient of {one.lift_coefficient:g} in air of "
        f"{figure('kg/m3', one.air_density_kg_m3, significant=4)}."
    )
