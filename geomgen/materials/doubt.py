"""What the band of a mass is made of: what all of a stock share, what one sheet has to itself, and the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Split:
    """Shares of a band's variance, which add up to 1 [-].

    grade  : what all sheets, lengths or prints of one stock have in common
    sheet  : what one sheet, length or print has to itself, and all that is cut from it shares
    own    : the rest, piece by piece
    source : in words
    """

    grade: float
    sheet: float
    own: float
    source: str

    @property
    def shares(self) -> tuple[float, float, float]:
        """The three, in that order."""
        return self.grade, self.sheet, self.own


ALL_GRADE = Split(1.0, 0.0, 0.0, "all of a stock alike")


def read_splits(table: Mapping[str, Mapping[str, Any]]) -> dict[str, Split]:
    """By kind of material, "wood", or "glue", "wire", "bought"."""
    return {
        name: Split(float(row["grade"]), float(row["sheet"]), float(row["own"]), str(row["source"]))
        for name, row in table.items()
    }
