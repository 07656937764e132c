"""A comparison with stable keys and its units: as plain data, and as a table to sort, filter and pivot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from geomgen.cost.bill import Due
from geomgen.hover.mean_lift import FORMULA, WARNING
from geomgen.mass.band import Band, Triple
from geomgen.stock.need import Need
from geomgen.study.comparison import Column, Comparison
from geomgen.study.difference import Difference, LineChange
from geomgen.study.figures import Figures
from geomgen.views.compare_figures import DONE, LEAST_MARGIN, TAKEN
from geomgen.views.page import Record, Sheet
from geomgen.views.verdict import verdict_data
from geomgen.views.weigh_data import ends

KEYS = (
    "table", "option", "construction", "item", "unit", "low", "typical", "high", "likely_low", "likely_high",
    "base", "difference", "note",
)  # fmt: skip


def compare_data(comparison: Comparison) -> dict[str, Any]:
    """{"title", "base", "blades", "options": [...], "differences": [...], "formula", "warning"}.

    Figures that have a band are {"low", "typical", "high"}, sums and centres have "likely_low" and "likely_high"
    besides. Lengths [mm], masses [g]. An option that can't be built has "buildable" false, its faults, and "figures"
    null.
    """
    return {
        "title": comparison.title,
        "base": comparison.base,
        "blades": comparison.blades,
        "options": [
            {
                "option": column.name,
                "title": column.title,
                "construction": column.construction,
                "buildable": column.figures is not None,
                "faults": [str(fault) for fault in column.faults],
                **verdict_data(column.verdict, column.warnings),
                "figures": None if column.figures is None else _figures(column.figures),
            }
            for column in comparison.columns
        ],
        "differences": [_difference(one, comparison.base) for one in comparison.differences],
        "formula": FORMULA,
        "warning": WARNING,
    }


def _figures(one: Figures) -> dict[str, Any]:
    return {
        **{figure.key: _plain(figure.of(one)) for figure in DONE},
        "lift_coefficient": one.lift_coefficient,
        "air_density_kg_m3": one.air_density_kg_m3,
        "blade_kinds": [{"kind": kind.role, "mass_g": ends(kind.mass_g)} for kind in one.kinds],
        "stocks": [_need(need) for need in one.needs],
        "to_buy": [_due(line) for line in one.bill],
        "money": one.money or None,
        **{figure.key: _plain(figure.of(one)) for figure in TAKEN},
    }


def _plain(value: Band | Triple | float | None) -> dict[str, float] | float | None:
    return asdict(value) if isinstance(value, Band) else ends(value) if isinstance(value, tuple) else value


def _need(need: Need) -> dict[str, Any]:
    amounts = {"mm2": "area_mm2", "mm": "length_mm", "mm3": "volume_mm3"}
    entry = asdict(need) | dict.fromkeys(amounts.values())
    amount, unit = entry.pop("amount"), entry.pop("unit")
    if unit in amounts:
        entry[amounts[unit]] = amount
    return entry | {"too_large": list(need.too_large)}


def _due(line: Due) -> dict[str, Any]:
    return asdict(line) | {"to_buy": line.to_buy, "costs": line.costs, "still_costs": line.still_costs}


def _difference(one: Difference, base: str) -> dict[str, Any]:
    def grams(of: Any) -> dict[str, float]:
        return {name: getattr(of, name) for name in ("base_g", "option_g", "difference_g")}

    kinds = [{"kind": k.role, **grams(k), "lines": [_line(line) for line in k.lines]} for k in one.kinds]
    return {"option": one.option, "base": base, **grams(one), "kinds": kinds}


def _line(line: LineChange) -> dict[str, Any]:
    entry = asdict(line) | {"difference_g": line.difference_g}
    return {"name": entry.pop("name"), "what": entry.pop("role"), "on": entry.pop("assembly"), **entry}


def compare_sheet(comparison: Comparison) -> Sheet:
    """Tables in one, told apart by the first column, one figure of one option a row.

    figures    : figures of each option; of the least margin the note says which link, and how it fails
    kinds      : one blade's mass by kind of part
    stocks     : whole sheets or lengths, or an amount, of each stock; "used" is the share that ends in parts
    lines      : typical mass in the craft of each line of the mass statement, in the base and in the option
    faults     : why an option can't be built
    """
    rows = [
        row | {"option": column.name, "construction": column.construction}
        for column in comparison.columns
        for row in _column_rows(column)
    ]
    return Sheet(KEYS, (*rows, *(row for one in comparison.differences for row in _line_rows(one))), digits=6)


def _column_rows(column: Column) -> Iterator[Record]:
    if column.figures is None:
        yield from ({"table": "faults", "item": fault.path, "note": str(fault)} for fault in column.faults)
        return
    for figure in (*DONE, *TAKEN):
        cells = _cells(figure.of(column.figures))
        cells |= _weakest(column.figures) if figure.key == LEAST_MARGIN else {}
        yield {"table": "figures", "item": figure.item, "unit": figure.unit} | cells
    for kind in column.figures.kinds:
        yield {"table": "kinds", "item": kind.role, "unit": "g"} | _cells(kind.mass_g)
    for need in column.figures.needs:
        counted = ((need.sheets, "sheets"), (need.lengths, "lengths"), (need.amount, need.unit))
        amount, unit = next((amount, unit) for amount, unit in counted if amount is not None)
        note = ["to build by"] if need.bench else []
        note += [] if need.used_share is None else [f"used {need.used_share:.3f}"]
        note += [f"too large: {', '.join(need.too_large)}"] if need.too_large else []
        yield {"table": "stocks", "item": need.stock, "unit": unit, "typical": amount, "note": "; ".join(note)}


def _weakest(one: Figures) -> Record:
    return {} if one.weakest is None else {"note": f"{one.weakest.name}: {one.weakest.fails}"}


def _cells(value: Band | Triple | float | None) -> Record:
    plain = _plain(value)
    return {**plain} if isinstance(plain, dict) else {} if plain is None else {"typical": plain}


def _line_rows(one: Difference) -> Iterator[Record]:
    for line in (line for kind in one.kinds for line in kind.lines):
        stocks = f"{line.base_stock or ''} -> {line.stock or ''}" if line.base_stock != line.stock else ""
        grams: Record = {"base": line.base_g, "typical": line.option_g, "difference": line.difference_g}
        yield {"table": "lines", "option": one.option, "item": line.name, "unit": "g", "note": stocks} | grams
