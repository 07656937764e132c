"""What a craft is made of in the pieces that shops sell, what of it is at hand, and what that costs where prices are
given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.mass.unit_mass import of_stock
from geomgen.model.part import Part
from geomgen.model.role import Role
from geomgen.stock.copies import times
from geomgen.stock.need import Need


@dataclass(frozen=True)
class Due:
    """What is needed of one stock, or of one bought thing, aids to build by and spares among it.

    name    : of its table
    of      : its material; "" for a bought thing
    takes   : how many, or how much [unit]
    unit    : "sheet" | "length" | "kg" | "piece" | "m2" | "m", the last two where its size as sold isn't stated
    at_hand : of that [unit]
    price   : of one; None where none is given, or where it isn't known how many it takes
    offcuts : off-cuts at hand that are used besides, which cost nothing
    """

    name: str
    of: str
    takes: float
    unit: str
    at_hand: float
    price: float | None
    offcuts: int = 0

    @property
    def to_buy(self) -> float:
        """What is missing [unit]."""
        return max(self.takes - self.at_hand, 0.0)

    @property
    def costs(self) -> float | None:
        """All that it takes, at hand or not."""
        return None if self.price is None else self.takes * self.price

    @property
    def still_costs(self) -> float | None:
        """What is missing."""
        return None if self.price is None else self.to_buy * self.price


def bill(needs: Sequence[Need], parts: Sequence[Part], design: Design) -> tuple[Due, ...]:
    """A line for each stock, in the design's order, then for each bought thing.

    needs : of what flies and of the bench, whose sheets are apart
    parts : fittings among them are bought
    """
    stocks = dict.fromkeys(need.stock for need in needs)
    lines = [_stock(name, [need for need in needs if need.stock == name], design) for name in stocks]
    bought = [part for part in parts if part.role == Role.FITTING]
    for part in bought:
        name = part.path.partition(".")[2]
        if (fitting := design.fitting.get(name)) is not None:
            lines.append(Due(part.name, "", float(times(part, design)), "piece", 0.0, fitting.price))
    return tuple(lines)


def total(lines: Sequence[Due], *, to_buy: bool) -> tuple[float, int]:
    """What all of it costs, or what is missing of it; and how many lines have no price."""
    found = [line.still_costs if to_buy else line.costs for line in lines]
    return sum(each for each in found if each is not None), sum(each is None for each in found)


def _stock(name: str, needs: Sequence[Need], design: Design) -> Due:
    stock, of = design.stock[name], needs[0].of
    amount = sum(need.amount for need in needs)
    if isinstance(stock, SheetStock):
        if stock.size is None:
            return Due(name, of, amount * 1e-6, "m2", 0.0, None)
        takes = float(sum(need.sheets or 0 for need in needs))
        offcuts = sum(need.offcuts for need in needs)
        return Due(name, of, takes, "sheet", float(stock.count or 0), stock.price, offcuts)
    if isinstance(stock, LengthStock):
        if stock.length is None:
            return Due(name, of, amount * 1e-3, "m", 0.0, None)
        takes = float(sum(need.lengths or 0 for need in needs))
        return Due(name, of, takes, "length", float(stock.count or 0), stock.price)
    if stock.kind == "volume":
        return Due(name, of, amount * of_stock(design, name).grams[1] * 1e-3, "kg", 0.0, stock.price)
    return Due(name, of, float(sum(need.pieces for need in needs)), "piece", 0.0, stock.price)
