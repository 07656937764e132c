"""What each option takes of every stock, as a table."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.figures import mm
from geomgen.stock.need import SAW_MM, Need
from geomgen.study.comparison import Column
from geomgen.views.page import Cell, Item, Section, Table
from geomgen.views.quantity import Amount

MOST_NAMES = 4


def stocks(columns: Sequence[Column]) -> list[Section]:
    """A row for each stock, a column for each option that can be built; nothing where none can."""
    built = {column.name: column.figures for column in columns if column.figures is not None}
    found = {(name, need.bench, need.stock): need for name, figures in built.items() for need in figures.needs}
    stocks = dict.fromkeys(key[1:] for key in found)
    if not stocks:
        return []
    rows = tuple(
        (stock, "to build by" if bench else "", *(needed(found.get((name, bench, stock))) for name in built))
        for bench, stock in sorted(stocks, key=lambda key: key[0])  # what flies first, each in the order of the parts
    )
    large = dict.fromkeys(too_large(need) for need in found.values() if need.too_large)
    head = (("stock", ""), ("", ""), *((name, "") for name in built))
    items = (Item("caution", one) for one in large)
    return [("What to have at hand, for the whole craft", Table(head, rows, left=2), how_packed(), *items)]


def how_packed() -> str:
    """How sheets and lengths are counted."""
    return (
        f"Sheets are counted as they are laid for cutting; lengths take {mm(SAW_MM, 1)} for each saw cut. %: of what "
        "is bought that ends in parts. Spoilt parts take more: spares can be asked for."
    )


def needed(need: Need | None) -> Cell:
    """How much of a stock: sheets or lengths and the share of them that is used, pieces, or an amount."""
    if need is None:
        return "-"
    used = "" if need.used_share is None else f", {100 * need.used_share:.0f} %"
    if need.sheets is not None:
        return f"{_counted(need.sheets, 'sheet')}{used}"
    if need.lengths is not None:
        return f"{_counted(need.lengths, 'length')}{used}"
    return _counted(need.pieces, "piece") if need.unit == "piece" else Amount(need.amount, need.unit, bought=True)


def _counted(number: int, name: str) -> str:
    return f"{number} {name}{'s' * (number != 1)}"


def too_large(need: Need) -> str:
    """Which parts don't come out of one sheet or length."""
    more = len(need.too_large) - MOST_NAMES
    names = ", ".join(need.too_large[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    if need.kind == "length":
        return f"{need.stock}: joined from more than one length: {names}"
    return f"{need.stock}: larger than a sheet, counted by area: {names}"
