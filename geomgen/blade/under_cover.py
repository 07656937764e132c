"""Ribs' outlines under what covers them: one depth, or a step where the sheet ends, and strips at the ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.arrays import BoolArray, FloatArray
from geomgen.blade.cover import Cover
from geomgen.blade.edges import Edges
from geomgen.blade.station import Station
from geomgen.blade.under_skin import Ends, Outline, moved, outlines, under_skins
from geomgen.errors import Fault, MakeError
from geomgen.figures import at_least, mm
from geomgen.section import hermite
from geomgen.section.section import Surface

NEAR_MM = 0.2  # a step nearer than this to a corner of the section is made at the corner
OFF_POINT = 1e-4  # a step keeps this share of a stretch away from the section's own points


def under_covers(
    stations: Sequence[Station], covers: Sequence[Cover], least_tail_mm: float, paths: Sequence[str]
) -> list[Outline | None]:
    """The outline of a rib at each of k stations, or None where what covers it leaves nothing deep enough.

    Where the depth changes, upper and lower edge step along a straight line on the section's normal at the step's x.
    A strip at the nose or the tail ends the rib in a line square to the chord, unless it got too thin before.

    stations      : the placed sections
    covers        : what lies over each
    least_tail_mm : a rib ends where its depth falls below this [mm]
    paths         : for each, the key path to blame where the outline can't be drawn
    raises        : MakeError where a rib is thinner than that ahead of its step
    """
    ahead, behind = (np.array([getattr(c, name) for c in covers]) for name in ("ahead_mm", "behind_mm"))
    nose, tail = (np.array([getattr(c, name) for c in covers]) for name in ("nose_mm", "tail_mm"))
    steps = np.array([np.nan if c.step is None else c.step for c in covers])
    which = np.isfinite(steps) & (ahead != behind)
    if not (which.any() or nose.any() or tail.any()):
        return under_skins(stations, ahead.tolist(), least_tail_mm, paths)
    chords = np.array([station.chord_mm for station in stations])
    x = np.where(which, steps, 0.5) * chords
    of = _Depths(chords, ahead, behind, x, which)
    top = _stepped([station.section.upper for station in stations], of, 1.0)
    bottom = _stepped([station.section.lower for station in stations], of, -1.0)
    end = np.where(tail > 0, chords - tail, np.inf)
    if faults := _waists(stations, covers, top, bottom, which & (x < end), least_tail_mm):
        raise MakeError(faults)
    corners = [np.concatenate([top.steps[k], bottom.steps[k]]) if which[k] else _NONE for k in range(len(stations))]
    ends = Ends(np.where(nose > 0, nose, -np.inf), end, corners)
    return outlines(stations, ahead, (top.edges, bottom.edges), least_tail_mm, paths, ends)


_NONE = np.empty((0, 2))


@dataclass(frozen=True, eq=False)
class _Depths:
    """Of k ribs: chord, depth ahead and behind, x of the step [mm], and whether there is one."""

    chord: FloatArray
    ahead: FloatArray
    behind: FloatArray
    x: FloatArray
    which: BoolArray


@dataclass(frozen=True, eq=False)
class _Stepped:
    """Edges under their covers, and (k, 2, 2) the corners of their steps, the one ahead first [mm]."""

    edges: Edges
    steps: FloatArray


def _stepped(surfaces: Sequence[Surface], of: _Depths, up: float) -> _Stepped:
    """Surfaces moved inwards by one depth ahead of the step and by another behind it.

    At the step the edge has two corners and a straight stretch between them; as corners do, their points stand twice.

    up : +1 for upper surfaces, -1 for lower
    """
    bare = moved(surfaces, of.chord, np.zeros(len(surfaces)))
    k, n = bare.xy.shape[:2]
    row, j = np.arange(k), np.arange(n + 4)
    found = hermite.crossings(bare.xy, bare.tangent, of.x[:, None])
    stretch, share = found[0][:, 0], np.clip(found[1][:, 0], OFF_POINT, 1.0 - OFF_POINT)
    corner = _near_corners(bare, of)
    own = corner >= 0  # the section has a corner there already
    added = np.where(of.which, np.where(own, 2, 4), 0)  # points
    lead, cut = 4 - added, np.where(of.which, np.where(own, corner, stretch) + 1, n)
    foot = cut + lead + added // 2  # index of the first point behind the step's straight stretch
    old = np.where(j < (cut + lead)[:, None], j - lead[:, None], j - 4)
    old = np.where(j >= (cut + lead + added)[:, None], old, np.where(j >= foot[:, None], cut[:, None], old))
    old = np.where((j >= (cut + lead)[:, None]) & (j < foot[:, None]), (cut - 1)[:, None], old)
    old = np.clip(old, bare.first[:, None], n - 1)[..., None]
    xy, tangent = (np.take_along_axis(each, old, axis=1) for each in (bare.xy, bare.tangent))
    fresh = np.flatnonzero(of.which & ~own)
    point, way = _read(bare, fresh, stretch[fresh], share[fresh])
    for shift in range(-2, 2):
        xy[fresh, foot[fresh] + shift], tangent[fresh, foot[fresh] + shift] = point, way
    depth = np.where(j < np.where(of.which, foot, n + 4)[:, None], of.ahead[:, None], of.behind[:, None])
    xy += up * depth[..., None] * np.stack([tangent[..., 1], -tangent[..., 0]], axis=-1)
    some, at = row[of.which], foot[of.which]
    steps = np.full((k, 2, 2), np.nan)
    steps[some] = np.stack([xy[some, at - 1], xy[some, at]], axis=1)
    rise = steps[some, 1] - steps[some, 0]
    tangent[some, at - 1] = tangent[some, at] = rise / np.hypot(*rise.T)[:, None]
    moves = zip(bare.corners, of.which.tolist(), lead.tolist(), cut.tolist(), foot.tolist(), strict=True)
    edges = Edges(xy, tangent, bare.first + lead, np.full(k, n + 3), tuple(_corners(*move) for move in moves))
    return _Stepped(edges, steps)


def _corners(corners: tuple[int, ...], stepped: bool, lead: int, cut: int, foot: int) -> tuple[int, ...]:
    """Index of the first of the two points of each corner, those of the step among them."""
    if not stepped:
        return tuple(c + 4 for c in corners)
    before, after = (c + lead for c in corners if c < cut - 1), (c + 4 for c in corners if c >= cut)
    return (*before, foot - 2, foot, *after)


def _near_corners(edges: Edges, of: _Depths) -> NDArray[np.intp]:
    """(k,) index of the corner that a rib's step lies at, or -1."""
    found = np.full(len(edges.xy), -1, dtype=np.intp)
    for k, corners in enumerate(edges.corners):
        if corners and of.which[k]:
            away = np.abs(edges.xy[k, list(corners), 0] - of.x[k])
            nearest = int(np.argmin(away))
            if away[nearest] < NEAR_MM:
                found[k] = corners[nearest]
    return found


def _read(edges: Edges, row: NDArray[np.intp], stretch: NDArray[np.intp], share: FloatArray) -> tuple[FloatArray, ...]:
    """Points and unit tangents of some edges within a stretch of each."""
    both = stretch[:, None] + np.arange(2)
    xy, ways = edges.xy[row[:, None], both], edges.tangent[row[:, None], both]
    ends = (xy[:, 0], xy[:, 1]), (ways[:, 0], ways[:, 1])
    point, speed = hermite.between(*ends, hermite.steps(xy, ways)[:, 0], share)
    return point, speed / np.hypot(speed[:, 0], speed[:, 1])[:, None]


def _waists(
    stations: Sequence[Station],
    covers: Sequence[Cover],
    top: _Stepped,
    bottom: _Stepped,
    which: BoolArray,
    least_tail_mm: float,
) -> list[Fault]:
    """A fault for the first rib whose step stands behind a place too thin to be left."""
    for k in np.flatnonzero(which).tolist():
        station, step = stations[k], covers[k].step or 0.0
        depth = float(top.steps[k, 0, 1] - bottom.steps[k, 0, 1])
        if depth < least_tail_mm and float(station.section.depth(step / 2)) > float(station.section.depth(step)):
            wrong = (
                f"at r {mm(station.r_mm, 1)} the sheet leaves {mm(max(depth, 0.0), 2)} of rib where it ends, "
                f"{mm(step * station.chord_mm, 1)} behind the nose"
            )
            allowed = f"at least {at_least(least_tail_mm)}, blade.construction.least_tail"
            remedy = "end the sheet further ahead, or take a thinner one"
            return [Fault("blade.construction.to", f"{step:g}", wrong, allowed, remedy)]
    return []
