"""Incidence gauges: a cradle for each rib's place, so that the finished blade lies true on a flat board."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.station import Station
from geomgen.design.schema import Design
from geomgen.errors import Fault, MakeError
from geomgen.frames import applied
from geomgen.parts.blank import Blank
from geomgen.parts.curve import Curve
from geomgen.parts.jig.feet import Footing
from geomgen.parts.jig.level import level_to_blade, to_level
from geomgen.parts.lettering import Arrow, letter
from geomgen.parts.part import Flat, Part
from geomgen.parts.radius_text import radius_text
from geomgen.parts.sheet_fit import too_large
from geomgen.parts.spread import point
from geomgen.plane.arcs import join
from geomgen.plane.path import Path, from_points
from geomgen.plane.region import Region
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]

FROM_SHARE, TO_SHARE = 0.08, 0.92  # of the chord that a cradle holds: clear of the nose's bend and of the thin tail
LEAST_MM = 5.0  # least depth of a gauge: less breaks, and takes no letters
HALVINGS = 50  # of a search along a curve


def gauges(design: Design, made: Sequence[Blank], plane: Footing | None, tol: Tolerances) -> list[Part]:
    """A gauge for each rib; none where the design asks for none.

    Upper edge: the lower surface of the section itself, the outside of what covers the ribs, at the reference pitch.
    Lower edge: the board's plane, that of the feet where they stand on the lower side, else one of its own
    `jig.clear` below the lowest point of all. In a clockwise craft mirrored.
    raises : MakeError where one would be too shallow to hold anything
    """
    jig = design.blade.jig
    if jig is None or jig.gauge is None or not made:
        return []
    tops = _tops([blank.station for blank in made], tol)
    lowest = min(top.bounds()[1] for top in tops)
    z = plane.z_mm if plane is not None and plane.side == "lower" else lowest - jig.clear
    if lowest - z < LEAST_MM:
        raise MakeError(_shallow(jig.clear, lowest - z))
    return [_part(design, jig.gauge, blank, top, z) for blank, top in zip(made, tops, strict=True)]


def _tops(stations: Sequence[Station], tol: Tolerances) -> list[Path]:
    """The lower surface of each station from front to rear, in its level frame."""
    curves = [_lower(station) for station in stations]
    pieces = [Piece(curve.xy, curve.tangent, "blade.jig.gauge") for some in curves for curve in some]
    paths = iter(smooth_arcs(pieces, tol))
    return [
        join([next(paths) for _ in some], closed=False).transformed(to_level(station))
        for some, station in zip(curves, stations, strict=True)
    ]


def _lower(station: Station) -> list[Curve]:
    """Smooth stretches of the lower surface that a cradle holds, front to rear, in the station's own frame."""
    low, high = FROM_SHARE * station.chord_mm, TO_SHARE * station.chord_mm
    found = []
    for run in station.section.lower.runs():
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
    below, above = float(low), float(low + 1)
    for _ in range(HALVINGS):
        middle = 0.5 * (below + above)
        below, above = (middle, above) if curve.at(middle)[0][0] <= x else (below, middle)
    return 0.5 * (below + above)


def _part(design: Design, stock: str, blank: Blank, top: Path, z_mm: float) -> Part:
    place, station = blank.place, blank.station
    clockwise = design.rotor.turn == "clockwise"
    flat, unlettered = _lettered(design, place, station, _cradle(top, z_mm), sheet_mm(design, stock))
    matrix = level_to_blade(place.r_mm) @ np.diag((-1.0 if clockwise else 1.0, 1.0, 1.0, 1.0))
    return Part(
        name=f"gauge {place.name}",
        what="gauge",
        stock=stock,
        path="blade.jig.gauge",
        shape=flat,
        on="bench",
        count=1,
        spread=point(applied(matrix, (*flat.region.centroid(), 0.0))),
        places=(matrix,),
        r_mm=place.r_mm,
        notes=(
            f"stands on a flat board at r {place.r_mm:.1f} mm, square to the blade; the finished blade lies in it, "
            f"its chord {station.angle_deg:.2f} deg to the board",
            *too_large(design, stock, flat.region),
            *unlettered,
        ),
        facts={"chord_mm": station.chord_mm, "angle_deg": station.angle_deg, "board_z_mm": z_mm},
    )


def _cradle(top: Path, z_mm: float) -> Region:
    """What lies between a surface and the board's plane, its ends square to the board."""
    (front, _), (rear, _) = top.xy[0], top.xy[-1]
    foot = from_points(np.array(((front, z_mm), (rear, z_mm))), closed=False)
    return Region(join([foot, top.reversed()], closed=True))


def _lettered(
    design: Design, place: RibPlace, station: Station, region: Region, thickness_mm: float
) -> tuple[Flat, list[str]]:
    clockwise = design.rotor.turn == "clockwise"
    flat = Flat(region.mirrored_x() if clockwise else region, thickness_mm, face="root side")
    angle = round(station.angle_deg, 2) + 0.0  # no "-0.00"
    lines = [f"GAUGE {place.name}", radius_text(design, place.r_mm), f"{angle:.2f}°"]
    return letter(flat, lines, [Arrow("FWD", "right" if clockwise else "left")])


def _shallow(clear: float, depth: float) -> Fault:
    wrong = f"leaves gauges {depth:.1f} mm deep under the blade's lowest point, {LEAST_MM:g} mm needed"
    return Fault("blade.jig.clear", f"{clear:g} mm", wrong, f"at least {clear + LEAST_MM - depth:.1f} mm")
