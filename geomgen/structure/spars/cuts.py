"""What a spar asks of each rib it meets: holes, notches in the edge, and what to say of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.blade.under_skin import Outline
from geomgen.design.schema import Design, LengthStock
from geomgen.design.schema.spar import BoxSpar, CapSpar, Spar, UprightSpar
from geomgen.structure.ribs.openings import Opening, askew_mm, round_hole, slot
from geomgen.structure.spars.box import hollow
from geomgen.structure.spars.caps import between_mm, layer_ends, stacks
from geomgen.structure.spars.sheet import slot_mm, upright
from geomgen.structure.spars.slices import SAME_MM, Slice, aft_of, meets
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


def spar_cuts(
    design: Design, name: str, route: Route, place: RibPlace, station: Station, outline: Outline, tol: Tolerances
) -> Cuts:
    """The holes and notches of one spar in one rib; none where it doesn't fit, which `spar_faults` tells.

    route   : the spar's own, from `spar_routes`
    outline : the rib's edge before notches
    """
    spar, at = design.blade.spar[name], Slice(station, outline)
    if isinstance(spar, Spar):
        return _hole(design, spar, route, place, station, tol) if route.passes(place.r_mm) else Cuts()
    if not meets(place, float(route.start[0]), float(route.end[0])):
        return Cuts()
    match spar:
        case CapSpar():
            return _cap_notches(design, spar, route, place, at, tol)
        case BoxSpar():
            return _box_notch(design, spar, route, place, at, tol)
        case UprightSpar():
            return _sheet_notch(design, spar, route, place, at, tol)


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


def _hole(design: Design, spar: Spar, route: Route, place: RibPlace, station: Station, tol: Tolerances) -> Cuts:
    stock = design.stock[spar.stock]
    if not isinstance(stock, LengthStock):
        return Cuts()
    if stock.outside is not None:
        loop, note = round_hole(station, route, stock.outside + spar.fit, place.thickness_mm, tol)
    else:
        size = (stock.width or 0.0) + spar.fit, (stock.height or 0.0) + spar.fit
        loop, note = slot(station, route, size, place.thickness_mm, tol)
    return Cuts((Opening(route.path, loop),), notes=(note,) if note else ())


def _cap_notches(design: Design, spar: CapSpar, route: Route, place: RibPlace, at: Slice, tol: Tolerances) -> Cuts:
    """One notch above and one below, as deep as the laminations that enter the rib."""
    layers = sum(end > place.r_mm - place.thickness_mm / 2 + SAME_MM for end in layer_ends(design, spar))
    (x, _), slope = route.in_station(at.station)
    both = stacks(design, spar, at, float(x), layers) if layers else None
    if both is None or between_mm(*both) <= 0:
        return Cuts()
    notches, width = [], both[0].width_mm + spar.fit
    for stack in both:
        wide = _wider(width, abs(float(slope @ aft_of(stack.way))), place, tol)
        notches.append(_notch(route.path, stack.at, stack.way, wide, stack.depth_mm))
    widest = max(notch.width_mm for notch in notches)
    return Cuts(notches=tuple(notches), notes=_askew(route, width, widest))


def _box_notch(design: Design, spar: BoxSpar, route: Route, place: RibPlace, at: Slice, tol: Tolerances) -> Cuts:
    box = hollow(design, spar, at, route)
    if box is None:
        return Cuts()
    width = spar.width + spar.fit
    wide = _wider(width, abs(float(route.in_station(at.station)[1] @ aft_of(box.up))), place, tol)
    return Cuts(notches=(_notch(route.path, box.foot, box.up, wide, box.height_mm),), notes=_askew(route, width, wide))


def _sheet_notch(design: Design, spar: UprightSpar, route: Route, place: RibPlace, at: Slice, tol: Tolerances) -> Cuts:
    """From the lower edge to half the depth, where the sheet's own slot ends; along the sheet's plane."""
    thickness = sheet_mm(design, spar.stock)
    sheet = upright(at, route, thickness)
    if sheet is None:
        return Cuts()
    width = thickness + spar.fit
    wide = slot_mm(width, route, place.thickness_mm, tol)
    notch = _notch(route.path, sheet.foot, sheet.up, wide, sheet.depth_mm / 2)
    return Cuts(notches=(notch,), notes=_askew(route, width, wide))


def _wider(width_mm: float, slope: float, place: RibPlace, tol: Tolerances) -> float:
    longer = askew_mm(width_mm, slope, place.thickness_mm)
    return width_mm + (longer if longer > tol.askew_mm else 0.0)


def _notch(path: str, at: FloatArray, way: FloatArray, width_mm: float, depth_mm: float) -> Notch:
    (x, y), (along, up) = at.tolist(), way.tolist()
    return Notch(path, (x, y), (along, up), float(width_mm), float(depth_mm))


def _askew(route: Route, width_mm: float, wide_mm: float) -> tuple[str, ...]:
    return (f"{route.path} passes askew: its notch is {wide_mm:.2f} mm wide",) if wide_mm > width_mm else ()
