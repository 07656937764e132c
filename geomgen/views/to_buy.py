"""What is to be bought for each of several ways of building, less what is at hand, and for whichever it will be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from geomgen.cost.bill import Due, total
from geomgen.study.comparison import Column
from geomgen.views.cut_list import counted, money_cell
from geomgen.views.page import Cell, Row, Section, Table

ANY = "any of them"


def to_buy(columns: Sequence[Column]) -> list[Section]:
    """A row for each stock and bought thing, a column for each option that can be built and one that does for any."""
    bills = {column.name: column.figures.bill for column in columns if column.figures is not None}
    money = {column.figures.money for column in columns if column.figures is not None}
    if not bills:
        return []
    if len(bills) > 1:
        bills[ANY] = most(tuple(bills.values()))
    lines = {name: {line.name: line for line in bill} for name, bill in bills.items()}
    rows: list[Row] = []
    for name, of in dict.fromkeys((line.name, line.of) for bill in bills.values() for line in bill):
        rows.append((name, of, *(_cell(lines[option].get(name)) for option in bills)))
    costs = [total(bill, to_buy=True) for bill in bills.values()]
    priced = any(line.price is not None for bill in bills.values() for line in bill)
    if priced:
        unit = f", {money.pop()}" if len(money) == 1 and "" not in money else ""
        rows.append((f"costs{unit}", "where priced", *(money_cell(sum_) for sum_, _ in costs)))
    head = (("what", ""), ("", ""), *((name, "") for name in bills))
    words = (
        f"Less what is said to be at hand; with aids to build by, joints and spares. {ANY}: enough for whichever it is."
    )
    return [("To buy", Table(head, tuple(rows), left=2, foot=int(priced), lead=2), words)]


def most(bills: Sequence[Sequence[Due]]) -> tuple[Due, ...]:
    """Of each thing as much as the bill that takes the most of it."""
    found: dict[str, Due] = {}
    for line in (line for bill in bills for line in bill):
        there = found.setdefault(line.name, line)
        if line.to_buy > there.to_buy:
            found[line.name] = replace(there, takes=line.takes, at_hand=line.at_hand, offcuts=line.offcuts)
    return tuple(found.values())


def _cell(line: Due | None) -> Cell:
    if line is None:
        return "-"
    return counted(line.to_buy, line.unit) if line.to_buy else "at hand"
