"""What a spar asks of each rib it meets: holes, notches in the edge, and what to say of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.blade.rib_places import RibPlace
from geomgen.structure.openings import Opening, askew_mm
from geomgen.structure.spars.lying import aft_of
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]

NEAR_MM = 1e-3  # a place this near a notch is on it


@dataclass(frozen=True)
class Notch:
    """A rectangular notch in a rib's edge.

    path     : key path of what asked for it
    at       : (2,) the middle of its mouth, on or near the edge, in the station's frame [mm]
    way      : (2,) unit vector into the rib
    width_mm : its width, fit included [mm]
    depth_mm : its depth from `at` [mm]
    """

    path: str
    at: tuple[float, float]
    way: tuple[float, float]
    width_mm: float
    depth_mm: float

    def corners(self, out_mm: float = 0.0) -> FloatArray:
        """(4, 2) corners; drawn on out of the rib by so much [mm]."""
        at, way = np.array(self.at), np.array(self.way)
        across, outer, inner = aft_of(way) * self.width_mm / 2, at - out_mm * way, at + self.depth_mm * way
        return np.array([outer - across, outer + across, inner + across, inner - across])


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


def widened(width_mm: float, slope: float, place: RibPlace, tol: Tolerances) -> float:
    """Width of a square-cut notch, more where what lies in it passes askew [mm].

    slope : tangent of its angle to the rib's normal, along the notch's width [-]
    """
    longer = askew_mm(width_mm, abs(slope), place.thickness_mm)
    return width_mm + (longer if longer > tol.askew_mm else 0.0)


def notch(path: str, at: FloatArray, way: FloatArray, *, width_mm: float, depth_mm: float) -> Notch:
    """A notch from arrays."""
    (x, y), (along, up) = at.tolist(), way.tolist()
    return Notch(path, (x, y), (along, up), float(width_mm), float(depth_mm))


def askew_note(path: str, *, width_mm: float, wide_mm: float) -> tuple[str, ...]:
    """What to say of a notch that is wider than what lies in it would need if it passed square."""
    return (f"{path} passes askew: its notch is {wide_mm:.2f} mm wide",) if wide_mm > width_mm else ()
