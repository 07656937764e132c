"""Incidence gauges: a cradle for each rib's place, in which the blade lies true on a flat board."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.bench.feet import Footing
from geomgen.bench.level import level_to_blade, to_level
from geomgen.blade.curve import Curve
from geomgen.blade.station import Station
from geomgen.design.schema import Design, Half
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.frames import applied
from geomgen.model.label import Arrow, Label, Radius
from geomgen.model.made import NOTHING, Made
from geomgen.model.part import Flat, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import point
from geomgen.plane.arcs import join
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.section import hermite
from geomgen.section.section import Surface
from geomgen.structure.ribs.blank import Blank
from geomgen.tolerances import Tolerances

FROM_SHARE, TO_SHARE = 0.08, 0.92  # of the chord that a cradle holds: clear of the nose's bend and of the thin tail
LEAST_MM = 5.0  # least depth of a gauge: less breaks, and takes no letters
HALVINGS = 50  # of a search along a curve


@dataclass(frozen=True, eq=False)
class _Cradle:
    """A gauge's outline in its level frame.

    top  : the surface that lies in it, left to right
    z_mm : the board's plane [mm]
    side : the blade's side that lies in it
    """

    top: Path
    z_mm: float
    side: Half

    def region(self) -> Region:
        """What lies between the surface and the board's plane, its ends square to the board."""
        (front, _), (rear, _) = self.top.xy[0], self.top.xy[-1]
        foot = from_points(np.array(((front, self.z_mm), (rear, self.z_mm))), closed=False)
        return Region(join([foot, self.top.reversed()], closed=True))


def gauges(design: Design, blanks: Sequence[Blank], plane: Footing | None, *, tol: Tolerances) -> Made:
    """A gauge for each rib; none where the design asks for none.

    The blade lies in them on the side that is covered first, the lower one where the construction leaves the choice,
    while the other one is closed: on its upper side it lies upside down, and the gauges are drawn so. Upper edge: that
    surface of the section itself, the outside of what covers the ribs, at the reference pitch. Lower edge: the board's
    plane, that of the feet where they stand on the same side, else one of its own `jig.clear` below the lowest point of
    all. A fault where one would be too shallow to hold anything.
    """
    jig = design.blade.jig
    side = design.blade.construction.closed_first(bool(design.blade.skin)) or "lower"
    if jig is None or jig.gauge is None or not blanks:
        return NOTHING
    tops = _tops([blank.station for blank in blanks], side, tol)
    lowest = min(top.bounds()[1] for top in tops)
    own = plane is None or plane.side != side
    z = lowest - jig.clear if own or plane is None else plane.z_mm * plane.up
    if lowest - z < LEAST_MM:
        return Made(faults=(_shallow(jig.clear, lowest - z),))
    stock = jig.gauge
    return Made(
        tuple(_part(design, stock, blank, _Cradle(top, z, side)) for blank, top in zip(blanks, tops, strict=True))
    )


def _tops(stations: Sequence[Station], side: Half, tol: Tolerances) -> list[Path]:
    """A surface of each station from left to right, in its level frame, turned over for the upper one."""
    curves = [_held(station, side) for station in stations]
    pieces = [Piece(curve.xy, curve.tangent, "blade.jig.gauge") for some in curves for curve in some]
    paths = iter(smooth_arcs(pieces, tol))
    level = [
        join([next(paths) for _ in some], closed=False).transformed(to_level(station))
        for some, station in zip(curves, stations, strict=True)
    ]
    return level if side == "lower" else [top.turned(180.0).reversed() for top in level]


def _held(station: Station, side: Half) -> list[Curve]:
    """Smooth stretches of a surface that a cradle holds, front to rear, in the station's own frame."""
    low, high = FROM_SHARE * station.chord_mm, TO_SHARE * station.chord_mm
    found = []
    surface: Surface = getattr(station.section, side)
    for run in surface.runs():
        curve = Curve(station.chord_mm * run.xy, run.tangent)
        if curve.xy[-1, 0] <= low or curve.xy[0, 0] >= high:
            continue
        start = _place(curve, low) if curve.xy[0, 0] < low else None
        end = _place(curve, high) if curve.xy[-1, 0] > high else None
        found.append(curve.between(start, end))
    return found


def _place(curve: Curve, x: float) -> float:
    """The last place of a curve at an x that it ends beyond: 2.25 is a quarter past the third point."""
    low = int(np.flatnonzero(curve.xy[:, 0] <= x)[-1])
    ends, ways = curve.xy[low : low + 2], curve.tangent[low : low + 2]
    (start, end), (leave, arrive) = ends[:, 0].tolist(), ways[:, 0].tolist()
    step, below, above = float(hermite.steps(ends, ways)[0]), float(low), float(low + 1)
    for _ in range(HALVINGS):  # in plain numbers, as `hermite.between` reckons
        middle = 0.5 * (below + above)
        t, rest = middle - low, 1.0 - (middle - low)
        at = start + t * t * (3.0 - 2.0 * t) * (end - start) + t * rest * step * (rest * leave - t * arrive)
        below, above = (middle, above) if at <= x else (below, middle)
    return 0.5 * (below + above)


def _part(design: Design, stock: str, blank: Blank, cradle: _Cradle) -> Part:
    place, station, over = blank.place, blank.station, -1.0 if cradle.side == "upper" else 1.0
    region = cradle.region()
    matrix = level_to_blade(place.r_mm) @ np.diag((over, over, 1.0, 1.0))
    angle = round(station.angle_deg, 2) + 0.0  # no "-0.00"
    forward = Arrow("FWD", "right" if cradle.side == "upper" else "left")
    label = Label(groups=((f"GAUGE {place.name}", Radius(place.r_mm), f"{angle:.2f}°", forward),))
    return Part(
        name=f"gauge {place.name}",
        role=Role.GAUGE,
        stock=stock,
        path="blade.jig.gauge",
        mark=(place.number,),
        shape=Flat(region, design.sheet(stock).thickness, face="root side", label=label),
        assembly=Assembly.BENCH,
        count=1,
        spread=point(applied(matrix, (*region.centroid(), 0.0))),
        places=(matrix,),
        r_mm=place.r_mm,
        notes=(
            f"stands on a flat board at r {mm(place.r_mm, 1)}, square to the blade; the blade lies in it on its "
            f"{cradle.side} side, its chord {station.angle_deg:.2f} deg to the board",
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg, "board_z_mm": over * cradle.z_mm},
    )


def _shallow(clear: float, depth: float) -> Fault:
    wrong = f"leaves gauges {mm(depth, 1)} deep under the blade's lowest point, {mm(LEAST_MM)} needed"
    return Fault("blade.jig.clear", mm(clear), wrong, f"at least {at_least(clear + LEAST_MM - depth, 1)}")
