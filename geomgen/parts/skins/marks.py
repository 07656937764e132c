"""What is marked on a piece of skin and cut into it: rib lines, nose, folds, spars, and openings for wires."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import Channel, Design
from geomgen.errors import Fault, MakeError
from geomgen.parts.part import Text
from geomgen.parts.skins.drawn import curve, row_marks
from geomgen.parts.skins.laid import Laid
from geomgen.parts.skins.rows import Half, Strand
from geomgen.parts.skins.wanted import Crossed, Wanted
from geomgen.plane.arcs import obround
from geomgen.plane.path import Path
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]

LABEL_MM = 3.0  # height of a rib's name beside its line
BESIDE = 2.2  # middle of the name from the line, in letter heights


def lines(
    stations: Sequence[Station], strands: dict[Half, Strand], laid: Laid, wanted: Wanted, on: Crossed, tol: Tolerances
) -> tuple[list[Path], list[Text]]:
    """Lines to engrave: ribs, bowed as they are and named at both edges; the nose; folds; spars."""
    ribs = [rib for rib in on.ribs if wanted.from_mm - 1e-6 <= rib.r_mm <= wanted.to_mm + 1e-6]
    rows = [laid.row(rib.r_mm) for rib in ribs]
    marks, texts = row_marks(laid, rows, tol, wanted.path), []
    for rib, row in zip(ribs, rows, strict=True):
        side = -1.0 if row == len(laid.r_mm) - 1 else 1.0
        for place, up in ((laid.flat.xy[row, 0], 1.0), (laid.flat.xy[row, -1], -1.0)):
            x, y = float(place[0]) + side * BESIDE * LABEL_MM, float(place[1]) + up * 2.0 * LABEL_MM
            texts.append(Text(rib.name, (x, y), LABEL_MM))
    if len(laid.halves) == 2:
        nose = round(float(laid.halves["lower"][1][0]))
        marks.append(curve(laid.flat.xy[:, nose], tol, wanted.path))
    marks += [curve(laid.flat.xy[:, column], tol, wanted.path) for _, column in laid.corners]
    for route in on.spars.values():
        for half in laid.halves:
            marks += _spar(route, stations, strands[half], laid, half, tol, wanted.path)
    return marks, texts


def _spar(
    route: Route, stations: Sequence[Station], of: Strand, laid: Laid, half: Half, tol: Tolerances, path: str
) -> list[Path]:
    """Where a spar runs beneath a surface."""
    rows = [k for k, station in enumerate(stations) if route.passes(station.r_mm)]
    if len(rows) < 2:
        return []
    x = [float(route.in_station(station)[0][0]) for station in stations]
    along = of.along_to(x)
    rows = [k for k in rows if laid.reaches(half, k, along[k])]
    if len(rows) < 2:
        return []
    return [curve(laid.at(half, rows, along[rows]), tol, path)]


def openings(
    design: Design, stations: Sequence[Station], strands: dict[Half, Strand], laid: Laid, on: Crossed
) -> tuple[Path, ...]:
    """Openings for the wires of channels that come out on this piece.

    raises : MakeError where an opening doesn't lie within the piece
    """
    found, faults = [], list[Fault]()
    for name, route in on.channels.items():
        channel = design.blade.channel[name]
        middle = exit_middle(design, channel)
        if channel.exit is None or channel.exit.side not in laid.halves or middle is None:
            continue
        half = channel.exit.side
        if not laid.r_mm[0] <= middle <= laid.r_mm[-1]:
            continue
        row = laid.row(middle)
        along = strands[half].along_to([float(route.in_station(s)[0][0]) for s in stations])[row]
        if not laid.reaches(half, row, along):
            continue
        x, y = laid.at(half, [row], np.array([along]))[0]
        if channel.exit.length <= channel.diameter:
            wrong = f"is {channel.exit.length:g} mm long, no longer than its channel is wide"
            faults.append(Fault(f"{route.path}.exit.length", "", wrong, f"more than {channel.diameter:g} mm"))
            continue
        found.append(obround((float(x), float(y)), channel.exit.length, channel.diameter))
    if faults:
        raise MakeError(faults)
    return tuple(found)


def exit_middle(design: Design, channel: Channel) -> float | None:
    """r of the middle of a channel's opening [mm]; None where it has none."""
    return None if channel.exit is None else design.r(channel.to) - channel.exit.length / 2
