"""Templates that a hot wire is drawn along: the core's outline, its ticks, level line, pins, and tabs to start from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.blade.curve import Curve, Side
from geomgen.blade.rib_places import sheet_mm
from geomgen.blade.station import Station
from geomgen.blade.under_skin import under_skins
from geomgen.design.schema import Core, Design
from geomgen.errors import Fault, MakeError
from geomgen.marking.lettering import Arrow, letter
from geomgen.marking.radius_text import radius_text
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.sheet_fit import too_large
from geomgen.model.spread import point
from geomgen.plane.arcs import join
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.structure.covers.piece import mirrored
from geomgen.tolerances import STANDARD, Tolerances

FloatArray = NDArray[np.float64]

# Lengths below [mm] are ours.
LEAD = 20.0  # of the tabs at nose and tail, on which the wire comes in and goes out
TAB = 8.0  # width of a tab's end
NECK = 2.0  # width of the nose's tab where it leaves the outline: so much is left for sanding
THIN = 0.4  # a template ends at the tail where it gets thinner than this
PIN = 3.0  # diameter of the holes for pins
PIN_EDGE = 4.0  # least from a pin's hole to the edge
PIN_APART = 25.0  # least from pin to pin
TICK = 4.0  # length of a tick
NUMBER = 2.5  # height of its number
PATH = "blade.construction.template"


@dataclass(frozen=True)
class Cutter:
    """Thickness of what covers the core, and width that the wire melts away [mm].

    The wire runs on the template's edge and melts half its width on either side, so the edge stands half that width
    proud of the core. The wire's own radius, some tenths, is left out: cut a slice and measure what `wire` must be.
    """

    cover_mm: float
    melt_mm: float

    @property
    def inwards_mm(self) -> float:
        """How far the template's edge lies inside the section; negative outside [mm]."""
        return self.cover_mm - self.melt_mm / 2


@dataclass(frozen=True)
class Datum:
    """Two pins that pass through both templates of a core, level at the reference pitch, in the blade frame.

    up_mm           : height above the feather axis [mm]
    fore_mm, aft_mm : the two, aft of the feather axis [mm]
    """

    up_mm: float
    fore_mm: float
    aft_mm: float

    def in_station(self, station: Station) -> FloatArray:
        """(2, 2) both, the one ahead first, in a station's own frame [mm]."""
        return station.from_blade(np.array([[0.0, -self.fore_mm, self.up_mm], [0.0, -self.aft_mm, self.up_mm]]))


def datum(stations: Sequence[Station], cutter: Cutter, name: str) -> Datum:
    """The level pair of pins farthest apart that both templates have room for.

    raises : MakeError where they have not
    """
    outlines = [shapely.Polygon(station.to_blade(_points(station, cutter))[:, 1:]) for station in stations]
    room = shapely.intersection_all([outline.buffer(0) for outline in outlines]).buffer(-(PIN / 2 + PIN_EDGE))
    best: Datum | None = None
    if not room.is_empty:
        left, low, right, high = room.bounds
        for up in np.linspace(low, high, 43)[1:-1]:
            across = room.intersection(shapely.LineString([(left - 1.0, up), (right + 1.0, up)]))
            if not across.is_empty:
                x0, _, x1, _ = across.bounds
                if best is None or x1 - x0 > best.aft_mm - best.fore_mm:
                    best = Datum(float(up), -x1, -x0)
    if best is None or best.aft_mm - best.fore_mm < PIN_APART:
        wrong = f"the two templates of {name} have no common place for two pins {PIN_APART:g} mm apart"
        remedy = "a rib between that parts the core, less twist or taper, or a thicker section"
        raise MakeError(Fault(PATH, "", wrong, remedy=remedy))
    return best


def template(
    design: Design,
    station: Station,
    cutter: Cutter,
    pins: Datum,
    rings: Sequence[tuple[FloatArray, float]],
    core: str,
    end: Literal["root", "tip"],
    tol: Tolerances = STANDARD,
) -> Part:
    """One template, drawn from outside the block: the root's from the root side, the tip's from the tip side.

    core  : name of the piece of foam
    rings : what passes through the core there, to be marked: middle (2,) in the station's frame and diameter [mm]
    """
    built = design.blade.construction
    assert isinstance(built, Core)
    outer = _outline(station, cutter, tol)
    holes = tuple(Circle((float(x), float(y)), PIN / 2) for x, y in pins.in_station(station))
    region = Region(outer, holes)
    ticks, texts = _ticks(station, cutter)
    flat = Flat(
        region=region,
        thickness_mm=sheet_mm(design, built.template),
        marks=(*_lines(station, region, pins), *ticks, *(_ring(at, wide) for at, wide in rings)),
        texts=texts,
        face=f"{end} side",
    )
    turned = (end == "tip") != (design.rotor.turn == "clockwise")
    flat = mirrored(flat) if turned else flat
    arrows = [Arrow("UP", "up"), Arrow("FWD", "right" if turned else "left")]
    flat, missing = letter(flat, [core, end, radius_text(station.r_mm, design.units)], arrows)
    return Part(
        name=f"wire template {core} {end}",
        role=Role.WIRE_TEMPLATE,
        stock=built.template,
        path=PATH,
        shape=flat,
        assembly=Assembly.BENCH,
        count=1,
        spread=point(station.to_blade(np.array([region.centroid()]))[0]),
        r_mm=None,
        notes=(
            f"its edge stands {-cutter.inwards_mm:.2f} mm outside the core, for the {cutter.melt_mm:g} mm that the "
            "wire melts",
            "draw the wire from the tail's tab to the nose's, above and then below, passing ticks of one number at "
            f"both ends at once; sand off the {NECK:g} mm left at the nose",
            *too_large(design, built.template, region),
            *missing,
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg},
    )


def _sides(station: Station, cutter: Cutter) -> tuple[Side, Side]:
    found = under_skins([station], [cutter.inwards_mm], THIN, [PATH])[0]
    if found is None:
        wrong = f"at r {station.r_mm:.1f} mm the section is nowhere {THIN:g} mm deep"
        raise MakeError(Fault(PATH, "", wrong, remedy="a thicker section"))
    return found.upper, found.lower


def _points(station: Station, cutter: Cutter) -> FloatArray:
    upper, lower = _sides(station, cutter)
    return np.vstack([*(c.xy[::-1] for c in reversed(upper.curves)), *(c.xy for c in lower.curves)])


def _outline(station: Station, cutter: Cutter, tol: Tolerances) -> Path:
    """The template's edge, anticlockwise from the upper tail, a tab at the nose and one at the tail."""
    upper, lower = _sides(station, cutter)
    nose = upper.curves[0].xy[0]
    up = upper.curves[0].tangent[0] - lower.curves[0].tangent[0]
    up /= np.hypot(*up)
    ahead = np.array([-up[1], up[0]])
    above = [_behind(upper.curves[0], nose, up), *upper.curves[1:]]
    below = [_behind(lower.curves[0], nose, -up), *lower.curves[1:]]
    tail = (above[-1].xy[-1] + below[-1].xy[-1]) / 2
    aft = above[-1].tangent[-1] + below[-1].tangent[-1]
    aft /= np.hypot(*aft)
    across = np.array([-aft[1], aft[0]])
    front = np.array([nose + LEAD * ahead + s * TAB / 2 * up for s in (1.0, -1.0)])
    rear = np.array([tail + LEAD * aft + s * TAB / 2 * across for s in (-1.0, 1.0)])
    curves = [*(c.back() for c in reversed(above)), *below]
    drawn = smooth_arcs([Piece(c.xy, c.tangent, PATH) for c in curves], tol)
    first = len(above)
    return join([*drawn[:first], _open(front), *drawn[first:], _open(rear)], closed=True)


def _open(points: FloatArray) -> Path:
    return from_points(points, closed=False)


def _behind(curve: Curve, nose: FloatArray, way: FloatArray) -> Curve:
    """A curve from where it is half a neck away from the middle of the nose."""
    away = (curve.xy - nose) @ way
    top = int(np.argmax(away)) + 1
    return curve.between(float(np.interp(NECK / 2, away[:top], np.arange(top))), None)


def _ticks(station: Station, cutter: Cutter) -> tuple[list[Path], tuple[Text, ...]]:
    """A tick at every tenth of each surface's length from the nose, numbered where there is room."""
    share, paths, texts = np.arange(1, 10) / 10.0, list[Path](), list[Text]()
    for up, surface in ((1.0, station.section.upper), (-1.0, station.section.lower)):
        xy, way = surface.at(share * surface.length)
        inwards = up * np.column_stack([way[:, 1], -way[:, 0]])
        edge = station.chord_mm * xy + cutter.inwards_mm * inwards
        deep = station.chord_mm * station.section.depth(xy[:, 0])
        long = np.minimum(TICK, 0.3 * deep)
        for k in range(len(share)):
            paths.append(_open(np.array([edge[k], edge[k] + long[k] * inwards[k]])))
            if deep[k] >= 2.0 * (TICK + 2.2 * NUMBER):
                x, y = edge[k] + (TICK + 1.2 * NUMBER) * inwards[k]
                texts.append(Text(str(k + 1), (float(x), float(y)), NUMBER))
    return paths, tuple(texts)


def _lines(station: Station, region: Region, pins: Datum) -> list[Path]:
    """The level line through the pins and the chord line, as far as they lie on the template."""
    fore, aft = pins.in_station(station)
    level = (aft - fore) / np.hypot(*(aft - fore))
    ends = [(fore - 1e3 * level, aft + 1e3 * level), (np.zeros(2), np.array([station.chord_mm, 0.0]))]
    inside, found = region.to_shapely(0.01).buffer(-1.0), []
    for start, end in ends:
        on = inside.intersection(shapely.LineString([start, end]))
        lines = [line for line in getattr(on, "geoms", [on]) if line.length > 1.0]
        found += [_open(shapely.get_coordinates(line)) for line in lines]
    return found


def _ring(at: FloatArray, wide: float) -> Path:
    return Circle((float(at[0]), float(at[1])), wide / 2).as_path()
