"""What to have at hand before the first cut: of each stock, and of what is bought besides."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.craft import Craft
from geomgen.design.schema import LengthStock, SheetStock
from geomgen.design.schema.stock import Stock
from geomgen.figures import mm
from geomgen.stock.bought import Purchase, purchases
from geomgen.stock.need import Need, needs
from geomgen.views.page import Cell, Chapter, Item, Row, Section, Table, as_columns
from geomgen.views.quantity import Amount, Mass
from geomgen.views.stock_table import how_packed, needed, too_large

_SMALL_MM2 = 1e5


def shopping(craft: Craft) -> Chapter:
    """What the whole craft takes, and what the bench takes, apart."""
    design = craft.design
    found = needs(craft.finished, design, craft.laid, {key: solid.volume_mm3 for key, solid in craft.solids.items()})
    flies, stays = ([need for need in found if need.bench == bench] for bench in (False, True))
    grams = {line.key: line.one_g[1] for line in craft.mass.lines}
    sections = [
        *_stocks("To cut and print from, for the whole craft", flies, design.stock),
        *_bought(purchases(craft.finished, grams, design)),
        *_stocks("For aids to build by, which stay on the bench", stays, design.stock),
    ]
    large = dict.fromkeys(too_large(need) for need in found if need.too_large)
    sections += [(how_packed(), *(Item("note", words) for words in large))] if large else [(how_packed(),)]
    return Chapter("What to have at hand", "shopping", tuple(sections))


def _stocks(title: str, found: Sequence[Need], stocks: dict[str, Stock]) -> Iterator[Section]:
    if found:
        columns = as_columns("stock", "material", "as sold", "to have", "parts from it", "in the parts")
        rows = tuple(_row(need, stocks[need.stock]) for need in found)
        yield title, Table(columns, rows, left=4)


def _row(need: Need, stock: Stock) -> Row:
    whole = need.sheets is not None or need.lengths is not None
    inside: Cell = _amount(need.amount, need.unit) if whole else ""
    return need.stock, need.of, as_sold(stock), needed(need), need.pieces, inside


def _amount(value: float, per: str) -> Amount:
    """In the units of a shopping list, small areas in those of parts."""
    return Amount(value, per, bought=per != "mm2" or value >= _SMALL_MM2)


def as_sold(stock: Stock) -> str:
    """In which shape and size it is bought: "sheet 1000 x 100 x 3 mm"."""
    if isinstance(stock, SheetStock):
        return f"sheet {_times(*(stock.size or ()), stock.thickness)}"
    if isinstance(stock, LengthStock):
        sizes = [size for size in (stock.outside, stock.inside, stock.width, stock.height) if size is not None]
        long = f", {_times(stock.length)} long" if stock.length else ""
        return f"{_times(*sizes)}{long}"
    return "by volume" if stock.kind == "volume" else "by the piece"


def _times(*sizes: float) -> str:
    return mm(sizes, words=" x ", significant=4)


def _bought(found: Sequence[Purchase]) -> Iterator[Section]:
    if found:
        rows = tuple((one.name, *_counted(one), Mass(one.mass_g)) for one in found)
        yield (
            "To buy besides, for the whole craft",
            Table(as_columns("what", "to have", "pieces", "typical, g"), rows, left=2),
            "Wire is counted from the rotor axis along its way, with the design's slack; glue by area.",
        )


def _counted(one: Purchase) -> tuple[Cell, Cell]:
    """How much of it, and how many."""
    if one.unit == "piece":
        return "", one.pieces
    if one.unit == "g":
        return "as stated", ""
    return _amount(one.amount, one.unit), one.pieces if one.unit == "mm" else ""
