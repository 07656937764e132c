"""What is to be written on a flat part once it is drawn. Data only: `marking` mirrors it and finds room for it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Towards = Literal["up", "down", "left", "right"]
FIGURE_GAP_MM = 0.8  # between neighbouring figures, and from the edges of their band
_ACROSS: dict[Towards, Towards] = {"up": "up", "down": "down", "left": "right", "right": "left"}


@dataclass(frozen=True)
class Arrow:
    """An arrow with a word beside it.

    label   : the word
    towards : where it points on the part
    turns   : whether it points the other way on the mirrored part; False for a direction without sense, as grain may be
    """

    label: str
    towards: Towards
    turns: bool = True

    def mirrored(self) -> Arrow:
        """The same arrow on the mirrored part, x -> -x."""
        return replace(self, towards=_ACROSS[self.towards]) if self.turns else self


@dataclass(frozen=True)
class Radius:
    """A distance from the rotor axis, to be written in the design's own unit. r_mm : [mm]"""

    r_mm: float


Item = str | Radius | Arrow


@dataclass(frozen=True)
class Figures:
    """Angles to be engraved in a band about the origin, each at its place; a few sets of the same.

    values_deg : what is engraved, rising [deg]
    angles_deg : for each set, where each value stands, anticlockwise from x [deg]
    rim_mm     : inner radius of the band [mm]
    band_mm    : its width [mm]
    words      : for each set, what is engraved in place of the values, one for each angle; none: the values
    """

    values_deg: tuple[float, ...]
    angles_deg: tuple[tuple[float, ...], ...]
    rim_mm: float
    band_mm: float
    words: tuple[tuple[str, ...], ...] = ()

    def mirrored(self) -> Figures:
        """The same on the mirrored part."""
        return replace(self, angles_deg=tuple(tuple(180.0 - angle for angle in one) for one in self.angles_deg))


@dataclass(frozen=True)
class Label:
    """What to write on the drawn face.

    groups   : items of one height each, placed group after group; a later group may come out smaller
    clear_of : which of the part's marks letters keep clear of: "all" by their boxes; "short" lengths of each, so that
               letters may stand beside a long bowed line; or "upright" ones alone
    on_stays : whether letters stay on what of the part stays in the craft
    figures  : angles engraved about the part's origin, before all else
    """

    groups: tuple[tuple[Item, ...], ...] = ()
    clear_of: Literal["all", "short", "upright", "none"] = "all"
    on_stays: bool = False
    figures: Figures | None = None

    def mirrored(self) -> Label:
        """The same on the mirrored part: arrows turned, words as they are."""
        turned = tuple(
            tuple(item.mirrored() if isinstance(item, Arrow) else item for item in group) for group in self.groups
        )
        return replace(self, groups=turned, figures=self.figures and self.figures.mirrored())
