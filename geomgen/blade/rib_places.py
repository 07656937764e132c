"""Where ribs stand: runs along r in equal bays, and one more wherever a fitting needs it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil

from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.figures import mm


@dataclass(frozen=True)
class RibPlace:
    """One rib's place.

    name         : "R1" at the root (or "R01"), counted outwards
    r_mm         : its mid-plane [mm]; the first and last ribs stand flush with the blade's ends
    run          : name of the [blade.ribs.*] table it belongs to
    stock        : name of its sheet
    thickness_mm : thickness of that sheet [mm]
    fittings     : names of the fittings fixed to it
    number       : counted outwards from 1; of a doubler's place, that of its rib
    """

    name: str
    r_mm: float
    run: str
    stock: str
    thickness_mm: float
    fittings: tuple[str, ...] = ()
    number: int = 0


def rib_places(design: Design) -> tuple[RibPlace, ...]:
    """Every rib of one blade, from the root outwards.

    A run stands ribs at both its ends and at equal bays no longer than `every` between; where two runs meet, the
    rib is the inner run's. A fitting that needs a rib shares one closer than that rib's thickness, or gets its own;
    either way that rib is cut from the fitting's `rib_stock`, if it names one.

    raises : MakeError where a fitting that needs a rib lies in no run, where two that share a rib ask for different
             sheets, or where ribs stand in one another
    """
    places: list[RibPlace] = []
    for run, table in design.blade.ribs.items():
        start, end = design.r(table.from_), design.r(table.to)
        bays = max(1, ceil((end - start) / table.every - 1e-9))
        radii = [start + (end - start) * i / bays for i in range(bays + 1)]
        places += [RibPlace("", r, run, table.stock, design.sheet(table.stock).thickness) for r in radii]
    places = _one_each(sorted(places, key=lambda p: p.r_mm))
    places = _with_fittings(design, places)
    flush = _flush(design, places)
    if faults := _touching(flush):
        raise MakeError(faults)
    digits = len(str(len(flush)))  # "R01" where there are ten or more: names sort as ribs stand
    return tuple(replace(place, name=f"R{i:0{digits}d}", number=i) for i, place in enumerate(flush, start=1))


def _one_each(places: list[RibPlace]) -> list[RibPlace]:
    """Where two runs end at one radius, keep the inner run's rib."""
    kept: list[RibPlace] = []
    for place in places:
        if not kept or place.r_mm - kept[-1].r_mm > 1e-6:
            kept.append(place)
    return kept


def _with_fittings(design: Design, places: list[RibPlace]) -> list[RibPlace]:
    faults: list[Fault] = []
    for name, fitting in design.fitting.items():
        if fitting.on != "blade" or not fitting.rib:
            continue
        r = design.r(fitting.at)
        nearest = min(range(len(places)), key=lambda i: abs(places[i].r_mm - r))
        if abs(places[nearest].r_mm - r) < places[nearest].thickness_mm:
            faults += _other_sheet(design, name, places[nearest])
            places[nearest] = replace(
                _cut_from(design, name, places[nearest]), fittings=(*places[nearest].fittings, name)
            )
            continue
        run = next((n for n, t in design.blade.ribs.items() if design.r(t.from_) <= r <= design.r(t.to)), None)
        if run is None:
            faults.append(
                Fault(
                    f"fitting.{name}.at",
                    mm(r),
                    "the fitting needs a rib, and no run of ribs reaches it",
                    remedy="move the fitting, lengthen a run, or set rib = false",
                )
            )
            continue
        table = design.blade.ribs[run]
        own = RibPlace("", r, run, table.stock, design.sheet(table.stock).thickness, (name,))
        places.append(_cut_from(design, name, own))
        places.sort(key=lambda p: p.r_mm)
    if faults:
        raise MakeError(faults)
    return places


def _cut_from(design: Design, name: str, place: RibPlace) -> RibPlace:
    """A rib that a fitting stands on, of the sheet the fitting asks for."""
    stock = design.fitting[name].rib_stock
    return place if stock is None else replace(place, stock=stock, thickness_mm=design.sheet(stock).thickness)


def _other_sheet(design: Design, name: str, place: RibPlace) -> list[Fault]:
    """A fault where a fitting asks for another sheet than one that has the same rib already."""
    mine = design.fitting[name].rib_stock
    others = [other for other in place.fittings if design.fitting[other].rib_stock not in (None, mine)]
    if mine is None or not others:
        return []
    wrong = f"it shares the rib at r {mm(place.r_mm, 1)} with fitting.{others[0]}, which asks for {place.stock}"
    return [
        Fault(f"fitting.{name}.rib_stock", mine, wrong, remedy="the same sheet for both, or put them further apart")
    ]


def _flush(design: Design, places: list[RibPlace]) -> list[RibPlace]:
    """Ribs at the frame's very ends move in by half their thickness, so that nothing stands beyond root or frame."""
    moved = []
    for place in places:
        low = design.rotor.root + place.thickness_mm / 2
        high = design.frame_end - place.thickness_mm / 2
        moved.append(replace(place, r_mm=min(max(place.r_mm, low), high)))
    return moved


def _touching(places: list[RibPlace]) -> list[Fault]:
    """One fault for each run in which a rib stands in its inner neighbour."""
    faults: dict[str, Fault] = {}
    for inner, outer in pairwise(places):
        apart, least = outer.r_mm - inner.r_mm, (inner.thickness_mm + outer.thickness_mm) / 2
        if apart >= least:
            continue
        path = f"blade.ribs.{outer.run}" + (".every" if inner.run == outer.run else ".from")
        if outer.fittings or inner.fittings:
            path = f"fitting.{(outer.fittings or inner.fittings)[0]}.at"
        wrong = f"the ribs at r {mm((inner.r_mm, outer.r_mm), 1)} stand in one another, {mm(least)} needed"
        remedy = "more between them, or a fitting on the rib that is there"
        faults.setdefault(path, Fault(path, "", wrong, remedy=remedy))
    return list(faults.values())
