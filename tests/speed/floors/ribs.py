"""Floor: the outlines of a row of ribs as arcs that meet in a tangent, by bare numpy.

Every rib at once, from the published equations of two four-digit sections to plain arrays of arcs: sampled, blended at
equal length, scaled, moved in by the skin, ended where it gets too thin, one pair of arcs between neighbouring nodes.
Nodes are searched for on the two end ribs alone and go straight from one to the other; how many is given. What comes
out is held against the curve at seven places of each pair. It knows round noses and sections without corners only.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

STATIONS = 161  # from nose to tail
NOSE_STEP, NOSE_SHARE = 0.1, 0.06  # closest step over the mean; share of the length over which both surfaces keep pace
ROUNDS, ENOUGH = 60, 0.9  # of the search for nodes, which ends when this share of the tolerance does
CHECKS = (np.arange(7) + 0.5) / 7


@dataclass(frozen=True)
class Row:
    """What ribs to draw.

    r                       : (k,) where they stand [mm]
    at                      : r of the two ends that chord and section are given at [mm]
    chord                   : at the two ends [mm]
    digits                  : four digits of the section at the two ends
    skin, least_tail        : thickness of the skin, least depth [mm]
    tol                     : greatest distance between arcs and curve [mm]
    pairs                   : pairs of arcs for each rib
    """

    r: FloatArray
    at: tuple[float, float]
    chord: tuple[float, float]
    digits: tuple[str, str]
    skin: float
    least_tail: float
    tol: float
    pairs: int


@dataclass(frozen=True)
class Nodes:
    """Where the nodes go at the two ends of the row; between, straight from one to the other.

    share : (2, pairs + 1) of the length from the upper tail to the lower
    aside : (2, pairs + 1) how far left of the curve each goes: half of what the arcs beside it stray [mm]
    """

    share: FloatArray
    aside: FloatArray


def outlines(row: Row) -> FloatArray:
    """(k, 2 pairs + 1, 3) x, y [mm] and bulge of each rib's vertices; the last segment is the tail's straight line."""
    share = np.interp(row.r, row.at, (0.0, 1.0))
    weight = np.stack((1.0 - share, share))
    curve = _curve(row, weight)
    nodes = _searched(row)
    points, arcs, off = _laid(curve, weight.T @ nodes.share, weight.T @ nodes.aside)
    if (worst := np.abs(off).max()) > row.tol:
        raise ValueError(f"the arcs stray {worst:.4f} mm from their curve")
    return _rings(points, arcs)


def _searched(row: Row) -> Nodes:
    """Nodes for the two ends of a row, moved until every pair of arcs strays as far as the others."""
    curve = _curve(replace(row, r=np.array(row.at)), np.eye(2))
    even = np.linspace(0.0, 1.0, row.pairs + 1)
    share = np.stack((even, even))
    for _ in range(ROUNDS):
        off = _laid(curve, share, np.zeros_like(share))[2]
        middle = 0.5 * (off.min(axis=2) + off.max(axis=2))
        aside = np.zeros_like(share)
        aside[:, 1:-1] = -0.5 * (middle[:, 1:] + middle[:, :-1])
        error = np.abs(_laid(curve, share, aside)[2]).max(axis=2)
        if error.max() < ENOUGH * row.tol:
            return Nodes(share, aside)
        wanted = np.cumsum(np.maximum(error, 0.1 * error.mean()) ** (1 / 6), axis=1)
        share = np.stack([np.interp(even, np.append(0.0, w / w[-1]), s) for w, s in zip(wanted, share, strict=True)])
    raise ValueError(f"{row.pairs} pairs of arcs don't do")


@dataclass(frozen=True)
class _Curve:
    """(k, n, 2) points [mm] and unit tangents, (k, n - 1) lengths between, (k, 2) places of the tails."""

    xy: FloatArray
    way: FloatArray
    step: FloatArray
    tails: FloatArray


def _curve(row: Row, weight: FloatArray) -> _Curve:
    """The ribs' edges from upper to lower tail, weight (2, k) those of the two ends."""
    ends = [_section(digits) for digits in row.digits]
    xy, way = (np.einsum("wk,wnc->knc", weight, np.stack([end[i] for end in ends])) for i in (0, 1))
    way /= np.hypot(way[..., 0], way[..., 1])[..., None]
    chord = np.asarray(row.chord) @ weight
    xy = chord[:, None, None] * xy + row.skin * np.stack((-way[..., 1], way[..., 0]), axis=-1)
    step = _steps(xy, way)
    return _Curve(xy, way, step, _tails(xy, way, step, row.least_tail))


def _laid(curve: _Curve, share: FloatArray, aside: FloatArray) -> tuple[FloatArray, Arcs, FloatArray]:
    """(k, pairs + 1, 2) nodes, the arcs between, and how far points of the curve are from them (k, pairs, checks)."""
    nodes = _places(curve.step, curve.tails, share)
    points, ways = _at(curve.xy, curve.way, curve.step, nodes)
    points += aside[..., None] * np.stack((-ways[..., 1], ways[..., 0]), axis=-1)
    arcs = _pairs(points, ways)
    checks = nodes[:, :-1, None] + np.diff(nodes, axis=1)[..., None] * CHECKS
    on_curve = _at(curve.xy, curve.way, curve.step, checks.reshape(len(nodes), -1))[0].reshape(*checks.shape, 2)
    return points, arcs, _off(points, ways, arcs, on_curve)


def _section(digits: str) -> tuple[FloatArray, FloatArray]:
    """(2 STATIONS - 1, 2) points from upper tail round the nose to lower tail, and derivatives by station; chord 1."""
    m, p, t = int(digits[0]) / 100, int(digits[1]) / 10, int(digits[2:]) / 100
    u = np.sin(np.linspace(0.0, 0.5 * np.pi, STATIONS))
    sides = [_surface(m, p, sign * t, u) for sign in (1.0, -1.0)]
    along = [_lengths(*side) for side in sides]
    pace = 0.5 * (along[0][-1] + along[1][-1])
    even = np.linspace(0.0, 1.0, STATIONS)
    station = even * (NOSE_STEP + (1.0 - NOSE_STEP) * even)
    found = []
    for sign, length in zip((1.0, -1.0), along, strict=True):
        rest = 1.0 - np.minimum(station / NOSE_SHARE, 1.0)
        at = length[-1] * station + (pace - length[-1]) * station * rest**3
        rate = length[-1] + (pace - length[-1]) * (4.0 * rest - 3.0) * rest**2
        xy, way = _surface(m, p, sign * t, np.interp(at, length, u))
        found.append((xy, way * rate[:, None]))
    (upper, fore), (lower, aft) = found
    return np.vstack((upper[::-1], lower[1:])), np.vstack((-fore[::-1], aft[1:]))


def _surface(m: float, p: float, t: float, u: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Points and unit tangents at u = sqrt(x); t < 0 for the lower surface. NACA Report 460."""
    x = u * u
    half = 5.0 * t * (0.2969 * u - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    grow = 5.0 * t * (0.2969 - 0.252 * u - 1.4064 * u**3 + 1.7058 * u**5 - 0.812 * u**7)
    q = np.where(x < p, p * p, (1.0 - p) ** 2)
    height = m / q * (np.where(x < p, 0.0, 1.0 - 2.0 * p) + 2.0 * p * x - x * x)
    slope = 2.0 * m / q * (p - x)
    cos = 1.0 / np.hypot(1.0, slope)
    sin, bend = slope * cos, -2.0 * m / q * cos * cos * 2.0 * u
    way = np.column_stack((2 * u - grow * sin - half * cos * bend, 2 * u * slope + grow * cos - half * sin * bend))
    return np.column_stack((x - half * sin, height + half * cos)), way / np.hypot(*way.T)[:, None]


def _steps(xy: FloatArray, way: FloatArray) -> Any:
    """(..., n - 1) length of each interval."""
    chord, (a, b) = np.diff(xy, axis=-2), (way[..., :-1, :], way[..., 1:, :])
    turn = np.arctan2(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0], a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1])
    return np.hypot(chord[..., 0], chord[..., 1]) / np.sinc(0.5 * turn / np.pi)


def _lengths(xy: FloatArray, way: FloatArray) -> FloatArray:
    return np.append(0.0, np.cumsum(_steps(xy, way)))


def _at(xy: FloatArray, way: FloatArray, step: FloatArray, place: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Points and unit tangents (k, m, 2) at places (k, m) counted in samples: 2.25 is a quarter past the third."""
    i = np.clip(place.astype(np.intp), 0, xy.shape[1] - 2)
    row, u = np.arange(len(xy))[:, None], (place - i)[..., None]
    p, q, h = xy[row, i], xy[row, i + 1], step[row, i][..., None]
    leave, arrive, rest = h * way[row, i], h * way[row, i + 1], 1.0 - u
    point = p + u * u * (3.0 - 2.0 * u) * (q - p) + u * rest * (rest * leave - u * arrive)
    speed = 6.0 * u * rest * (q - p) + rest * (1.0 - 3.0 * u) * leave + u * (3.0 * u - 2.0) * arrive
    return point, speed / np.hypot(speed[..., 0], speed[..., 1])[..., None]


def _tails(xy: FloatArray, way: FloatArray, step: FloatArray, least: float) -> FloatArray:
    """(k, 2) places on the upper and the lower edge that lie above one another by the least depth: Newton's method."""
    n = xy.shape[1]
    half = xy[:, n // 2 :: -1, 1] - xy[:, n // 2 :, 1]
    first = np.argmax(half[:, STATIONS // 2 :] < least, axis=1) + STATIONS // 2
    place = np.column_stack((n // 2 - first, n // 2 + first)).astype(np.float64)
    speed = np.take_along_axis(step, place.astype(np.intp), axis=1)
    for _ in range(5):
        point, tangent = _at(xy, way, step, place)
        gap = point[:, 0] - point[:, 1] - (0.0, least)
        (a, b), (c, d) = (tangent[:, 0] * speed[:, :1]).T, (tangent[:, 1] * speed[:, 1:]).T
        det = b * c - a * d
        place += np.column_stack((d * gap[:, 0] - c * gap[:, 1], b * gap[:, 0] - a * gap[:, 1])) / det[:, None]
    return place


def _places(step: FloatArray, tails: FloatArray, share: FloatArray) -> FloatArray:
    """(k, m) places counted in samples, at shares (k, m) of the length from the upper tail to the lower."""
    k, n = len(step), step.shape[1] + 1
    row = n * np.arange(k)[:, None]
    along = np.pad(np.cumsum(step, axis=1), ((0, 0), (1, 0)))
    along += np.append(0.0, np.cumsum(along[:-1, -1] + 1.0))[:, None]  # rows end to end, rising all along
    count, flat = np.arange(k * n, dtype=np.float64), along.ravel()
    first, last = np.interp((tails + row).ravel(), count, flat).reshape(k, 2).T[..., None]
    place = np.interp((first + (last - first) * share).ravel(), flat, count).reshape(share.shape) - row
    place[:, [0, -1]] = tails
    return place


@dataclass(frozen=True)
class Arcs:
    """(k, pairs, ...) joints, tangents there, and the two bulges and curvatures."""

    joint: FloatArray
    way: FloatArray
    bulge: tuple[FloatArray, FloatArray]
    curvature: tuple[FloatArray, FloatArray]


def _pairs(points: FloatArray, ways: FloatArray) -> Arcs:
    """Two arcs between neighbours with equal tangent lengths d: |chord - d (way + way)| = 2 d."""
    (p, q), (s, e) = (points[:, :-1], points[:, 1:]), (ways[:, :-1], ways[:, 1:])
    v, t = q - p, s + e
    vv, vt = _dot(v, v), _dot(v, t)
    d = (vv / (vt + np.sqrt(vt * vt + 2.0 * (1.0 - _dot(s, e)) * vv)))[..., None]
    joint, way = 0.5 * (p + q + d * (s - e)), v - d * t
    way /= np.hypot(way[..., 0], way[..., 1])[..., None]
    chords = joint - p, q - joint
    reach = tuple(np.hypot(c[..., 0], c[..., 1]) for c in chords)
    turns = zip((s, way), chords, reach, strict=True)
    bulge = tuple(_cross(a, c) / (h + _dot(a, c)) for a, c, h in turns)
    bent = tuple(4.0 * b / ((1.0 + b * b) * h) for b, h in zip(bulge, reach, strict=True))
    return Arcs(joint, way, bulge, bent)


def _off(points: FloatArray, ways: FloatArray, arcs: Arcs, on_curve: FloatArray) -> FloatArray:
    """(k, pairs, checks) distance of points of the curve from the arc beside them."""
    from_joint = on_curve - arcs.joint[:, :, None]
    before = _dot(from_joint, arcs.way[:, :, None]) < 0.0
    way = np.where(before[..., None], ways[:, :-1, None], arcs.way[:, :, None])
    v = np.where(before[..., None], on_curve - points[:, :-1, None], from_joint)
    bent = np.where(before, arcs.curvature[0][..., None], arcs.curvature[1][..., None])
    power = bent * _dot(v, v) - 2.0 * _cross(way, v)
    return power / (1.0 + np.sqrt(1.0 + bent * power))


def _rings(points: FloatArray, arcs: Arcs) -> FloatArray:
    k, n = arcs.bulge[0].shape
    rings = np.zeros((k, 2 * n + 1, 3))
    rings[:, ::2, :2], rings[:, 1::2, :2] = points, arcs.joint
    rings[:, :-1:2, 2], rings[:, 1::2, 2] = arcs.bulge
    return rings


def _dot(a: FloatArray, b: FloatArray) -> Any:
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]


def _cross(a: FloatArray, b: FloatArray) -> Any:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
