"""What lies where on the sheets of a stock."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.model.joint import Key


@dataclass(frozen=True)
class Laid:
    """One copy of a part on a sheet: its own frame turned about its origin, then moved.

    key      : which part
    copy     : which of its copies, from 1
    at       : where its origin lies [mm]
    turn_deg : anticlockwise
    piece    : of a part that is made up of several sheets, which, from 0
    """

    key: Key
    copy: int
    at: tuple[float, float]
    turn_deg: float
    piece: int = 0


@dataclass(frozen=True)
class Sheet:
    """One sheet of a stock, x along its length, y along its width, a corner at (0, 0).

    stock  : name of its [stock.*] table
    number : which of that stock's sheets, from 1
    size   : (length, width) [mm]
    apart  : what its parts are kept apart from others for; "" where they aren't
    offcut : whether it is a piece at hand, not a whole sheet
    gap_mm, edge_mm : what parts keep from one another and from the sheet's edge [mm]
    laid   : what lies on it
    """

    stock: str
    number: int
    size: tuple[float, float]
    apart: str
    offcut: bool
    gap_mm: float
    edge_mm: float
    laid: tuple[Laid, ...]

    @property
    def name(self) -> str:
        """What it is called: its stock and its number."""
        return f"{self.stock} {self.number}"
