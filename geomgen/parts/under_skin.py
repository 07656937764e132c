"""The outline of a rib: the section less its skin, ended where tail or nose gets too thin to be cut or covered."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.station import Station
from geomgen.parts.curve import Curve, Side, joined
from geomgen.plane.smooth import Piece
from geomgen.section.section import Surface

FloatArray = NDArray[np.float64]

LEAST_NOSE_RADIUS_MM = 0.5  # a skin is taken to follow a nose no sharper than this on its inside; common practice
BLUNT_NOSE_MM = 1.0  # a rib whose nose the skin can't follow begins where it is this deep; common practice


@dataclass(frozen=True, eq=False)
class Outline:
    """A rib's outline before it is turned into arcs.

    pieces         : smooth pieces and straight edges end to end, anticlockwise from the upper tail corner
    upper, lower   : the two long edges, nose to tail
    corners        : named corners, name -> place [mm]
    blunt          : whether the nose was cut off because the skin can't follow it
    nose_radius_mm : least radius of the skin's inside round the nose; negative where it would fold over itself [mm]
    cut_tail       : whether the tail was cut off because it got too thin
    """

    pieces: tuple[Piece, ...]
    upper: Side
    lower: Side
    corners: tuple[tuple[str, tuple[float, float]], ...]
    blunt: bool
    nose_radius_mm: float
    cut_tail: bool

    @property
    def nose_mm(self) -> float:
        """x where the rib begins [mm]."""
        return float(min(piece.xy[:, 0].min() for piece in self.pieces))

    @property
    def tail_mm(self) -> float:
        """x where it ends [mm]."""
        return float(max(piece.xy[:, 0].max() for piece in self.pieces))

    @property
    def contact_mm(self) -> float:
        """Length of the edges that the skin lies on [mm]."""
        return self.upper.length_mm + self.lower.length_mm

    def middle(self, count: int = 200) -> FloatArray:
        """(count, 2) points half way between the long edges, nose to tail [mm]."""
        x = np.linspace(self.nose_mm, self.tail_mm, count)
        return np.column_stack([x, (self.upper.y(x) + self.lower.y(x)) / 2])


def under_skin(station: Station, skin_mm: float, least_tail_mm: float, path: str = "") -> Outline | None:
    """The outline of a rib at a station, or None where the skins leave nothing deep enough.

    station       : the placed section
    skin_mm       : thickness of the skin, taken off along the normal; 0 for a bare section [mm]
    least_tail_mm : the rib ends where its depth falls below this [mm]
    path          : key path to blame where the outline can't be drawn
    """
    section = station.section
    upper = inside(section.upper, station.chord_mm, skin_mm, 1)
    lower = inside(section.lower, station.chord_mm, skin_mm, -1)
    radius = min(upper[0].least_radius(-1.0), lower[0].least_radius(1.0)) if section.round_nose else -skin_mm
    blunt = skin_mm > 0 and radius < LEAST_NOSE_RADIUS_MM
    if blunt:
        upper, lower = [upper[0].forward_part(), *upper[1:]], [lower[0].forward_part(), *lower[1:]]
    top, bottom = joined(upper), joined(lower)
    span = _span(top, bottom, least_tail_mm, BLUNT_NOSE_MM if blunt else None)
    if span is None:
        return None
    nose, tail = span
    top, bottom = top.between_x(nose, tail), bottom.between_x(nose, tail)
    round_nose = section.round_nose and not blunt
    return _assembled(top, bottom, round_nose, blunt, radius, tail is not None, path)


def inside(surface: Surface, chord_mm: float, skin_mm: float, up: int) -> list[Curve]:
    """The smooth runs of one surface, scaled and moved inwards along the normal, nose to tail.

    skin_mm : how far [mm]
    up      : +1 for the upper surface, -1 for the lower
    """
    runs = []
    for xy, tangent in surface.runs():
        inwards = up * np.column_stack([tangent[:, 1], -tangent[:, 0]])
        runs.append(Curve(chord_mm * xy + skin_mm * inwards, tangent))
    return runs


def _span(
    top: Side, bottom: Side, least_tail_mm: float, nose_mm: float | None
) -> tuple[float | None, float | None] | None:
    """x where the rib begins and ends [mm], None for the surfaces' own ends; None for both where nothing is left."""
    start, end = max(top.first_x, bottom.first_x), min(top.last_x, bottom.last_x)
    x = np.unique(np.clip(np.concatenate([top.xs, bottom.xs]), start, end))
    depth = top.y(x) - bottom.y(x)
    deep = np.flatnonzero(depth >= max(least_tail_mm, 1e-9))
    if not len(deep):
        return None
    tail = None
    if deep[-1] < len(x) - 1:
        tail = _where_deep(top, bottom, x[deep[-1]], x[deep[-1] + 1], least_tail_mm)
    nose = None
    if nose_mm is not None:
        first = int(np.flatnonzero(depth >= nose_mm)[0]) if (depth >= nose_mm).any() else 0
        nose = float(x[0]) if first == 0 else _where_deep(top, bottom, x[first], x[first - 1], nose_mm)
    return nose, tail


def _where_deep(top: Side, bottom: Side, enough: float, little: float, depth_mm: float) -> float:
    """x between a place that is deep enough and one that isn't, where the depth is just that [mm]."""
    for _ in range(2):  # each look narrows the place down sixteenfold; the last is read straight
        x = np.linspace(enough, little, 17)
        depth = top.exact_y(x) - bottom.exact_y(x)
        first = int(np.argmax(depth < depth_mm)) or len(x) - 1
        enough, little, more, less = x[first - 1], x[first], depth[first - 1], depth[first]
    return float(enough + (little - enough) * np.clip((more - depth_mm) / max(more - less, 1e-12), 0.0, 1.0))


def _assembled(
    top: Side, bottom: Side, round_nose: bool, blunt: bool, radius: float, cut_tail: bool, path: str
) -> Outline:
    upper, lower = [curve.back() for curve in reversed(top.curves)], list(bottom.curves)
    corners = [("upper tail", top.curves[-1].xy[-1]), ("lower tail", bottom.curves[-1].xy[-1])]
    corners += [("upper", curve.xy[0]) for curve in top.curves[1:]] + [
        ("lower", curve.xy[0]) for curve in bottom.curves[1:]
    ]
    if blunt:
        corners += [("upper nose", top.curves[0].xy[0]), ("lower nose", bottom.curves[0].xy[0])]
    elif round_nose:
        upper.append(upper.pop().then(lower.pop(0)))
    else:
        corners.append(("nose", top.curves[0].xy[0]))
    ring = [*upper, *lower]
    pieces: list[Piece] = []
    for curve, following in zip(ring, [*ring[1:], ring[0]], strict=True):
        pieces.append(Piece(curve.xy, curve.tangent, path))
        gap = following.xy[0] - curve.xy[-1]
        if (reach := float(np.hypot(*gap))) > 1e-6:
            pieces.append(Piece(np.array([curve.xy[-1], following.xy[0]]), np.array([gap, gap]) / reach, path))
    named = tuple((name, (float(p[0]), float(p[1]))) for name, p in corners)
    return Outline(tuple(pieces), top, bottom, named, blunt, radius, cut_tail)
