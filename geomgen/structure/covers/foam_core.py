"""Foam cores: what is left of the section under its cover, bay by bay, as blocks that a hot wire is drawn through."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.blade import Blade
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import HALVES, Core, LengthStock, Spar
from geomgen.figures import mm
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made, attempted, together
from geomgen.model.part import Part, Shaped
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import along_r, second_of
from geomgen.structure.covers.hot_wire import Cutter, Datum, End, WireCut, datum, on_surface
from geomgen.structure.covers.slab import slab
from geomgen.structure.ribs.blank import Blank

AROUND_MM = (20.0, 10.0)  # a block is longer along the chord, and higher, than the core by so much; ours
FEW = 4  # more pieces than this are said to be many
LEAST_MM = 3.0  # between ribs nearer than this there is no foam
ENDS: tuple[End, End] = ("root", "tip")
PATH = "blade.construction"
SAID_MM = 0.05  # a wire's straight way off the blade's own shape by more than this is said


@dataclass(frozen=True, eq=False)
class _Bay:
    """One piece of foam between two radii [mm]; its name, "core" or "core 2", and its number."""

    name: str
    number: int
    start: float
    end: float


def cores(layout: Layout, built: Core) -> Made:
    """Every piece of foam of one blade.

    A piece runs from rib to rib, as a wire runs straight, and is parted where chord, twist or section change their
    way. The holes of round spars, strips and channels are taken off where they pass; the trench that lets a spar in is
    taken to be filled with its own foam again.
    """
    holes, bays = _holes(layout), _bays(layout)
    made = together(*(attempted(partial(_block, layout, built, bay, holes)) for bay in bays))
    if not made.parts or len(bays) <= FEW:
        return made
    first = made.parts[0]
    noted = replace(first, notes=(*first.notes, _many(len(layout.ribs), len(bays))))
    return replace(made, parts=(noted, *made.parts[1:]))


def wire_cuts(layout: Layout, built: Core) -> tuple[WireCut, ...]:
    """Both ends of every piece of foam, for the templates that it is cut between.

    raises : MakeError where a piece has no room for two pins
    """
    holes, cutter, found = _holes(layout), _cutter(layout, built), list[WireCut]()
    for bay in _bays(layout):
        ends = layout.blade.stations([bay.start, bay.end])
        pins = datum(ends, cutter, bay.name)
        for station, end in zip(ends, ENDS, strict=True):
            rings = tuple(
                (hole.route.in_station(station)[0], hole.outside_mm)
                for hole in holes
                if hole.outside_mm is not None and hole.route.passes(station.r_mm)
            )
            found.append(WireCut(bay.name, bay.number, end, station, cutter, pins, rings, built.template))
    return tuple(found)


def on_ribs(layout: Layout, ribs: Sequence[Blank]) -> Iterator[Joint]:
    """The foam glued to the faces of the ribs at its ends; a rib between two pieces counts once."""
    bays = _bays(layout)
    for rib in ribs:
        faces = [rib.place.r_mm + side * rib.place.thickness_mm / 2 for side in (-1.0, 1.0)]
        beside = [bay for bay in bays if abs(bay.end - faces[0]) < 1e-6 or abs(bay.start - faces[1]) < 1e-6]
        place = rib.station.to_blade(np.array([rib.region.centroid()]))[0]
        for bay in beside:
            contact = np.array([[abs(rib.region.area()) / len(beside), *place]])
            lies = rib.station.turned(rib.region.covariance())[None]
            yield Joint(_key(bay), rib_key(rib.place), Bond.GLUED, PATH, contact, second=lies)


def core_keys(layout: Layout) -> tuple[Key, ...]:
    """Which parts the pieces of foam become, root to tip."""
    return tuple(_key(bay) for bay in _bays(layout))


def _key(bay: _Bay) -> Key:
    return Key(Role.CORE, PATH, (bay.number,))


def _cutter(layout: Layout, built: Core) -> Cutter:
    return Cutter(layout.design.sheet(built.cover).thickness if built.cover else 0.0, built.wire)


def _many(ribs: int, pieces: int) -> str:
    return (
        f"{ribs} ribs part the foam into {pieces} pieces, with two templates each: a core needs ribs at the root, at "
        "fittings and at the tip only, so let those between stand farther apart"
    )


def _bays(layout: Layout) -> list[_Bay]:
    spans, at = list[tuple[float, float]](), layout.design.rotor.root
    for rib in sorted(layout.ribs, key=lambda rib: rib.r_mm):
        spans.append((at, rib.r_mm - rib.thickness_mm / 2))
        at = rib.r_mm + rib.thickness_mm / 2
    spans.append((at, layout.design.frame_end))
    ends = []
    for start, end in spans:
        if end - start >= LEAST_MM:
            inside = [float(r) for r in layout.blade.breaks() if start + LEAST_MM < r < end - LEAST_MM]
            ends += list(zip([start, *inside], [*inside, end], strict=True))
    names = ["core"] if len(ends) == 1 else [f"core {i}" for i in range(1, len(ends) + 1)]
    return [_Bay(name, i, *span) for i, (name, span) in enumerate(zip(names, ends, strict=True), start=1)]


@dataclass(frozen=True, eq=False)
class _Hole:
    """Something that passes through the foam: its route, and what it takes across itself [mm2]."""

    route: Route
    area_mm2: float
    outside_mm: float | None


def _holes(layout: Layout) -> list[_Hole]:
    design, found = layout.design, []
    for name, route in layout.spars.items():
        spar, stock = design.blade.spar[name], design.stock[design.blade.spar[name].stock]
        if not (isinstance(spar, Spar) and isinstance(stock, LengthStock)):
            continue
        if stock.outside is not None:
            outside = stock.outside + spar.fit
            found.append(_Hole(route, float(np.pi / 4 * outside**2), outside))
        elif stock.width is not None and stock.height is not None:
            found.append(_Hole(route, (stock.width + spar.fit) * (stock.height + spar.fit), None))
    for name, route in layout.channels.items():
        wide = design.blade.channel[name].diameter
        found.append(_Hole(route, float(np.pi / 4 * wide**2), wide))
    return found


def _block(layout: Layout, built: Core, bay: _Bay, holes: Sequence[_Hole]) -> Made:
    blade, cutter = layout.blade, _cutter(layout, built)
    ends = blade.stations([bay.start, bay.end])
    volume, spread = _volume(blade, bay, holes, cutter.cover_mm)
    across = [
        _across(station, spread_row, holes, cutter.cover_mm)
        for station, spread_row in zip(blade.stations(spread[:, 1]), spread, strict=True)
    ]
    pins = datum(ends, cutter, bay.name)
    off = _ruled_off_mm(blade, bay, cutter.cover_mm)
    part = Part(
        name=bay.name,
        role=Role.CORE,
        stock=built.stock,
        path=PATH,
        shape=Shaped(bay.end - bay.start, volume),
        assembly=Assembly.BLADE,
        count=1,
        spread=spread,
        notes=tuple(_said(ends, bay, cutter.cover_mm, pins, off, built.least_tail)),
        facts={"ruled_off_mm": off},
        mark=(bay.number,),
        second=second_of(spread, np.array(across)),
    )
    return Made((part,))


def _volume(blade: Blade, bay: _Bay, holes: Sequence[_Hole], cover_mm: float) -> tuple[float, FloatArray]:
    """Volume of a piece [mm3], and where it sits."""
    stops = [r for hole in holes for r in (hole.route.start[0], hole.route.end[0])]
    inside = [r for r in (*blade.breaks(), *stops) if bay.start < r < bay.end]

    def measure(r: float) -> tuple[float, FloatArray]:
        stations = blade.stations([r])
        found = slab(stations, cover_mm)
        area, first = float(found.area[0]), found.area[0] * stations[0].to_blade(found.centroid)[0]
        for hole in holes:
            if hole.route.passes(r):
                taken = hole.area_mm2 * float(np.sqrt(1.0 + hole.route.slope @ hole.route.slope))
                area, first = area - taken, first - taken * hole.route.at(r)
        return area, first / area

    return along_r(np.unique([bay.start, *inside, bay.end]), measure)


def _across(station: Station, row: FloatArray, holes: Sequence[_Hole], cover_mm: float) -> FloatArray:
    """(3, 3) mean of place times place over a cross-section about its centre, less what passes through it [mm2].

    row : (4,) its share, and its centre in the blade frame [mm]
    """
    found = slab([station], cover_mm)
    area, whole = float(found.area[0]), np.zeros((3, 3))
    for size, place, own in (
        (area, station.to_blade(found.centroid)[0], station.turned(found.second[0])),
        *(
            (
                -hole.area_mm2 * float(np.sqrt(1.0 + hole.route.slope @ hole.route.slope)),
                hole.route.at(station.r_mm),
                0.0,
            )
            for hole in holes
            if hole.route.passes(station.r_mm)
        ),
    ):
        whole += size * (np.outer(place - row[1:], place - row[1:]) + own)
        area += min(size, 0.0)
    return whole / area


def _ruled_off_mm(blade: Blade, bay: _Bay, cover_mm: float) -> float:
    """How far a straight wire half way between the templates runs off the section that is wanted there [mm]."""
    inner, middle, outer = blade.stations([bay.start, (bay.start + bay.end) / 2, bay.end])
    share, worst = np.linspace(0.0, 1.0, 81)[1:-1], 0.0
    found = slab([middle], cover_mm)
    edge = shapely.LinearRing(middle.to_blade(found.ring(0))[:, 1:])
    for half in HALVES:
        ends = []
        for station in (inner, outer):
            places, inwards = on_surface(station, half, share)
            ends.append(station.to_blade(places + cover_mm * inwards)[:, 1:])
        worst = max(worst, float(shapely.distance(edge, shapely.points((ends[0] + ends[1]) / 2)).max()))
    return worst


def _said(
    ends: Sequence[Station], bay: _Bay, cover_mm: float, pins: Datum, off_mm: float, least_tail_mm: float
) -> list[str]:
    found = slab(ends, cover_mm)
    rings = [station.to_blade(found.ring(k))[:, 1:] for k, station in enumerate(ends)]
    low, high = np.min([ring.min(axis=0) for ring in rings], axis=0), np.max([r.max(axis=0) for r in rings], axis=0)
    block = (bay.end - bay.start, *(high - low + np.array(AROUND_MM)))
    notes = [
        f"from a block of {mm(block, (1, 0, 0), ' x ')}, flat below and square at its ends",
        f"the templates' level lines lie {mm(pins.up_mm - low[1] + AROUND_MM[1] / 2, 1)} above the block's flat bottom "
        f"and the rear pins {mm(pins.aft_mm - pins.fore_mm, 1)} behind the front ones, at both ends: so twist and "
        "sweep come out right",
    ]
    if off_mm > SAID_MM:
        notes.append(
            f"half way between the templates the straight wire runs {mm(off_mm, 2)} off the blade's own shape, whose "
            "chord and twist change together: a rib there parts the core and leaves a quarter of it"
        )
    x = np.linspace(1.0, 0.3, 1401)
    for station, where in zip(ends, ENDS, strict=True):
        thin = station.chord_mm * station.section.depth(x) - 2.0 * cover_mm < least_tail_mm
        behind = station.chord_mm * (1.0 - float(x[int(np.argmin(thin))]))
        if behind > 0:
            notes.append(
                f"the last {mm(behind, 1)} at the {where} are thinner than {mm(least_tail_mm)}: handle with care"
            )
    return notes
