"""Ribs: outlines under the skin, the holes that spars and wires need, lightening, checks and letters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen import units
from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import Design, LengthStock
from geomgen.errors import Fault, MakeError
from geomgen.parts.lettering import Arrow, letter
from geomgen.parts.lighten import lightening_holes
from geomgen.parts.openings import round_hole, slot
from geomgen.parts.part import Flat, Part
from geomgen.parts.sheet_fit import too_large
from geomgen.parts.skin import skin_mm
from geomgen.parts.spread import point
from geomgen.parts.under_skin import LEAST_NOSE_RADIUS_MM, Outline, under_skins
from geomgen.plane.arcs import join
from geomgen.plane.ligament import Ligament, ligaments_of
from geomgen.plane.path import Circle, Loop, Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import smooth_arcs
from geomgen.tolerances import Tolerances


@dataclass(frozen=True)
class Opening:
    """A hole in a rib, and the key path of what asked for it."""

    path: str
    loop: Loop


@dataclass(frozen=True, eq=False)
class Blank:
    """A rib before lightening and letters, in its station's own frame.

    place    : where it stands and what it is cut from
    station  : the placed section
    skin_mm  : thickness of the skin over it [mm]
    outline  : its edge before arcs
    edge     : its edge as lines and arcs
    openings : holes for spars, wires and screws
    notes    : what the maker should know of it
    """

    place: RibPlace
    station: Station
    skin_mm: float
    outline: Outline
    edge: Path
    openings: tuple[Opening, ...]
    notes: tuple[str, ...]

    @property
    def region(self) -> Region:
        """Edge and holes so far."""
        return Region(self.edge, tuple(opening.loop for opening in self.openings))


def blanks(
    design: Design,
    blade: Blade,
    places: Sequence[RibPlace],
    spars: Mapping[str, Route],
    channels: Mapping[str, Route],
    tol: Tolerances,
) -> tuple[Blank, ...]:
    """Every rib's edge and the holes of spars and channels; all edges become arcs in one go.

    raises : MakeError, every fault at once, where the skins leave no rib or an edge can't be drawn
    """
    stations = blade.stations([place.r_mm for place in places])
    skins = [skin_mm(design, place.r_mm) for place in places]
    least = design.blade.construction.least_tail
    found = under_skins(stations, skins, least, [f"blade.ribs.{place.run}" for place in places])
    missing = [_no_rib(place, least) for place, outline in zip(places, found, strict=True) if outline is None]
    if missing:
        raise MakeError(missing)
    outlines = [outline for outline in found if outline is not None]
    paths = iter(smooth_arcs([piece for outline in outlines for piece in outline.pieces], tol))
    made = []
    for place, station, skin, outline in zip(places, stations, skins, outlines, strict=True):
        edge = join([next(paths) for _ in outline.pieces], closed=True)
        openings, notes = _openings(design, place, station, spars, channels, tol)
        notes = _edge_notes(outline, skin, place.r_mm) + notes
        made.append(Blank(place, station, skin, outline, edge, tuple(openings), tuple(notes)))
    return tuple(made)


def with_openings(blank: Blank, path: str, loops: Sequence[Loop]) -> Blank:
    """The same rib with more holes."""
    return replace(blank, openings=(*blank.openings, *(Opening(path, loop) for loop in loops)))


def ribs(design: Design, made: Sequence[Blank]) -> list[Part]:
    """Ribs lightened, checked, lettered, and mirrored for a clockwise rotor.

    raises : MakeError, every fault at once, where a ligament is thinner than the construction's web
    """
    found = ligaments_of([blank.region for blank in made])
    if faults := thin_places(design, made, found):
        raise MakeError(faults)
    return [_part(design, blank, ligaments) for blank, ligaments in zip(made, found, strict=True)]


def thin_places(
    design: Design, made: Sequence[Blank], ligaments: Sequence[Sequence[Ligament]] | None = None
) -> list[Fault]:
    """Every place where less wood than the construction's web is left between holes, or from a hole to the edge.

    ligaments : of each rib, narrowest first; measured here if left out
    """
    found = ligaments_of([blank.region for blank in made]) if ligaments is None else ligaments
    return [fault for blank, some in zip(made, found, strict=True) for fault in _thin(design, blank, some)]


def _openings(
    design: Design,
    place: RibPlace,
    station: Station,
    spars: Mapping[str, Route],
    channels: Mapping[str, Route],
    tol: Tolerances,
) -> tuple[list[Opening], list[str]]:
    openings, notes = [], []
    for name, route in spars.items():
        spar = design.blade.spar[name]
        stock = design.stock[spar.stock]
        if not route.passes(place.r_mm) or not isinstance(stock, LengthStock):
            continue
        if stock.outside is not None:
            loop, note = round_hole(station, route, stock.outside + spar.fit, place.thickness_mm, tol)
        else:
            size = (stock.width or 0.0) + spar.fit, (stock.height or 0.0) + spar.fit
            loop, note = slot(station, route, size, place.thickness_mm, tol)
        openings.append(Opening(route.path, loop))
        notes.append(note)
    for name, route in channels.items():
        if route.passes(place.r_mm):
            loop, note = round_hole(station, route, design.blade.channel[name].diameter, place.thickness_mm, tol)
            openings.append(Opening(route.path, loop))
            notes.append(note)
    return openings, [note for note in notes if note]


def _edge_notes(outline: Outline, skin: float, r_mm: float) -> list[str]:
    notes = []
    if outline.blunt:
        notes.append(
            f"at r {r_mm:.0f} mm the inside of a {skin:g} mm skin would bend to "
            f"{max(outline.nose_radius_mm, 0.0):.2f} mm at the nose, "
            f"less than {LEAST_NOSE_RADIUS_MM:g} mm: the rib begins at {outline.nose_mm:.1f} mm; "
            "fill the nose with a strip, or take a thinner skin or a rounder nose"
        )
    return notes


def _no_rib(place: RibPlace, least: float) -> Fault:
    return Fault(
        f"blade.ribs.{place.run}",
        "",
        f"at r {place.r_mm:.1f} mm the skins leave nothing {least:g} mm deep",
        remedy="a thicker section, a thinner skin, or a smaller blade.construction.least_tail",
    )


def _thin(design: Design, blank: Blank, ligaments: Sequence[Ligament]) -> list[Fault]:
    web = design.blade.construction.web
    where = f"on rib {blank.place.name} at r {blank.place.r_mm:.1f} mm"
    faults = []
    for ligament in ligaments:
        if ligament.gap_mm >= web - 1e-3:
            continue
        blamed, other = blank.openings[ligament.hole].path, "the edge"
        if ligament.other is not None:  # blame the later of two: spars come before channels, channels before screws
            blamed, other = blank.openings[ligament.other].path, blamed
        left = f"leaves {ligament.gap_mm:.2f} mm of wood to {other}" if ligament.gap_mm > 0 else f"runs into {other}"
        faults.append(
            Fault(
                blamed,
                "",
                f"{left} {where}, {web:g} mm needed",
                remedy="move one of them, make it smaller, or choose a deeper section or a thinner skin there",
            )
        )
    return faults


def _radius(design: Design, r_mm: float) -> str:
    """A rib's radius as it is engraved: whole mm, or two decimals of another unit."""
    unit = design.units or "mm"
    if unit == "mm":
        return f"r {r_mm:.0f}"
    return f"r {units.in_unit(r_mm, units.LENGTH, unit):.{ {'cm': 1, 'in': 2}.get(unit, 3) }f} {unit}"


def _part(design: Design, blank: Blank, ligaments: Sequence[Ligament]) -> Part:
    place, station = blank.place, blank.station
    lighten = design.blade.ribs[place.run].lighten
    loops = [opening.loop for opening in blank.openings]
    light: tuple[Circle, ...] = ()
    if lighten is not None:
        light = lightening_holes(blank.region, blank.outline.middle(), lighten.web, lighten.least)
    region = Region(blank.edge, (*loops, *light))
    centre = station.to_blade(np.array([region.centroid()]))[0]
    clockwise = design.rotor.turn == "clockwise"
    chord_line = from_points(np.array([[blank.outline.nose_mm, 0.0], [blank.outline.tail_mm, 0.0]]), closed=False)
    corners = tuple((name, (-x if clockwise else x, y)) for name, (x, y) in blank.outline.corners)
    flat = Flat(
        region=region.mirrored_x() if clockwise else region,
        thickness_mm=place.thickness_mm,
        reference=(chord_line.mirrored_x() if clockwise else chord_line,),
        face="root side",
        corners=corners,
    )
    arrows = [Arrow("UP", "up"), Arrow("FWD", "right" if clockwise else "left")]
    flat, unlettered = letter(flat, [place.name, _radius(design, place.r_mm), "ROOT SIDE"], arrows)
    mirror = np.diag([-1.0 if clockwise else 1.0, 1.0, 1.0, 1.0])
    return Part(
        name=f"rib {place.name}",
        what="rib",
        stock=place.stock,
        path=f"blade.ribs.{place.run}",
        shape=flat,
        on="blade",
        count=1,
        spread=point(centre),
        places=(station.matrix() @ mirror,),
        r_mm=place.r_mm,
        notes=(*blank.notes, *too_large(design, place.stock, region), *unlettered),
        facts={
            "chord_mm": station.chord_mm,
            "angle_deg": station.angle_deg,
            "skin_mm": blank.skin_mm,
            "tail_share": blank.outline.tail_mm / station.chord_mm,
            **({"least_web_mm": ligaments[0].gap_mm} if ligaments else {}),
        },
    )
