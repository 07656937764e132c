"""What is to be written on a flat part once it is drawn. Data only: `marking` mirrors it and finds room for it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

Towards = Literal["up", "down", "left", "right"]
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
class Label:
    """What to write on the drawn face.

    groups   : items of one height each, placed group after group; a later group may come out smaller
    clear_of : which of the part's marks letters keep clear of: "all" by their boxes; "short" lengths of each, so that
               letters may stand beside a long bowed line; or "upright" ones alone
    on_stays : whether letters stay on what of the part stays in the craft
    """

    groups: tuple[tuple[Item, ...], ...] = ()
    clear_of: Literal["all", "short", "upright", "none"] = "all"
    on_stays: bool = False

    def mirrored(self) -> Label:
        """The same on the mirrored part: arrows turned, words as they are."""
        turned = tuple(
            tuple(item.mirrored() if isinstance(item, Arrow) else item for item in group) for group in self.groups
        )
        return replace(self, groups=turned)
