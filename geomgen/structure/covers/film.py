"""Film over a blade: an upper and a lower panel as flat patterns, with what is lapped round their edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.rib_places import RibPlace
from geomgen.design.schema import HALVES, Half, SheetStock
from geomgen.figures import mm
from geomgen.materials.catalogue import known
from geomgen.model.joint import Bond, Key, touching
from geomgen.model.label import Arrow, Label, Towards
from geomgen.model.layout import Layout
from geomgen.model.made import NOTHING, Made, attempted, together
from geomgen.model.part import Flat, Part, Text
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import about, centre_of
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.structure.covers.laid import Laid, Ply, lay
from geomgen.structure.covers.marks import exits, openings
from geomgen.structure.covers.outline import row_marks, spread, whole_second
from geomgen.structure.covers.rows import contour, radii
from geomgen.tolerances import Tolerances

STRAIGHT_MM = 0.05  # corners nearer than this to a straight edge are left out: no knife follows them
SLIT = "slit it where the opening for wires is marked, once it is tight, and seal the edges"
LABEL_MM = 4.0  # height of a rib's name beside its line


@dataclass(frozen=True)
class Film:
    """Film as a construction asks for it.

    stock      : name of its sheet
    path       : key path of what asked for it
    overlap_mm : it is lapped round nose, tail and end ribs so far [mm]
    scallop_mm : it stands so far beyond the tail's lap, for scallops [mm]
    """

    stock: str
    path: str
    overlap_mm: float
    scallop_mm: float = 0.0

    def key(self, half: Half) -> Key:
        """Which part one of its panels becomes."""
        return Key(Role.FILM, self.path, (half,))


def films(layout: Layout, film: Film | None) -> Made:
    """The upper and the lower panel; nothing without film.

    A panel is its surface laid flat at half the film's thickness, from the root to the frame's end, and the overlap all
    round it: each panel laps round the nose onto the other, round the tail, and onto the faces of the end ribs. At the
    tail the scallop allowance stands beyond the lap, for what the film draws in between ribs as it shrinks; how far it
    does is not judged. All of the pattern stays on the blade and is weighed, each lap at the line that it is lapped
    round. Where wires come out is marked, to be slit when the film is tight.
    """
    if film is None:
        return NOTHING
    seal = touching(film.key("upper"), film.key("lower"), Bond.SEALED, film.path)
    panels = [attempted(partial(_panel, layout, film, half)) for half in HALVES]
    return together(*panels, Made(joints=(seal,)))


def _panel(layout: Layout, film: Film, half: Half) -> Made:
    design, blade, ribs = layout.design, layout.blade, layout.ribs
    sheet = design.sheet(film.stock)
    ends = design.rotor.root, design.frame_end
    fixed = [*blade.breaks().tolist(), *exits(design, layout.channels)]
    stations = blade.stations(radii(ends, fixed, [rib.r_mm for rib in ribs]))
    surface = contour(stations, half, [sheet.thickness / 2] * len(stations))
    laid = lay(stations, [Ply(surface, np.zeros(len(stations)), surface.length)], film.path)
    nose_last = half == "upper"  # seen from outside with the tip at the right, the upper panel's nose is at the top
    laps = (film.overlap_mm + film.scallop_mm, film.overlap_mm)
    whole = _lapped(laid.flat.xy, laps if nose_last else laps[::-1], film.overlap_mm)
    slits, faults = openings(layout, stations, {half: surface}, laid)
    towards: Towards = "up" if nose_last else "down"
    flat = Flat(
        region=Region(_straightened(_ring(whole), closed=True)),
        thickness_mm=sheet.thickness,
        marks=(*_marks(laid, ribs, layout.tol, film.path), *slits),
        texts=tuple(_names(laid, ribs)),
        face="outside",
        label=Label(((f"film {half}", "OUTSIDE", Arrow("TIP", "right"), Arrow("FWD", towards)),), clear_of="upright"),
    )
    shared, second = _shared(laid, whole, sheet.thickness)
    part = Part(
        name=f"film {half}",
        role=Role.FILM,
        stock=film.stock,
        path=film.path,
        shape=flat,
        assembly=Assembly.BLADE,
        count=1,
        spread=shared,
        notes=(_knife(sheet), *_said(film, half), *([SLIT] if slits else [])),
        facts={
            "stretch_least": laid.flat.stretch[0],
            "stretch_most": laid.flat.stretch[1],
            "lap_mm": film.overlap_mm,
            "scallop_mm": film.scallop_mm,
        },
        mark=(half,),
        second=second,
    )
    return Made((part,), faults=tuple(faults))


def _lapped(xy: FloatArray, along: tuple[float, float], ends_mm: float) -> FloatArray:
    """(k + 2, n + 2, 2) the laid grid with a row or column more on every side, one lap away [mm].

    along : laps beyond the first and the last column [mm]
    """
    sides = []
    for lap, edge, inner in ((along[0], xy[:, 0], xy[:, 1]), (along[1], xy[:, -1], xy[:, -2])):
        way = edge - inner
        sides.append((edge + lap * way / np.hypot(*way.T)[:, None])[:, None])
    wide = np.concatenate([sides[0], xy, sides[1]], axis=1)
    end = np.array([ends_mm, 0.0])
    return np.concatenate([wide[:1] - end, wide, wide[-1:] + end])


def _ring(grid: FloatArray) -> FloatArray:
    """(m, 2) the outer points of a grid, anticlockwise."""
    return np.vstack([grid[:-1, 0], grid[-1, :-1], grid[:0:-1, -1], grid[0, :0:-1]])


def _straightened(points: FloatArray, closed: bool) -> Path:
    """A path of straight lines through the points that count."""
    line = shapely.LinearRing(points) if closed else shapely.LineString(points)
    kept = shapely.get_coordinates(line.simplify(STRAIGHT_MM))
    return from_points(kept[:-1] if closed else kept, closed)


def _marks(laid: Laid, ribs: Sequence[RibPlace], tol: Tolerances, path: str) -> tuple[Path, ...]:
    """Lines to draw: the ribs, bowed as they are; root and tip; nose and tail."""
    across = sorted({float(laid.r_mm[0]), float(laid.r_mm[-1]), *(rib.r_mm for rib in ribs)})
    xy = laid.flat.xy
    return (*row_marks(laid, across, tol, path), *(_straightened(xy[:, c], closed=False) for c in (0, -1)))


def _names(laid: Laid, ribs: Sequence[RibPlace]) -> list[Text]:
    """Each rib's name beside its line, clear of the edges along the blade."""
    texts = []
    for rib in ribs:
        side = -1.0 if rib is ribs[-1] else 1.0
        x, y = laid.across(rib.r_mm)[0]
        texts.append(Text(rib.name, (float(x) + side * 2.2 * LABEL_MM, float(y) + 3.0 * LABEL_MM), LABEL_MM))
    return texts


def _shared(laid: Laid, whole: FloatArray, thickness_mm: float) -> tuple[FloatArray, FloatArray]:
    """(n, 4) shares of the pattern's mass and where they sit, the panel itself, then each lap [mm]; and how it all lies
    round its middle, laps at the lines that they are lapped round, see `Part.second` [mm2]."""
    inner, space = whole[1:-1, 1:-1], laid.flat.space
    panel = float(_cells(inner).sum())
    rows, second = [spread(laid) * np.array([panel, 1.0, 1.0, 1.0])], panel * whole_second(laid, thickness_mm)
    for column, lap in ((0, _cells(whole[1:-1, :2])), (-1, _cells(whole[1:-1, -2:]))):
        line = space[:, column]
        rows.append(np.column_stack([lap[:, 0], (line[1:] + line[:-1]) / 2]))
        second += (rows[-1][:, 1:] * lap).T @ rows[-1][:, 1:]
    for row, lap in ((0, _cells(whole[:2])), (-1, _cells(whole[-2:]))):
        line = space[row]
        middles = np.vstack([line[:1], (line[1:] + line[:-1]) / 2, line[-1:]])
        rows.append(np.array([[lap.sum(), *(lap[0] @ middles / lap.sum())]]))
        second += (middles * lap[0][:, None]).T @ middles
    table = np.vstack(rows)
    table = table[table[:, 0] > 0]
    area = float(table[:, 0].sum())
    table[:, 0] /= area
    return table, about(centre_of(table), second / area)


def _cells(xy: FloatArray) -> FloatArray:
    """(k - 1, n - 1) area of each cell of a grid [mm2]."""
    ac, bd = xy[1:, 1:] - xy[:-1, :-1], xy[:-1, 1:] - xy[1:, :-1]
    return np.asarray(0.5 * np.abs(ac[..., 0] * bd[..., 1] - ac[..., 1] * bd[..., 0]))


def _knife(sheet: SheetStock) -> str:
    material = known(sheet.of)
    if material is not None and material.laser.verdict != "yes":
        return f"cut it with a knife, never the laser: {material.laser.reason}"
    return "cut it with a knife, never the laser"


def _said(film: Film, half: Half) -> list[str]:
    other = "lower" if half == "upper" else "upper"
    laps = f"to lap round the nose onto the {other} panel, round the tail, and onto the end ribs"
    notes = [f"{mm(film.overlap_mm)} more on every side, {laps}"]
    if film.scallop_mm > 0:
        notes.append(f"{mm(film.scallop_mm)} more behind the tail's lap, for scallops drawn in as deep between ribs")
    return notes
