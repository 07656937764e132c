"""What each option takes of every stock, as a table."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from geomgen.report.table import fixed, length, table
from geomgen.stock.need import GAP_MM, SAW_MM, Need
from geomgen.study.comparison import Column

WIDTH = 110
_AREA = {"in": (92903.04, "ft2"), "ft": (92903.04, "ft2")}
_VOLUME = {"in": (16387.064, "in3"), "ft": (16387.064, "in3")}
_FAR = {"in": (304.8, "ft"), "ft": (304.8, "ft")}


def stocks_text(columns: Sequence[Column], unit: str) -> list[str]:
    """One page: a row for each stock, a column for each option; no item where nothing can be built."""
    built = [column for column in columns if column.figures is not None]
    found = {(column.name, _key(need)): need for column in built if column.figures for need in column.figures.needs}
    keys = dict.fromkeys(key for _, key in found)
    if not keys:
        return []
    ordered = sorted(keys, key=lambda key: key[1])  # what flies first, each in the order of the parts
    rows = [
        [
            name,
            "to build by" if bench else "",
            *(_cell(found.get((column.name, (name, bench))), unit) for column in built),
        ]
        for name, bench in ordered
    ]
    words = (
        f"Sheets are packed by their parts' boxes, {length(GAP_MM, unit)} {unit} apart or a kerf where that is wider, "
        f"with the grain; lengths take {length(SAW_MM, unit)} {unit} for each saw cut. %: of what is bought that ends "
        "in parts. A careful eye may save a sheet; spoilt parts take more."
    )
    head = ["stock", "", *(column.name for column in built)]
    page = f"What to have at hand, for the whole craft\n{table(head, rows, 2)}\n{textwrap.fill(words, WIDTH)}"
    large = list(dict.fromkeys(_large(need) for need in found.values() if need.too_large))
    return [page + "".join("\n" + textwrap.fill(f"! {words}", WIDTH, subsequent_indent="  ") for words in large)]


def _key(need: Need) -> tuple[str, bool]:
    return need.stock, need.bench


def _cell(need: Need | None, unit: str) -> str:
    if need is None:
        return "-"
    used = "" if need.used_share is None else f", {100 * need.used_share:.0f} %"
    if need.sheets is not None:
        return f"{need.sheets} sheet{'s' * (need.sheets != 1)}{used}"
    if need.lengths is not None:
        return f"{need.lengths} length{'s' * (need.lengths != 1)}{used}"
    match need.unit:
        case "mm2":
            times, name = _AREA.get(unit, (1e6, "m2"))
            return f"{fixed(need.amount / times, 2)} {name}"
        case "mm3":
            times, name = _VOLUME.get(unit, (1e3, "cm3"))
            return f"{fixed(need.amount / times, 1)} {name}"
        case "mm":
            times, name = _FAR.get(unit, (1e3, "m"))
            return f"{fixed(need.amount / times, 2)} {name}"
    return f"{need.pieces} piece{'s' * (need.pieces != 1)}"


def _large(need: Need) -> str:
    names = ", ".join(need.too_large[:4]) + (f" and {len(need.too_large) - 4} more" if len(need.too_large) > 4 else "")
    if need.kind == "length":
        return f"{need.stock}: joined from more than one length: {names}"
    return f"{need.stock}: larger than a sheet, counted by area: {names}"
