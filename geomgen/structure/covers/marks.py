"""What is marked on a piece of skin and cut into it: rib lines, nose, folds, spars, bevels, openings for wires."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.blade.route import Route
from geomgen.blade.station import Station
from geomgen.design.schema import Channel, Design, Half
from geomgen.errors import Fault
from geomgen.figures import at_least, mm
from geomgen.model.layout import Layout
from geomgen.model.part import Text
from geomgen.plane.arcs import obround
from geomgen.plane.path import Path
from geomgen.structure.covers.laid import Laid
from geomgen.structure.covers.outline import curve, row_marks
from geomgen.structure.covers.panel import Panel, bevels_mm
from geomgen.structure.covers.rows import Contour

LABEL_MM = 3.0  # height of a line's name beside it
BESIDE = 2.2  # middle of a rib's name from its line, in letter heights
NAME_MM = 2.5  # height of the name of a line along the blade
ALONG_MM = 20.0  # middle of that name from the line's root end
FOLD_MM = 2.0  # board left between an opening and a score line
EDGE_MM = 0.5  # nearer to an edge nothing is marked
LEAST_BEVEL_MM = 3.0  # a narrower bevel is left to the sanding block


@dataclass(frozen=True, eq=False)
class Line:
    """A line along the blade on the flat piece: its name, its points, root to tip (n, 2) [mm]; is it folded along?"""

    name: str
    points: FloatArray
    fold: bool = False


def lines(
    stations: Sequence[Station],
    contours: dict[Half, Contour],
    laid: Laid,
    panel: Panel,
    layout: Layout,
) -> tuple[list[Path], list[Text], list[Path]]:
    """Lines to engrave: ribs, bowed as they are and named at both edges, and named lines along the blade.

    returns : the lines, their names, and those of the lines that a board is folded along
    """
    ribs = [rib for rib in layout.ribs if panel.from_mm - 1e-6 <= rib.r_mm <= panel.to_mm + 1e-6]
    marks, texts, folds = (
        row_marks(laid, [rib.r_mm for rib in ribs], layout.tol, panel.path),
        list[Text](),
        list[Path](),
    )
    for rib, beyond in zip(ribs, [*(each.r_mm for each in ribs[1:]), -np.inf], strict=False):  # there may be none
        side = 1.0 if beyond - rib.r_mm > 2.0 * BESIDE * LABEL_MM else -1.0  # on the side where there is room
        across = laid.across(rib.r_mm)
        for place, up in ((across[0], 1.0), (across[-1], -1.0)):
            x, y = float(place[0]) + side * BESIDE * LABEL_MM, float(place[1]) + up * 2.0 * LABEL_MM
            texts.append(Text(rib.name, (x, y), LABEL_MM))
    for line in _along(stations, contours, laid, panel, layout):
        marks.append(curve(line.points, layout.tol, panel.path))
        texts.append(Text(line.name, _beside(line), NAME_MM))
        folds += marks[-1:] if line.fold else []
    return marks, texts, folds


def _beside(line: Line) -> tuple[float, float]:
    """Middle of a line's name: just above it, near its root end."""
    x = min(float(line.points[0, 0]) + ALONG_MM, float(line.points[-1, 0]))
    return x, float(np.interp(x, line.points[:, 0], line.points[:, 1])) + 0.9 * NAME_MM


def _along(
    stations: Sequence[Station],
    contours: dict[Half, Contour],
    laid: Laid,
    panel: Panel,
    layout: Layout,
) -> Iterator[Line]:
    thickness = layout.design.sheet(panel.stock).thickness
    widths = bevels_mm(stations, thickness) if panel.bevelled else np.zeros(1)
    if len(laid.halves) == 2:
        yield Line("nose", laid.flat.xy[:, round(float(laid.halves["lower"][1][0]))])
    yield from (Line(name.split(" ", 1)[1], laid.flat.xy[:, column], panel.rolled) for name, column in laid.corners)
    everywhere = range(len(stations))
    for half in laid.halves:
        of = contours[half]
        if panel.rolled:
            yield Line("roll", laid.at(half, everywhere, rolled(of)))
        if panel.bevelled:
            along = of.along_to(np.array([station.chord_mm for station in stations]) - widths)
            if widths.min() >= LEAST_BEVEL_MM and all(laid.reaches(half, k, along[k]) for k in everywhere):
                yield Line("bevel", laid.at(half, everywhere, along))
        for name, route in layout.spars.items():
            yield from _spar(name, route, stations, of, laid)


def rolled(of: Contour) -> FloatArray:
    """(k,) lengths from the nose to where a rolled nose goes on straight, at each station [mm]."""
    return np.array([_rolled_to(surface.runs()[0].xy, surface.runs()[0].tangent) for surface in of.surfaces])


def _rolled_to(xy: FloatArray, tangent: FloatArray) -> float:
    """Length from the nose to where a run that begins with an arc goes on straight [mm]."""
    turn = np.abs(tangent[:-1, 0] * tangent[1:, 1] - tangent[:-1, 1] * tangent[1:, 0])
    last = int(np.flatnonzero(turn > 1e-9)[-1]) + 1
    step, half = np.hypot(*np.diff(xy[: last + 1], axis=0).T), np.arcsin(np.clip(turn[:last], 0.0, 1.0)) / 2
    return float((step / np.sinc(half / np.pi)).sum())


def _spar(name: str, route: Route, stations: Sequence[Station], of: Contour, laid: Laid) -> Iterator[Line]:
    """Where a spar runs beneath a surface."""
    along = of.along_to([float(route.in_station(station)[0][0]) for station in stations])
    edge = laid.halves[of.half][0][:, -1] - EDGE_MM  # a line on the very edge needs no mark
    rows = [
        k
        for k, station in enumerate(stations)
        if route.passes(station.r_mm) and laid.reaches(of.half, k, along[k]) and along[k] < edge[k]
    ]
    if len(rows) > 1:
        yield Line(f"spar {name}", laid.at(of.half, rows, along[rows]))


def openings(
    layout: Layout, stations: Sequence[Station], contours: dict[Half, Contour], laid: Laid
) -> tuple[tuple[Path, ...], list[Fault]]:
    """Openings for the wires of channels that come out on this panel.

    returns : the openings; faults where one is no longer than it is wide, or lies across a fold
    """
    found, faults = list[Path](), list[Fault]()
    for name, route in layout.channels.items():
        channel = layout.design.blade.channel[name]
        middle = exit_middle(layout.design, channel)
        if channel.exit is None or middle is None or channel.exit.side not in laid.halves:
            continue
        half, row = channel.exit.side, laid.row(middle)
        along = contours[half].along_to([float(route.in_station(s)[0][0]) for s in stations])[row]
        if not (laid.r_mm[0] <= middle <= laid.r_mm[-1] and laid.reaches(half, row, along)):
            continue
        x, y = laid.at(half, [row], np.array([along]))[0]
        if channel.exit.length <= channel.diameter:
            wrong = f"is {mm(channel.exit.length)} long, no longer than its channel is wide"
            faults.append(Fault(f"{route.path}.exit.length", "", wrong, f"more than {at_least(channel.diameter)}"))
            continue
        faults += _folded(laid, half, row, float(y), channel.diameter / 2, f"{route.path}.exit")
        found.append(obround((float(x), float(y)), channel.exit.length, channel.diameter))
    return tuple(found), faults


def _folded(laid: Laid, half: Half, row: int, y: float, beside_mm: float, path: str) -> list[Fault]:
    """Faults where an opening comes too near to a fold."""
    faults = []
    for label, column in laid.corners:
        gap = abs(float(laid.flat.xy[row, column][1] - y)) - beside_mm
        if label.startswith(half) and gap < FOLD_MM:
            wrong = f"its opening at r {mm(laid.r_mm[row], 0)} comes within {mm(max(gap, 0.0), 1)} of {label}"
            remedy = "move the channel along the chord, or the score line"
            faults.append(Fault(path, "", wrong, f"at least {at_least(FOLD_MM)} clear of it", remedy))
    return faults


def exits(design: Design, channels: Iterable[str]) -> list[float]:
    """r of the middle of every opening [mm]."""
    middles = (exit_middle(design, design.blade.channel[name]) for name in channels)
    return [middle for middle in middles if middle is not None]


def exit_middle(design: Design, channel: Channel) -> float | None:
    """r of the middle of a channel's opening [mm]; None where it has none."""
    return None if channel.exit is None else design.r(channel.to) - channel.exit.length / 2
