"""Rib blanks: the edge under what covers it, with the holes and notches of spars, channels and screws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from geomgen.blade.cover import Cover
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.station import Station
from geomgen.blade.under_cover import under_covers
from geomgen.blade.under_skin import LEAST_NOSE_RADIUS_MM, Outline
from geomgen.errors import Fault, MakeError, told_once
from geomgen.figures import at_least, mm
from geomgen.model.layout import Layout, Slice
from geomgen.plane.arcs import join
from geomgen.plane.path import Path
from geomgen.plane.region import Region
from geomgen.plane.smooth import smooth_arcs
from geomgen.plane.splice import notched
from geomgen.structure.openings import Opening, round_hole
from geomgen.structure.spars.all import spar_cuts
from geomgen.structure.spars.cuts import Cuts, Notch, outside_notches


@dataclass(frozen=True, eq=False)
class Blank:
    """A rib before lightening and letters, in its station's own frame.

    place    : where it stands and what it is cut from
    station  : the placed section
    cover    : what lies over it
    outline  : its edge before arcs and notches
    edge     : its edge as lines and arcs, notches cut
    openings : holes for spars, wires and screws
    notches  : cut into its edge for spars
    notes    : what the maker should know of it
    """

    place: RibPlace
    station: Station
    cover: Cover
    outline: Outline
    edge: Path
    openings: tuple[Opening, ...]
    notches: tuple[Notch, ...]
    notes: tuple[str, ...]

    @property
    def skin_mm(self) -> float:
        """Thickness of what covers it, behind the nose [mm]."""
        return self.cover.ahead_mm

    @property
    def region(self) -> Region:
        """Edge and holes so far."""
        return Region(self.edge, tuple(opening.loop for opening in self.openings))


def blanks(layout: Layout, places: Sequence[RibPlace]) -> tuple[Blank, ...]:
    """The edge of a rib at each place and the holes of spars and channels; all edges become arcs in one go.

    raises : MakeError, every fault at once, where the skins leave no rib or an edge can't be drawn
    """
    stations = layout.blade.stations([place.r_mm for place in places])
    covers = [layout.cover(place.r_mm) for place in places]
    least = layout.design.blade.construction.least_tail
    found = under_covers(stations, covers, least, [f"blade.ribs.{place.run}" for place in places])
    missing = [
        (f"blade.ribs.{place.run}", place.name, 0.0, _no_rib(place, over, least))
        for place, over, outline in zip(places, covers, found, strict=True)
        if outline is None
    ]
    if missing:
        raise MakeError(told_once(missing))
    outlines = [outline for outline in found if outline is not None]
    paths = iter(smooth_arcs([piece for outline in outlines for piece in outline.pieces], layout.tol))
    made = []
    for place, station, over, outline in zip(places, stations, covers, outlines, strict=True):
        edge = join([next(paths) for _ in outline.pieces], closed=True)
        spars = spar_cuts(layout, place, Slice(station, outline))
        cuts = [*spars.values(), _channel_cuts(layout, place, station)]
        openings = tuple(opening for cut in cuts for opening in cut.openings)
        notes = (*_blunt(outline, over.ahead_mm, place.r_mm), *(note for cut in cuts for note in cut.notes))
        notches = tuple(notch for cut in cuts for notch in cut.notches)
        openings = outside_notches(openings, notches) if notches else openings
        made.append(Blank(place, station, over, outline, _notched(edge, notches), openings, notches, notes))
    return tuple(made)


def _channel_cuts(layout: Layout, place: RibPlace, station: Station) -> Cuts:
    openings, notes = list[Opening](), list[str]()
    for name, route in layout.channels.items():
        if route.passes(place.r_mm):
            diameter = layout.design.blade.channel[name].diameter
            loop, note = round_hole(station, route, diameter, place.thickness_mm, layout.tol)
            openings.append(Opening(route.path, loop))
            notes += [note] if note else []
    return Cuts(tuple(openings), notes=tuple(notes))


def _notched(edge: Path, notches: Sequence[Notch]) -> Path:
    for notch in notches:
        edge = notched(edge, notch.at, notch.way, notch.width_mm, notch.depth_mm)
    return edge


def with_holes(blank: Blank, holes: Sequence[Opening], notes: Sequence[str] = ()) -> Blank:
    """The same rib with the holes of screws or ties, which run straight along the blade, and what to know of them."""
    openings = (*blank.openings, *(replace(hole, straight=True) for hole in holes))
    return replace(blank, openings=openings, notes=(*blank.notes, *notes))


def _blunt(outline: Outline, skin_mm: float, r_mm: float) -> tuple[str, ...]:
    """What to say of a nose that the skin can't follow."""
    if not outline.blunt:
        return ()
    return (
        f"at r {mm(r_mm, 0)} the inside of a {mm(skin_mm)} skin would bend to "
        f"{mm(max(outline.nose_radius_mm, 0.0), 2)} at the nose, less than {mm(LEAST_NOSE_RADIUS_MM)}: the rib begins "
        f"at {mm(outline.nose_mm, 1)}; fill the nose with a strip, or take a thinner skin or a rounder nose",
    )


def _no_rib(place: RibPlace, over: Cover, least: float) -> Fault:
    depth = over.ahead_mm if over.step is None else min(over.ahead_mm, over.behind_mm)
    return Fault(
        f"blade.ribs.{place.run}",
        "",
        f"at r {mm(place.r_mm, 1)} the skins, {mm(depth)} on either side, leave nothing {mm(least)} deep",
        allowed=f"a section more than {at_least(2 * depth + least)} deep",
        remedy="a thicker section, a thinner skin, or a smaller blade.construction.least_tail",
    )
