"""A panel of sheet as a construction asks for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.station import Station
from geomgen.design.schema import HALVES, EdgeStock, Half
from geomgen.figures import mm
from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.section.section import heights
from geomgen.structure.covers.outline import Beyond


@dataclass(frozen=True)
class Panel:
    """A panel of sheet to lay flat.

    name       : of the part
    role       : of the part
    stock      : name of its sheet
    path       : key path of what asked for it
    from_mm    : where it begins [mm]
    to_mm      : where it ends [mm]
    halves     : surfaces it covers: ("upper", "lower") for one that goes round the nose
    depth_mm   : depth of its outer face in the section [mm]
    neutral    : depth in the sheet that neither stretches nor shrinks, share of its thickness [-]
    nose_mm    : it begins so far behind the nose, where a strip lies [mm]
    to_share   : it ends at this share of the chord; None for the tail
    tail_mm    : and so far ahead of the tail, where a strip lies [mm]
    beyond     : strips beyond its edges
    lapped     : whether what lies beyond is folded over and glued, not trimmed
    face       : the face that is drawn, "outside" or "inside"
    stagger_mm : least distance between joints above and below, or of neighbouring strips [mm]
    bevelled   : whether its two halves meet at the tail and are bevelled there, inside
    rolled     : whether the section is that of the sheet itself, its nose rolled as it can be
    notes      : what to say of it first
    """

    name: str
    role: Role
    stock: str
    path: str
    from_mm: float
    to_mm: float
    halves: tuple[Half, ...]
    depth_mm: float = 0.0
    neutral: float = 0.5
    nose_mm: float = 0.0
    to_share: float | None = None
    tail_mm: float = 0.0
    beyond: tuple[Beyond, ...] = ()
    lapped: bool = False
    face: str = "outside"
    stagger_mm: float = 100.0
    bevelled: bool = False
    rolled: bool = False
    notes: tuple[str, ...] = ()

    @property
    def mark(self) -> tuple[Half, ...]:
        """What tells its part from others of its role and table: its half; nothing where it covers both."""
        return self.halves if len(self.halves) == 1 else ()

    @property
    def key(self) -> Key:
        """Which part it becomes."""
        return Key(self.role, self.path, self.mark)

    def covers(self, r_mm: float, half: Half) -> bool:
        """Whether it lies over a surface at a radius [mm]."""
        return half in self.halves and self.from_mm - 1e-6 <= r_mm <= self.to_mm + 1e-6


def whole_or_halves(whole: bool) -> tuple[tuple[Half, ...], ...]:
    """The surfaces of each panel: both at once round the nose, or one after the other."""
    return (HALVES,) if whole else (("upper",), ("lower",))


def named(name: str, halves: Sequence[Half]) -> str:
    """A panel's name: with its half, where it is one."""
    return name if len(halves) == 2 else f"{name} {halves[0]}"


def seam(halves: Sequence[Half], first: Half, width_mm: float) -> tuple[Beyond, ...]:
    """A seam's strip, along the tail of the half that goes on first."""
    if width_mm <= 0 or first not in halves:
        return ()
    return (Beyond("first" if first == "upper" else "last", width_mm),)


def width_mm(edge: EdgeStock | None) -> float:
    """How much of the chord a strip takes; nothing where there is none [mm]."""
    return edge.width if edge is not None else 0.0


def tail_note(blade: Blade, ends_mm: tuple[float, float], thickness_mm: float, tail: EdgeStock | None) -> str:
    """What becomes of a sheet at the tail: it ends on a strip, or is bevelled."""
    if tail is not None:
        return f"it ends {mm(tail.width)} ahead of the tail, on the tail strip"
    widths = bevels_mm([blade.station(r) for r in ends_mm], thickness_mm)
    return (
        f"bevel both halves inside where they meet at the tail, over the last {mm(widths[0], 0)} at the root and "
        f"{mm(widths[1], 0)} at the tip"
    )


def bevels_mm(stations: Sequence[Station], thickness_mm: float) -> FloatArray:
    """(k,) how far ahead of the tail the two sheets of a skin begin to meet, so that they are bevelled inside [mm]."""
    chord = np.array([station.chord_mm for station in stations])
    sections = [station.section for station in stations]
    x, ahead, left = np.linspace(1.0, 0.3, 1401), np.ones(len(stations)), list(range(len(stations)))
    for count in (101, 401, 1401):  # it is nearly always close to the tail
        upper, lower = heights([sections[k] for k in left], np.tile(x[:count], (len(left), 1)))
        depth = (upper - lower) * chord[left, None]
        deep = depth >= 2.0 * thickness_mm
        for k, row, found in zip(left, depth, deep, strict=True):
            if found.any():
                near = slice(max(int(found.argmax()) - 1, 0), int(found.argmax()) + 1)  # too thin, no longer too thin
                ahead[k] = 1.0 - np.interp(2.0 * thickness_mm, row[near], x[:count][near])
        left = [k for k, found in zip(left, deep, strict=True) if not found.any()]
        if not left:
            break
    return np.asarray(ahead * chord)
