"""What lies where on which sheet, and what of an earlier layout is kept."""

from __future__ import annotations

from dataclasses import dataclass, replace

from geomgen.model.joint import Key

FLIES, DOUBLERS, BENCH = APART = ("flies", "doublers", "bench")
_DECIMALS, _DEG_DECIMALS = 6, 9  # of a place [mm], of a turn


@dataclass(frozen=True)
class Laid:
    """One copy of a part, or of a piece of it, on a sheet: turned about its own origin, then moved.

    key      : the part
    copy     : which of its copies, from 1
    at       : [mm]
    turn_deg : anticlockwise
    piece    : of a part that is made up of several sheets, from 0
    outline, edges : digests of its outline, and of all that is cut of it
    """

    key: Key
    copy: int
    at: tuple[float, float]
    turn_deg: float
    piece: int = 0
    outline: str = ""
    edges: str = ""

    @property
    def which(self) -> tuple[Key, int, int]:
        """Part, piece and copy."""
        return self.key, self.piece, self.copy


@dataclass(frozen=True)
class Sheet:
    """One sheet: x along its length, y along its width, its corner at 0, 0 [mm].

    stock  : name of its [stock.*] table
    number : its own among those of its stock, from 1
    size   : (length, width) [mm]
    apart  : "flies" | "doublers" | "bench": what lies on one sheet
    offcut : it is left of another sheet
    gap_mm, edge_mm : what parts keep from one another and from the sheet's edge, the kerf counted in [mm]
    laid   : in the order in which they were laid
    across : x of lines that it is cut apart along before it goes on the laser's bed [mm]
    """

    stock: str
    number: int
    size: tuple[float, float]
    apart: str
    offcut: bool
    gap_mm: float
    edge_mm: float
    laid: tuple[Laid, ...]
    across: tuple[float, ...] = ()

    @property
    def name(self) -> str:
        """As `laser.done` has it."""
        return f"{self.stock} {self.number}"

    def mirrored(self) -> Sheet:
        """The sheet seen from its other side, turned over about its length, for parts whose x becomes -x: what lay at
        its beginning lies there still."""
        laid = (
            replace(
                each,
                at=(each.at[0], round(self.size[1] - each.at[1], _DECIMALS)),
                turn_deg=round(180.0 - each.turn_deg, _DEG_DECIMALS) % 360.0,
            )
            for each in self.laid
        )
        return replace(self, laid=tuple(laid))


@dataclass(frozen=True)
class Layout:
    """All sheets of a craft.

    sheets : by stock, then number
    anew   : parts on sheets that are cut already and have changed since: name of the sheet, the part, its copy
    kept   : every part lies where it lay
    """

    sheets: tuple[Sheet, ...]
    anew: tuple[tuple[str, Key, int], ...] = ()
    kept: bool = False

    def mirrored(self) -> Layout:
        """The same for the craft's twin, whose parts are mirrored."""
        return replace(self, sheets=tuple(sheet.mirrored() for sheet in self.sheets))

    def of(self, stock: str, *, bench: bool) -> tuple[Sheet, ...]:
        """Those of a stock, of what flies or of what stays on the bench."""
        return tuple(sheet for sheet in self.sheets if sheet.stock == stock and (sheet.apart == "bench") == bench)
