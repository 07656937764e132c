"""What a weigh-in asks for: the mass of every line in every blade, and of bare sheets; and how their errors hang
together before anything is weighed, by the statement's own split of doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.mass.band import Triple
from geomgen.mass.doubt import NINE_OF_TEN, stated
from geomgen.mass.lines import Line
from geomgen.mass.unit_mass import of_stock
from geomgen.mass.weigh_in.reading import Kind, Reading
from geomgen.materials.catalogue import known, split
from geomgen.materials.doubt import Split
from geomgen.model.role import Assembly
from geomgen.stock.sharing import Sharing


@dataclass(frozen=True)
class Unknown:
    """One mass that isn't known exactly.

    line   : number of its line in the statement; None for a bare sheet or lengths
    blade  : its blade's number, from 1; None for what is on the hub, or bare
    lot    : what shares its grade's error
    sheets : the sheet of each of its pieces; () where that isn't known
    grams  : (low, typical, high) before anything is weighed [g]
    split  : what its band is made of
    pieces : whose own errors know nothing of one another [-]
    at     : where it sits (out, forward, up) [mm]
    """

    line: int | None
    blade: int | None
    lot: str
    sheets: tuple[str, ...]
    grams: Triple
    split: Split
    pieces: int
    at: Triple = (0.0, 0.0, 0.0)

    @property
    def deviation_g(self) -> float:
        """One standard deviation, its pieces taken as one [g]."""
        return (self.grams[2] - self.grams[0]) / 2.0 / NINE_OF_TEN


def of_lines(lines: Sequence[Line], sharing: Sharing, blades: int) -> list[Unknown]:
    """Every line, once for each blade, or once on the hub, in order."""
    return [
        Unknown(
            number,
            blade,
            line.lot,
            _sheets(line, sharing.get(line.key, ()), blade),
            line.set_g,
            line.split,
            line.count,
            line.place_mm,
        )
        for number, line in enumerate(lines)
        for blade in (range(1, blades + 1) if line.assembly == Assembly.BLADE else (None,))
    ]


def bare(reading: Reading, design: Design, sheets: Sequence[str]) -> Unknown:
    """A bare sheet, or some bare lengths, as the stock states them.

    reading : of a sheet, or of lengths
    sheets  : those that parts are known to be cut from; any other is one of its stock that nothing else is known of
    """
    name = reading.which if reading.kind == Kind.LENGTH or reading.which in design.stock else _stock_of(reading.which)
    stock = design.stock[name]
    assert isinstance(stock, SheetStock | LengthStock)
    material = known(stock.of)
    figure, shares = stated(
        of_stock(design, name).figure, split("bought" if material is None else material.kind), design, name
    )
    one = replace(of_stock(design, name), figure=figure)
    if isinstance(stock, SheetStock):
        assert stock.size is not None
        amount, on = stock.size[0] * stock.size[1], (reading.which,) if reading.which in sheets else ()
    else:
        amount, on = stock.length or 0.0, ()
    low, typical, high = (each * amount * reading.pieces for each in one.grams)
    alone = Split(shares.grade, shares.sheet / (1 if on else reading.pieces), 0.0, shares.source)
    return Unknown(None, None, f"stock.{name}", on, (low, typical, high), alone, 1)


def covariance(unknowns: Sequence[Unknown]) -> FloatArray:
    """(n, n) of unknown masses [g2]: a lot shares its grade's error, pieces of one sheet that sheet's."""
    deviation = np.array([each.deviation_g for each in unknowns])
    shares = np.array([each.split.shares for each in unknowns]).reshape(-1, 3)
    pieces = np.array([each.pieces for each in unknowns], dtype=np.float64)
    grade, sheet, own = (deviation[:, None] * np.sqrt(shares)).T
    of_lots = _table([(each.lot,) for each in unknowns])
    of_sheets = _table([each.sheets or (f"{number}",) for number, each in enumerate(unknowns)])
    by_lot, by_sheet = grade[:, None] * of_lots, sheet[:, None] * of_sheets
    return np.asarray(by_lot @ by_lot.T + by_sheet @ by_sheet.T + np.diag(own**2 / pieces))


def _table(names: Sequence[tuple[str, ...]]) -> FloatArray:
    """(n, m) the share of each that has each of m names."""
    number = {name: k for k, name in enumerate(dict.fromkeys(name for some in names for name in some))}
    table = np.zeros((len(names), len(number)))
    for row, some in enumerate(names):
        for name in some:
            table[row, number[name]] += 1.0 / len(some)
    return table


def _sheets(line: Line, copies: Sequence[str], blade: int | None) -> tuple[str, ...]:
    """The sheets of a line's pieces in one blade, or on the hub."""
    return tuple(copies if blade is None else copies[(blade - 1) * line.count : blade * line.count])


def _stock_of(sheet: str) -> str:
    return sheet.rpartition(" ")[0]
