"""Strips of wood along nose and tail, planed to the section."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import sheet_mm
from geomgen.blade.station import Station
from geomgen.design.schema import Covered, Design, EdgeStock, LengthStock, Ribbed, Sheeted
from geomgen.errors import Fault, MakeError
from geomgen.model.part import Part, Shaped
from geomgen.model.role import Assembly, Role
from geomgen.model.rounding import at_least
from geomgen.model.spread import along_r
from geomgen.structure.covers.slab import Slab, slab
from geomgen.structure.ribs.blank import Blank

FloatArray = NDArray[np.float64]

SPARE_MM = 1.0  # of a blank's height, to be planed away; common practice
PROUD_MM = 0.2  # a nose that stands so far ahead of the leading edge isn't worth a wider blank
REACH_MM = 0.1  # a rib that ends nearer to its strip than this is taken to touch it
TURN_DEG = 0.5  # a strip that turns by more from root to tip is said to


@dataclass(frozen=True)
class _Wanted:
    """A strip along the blade.

    name     : "nose strip" or "tail strip"
    path     : key path of its table
    edge     : its table
    depth_mm : film over it [mm]
    """

    name: str
    path: str
    edge: EdgeStock
    depth_mm: float

    @property
    def nose(self) -> bool:
        """Whether it lies along the nose."""
        return self.name == "nose strip"


def edge_strips(design: Design, blade: Blade, made: Sequence[Blank]) -> list[Part]:
    """The strips along nose and tail, from the root to the frame's end.

    Skin and sheet end flush on a strip, so it is planed to the section itself; film lies over it, and the strip is the
    film's thickness smaller. It is upright where it meets the ribs.

    made   : every rib, to see that they reach the strips
    raises : MakeError, every fault at once: a blank too small or too short, or ribs that don't reach the strip they
             alone would hold
    """
    parts, faults = list[Part](), list[Fault]()
    for wanted in _wanted(design):
        try:
            parts.append(_strip(design, blade, wanted, made))
        except MakeError as error:
            faults.extend(error.faults)
    if faults:
        raise MakeError(faults)
    return parts


def _wanted(design: Design) -> Iterator[_Wanted]:
    built, film = design.blade.construction, 0.0
    ends: tuple[tuple[str, str, EdgeStock | None], ...] = ()
    match built:
        case Ribbed():
            strip = built.strip if built.pattern == "panels" else None
            ends = ("nose strip", "strip", strip), ("tail strip", "tail", built.tail)
        case Sheeted():
            film = sheet_mm(design, built.cover) if built.cover else 0.0
            ends = ("nose strip", "nose", built.nose), ("tail strip", "tail", built.tail)
        case Covered():
            film = sheet_mm(design, built.stock)
            ends = ("nose strip", "nose", built.nose), ("tail strip", "tail", built.tail)
    for name, key, edge in ends:
        if edge is not None:
            yield _Wanted(name, f"blade.construction.{key}", edge, film)


def _strip(design: Design, blade: Blade, wanted: _Wanted, made: Sequence[Blank]) -> Part:
    breaks = blade.breaks()
    end = design.frame_end
    breaks = np.unique([design.rotor.root, *breaks[(breaks > design.rotor.root) & (breaks < end)], end])

    def measure(r: float) -> tuple[float, FloatArray]:
        stations = blade.stations([r])
        found = _cut(wanted, stations)
        return float(found.area[0]), stations[0].to_blade(found.centroid)[0]

    volume, spread = along_r(breaks, measure)
    radii = np.unique(np.concatenate([np.linspace(a, b, 9) for a, b in pairwise(breaks)]))
    stations = blade.stations(radii)
    found = _cut(wanted, stations)
    line = np.vstack([s.to_blade(c) for s, c in zip(stations, found.centroid, strict=True)])
    length = float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum())
    faults, notes = _reached(design, wanted, made)
    faults += _unfit(design, wanted, found, radii, length)
    if faults:
        raise MakeError(faults)
    turn = stations[0].angle_deg - stations[-1].angle_deg
    wide, high = wanted.edge.width, found.size[:, 1]
    notes.append(
        f"plane it from {wide:g} x {high.max() + SPARE_MM:.1f} mm or more: {high[0]:.1f} mm high at the root, "
        f"{high[-1]:.1f} mm at the tip"
    )
    if abs(turn) > TURN_DEG:
        notes.append(f"it turns by {abs(turn):.1f} deg from root to tip: plane it when it is glued to the ribs")
    return Part(
        name=wanted.name,
        role=Role.NOSE_STRIP if wanted.nose else Role.TAIL_STRIP,
        stock=wanted.edge.stock,
        path=wanted.path,
        shape=Shaped(length, volume),
        assembly=Assembly.BLADE,
        count=1,
        spread=spread,
        notes=tuple(notes),
        facts={"height_root_mm": float(high[0]), "height_tip_mm": float(high[-1])},
    )


def _cut(wanted: _Wanted, stations: Sequence[Station]) -> Slab:
    """The strip's own cross-sections at many stations."""
    width = np.full(len(stations), wanted.edge.width)
    if wanted.nose:
        return slab(stations, wanted.depth_mm, to_mm=width)
    return slab(stations, wanted.depth_mm, from_mm=np.array([station.chord_mm for station in stations]) - width)


def _unfit(design: Design, wanted: _Wanted, found: Slab, radii: FloatArray, length: float) -> list[Fault]:
    """What is wrong with the stock: too low, too narrow, too short."""
    name, stock, path = wanted.edge.stock, design.stock[wanted.edge.stock], f"{wanted.path}.stock"
    assert isinstance(stock, LengthStock)  # the rules see to it, and that it is a strip
    j, k = np.argmax(found.size, axis=0)
    wide, high = float(found.size[j, 0]), float(found.size[k, 1]) + SPARE_MM
    where = f"the {wanted.name} is {high - SPARE_MM:.1f} mm high at r {radii[k]:.0f} mm"
    narrower = f"a thicker stock, or a smaller {wanted.path}.width"
    faults = []
    if stock.width is not None and stock.height is not None:
        if stock.height < high:
            wrong = f"is {stock.height:g} mm high: {where}, and {SPARE_MM:g} mm is planed away"
            faults.append(Fault(path, name, wrong, f"a height of at least {at_least(high)} mm", narrower))
        if stock.width < wide - PROUD_MM:
            wrong = (
                f"is {stock.width:g} mm wide: the {wanted.name} takes {wide:.1f} mm of the chord at r {radii[j]:.0f} mm"
            )
            remedy = f"a wider stock, or a smaller {wanted.path}.width"
            faults.append(Fault(path, name, wrong, f"a width of at least {at_least(wide - PROUD_MM)} mm", remedy))
    if stock.length is not None and length > stock.length:
        wrong = f"is sold in {stock.length:g} mm: the {wanted.name} is {length:.1f} mm long"
        remedy = "a longer stock, or state the length of two that are scarfed together first"
        faults.append(Fault(path, name, wrong, f"a length of at least {at_least(length)} mm", remedy))
    return faults


def _reached(design: Design, wanted: _Wanted, made: Sequence[Blank]) -> tuple[list[Fault], list[str]]:
    """Whether ribs end ahead of the tail strip, or begin behind the nose strip: a fault where they alone hold it."""
    if wanted.nose:
        widths = [blank.outline.nose_mm for blank in made]
    else:
        widths = [blank.station.chord_mm - blank.outline.tail_mm for blank in made]
    gaps = np.array(widths) - wanted.edge.width
    if not len(gaps) or gaps.max() <= REACH_MM:
        return [], []
    k = int(np.argmax(gaps))
    thin = "begins" if wanted.nose else f"gets thinner than {design.blade.construction.least_tail:g} mm and ends"
    wrong = f"rib {made[k].place.name} at r {made[k].place.r_mm:.1f} mm {thin} {gaps[k]:.1f} mm away from it"
    need = np.ceil(10.0 * max(widths)) / 10.0
    built = design.blade.construction
    if isinstance(built, Ribbed) or (isinstance(built, Sheeted) and (built.to is None or wanted.nose)):
        return [], [f"{wrong}: there the sheets alone hold it; all ribs would reach one {need:.1f} mm wide"]
    value, allowed = f"{wanted.edge.width:g} mm", f"at least {need:.1f} mm"
    return [Fault(f"{wanted.path}.width", value, wrong, allowed, "a wider strip, or a smaller least_tail")], []
