"""Between two sections: points at equal arc length from the nose, moved straight from one to the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.section.grid import stations
from geomgen.section.reshape import flattened, scaled
from geomgen.section.section import Section, Surface

__all__ = ["blend", "blend_many", "flattened", "scaled"]


_NOSE = 0.06  # the two surfaces' lengths part from a common pace over this share of them, so that the nose stays round
_APART = 1e-3  # corners nearer than this are one [share of the surface's length]


def blend(a: Section, b: Section, share: float) -> Section:
    """The section a given way from `a` (share 0) to `b` (share 1)."""
    return blend_many(a, b, [share])[0]


def blend_many(a: Section, b: Section, shares: Sequence[float] | FloatArray) -> list[Section]:
    """Sections at many shares between two, all from one pairing of their stations.

    a, b    : sections; the same object twice gives that object back
    shares  : (k,) 0 for `a`, 1 for `b`
    returns : k sections whose surfaces have equally many points

    Corners of the same names on both go over into one another, stretch by stretch; a corner that only one of them has
    fades. Tangents are exact: those of the curve that the blended stations trace.
    """
    if a is b:
        return [a] * len(shares)
    share = np.asarray(shares, dtype=np.float64)
    upper, lower = (_blended(pair, share) for pair in _paired(a, b))
    note = f"blended at equal arc length between {a.name} ({a.note}) and {b.name} ({b.note})"
    return [
        Section(f"{a.name} to {b.name}, {s:.4g}", note, above, below)
        for s, above, below in zip(share.tolist(), upper, lower, strict=True)
    ]


@dataclass(frozen=True, eq=False)
class _Pair:
    """One surface of two sections at common stations.

    xy, speed : (2, n, 2) points and derivatives by station, of the first and the second section
    corners, names : as in Surface
    """

    xy: FloatArray
    speed: FloatArray
    corners: tuple[int, ...]
    names: tuple[str, ...]


def _blended(pair: _Pair, share: FloatArray) -> list[Surface]:
    weight = np.stack([1.0 - share, share])
    xy = np.einsum("wk,wnc->knc", weight, pair.xy)
    tangent = np.einsum("wk,wnc->knc", weight, pair.speed)
    tangent /= np.hypot(tangent[..., 0], tangent[..., 1])[..., None]
    return [Surface(p, t, pair.corners, pair.names) for p, t in zip(xy, tangent, strict=True)]


@lru_cache(maxsize=32)
def _paired(a: Section, b: Section) -> tuple[_Pair, _Pair]:
    """Upper and lower surfaces of two sections at common stations."""
    paces = tuple(0.5 * (section.upper.length + section.lower.length) for section in (a, b))
    return _pair((a.upper, b.upper), paces), _pair((a.lower, b.lower), paces)


def _pair(surfaces: tuple[Surface, Surface], paces: tuple[float, ...]) -> _Pair:
    """One surface of two sections at common stations.

    surfaces : the first and the second section's
    paces    : length by station at the nose of each section, the same above and below it, so that the nose stays round
    """
    breaks = _breaks(*surfaces)
    grid = stations([at for at, _, _ in breaks])
    ends = [[shares[i] for _, shares, _ in breaks] for i in (0, 1)]
    found = [_sampled(*each, grid) for each in zip(surfaces, paces, ends, strict=True)]
    xy, speed = (np.stack([each[i] for each in found]) for i in (0, 1))
    corners = np.cumsum([len(part) for part in grid])[:-1] - 1
    return _Pair(xy, speed, tuple(corners.tolist()), tuple(name for _, _, name in breaks))


Break = tuple[float, tuple[float, float], str]


def _breaks(a: Surface, b: Surface) -> list[Break]:
    """Where corners go: common station, share of the length on `a` and on `b`, name; in order from the nose.

    A corner that both have under one name lies at its own place on each; one that only one has, at the same share.
    """
    of_a, of_b = (dict(zip(s.names, (s.along[list(s.corners)] / s.length).tolist(), strict=True)) for s in (a, b))
    matched = [(of_a.get(name, of_b.get(name, 0.0)), of_b.get(name, of_a.get(name, 0.0)), name) for name in of_a | of_b]
    matched.sort()
    if any(later[1] <= earlier[1] for earlier, later in pairwise(matched)):  # in another order: none goes into another
        matched = sorted((share, share, name) for corners in (of_a, of_b) for name, share in corners.items())
    kept: list[Break] = []
    for p, q, name in matched:
        if not kept or min(p - kept[-1][1][0], q - kept[-1][1][1]) > _APART:
            kept.append((0.5 * (p + q), (p, q), name))
    return kept


def _sampled(
    surface: Surface, pace: float, breaks: Sequence[float], grid: Sequence[FloatArray]
) -> tuple[FloatArray, FloatArray]:
    """A surface at common stations: points, and derivatives by station.

    Length runs evenly with the station from corner to corner, save close behind the nose: there it sets out at `pace`,
    as on the other surface.
    """
    ends = surface.length * np.array([0.0, *breaks, 1.0])
    for corner in surface.along[list(surface.corners)]:  # exactly there, or `at` takes the tangent of the other side
        ends[np.abs(ends - corner) < 1e-12] = corner
    points, speeds = [], []
    for part, (start, end) in zip(grid, pairwise(ends), strict=True):
        even = (end - start) / (part[-1] - part[0])
        along, rate = start + even * (part - part[0]), np.full(len(part), even)
        if part[0] == 0.0:
            share = np.minimum(part / min(_NOSE, part[-1]), 1.0)
            along += (pace - even) * part * (1.0 - share) ** 3
            rate += (pace - even) * (1.0 - 4.0 * share) * (1.0 - share) ** 2
        along[0], along[-1] = start, end
        front, back = surface.at(along[:-1], "right"), surface.at(along[-1:], "left")
        xy, tangent = (np.concatenate(both) for both in zip(front, back, strict=True))
        points.append(xy)
        speeds.append(tangent * rate[:, None])
    return np.concatenate(points), np.concatenate(speeds)
