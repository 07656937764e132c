"""Text of compare.csv: one figure of one option a row, units in a column of their own, commas and dots everywhere."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from geomgen.mass.band import Band, Triple
from geomgen.study.comparison import Column, Comparison
from geomgen.study.difference import Difference
from geomgen.study.figures import Figures

HEAD = (
    "table", "option", "construction", "item", "unit", "low", "typical", "high", "likely_low", "likely_high",
    "base", "difference", "note",
)  # fmt: skip
Row = dict[str, str]


def compare_csv(comparison: Comparison) -> str:
    """Four tables in one, told apart by the first column: to sort, filter and pivot.

    figures    : figures of each option
    kinds      : one blade's mass by kind of part
    stocks     : whole sheets or lengths, or an amount, of each stock; "used" is the share that ends in parts
    lines      : typical mass in the craft of each line of the mass statement, in the base and in the option
    faults     : why an option can't be built
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, HEAD, restval="", lineterminator="\n")
    writer.writeheader()
    for column in comparison.columns:
        named = {"option": column.name, "construction": column.construction}
        writer.writerows(row | named for row in _column(column))
    for one in comparison.differences:
        writer.writerows(_lines(one))
    return text.getvalue()


def _column(column: Column) -> Iterator[Row]:
    if column.figures is None:
        yield from ({"table": "faults", "item": fault.path, "note": str(fault)} for fault in column.faults)
        return
    yield from _figures(column.figures)
    for kind in column.figures.kinds:
        yield {"table": "kinds", "item": kind.role, "unit": "g"} | _ends(kind.mass_g)
    for need in column.figures.needs:
        counted = ((need.sheets, "sheets"), (need.lengths, "lengths"), (need.amount, need.unit))
        amount, unit = next((amount, unit) for amount, unit in counted if amount is not None)
        note = ["to build by"] if need.bench else []
        note += [] if need.used_share is None else [f"used {need.used_share:.3f}"]
        note += [f"too large: {', '.join(need.too_large)}"] if need.too_large else []
        yield {"table": "stocks", "item": need.stock, "unit": unit, "typical": _number(amount), "note": "; ".join(note)}


def _figures(one: Figures) -> Iterator[Row]:
    figures: tuple[tuple[str, str, Band | Triple | float], ...] = (
        ("blade mass", "g", one.blade_g),
        ("craft mass", "g", one.craft_g),
        ("mass to lift", "g", one.lift_g),
        ("blade centre out", "mm", one.cg_out_mm),
        ("blade centre forward", "mm", one.cg_forward_mm),
        ("blade static moment", "g mm", one.static_moment_g_mm),
        ("rpm by mean lift", "1/min", one.rpm),
        ("tip speed", "m/s", one.tip_speed_m_s),
        ("pull at the root", "N", one.root_pull_n),
        ("cut length", "mm", one.cut_mm),
        ("different parts", "", one.parts),
        ("pieces", "", one.pieces),
        ("pieces to build by", "", one.bench_pieces),
        ("glue", "g", one.glue_g),
        ("parts with a note", "", one.notes),
    )
    for item, unit, value in figures:
        yield {"table": "figures", "item": item, "unit": unit} | _ends(value)


def _lines(one: Difference) -> Iterator[Row]:
    for kind in one.kinds:
        for line in kind.lines:
            stocks = f"{line.base_stock or ''} -> {line.stock or ''}" if line.base_stock != line.stock else ""
            numbers: dict[str, Any] = {"base": line.base_g, "typical": line.option_g, "difference": line.difference_g}
            row = {"table": "lines", "option": one.option, "item": line.name, "unit": "g", "note": stocks}
            yield row | {key: _number(value) for key, value in numbers.items()}


def _ends(value: Band | Triple | float) -> Row:
    if isinstance(value, Band):
        names = ("low", "typical", "high", "likely_low", "likely_high")
        return {name: _number(getattr(value, name)) for name in names}
    if isinstance(value, tuple):
        return {name: _number(end) for name, end in zip(("low", "typical", "high"), value, strict=True)}
    return {"typical": _number(value)}


def _number(value: float) -> str:
    """Six decimals at most, no trailing zeros, never "-0"."""
    return f"{round(value, 6) + 0.0:.6f}".rstrip("0").rstrip(".")
