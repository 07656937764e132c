"""What a spar asks of each rib it meets: holes, notches in the edge, and what to say of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from geomgen.figures import mm
from geomgen.structure.openings import Opening
from geomgen.structure.spars.lying import Oblong

NEAR_MM = 1e-3  # a place this near a notch is on it


@dataclass(frozen=True, eq=False)
class Notch(Oblong):
    """A rectangular notch in a rib's edge, from the middle of its mouth, on or near the edge; its fit included.

    path : key path of what asked for it
    """

    path: str


@dataclass(frozen=True)
class Cuts:
    """What one spar asks of one rib."""

    openings: tuple[Opening, ...] = ()
    notches: tuple[Notch, ...] = ()
    notes: tuple[str, ...] = ()


def notch_at(notches: Sequence[Notch], place: tuple[float, float]) -> Notch | None:
    """The notch on whose edge a place lies [mm], if any: whom to blame for what is too thin there."""
    near = (notch for notch in notches if shapely.Polygon(notch.corners()).distance(shapely.Point(place)) < NEAR_MM)
    return next(near, None)


def outside_notches(openings: Sequence[Opening], notches: Sequence[Notch]) -> tuple[Opening, ...]:
    """The openings less those that lie wholly in a notch: what runs through a box needs no hole of its own."""
    cut = [shapely.Polygon(notch.corners(out_mm=1.0)) for notch in notches]
    return tuple(
        opening
        for opening in openings
        if not any(one.contains(shapely.Polygon(opening.loop.flattened(0.01))) for one in cut)
    )


def askew_note(path: str, *, width_mm: float, wide_mm: float) -> tuple[str, ...]:
    """What to say of a notch that is wider than what lies in it would need if it passed square."""
    return (f"{path} passes askew: its notch is {mm(wide_mm, 2)} wide",) if wide_mm > width_mm else ()
