"""A piece of skin as it is asked for, and what it lies on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.model.role import Role
from geomgen.structure.covers.outline import Beyond
from geomgen.structure.covers.rows import Half


@dataclass(frozen=True)
class Wanted:
    """A piece of skin to lay flat.

    name       : of the part
    role       : of the part
    stock      : name of its sheet
    path       : key path of what asked for it
    from_mm    : where it begins [mm]
    to_mm      : where it ends [mm]
    halves     : surfaces it covers: ("upper", "lower") for one that goes round the nose
    depth_mm   : depth of its outer face in the section [mm]
    neutral    : depth in the sheet that neither stretches nor shrinks, share of its thickness [-]
    nose_mm    : it begins so far behind the leading edge, where a strip lies [mm]
    to_share   : it ends at this share of the chord; None for the tail
    tail_mm    : and so far ahead of the trailing edge, where a strip lies [mm]
    beyond     : strips beyond its edges
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
    face: str = "outside"
    stagger_mm: float = 100.0
    bevelled: bool = False
    rolled: bool = False
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Crossed:
    """What a skin lies on and lets out: ribs, straight lines of spars, channels with their openings."""

    ribs: Sequence[RibPlace]
    spars: Mapping[str, Route]
    channels: Mapping[str, Route]
