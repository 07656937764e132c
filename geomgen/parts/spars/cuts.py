"""What a spar asks of each rib it meets: holes, notches in the edge, and what to say of them."""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import Design, LengthStock, Spar
from geomgen.parts.openings import Opening, round_hole, slot
from geomgen.parts.under_skin import Outline
from geomgen.tolerances import Tolerances


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


@dataclass(frozen=True)
class Cuts:
    """What one spar asks of one rib."""

    openings: tuple[Opening, ...] = ()
    notches: tuple[Notch, ...] = ()
    notes: tuple[str, ...] = ()


def spar_cuts(
    design: Design, name: str, route: Route, place: RibPlace, station: Station, outline: Outline, tol: Tolerances
) -> Cuts:
    """The holes and notches of one spar in one rib.

    route   : the spar's own, from `spar_routes`
    outline : the rib's edge before notches
    """
    spar = design.blade.spar[name]
    if not route.passes(place.r_mm):
        return Cuts()
    stock = design.stock[spar.stock]
    if isinstance(spar, Spar) and isinstance(stock, LengthStock):
        if stock.outside is not None:
            loop, note = round_hole(station, route, stock.outside + spar.fit, place.thickness_mm, tol)
        else:
            size = (stock.width or 0.0) + spar.fit, (stock.height or 0.0) + spar.fit
            loop, note = slot(station, route, size, place.thickness_mm, tol)
        return Cuts((Opening(route.path, loop),), notes=(note,) if note else ())
    return Cuts()
