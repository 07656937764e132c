"""Strips of wood along nose and tail, planed to the section."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.station import Station
from geomgen.design.schema import HALVES, EdgeStock, LengthStock
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.joint import Bond, Joint, Key, over
from geomgen.model.layout import Layout, rib_key
from geomgen.model.made import Made, attempted, together
from geomgen.model.part import Part, Shaped
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import along_radii, second_of
from geomgen.structure.covers.panel import Panel
from geomgen.structure.covers.slab import Slab, slab
from geomgen.structure.ribs.blank import Blank

SPARE_MM = 1.0  # of a blank's height, to be planed away; common practice
PROUD_MM = 0.2  # a nose that stands so far ahead of the leading edge isn't worth a wider blank
REACH_MM = 0.1  # a rib that ends nearer to its strip than this is taken to touch it
TURN_DEG = 0.5  # a strip that turns by more from root to tip is said to


@dataclass(frozen=True)
class EdgeStrip:
    """A strip along the blade, as a construction asks for it.

    role     : nose strip or tail strip
    path     : key path of its table
    edge     : its table
    depth_mm : film over it [mm]
    sheets   : the blade's sheets; none under film alone
    held     : whether these end on it, above and below, so that ribs needn't reach it
    """

    role: Role
    path: str
    edge: EdgeStock
    depth_mm: float = 0.0
    sheets: tuple[Panel, ...] = ()
    held: bool = False

    @property
    def nose(self) -> bool:
        """Whether it lies along the nose."""
        return self.role is Role.NOSE_STRIP

    @property
    def key(self) -> Key:
        """Which part it becomes."""
        return Key(self.role, self.path)


def nose_and_tail(
    nose: EdgeStock | None,
    tail: EdgeStock | None,
    *,
    nose_key: str = "nose",
    depth_mm: float = 0.0,
    sheets: Sequence[Panel] = (),
    held: Sequence[Role] = (),
) -> tuple[EdgeStrip, ...]:
    """The strips of those tables that are given.

    nose_key : what the nose's table is called
    held     : strips that the sheets end on
    """
    tables = ((Role.NOSE_STRIP, nose_key, nose), (Role.TAIL_STRIP, "tail", tail))
    return tuple(
        EdgeStrip(role, f"blade.construction.{key}", edge, depth_mm, tuple(sheets), role in held)
        for role, key, edge in tables
        if edge is not None
    )


def edge_strips(layout: Layout, strips: Sequence[EdgeStrip], ribs: Sequence[Blank]) -> Made:
    """The strips along nose and tail, from the root to the frame's end.

    Skin and sheet end flush on a strip, so it is planed to the section itself; film lies over it, and the strip is the
    film's thickness smaller. It is upright where it meets the ribs.

    ribs   : every rib, to see that they reach the strips
    faults : a blank too small or too short, or ribs that don't reach the strip they alone would hold
    """
    return together(*(attempted(partial(_strip, layout, strip, ribs)) for strip in strips))


def _strip(layout: Layout, strip: EdgeStrip, ribs: Sequence[Blank]) -> Made:
    blade, start, end = layout.blade, layout.design.rotor.root, layout.design.frame_end
    breaks = blade.breaks()
    breaks = np.unique([start, *breaks[(breaks > start) & (breaks < end)], end])

    def measure(r: FloatArray) -> tuple[FloatArray, FloatArray]:
        stations = blade.stations(r)
        found = _cut(strip, stations)
        return found.area, _middles(stations, found)

    volume, spread = along_radii(breaks, measure)
    there = blade.stations(spread[:, 1])
    across = np.array([s.turned(second) for s, second in zip(there, _cut(strip, there).second, strict=True)])
    radii = np.unique(np.concatenate([np.linspace(a, b, 9) for a, b in pairwise(breaks)]))
    stations = blade.stations(radii)
    found = _cut(strip, stations)
    length = float(np.linalg.norm(np.diff(_middles(stations, found), axis=0), axis=1).sum())
    faults, notes = _reached(layout, strip, ribs)
    faults += _unfit(layout, strip, found, radii, length)
    turn = stations[0].angle_deg - stations[-1].angle_deg
    wide, high = strip.edge.width, found.size[:, 1]
    notes.append(
        f"plane it from {mm((wide, high.max() + SPARE_MM), (None, 1), ' x ')} or more: {mm(high[0], 1)} high at the "
        f"root, {mm(high[-1], 1)} at the tip"
    )
    if abs(turn) > TURN_DEG:
        notes.append(f"it turns by {abs(turn):.1f} deg from root to tip: plane it when it is glued to the ribs")
    part = Part(
        name=str(strip.role),
        role=strip.role,
        stock=strip.edge.stock,
        path=strip.path,
        shape=Shaped(length, volume),
        assembly=Assembly.BLADE,
        count=1,
        spread=spread,
        notes=tuple(notes),
        facts={"height_root_mm": float(high[0]), "height_tip_mm": float(high[-1])},
        second=second_of(spread, across),
    )
    return Made((part,), tuple(_joints(layout, strip, part, length, ribs)), tuple(faults))


def _joints(layout: Layout, strip: EdgeStrip, part: Part, length_mm: float, ribs: Sequence[Blank]) -> Iterator[Joint]:
    """The strip with the ends of ribs, as far as they reach it, and with the edges of the sheets that end on it."""
    for rib, gap in zip(ribs, _gaps(strip, ribs), strict=True):
        contact = _end_face(strip, rib) if gap <= REACH_MM else np.zeros((0, 4))
        yield Joint(strip.key, rib_key(rib.place), Bond.GLUED, strip.path, contact)
    thickness = max((layout.design.sheet(panel.stock).thickness for panel in strip.sheets), default=0.0)
    area = 2.0 * length_mm * thickness
    for half in HALVES if strip.held else ():
        beside = [panel for panel in strip.sheets if half in panel.halves]
        whole = sum(panel.to_mm - panel.from_mm for panel in beside)
        for panel in beside:
            contact = over(area / 2.0 * (panel.to_mm - panel.from_mm) / whole, part.spread)
            yield Joint(panel.key, strip.key, Bond.GLUED, strip.path, contact)


def _end_face(strip: EdgeStrip, rib: Blank) -> FloatArray:
    """(1, 4) area of a rib's upright end, and its middle in the blade frame [mm2], [mm]."""
    end = 0 if strip.nose else -1
    upper, lower = rib.outline.upper.xy[end], rib.outline.lower.xy[end]
    area = rib.place.thickness_mm * float(upper[1] - lower[1])
    return np.array([[area, *rib.station.to_blade((upper + lower) / 2)[0]]])


def _gaps(strip: EdgeStrip, ribs: Sequence[Blank]) -> FloatArray:
    """(k,) how far each rib's end lies from the strip [mm]."""
    if strip.nose:
        ends = [rib.outline.nose_mm for rib in ribs]
    else:
        ends = [rib.station.chord_mm - rib.outline.tail_mm for rib in ribs]
    return np.array(ends) - strip.edge.width


def _cut(strip: EdgeStrip, stations: Sequence[Station]) -> Slab:
    """The strip's own cross-sections at many stations."""
    width = np.full(len(stations), strip.edge.width)
    if strip.nose:
        return slab(stations, strip.depth_mm, to_mm=width)
    return slab(stations, strip.depth_mm, from_mm=np.array([station.chord_mm for station in stations]) - width)


def _middles(stations: Sequence[Station], found: Slab) -> FloatArray:
    """(k, 3) the centroids of cross-sections in the blade frame [mm]."""
    return np.vstack([s.to_blade(c) for s, c in zip(stations, found.centroid, strict=True)])


def _unfit(layout: Layout, strip: EdgeStrip, found: Slab, radii: FloatArray, length: float) -> list[Fault]:
    """What is wrong with the stock: too low, too narrow, too short."""
    name, path = strip.edge.stock, f"{strip.path}.stock"
    stock = layout.design.stock[name]
    assert isinstance(stock, LengthStock)  # the rules see to it, and that it is a strip
    j, k = np.argmax(found.size, axis=0)
    wide, high = float(found.size[j, 0]), float(found.size[k, 1]) + SPARE_MM
    where = f"the {strip.role} is {mm(high - SPARE_MM, 1)} high at r {mm(radii[k], 0)}"
    narrower = f"a thicker stock, or a smaller {strip.path}.width"
    faults = []
    if stock.width is not None and stock.height is not None:
        if stock.height < high:
            wrong = f"is {mm(stock.height)} high: {where}, and {mm(SPARE_MM)} is planed away"
            faults.append(Fault(path, name, wrong, f"a height of at least {at_least(high, 1)}", narrower))
        if stock.width < wide - PROUD_MM:
            wrong = (
                f"is {mm(stock.width)} wide: the {strip.role} takes {mm(wide, 1)} of the chord at r {mm(radii[j], 0)}"
            )
            remedy = f"a wider stock, or a smaller {strip.path}.width"
            faults.append(Fault(path, name, wrong, f"a width of at least {at_least(wide - PROUD_MM, 1)}", remedy))
    if stock.length is not None and length > stock.length:
        wrong = f"is sold in {mm(stock.length)}: the {strip.role} is {mm(length, 1)} long"
        remedy = "a longer stock, or state the length of two that are scarfed together first"
        faults.append(Fault(path, name, wrong, f"a length of at least {at_least(length, 1)}", remedy))
    return faults


def _reached(layout: Layout, strip: EdgeStrip, ribs: Sequence[Blank]) -> tuple[list[Fault], list[str]]:
    """Whether ribs end ahead of the tail strip, or begin behind the nose strip: a fault where they alone hold it."""
    gaps = _gaps(strip, ribs)
    if not len(gaps) or gaps.max() <= REACH_MM:
        return [], []
    k = int(np.argmax(gaps))
    least = layout.design.blade.construction.least_tail
    thin = "begins" if strip.nose else f"gets thinner than {mm(least)} and ends"
    wrong = f"rib {ribs[k].place.name} at r {mm(ribs[k].place.r_mm, 1)} {thin} {mm(gaps[k], 1)} away from it"
    need = np.ceil(10.0 * (strip.edge.width + gaps[k])) / 10.0
    if strip.held:
        return [], [f"{wrong}: there the sheets alone hold it; all ribs would reach one {mm(need, 1)} wide"]
    value, allowed = mm(strip.edge.width), f"at least {at_least(need, 1)}"
    return [Fault(f"{strip.path}.width", value, wrong, allowed, "a wider strip, or a smaller least_tail")], []
