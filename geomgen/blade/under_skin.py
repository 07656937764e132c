"""The outline of a rib: the section less its skin, ended where tail or nose gets too thin to be cut or covered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geomgen.arrays import BoolArray, FloatArray
from geomgen.blade.curve import Side
from geomgen.blade.edges import Edges, gathered, rejoined
from geomgen.blade.station import Station
from geomgen.design.schema import Half
from geomgen.plane.smooth import Piece
from geomgen.section.section import Surface

LEAST_NOSE_RADIUS_MM = 0.5  # a skin is taken to follow a nose no sharper than this on its inside; common practice
BLUNT_NOSE_MM = 1.0  # a rib whose nose the skin can't follow begins where it is this deep, or as deep as its tail
ROUNDS = 8  # of the search for where a rib ends; two or three do


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

    def side(self, half: Half) -> Side:
        """One of the two long edges."""
        return self.upper if half == "upper" else self.lower

    def middle(self, count: int = 200) -> FloatArray:
        """(count, 2) points half way between the long edges, nose to tail [mm]."""
        x = np.linspace(self.nose_mm, self.tail_mm, count)
        return np.column_stack([x, (self.upper.y(x) + self.lower.y(x)) / 2])


def under_skin(station: Station, skin_mm: float, least_tail_mm: float, path: str = "") -> Outline | None:
    """The outline of a rib at one station: see `under_skins`."""
    return under_skins([station], [skin_mm], least_tail_mm, [path])[0]


def under_skins(
    stations: Sequence[Station], skins_mm: Sequence[float], least_tail_mm: float, paths: Sequence[str]
) -> list[Outline | None]:
    """The outline of a rib at each of k stations, or None where the skins leave nothing deep enough.

    stations      : the placed sections
    skins_mm      : thickness of the skin at each, taken off along the normal; 0 for a bare section [mm]
    least_tail_mm : a rib ends where its depth falls below this [mm]
    paths         : for each, the key path to blame where the outline can't be drawn
    """
    if not stations:
        return []
    chords, skins = np.array([station.chord_mm for station in stations]), np.asarray(skins_mm, dtype=np.float64)
    top = moved([station.section.upper for station in stations], chords, skins)
    bottom = moved([station.section.lower for station in stations], chords, -skins)
    return outlines(stations, skins, (top, bottom), least_tail_mm, paths)


@dataclass(frozen=True, eq=False)
class Ends:
    """Where strips end ribs at nose and tail, and where their edges step.

    begin_mm : (k,) x of the strip at the nose behind which a rib begins; -inf where there is none [mm]
    end_mm   : (k,) x of the strip at the tail ahead of which it ends; inf where there is none [mm]
    steps    : of each rib (m, 2), the corners of its edges' steps [mm]
    """

    begin_mm: FloatArray
    end_mm: FloatArray
    steps: Sequence[FloatArray]

    @classmethod
    def none(cls, count: int) -> Ends:
        """No strips and no steps on so many ribs."""
        return cls(np.full(count, -np.inf), np.full(count, np.inf), [np.empty((0, 2))] * count)


def outlines(
    stations: Sequence[Station],
    skins: FloatArray,
    edges: tuple[Edges, Edges],
    least_tail_mm: float,
    paths: Sequence[str],
    ends: Ends | None = None,
) -> list[Outline | None]:
    """Outlines out of ribs' upper and lower edges that lie under their skins already: see `under_skins`.

    skins : (k,) thickness of the skin at the nose [mm]
    edges : upper and lower, with the nose still on them, runs not yet rejoined at the sections' own corners
    ends  : strips and steps
    """
    top, bottom = edges
    ends = Ends.none(len(stations)) if ends is None else ends
    round_nose = np.array([station.section.round_nose for station in stations])
    radius = np.where(round_nose, np.minimum(top.least_radius(-1.0), bottom.least_radius(1.0)), -skins)
    blunt = (skins > 0) & (radius < LEAST_NOSE_RADIUS_MM)
    if blunt.any():
        top, bottom = top.forward_part(blunt), bottom.forward_part(blunt)
    if any(surface.corners for station in stations for surface in (station.section.upper, station.section.lower)):
        top, bottom = rejoined(top), rejoined(bottom)
    x, depth = _depths(top, bottom)
    inside = (x >= ends.begin_mm[:, None]) & (x <= ends.end_mm[:, None])
    left = np.any((depth >= max(least_tail_mm, 1e-9)) & inside, axis=1)
    tail, shallow = _shallow(top, bottom, x, depth, least_tail_mm, 1.0)
    stopped = ends.end_mm < tail
    tail = np.where(stopped, ends.end_mm, tail)
    nose = x.min(axis=1)
    begun = ends.begin_mm > nose + 1e-6
    if blunt.any():
        sharp, _ = _shallow(top, bottom, x, depth, min(BLUNT_NOSE_MM, least_tail_mm), -1.0)
        blunt, nose = blunt & (sharp >= ends.begin_mm), np.where(blunt, sharp, nose)
    nose = np.maximum(nose, ends.begin_mm)
    if (begun | blunt).any():
        top, bottom = (edge.cut(nose, begun | blunt, nose=True) for edge in (top, bottom))
    left &= nose < tail
    tail = np.where(left, tail, x.max(axis=1))
    top, bottom = (edge.cut(tail, (shallow | stopped) & left, nose=False) for edge in (top, bottom))
    facts = zip(round_nose, begun, blunt, radius, shallow & ~stopped, ends.steps, paths, strict=True)
    return [_assembled(top.side(k), bottom.side(k), *of) if left[k] else None for k, of in enumerate(facts)]


def moved(surfaces: Sequence[Surface], chords_mm: FloatArray, right_mm: FloatArray) -> Edges:
    """Surfaces scaled, and moved to the right of their way."""
    edges = gathered([(surface.xy, surface.tangent) for surface in surfaces], [s.corners for s in surfaces])
    normal = np.stack([edges.tangent[..., 1], -edges.tangent[..., 0]], axis=-1)
    return replace(edges, xy=chords_mm[:, None, None] * edges.xy + right_mm[:, None, None] * normal)


def _depths(top: Edges, bottom: Edges) -> tuple[FloatArray, FloatArray]:
    """(k, m) the x of all points of both edges, drawn to where there are both, and the depths there [mm].

    Read straight between points, all edges end to end in one rising row.
    """
    (upper_x, upper_y), (lower_x, lower_y) = top.aft(), bottom.aft()
    start, end = np.maximum(upper_x[:, :1], lower_x[:, :1]), np.minimum(upper_x[:, -1:], lower_x[:, -1:])
    x = np.concatenate([np.clip(upper_x, start, end), np.clip(lower_x, start, end)], axis=1)
    least, most = min(upper_x[:, 0].min(), lower_x[:, 0].min()), max(upper_x[:, -1].max(), lower_x[:, -1].max())
    row = (most - least + 1.0) * np.arange(len(x))[:, None]
    upper, lower = (
        np.interp((x + row).ravel(), (own + row).ravel(), y.ravel()).reshape(x.shape)
        for own, y in ((upper_x, upper_y), (lower_x, lower_y))
    )
    return x, upper - lower


def _shallow(
    top: Edges, bottom: Edges, x: FloatArray, depth: FloatArray, depth_mm: float, aft: float
) -> tuple[FloatArray, BoolArray]:
    """(k,) x where ribs get less deep than some depth for the last time as one goes aft (1) or ahead (-1) [mm].

    x, depth : (k, m) as of `_depths` [mm]
    returns  : the x, and whether there is such a place; where there is none, the x of the ribs' own ends
    """
    row, way = np.arange(len(x)), aft * x
    deep = np.argmax(np.where(depth >= max(depth_mm, 1e-9), way, -np.inf), axis=1)
    beyond = np.argmin(np.where(way > way[row, deep][:, None], way, np.inf), axis=1)
    more, less = depth[row, deep], depth[row, beyond]
    there = (way[row, beyond] > way[row, deep]) & (more >= max(depth_mm, 1e-9))
    share = np.clip((more - depth_mm) / np.maximum(more - less, 1e-12), 0.0, 1.0)
    start, end = x.min(axis=1), x.max(axis=1)
    found = np.where(there, x[row, deep] + share * (x[row, beyond] - x[row, deep]), end if aft > 0 else start)
    for _ in range(ROUNDS):  # Newton's rule on the curves themselves
        (_, above, rise), (_, below, fall) = top.at(found), bottom.at(found)
        slope = rise[:, 1] / np.maximum(rise[:, 0], 1e-12) - fall[:, 1] / np.maximum(fall[:, 0], 1e-12)
        off = above[:, 1] - below[:, 1] - depth_mm
        step = np.divide(off, slope, where=there & (aft * slope < 0), out=np.zeros_like(off))
        found = np.clip(found - step, start, end)
        if np.abs(step).max() < 1e-10:
            break
    return found, there


def _assembled(
    top: Side,
    bottom: Side,
    round_nose: bool,
    begun: bool,
    blunt: bool,
    radius: float,
    cut_tail: bool,
    steps: FloatArray,
    path: str,
) -> Outline:
    upper, lower = [curve.back() for curve in reversed(top.curves)], list(bottom.curves)
    corners = [("upper tail", top.curves[-1].xy[-1]), ("lower tail", bottom.curves[-1].xy[-1])]
    for name, side in (("upper", top), ("lower", bottom)):
        for curve in side.curves[1:]:
            at = curve.xy[0]
            corners.append((f"{name} step" if bool(np.all(steps == at, axis=1).any()) else name, at))
    if begun or blunt:
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
    return Outline(tuple(pieces), top, bottom, named, bool(blunt), float(radius), bool(cut_tail))
