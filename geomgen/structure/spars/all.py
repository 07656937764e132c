"""Every spar of a blade: what is wrong with it, and its parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.design.schema import Design
from geomgen.design.schema.spar import BoxSpar, CapSpar, UprightSpar
from geomgen.errors import Fault, MakeError
from geomgen.model.part import Part
from geomgen.structure.spars.box import box_faults
from geomgen.structure.spars.box_parts import boxes
from geomgen.structure.spars.caps import cap_faults, laminations
from geomgen.structure.spars.crossing import crossing
from geomgen.structure.spars.sheet import sheet_faults, sheets
from geomgen.structure.spars.single import single
from geomgen.structure.spars.splices import Span, barred
from geomgen.structure.spars.webs import bays, web_faults, webs
from geomgen.tolerances import Tolerances


def spar_faults(
    design: Design,
    blade: Blade,
    routes: Mapping[str, Route],
    channels: Mapping[str, Route],
    places: Sequence[RibPlace],
) -> list[Fault]:
    """Where caps, boxes and sheets leave the section or too little of it, and where they run into anything.

    Singles are judged by `route_check.straying`.

    routes, channels : each spar's and channel's line, by name
    places           : where ribs stand
    """
    faults = {name: _misfits(design, blade, name, route, places) for name, route in routes.items()}
    fits = {name: route for name, route in routes.items() if not faults[name]}
    made = {name: bays(design, blade, name, route, places) for name, route in fits.items() if _capped(design, name)}
    small = [fault for name, some in made.items() for fault in web_faults(design, name, some)]
    met = crossing(design, blade, fits, channels, places, made)
    return [*(fault for some in faults.values() for fault in some), *small, *met]


def spars(
    design: Design,
    blade: Blade,
    routes: Mapping[str, Route],
    channels: Mapping[str, Route],
    places: Sequence[RibPlace],
    tol: Tolerances,
) -> list[Part]:
    """The parts of every [blade.spar.*] table, with what joins them.

    routes, channels : each spar's and channel's line, by name
    places           : where ribs stand
    raises           : MakeError, every fault at once
    """
    faults = spar_faults(design, blade, routes, channels, places)
    spans, parts = barred(design, places), list[Part]()
    for name, route in routes.items():
        if any(fault.path.startswith(f"blade.spar.{name}.") or fault.path == f"blade.spar.{name}" for fault in faults):
            continue
        try:
            parts += _made(design, blade, name, route, places, spans, tol)
        except MakeError as error:
            faults.extend(error.faults)
    if faults:
        raise MakeError(dict.fromkeys(faults))
    return parts


def _capped(design: Design, name: str) -> bool:
    return isinstance(design.blade.spar[name], CapSpar)


def _misfits(design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]) -> list[Fault]:
    match design.blade.spar[name]:
        case CapSpar():
            return cap_faults(design, blade, name, route, places)
        case BoxSpar():
            return box_faults(design, blade, name, route, places)
        case UprightSpar():
            return sheet_faults(design, blade, name, route, places)
    return []


def _made(
    design: Design,
    blade: Blade,
    name: str,
    route: Route,
    places: Sequence[RibPlace],
    spans: Sequence[Span],
    tol: Tolerances,
) -> list[Part]:
    match design.blade.spar[name]:
        case CapSpar(web=web):
            parts = laminations(design, blade, name, route, places, spans)
            return parts + (webs(design, name, bays(design, blade, name, route, places), len(places)) if web else [])
        case BoxSpar():
            return boxes(design, blade, name, route, places, spans)
        case UprightSpar():
            return sheets(design, blade, name, route, places, spans, tol)
    return single(design, name, route, spans)
