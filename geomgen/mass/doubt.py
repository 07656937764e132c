"""How doubt about masses adds up: a grade's error is shared by all its sheets, a sheet's by all parts cut from it, and
the rest is each piece's own.

A figure's ends are taken as holding nine of ten, and errors as adding up by the root of squares: common practice.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design, LengthStock, SheetStock
from geomgen.materials.catalogue import known, split
from geomgen.materials.doubt import Split
from geomgen.materials.figure import DESIGN_FILE, Figure
from geomgen.model.joint import Key
from geomgen.model.part import Part
from geomgen.model.role import Role

NINE_OF_TEN = 1.6448536269514722  # standard deviations of a normal figure to either side


@dataclass(frozen=True, eq=False)
class Doubts:
    """How n lines' errors hang together.

    lots   : (n,) lines of one lot share their grade
    shares : (n, 3) of each line's variance: grade, sheet, own [-]
    sheets : (n, m) share of each line's mass that lies on each of m sheets [-]
    pieces : (n,) how many pieces a line is made of, whose own errors know nothing of one another
    """

    lots: tuple[str, ...]
    shares: FloatArray
    sheets: FloatArray
    pieces: FloatArray

    @classmethod
    def by_lot(cls, lots: Sequence[str]) -> Doubts:
        """Lines that share all of their error with their lot."""
        n = len(lots)
        return cls(tuple(lots), np.tile([1.0, 0.0, 0.0], (n, 1)), np.zeros((n, 0)), np.ones(n))

    def combined(self, effects: FloatArray) -> FloatArray:
        """Root of squares of what each error alone does to some figures.

        effects : (..., n) what each line's whole error does to each figure
        returns : (...) of each figure
        """
        grade, sheet, own = np.sqrt(self.shares).T
        groups = [
            (effects * grade) @ self._of_lots(),
            (effects * sheet) @ self.sheets,
            effects * own / np.sqrt(self.pieces),
        ]
        return np.asarray(np.sqrt(sum((group**2).sum(axis=-1) for group in groups)))

    def one_sided(self, changes: FloatArray) -> tuple[FloatArray, FloatArray]:
        """The same down and up, where low and high differ: what each error does at its worse end.

        changes : (q, n, 2) what each line's low and high mass alone does to each figure
        returns : (q,), (q,) both >= 0
        """
        grade, sheet, own = np.sqrt(self.shares).T
        down, up = np.zeros(len(changes)), np.zeros(len(changes))
        for weight, group in ((grade, self._of_lots()), (sheet, self.sheets), (own / np.sqrt(self.pieces), None)):
            each = np.moveaxis(changes * weight[:, None], 1, -1)  # (q, 2, n)
            found = each if group is None else each @ group
            down += (found.min(axis=1, initial=0.0) ** 2).sum(axis=1)
            up += (found.max(axis=1, initial=0.0) ** 2).sum(axis=1)
        return np.sqrt(down), np.sqrt(up)

    def _of_lots(self) -> FloatArray:
        numbers = {lot: number for number, lot in enumerate(dict.fromkeys(self.lots))}
        group = np.zeros((len(self.lots), len(numbers)))
        group[range(len(self.lots)), [numbers[lot] for lot in self.lots]] = 1.0
        return group


def split_of(part: Part, design: Design) -> Split:
    """What a part's band is made of, by its stock's kind of material; or as its stock states it."""
    if part.role == Role.GLUE:
        return split("glue")
    if part.role == Role.WIRE:
        return split("wire")
    stock = design.stock.get(part.stock)
    if stock is None:
        return split("bought")
    material = known(stock.of)
    return split(material.kind) if material is not None else split("bought")


def stated(figure: Figure, found: Split, design: Design, stock_name: str) -> tuple[Figure, Split]:
    """A figure and its split where the stock states a spread: how far grades and sheets differ, nine of ten.

    What isn't stated stays the catalogue's.
    """
    stock = design.stock.get(stock_name)
    if not isinstance(stock, SheetStock | LengthStock) or stock.spread is None:
        return figure, found
    half = (figure.high - figure.low) / (2.0 * figure.typical) if figure.typical else 0.0
    grade, sheet, own = (half * math.sqrt(share) for share in found.shares)
    grade = stock.spread.grade if stock.spread.grade is not None else grade
    sheet = stock.spread.sheet if stock.spread.sheet is not None else sheet
    whole = math.sqrt(grade**2 + sheet**2 + own**2)
    if whole == 0.0:
        return replace(figure, low=figure.typical, high=figure.typical), found
    shares = [(each / whole) ** 2 for each in (grade, sheet, own)]
    ends = figure.typical * (1.0 - whole), figure.typical * (1.0 + whole)
    source = f"{figure.source}; spread: {DESIGN_FILE}"
    return replace(figure, low=ends[0], high=ends[1], source=source), Split(
        shares[0], shares[1], shares[2], DESIGN_FILE
    )


def sheets_of(keys: Sequence[Key], on: Mapping[Key, Sequence[str]]) -> FloatArray:
    """(n, m) share of each line that lies on each sheet; a line of which that isn't known has a sheet of its own.

    on : by part, the sheet of each of its pieces
    """
    names = dict.fromkeys(name for key in keys for name in on.get(key, ()))
    number = {name: k for k, name in enumerate(names)}
    alone = [key for key in keys if not on.get(key)]
    table = np.zeros((len(keys), len(names) + len(alone)))
    for row, key in enumerate(keys):
        some = on.get(key, ())
        for name in some:
            table[row, number[name]] += 1.0 / len(some)
        if not some:
            table[row, len(names) + alone.index(key)] = 1.0
    return table
