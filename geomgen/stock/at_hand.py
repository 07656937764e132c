"""Whether what is at hand is enough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from geomgen.design.keypath import written
from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.errors import Fault
from geomgen.model.part import Part
from geomgen.stock.need import needs
from geomgen.stock.sheets import Layout


def short_of(parts: Sequence[Part], design: Design, layout: Layout) -> Iterator[Fault]:
    """Stocks whose sheets or lengths run out, what stays on the bench counted in."""
    found = needs(parts, design, layout)
    for name, stock in design.stock.items():
        if not isinstance(stock, SheetStock | LengthStock) or stock.count is None:
            continue
        takes = sum((need.sheets or 0) + (need.lengths or 0) for need in found if need.stock == name)
        if takes > stock.count:
            what = "sheet" if isinstance(stock, SheetStock) else "length"
            wrong = f"it takes {takes} {what}{'s' * (takes != 1)}: {takes - stock.count} short"
            yield Fault(f"stock.{name}.count", str(stock.count), wrong, f"at least {takes}", "or leave it out")


def unknown_sheets(design: Design, before: Layout | None) -> Iterator[Fault]:
    """Sheets that are said to be cut, and that no earlier layout has."""
    there = [] if before is None else [sheet.name for sheet in before.sheets]
    for k, name in enumerate(design.laser.done):
        if name not in there:
            path = written(("laser", "done", k))
            wrong = "no such sheet is in the layout of the last run"
            yield Fault(path, f'"{name}"', wrong, f"one of {', '.join(there)}" if there else "", "or leave it out")
