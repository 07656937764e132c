"""Templates that a hot wire is drawn along: the core's outline, its ticks, level line, pins, and tabs to start from."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.curve import Curve
from geomgen.blade.station import Station
from geomgen.design.schema import HALVES, Design
from geomgen.figures import mm
from geomgen.model.label import Arrow, Label, Radius
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.arcs import join
from geomgen.plane.path import Circle, Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.structure.covers.hot_wire import PATH, PIN_MM, Cutter, Datum, WireCut, on_surface, wire_sides
from geomgen.tolerances import Tolerances

# Lengths below [mm] are ours.
LEAD = 20.0  # of the tabs at nose and tail, on which the wire comes in and goes out
TAB = 8.0  # width of a tab's end
NECK = 2.0  # width of the nose's tab where it leaves the outline: so much is left for sanding
TICK = 4.0  # length of a tick
NUMBER = 2.5  # height of its number


def wire_templates(design: Design, cuts: Sequence[WireCut], tol: Tolerances) -> list[Part]:
    """A template for each end of each piece of foam, drawn from outside the block: the root's from the root side, the
    tip's from the tip side."""
    return [_template(design, cut, tol) for cut in cuts]


def _template(design: Design, cut: WireCut, tol: Tolerances) -> Part:
    station, cutter, pins = cut.station, cut.cutter, cut.pins
    holes = tuple(Circle((float(x), float(y)), PIN_MM / 2) for x, y in pins.in_station(station))
    region = Region(_outline(station, cutter, tol), holes)
    ticks, texts = _ticks(station, cutter)
    flat = Flat(
        region=region,
        thickness_mm=design.sheet(cut.stock).thickness,
        marks=(*_lines(station, region, pins), *ticks, *(_ring(at, wide) for at, wide in cut.rings)),
        texts=texts,
        face=f"{cut.end} side",
        label=Label(((cut.core, cut.end, Radius(station.r_mm), Arrow("UP", "up"), Arrow("FWD", "left")),)),
    )
    return Part(
        name=f"wire template {cut.core} {cut.end}",
        role=Role.WIRE_TEMPLATE,
        stock=cut.stock,
        path=PATH,
        shape=flat.mirrored_x() if cut.end == "tip" else flat,  # drawn from its other side
        assembly=Assembly.BENCH,
        count=1,
        spread=point(station.to_blade(np.array([region.centroid()]))[0]),
        notes=(
            f"its edge stands {mm(-cutter.inwards_mm, 2)} outside the core, for the {mm(cutter.melt_mm)} that the "
            "wire melts",
            "draw the wire from the tail's tab to the nose's, above and then below, passing ticks of one number at "
            f"both ends at once; sand off the {mm(NECK)} left at the nose",
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg},
        mark=(cut.number, cut.end),
    )


def _outline(station: Station, cutter: Cutter, tol: Tolerances) -> Path:
    """The template's edge, anticlockwise from the upper tail, a tab at the nose and one at the tail."""
    upper, lower = wire_sides(station, cutter)
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
    for half in HALVES:
        places, inwards = on_surface(station, half, share)
        edge = places + cutter.inwards_mm * inwards
        deep = station.chord_mm * station.section.depth(places[:, 0] / station.chord_mm)
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
