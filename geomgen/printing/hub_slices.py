"""Level slices of a hub from its figures alone: no solid is built, so that `check` weighs it as `make` does."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.frames import turn
from geomgen.plane.arcs import arc_slot
from geomgen.plane.path import Loop
from geomgen.printing.hub_solid import duct_shell
from geomgen.printing.shell import Shapes, nothing
from geomgen.root.hub_size import hub_corners
from geomgen.root.hub_spec import Duct, HubSpec

ROUND_CHORDS, CUP_CHORDS, HOLE_CHORDS = 64, 32, 16  # of a whole circle; it is drawn with the circle's area
FLAT_MM = 0.02  # greatest distance of a chord from a duct's outline
LEVEL_DEG = 1e-3  # an arm that rises less is taken to rise by this: 2 um in 100 mm
TAPER_STEPS = 16
FAR_MM = 1e4

_NOTHING = shapely.Polygon()


def hub_slices(spec: HubSpec, layer_mm: float) -> Shapes:
    """(n,) one slice at the middle of each layer, from the underside up; what is alike is one object [mm].

    layer_mm : height of a layer [mm]
    returns  : those of the anticlockwise twin
    """
    top = float(hub_corners(spec)[:, 2].max())
    bay, floor, wall = _cup(spec)
    places = [turn("z", 360.0 * k / spec.blades)[:2, :2] for k in range(spec.blades)]
    found = nothing(max(round(top / layer_mm), 1))
    for k in range(len(found)):
        z = layer_mm * (k + 0.5)
        cup = floor if z < spec.floor else wall if z < spec.rim else _NOTHING
        solid, empty = _arm(spec, z - spec.axis_height)
        solid, empty = ([_turned(each, place) for each in some for place in places] for some in (solid, empty))
        found[k] = cup
        if solid:
            empty = shapely.union_all([*empty, bay] if z > spec.floor else empty)
            found[k] = shapely.difference(shapely.union_all([cup, *solid]), empty)
    return found


def _turned(shape: shapely.Geometry, place: FloatArray) -> shapely.Geometry:
    return shapely.transform(shape, lambda xy: xy @ place.T)


def _cup(spec: HubSpec) -> tuple[shapely.Polygon, shapely.Polygon, shapely.Polygon]:
    """The bay, the floor with its holes, and the wall round the bay, seen from above."""
    bay, outside = (_circle(radius, chords=CUP_CHORDS) for radius in (spec.bay_radius, spec.bay_radius + spec.wall))
    bolts = [_circle(spec.bolt / 2, at, HOLE_CHORDS) for at in spec.bolts]
    holes = [_circle(spec.bore / 2, chords=HOLE_CHORDS), *bolts]
    return bay, shapely.difference(outside, shapely.union_all(holes)), shapely.difference(outside, bay)


def _circle(radius: float, at: tuple[float, float] = (0.0, 0.0), chords: int = ROUND_CHORDS) -> shapely.Polygon:
    step = 2 * np.pi / chords
    angle, corner = step * np.arange(chords), radius * np.sqrt(step / np.sin(step))
    return shapely.Polygon(np.column_stack((at[0] + corner * np.cos(angle), at[1] + corner * np.sin(angle))))


def _arm(spec: HubSpec, above: float) -> tuple[list[shapely.Geometry], list[shapely.Geometry]]:
    """What the first arm adds to the cup so far above its axis' middle, and what it takes."""
    inside, flange = spec.pocket_from / 2, spec.seat - spec.flange_thickness
    shells = [shapely.Polygon(duct_shell(duct, spec.arm, spec.wall).flattened(FLAT_MM)) for duct in spec.ducts]
    adds = [
        (_circle(spec.boss / 2), inside, spec.boss_end),
        (_circle(spec.flange / 2), flange, spec.seat),
        *((each, inside, spec.seat) for each in shells or [_circle(spec.arm / 2)]),
    ]
    takes = [
        (_circle(spec.socket / 2), spec.pocket_from, FAR_MM),
        (_circle(spec.pocket / 2), spec.pocket_from, spec.collar_seat),
        *((shapely.Polygon(_slot(duct).flattened(FLAT_MM)), spec.duct_from(duct), FAR_MM) for duct in spec.ducts),
        *((_circle(spec.pilot / 2, at), spec.seat - spec.pilot_depth, FAR_MM) for at in spec.pilots),
    ]
    solid = [*_cut(adds, above, spec.coning), *_taper(spec, above)]
    return solid, list(_cut(takes, above, spec.coning)) if solid else []


def _cut(prisms: list[tuple[shapely.Polygon, float, float]], above: float, coning: float) -> Iterator[shapely.Geometry]:
    """Level sections of what lies along the arm from one s to another, by its outline seen along it.

    A point of a section at y has s = (above - y cos) / sin of the coning: it is the outline between two y, stretched.
    """
    b = np.radians(coning if abs(coning) > LEVEL_DEG else LEVEL_DEG)
    sin, cos = float(np.sin(b)), float(np.cos(b))
    for outline, start, end in prisms:
        low, high = sorted((above - s * sin) / cos for s in (start, end))
        x0, y0, x1, y1 = outline.bounds
        if high <= y0 or low >= y1:
            continue
        part = shapely.clip_by_rect(outline, x0 - 1.0, max(low, y0 - 1.0), x1 + 1.0, min(high, y1 + 1.0))
        if not part.is_empty:
            yield shapely.transform(part, lambda xy: np.column_stack(((above * cos - xy[:, 1]) / sin, -xy[:, 0])))


def _taper(spec: HubSpec, above: float) -> Iterator[shapely.Geometry]:
    """The same of the cone from the thick root to the arm."""
    b = np.radians(spec.coning)
    s = np.linspace(spec.boss_end, spec.taper_end, TAPER_STEPS)
    y = (above - s * np.sin(b)) / np.cos(b)
    half = np.sqrt(np.maximum((spec.boss / 2 - (s - spec.boss_end)) ** 2 - y * y, 0.0))
    if (half > 0.0).any():
        out = s * np.cos(b) - y * np.sin(b)
        there = half > 0.0
        last = min(int(np.flatnonzero(there)[-1]) + 2, len(s))
        xy = np.column_stack((np.append(out[:last], out[:last][::-1]), np.append(half[:last], -half[:last][::-1])))
        yield shapely.buffer(shapely.Polygon(xy), 0.0) if last > 1 else shapely.Polygon()


def _slot(duct: Duct) -> Loop:
    return arc_slot((0.0, 0.0), duct.radius, duct.width, duct.from_deg, max(duct.to_deg, duct.from_deg + 1e-3))
