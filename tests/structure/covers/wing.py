"""Blades of one four-digit section from the published equations, skins on them, and what to measure on a flat pattern.

Nothing of the program's own geometry is used here but the drawn paths: numpy and shapely only.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.model.part import Flat
from geomgen.plane.path import Path

FloatArray = NDArray[np.float64]

SHARE, LEAST_MM = 2e-4, 0.05  # a line keeps its length within the greater of 0.02 % and 0.05 mm
SAMPLES = 6001
HALVES = ("upper", "lower")
SIGN = {"upper": 1.0, "lower": -1.0}


@dataclass(frozen=True)
class Wing:
    """Chord and twist straight from root to tip, one section, turned on a feather axis at a quarter chord, at camber.

    root, tip : ends of the blade [mm]
    chord     : at both [mm]
    twist     : at both [deg]
    zero      : r where the chord line is level [mm]
    m, p, t   : camber, its place and thickness of the four-digit section [chord]
    """

    root: float = 120.0
    tip: float = 700.0
    chord: tuple[float, float] = (180.0, 150.0)
    twist: tuple[float, float] = (4.0, 0.0)
    zero: float = 525.0
    m: float = 0.04
    p: float = 0.4
    t: float = 0.15

    def chord_at(self, r: FloatArray) -> FloatArray:
        return np.interp(r, (self.root, self.tip), self.chord)

    def angle_at(self, r: FloatArray) -> FloatArray:
        twist = np.interp(np.append(r, self.zero), (self.root, self.tip), self.twist)
        return np.radians(twist[:-1] - twist[-1])

    @cached_property
    def _u(self) -> FloatArray:
        return np.sin(np.linspace(0.0, 0.5 * np.pi, SAMPLES))

    def _points(self, u: NDArray[np.complex128], sign: float) -> NDArray[np.complex128]:
        """x and y of a surface at u = √x: NACA Report 460, open tail."""
        m, p, x = self.m, self.p, u * u
        half = 5 * self.t * (0.2969 * u - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
        fore = x.real < p
        if m == 0.0:
            return np.array([x, sign * half])
        mean = np.where(fore, m / p**2 * (2 * p * x - x**2), m / (1 - p) ** 2 * (1 - 2 * p + 2 * p * x - x**2))
        slope = np.where(fore, 2 * m / p**2 * (p - x), 2 * m / (1 - p) ** 2 * (p - x))
        root = np.sqrt(1 + slope * slope)
        return np.array([x - sign * half * slope / root, mean + sign * half / root])

    @cached_property
    def sides(self) -> dict[str, tuple[FloatArray, FloatArray, FloatArray, FloatArray]]:
        """Of each surface, chord 1: points (n, 2), inward normals (n, 2), lengths and angles turned (n,) from the nose.

        Tangents by a complex step, exact to rounding; lengths by Simpson's rule on the speed.
        """
        found = {}
        for half in HALVES:
            u = self._u.astype(np.complex128)
            xy = self._points(u, SIGN[half]).real.T
            beta = np.linspace(0.0, 0.5 * np.pi, SAMPLES)
            h = 1e-30
            way = self._points(np.sin(beta + 1j * h), SIGN[half]).imag.T / h
            speed = np.hypot(*way.T)
            speed[-1] = speed[-2] if speed[-1] == 0.0 else speed[-1]
            middle = np.hypot(*(self._points(np.sin(0.5 * (beta[1:] + beta[:-1]) + 1j * h), SIGN[half]).imag / h))
            step = beta[1] / 6.0 * (speed[1:] + 4.0 * middle + speed[:-1])
            length = np.append(0.0, np.cumsum(step))
            tangent = self._points(np.sin(np.append(beta[:-1], beta[-1] - 1e-6) + 1j * h), SIGN[half]).imag.T
            tangent /= np.hypot(*tangent.T)[:, None]
            angle = np.unwrap(np.arctan2(tangent[:, 1], tangent[:, 0]))
            inward = SIGN[half] * np.column_stack([tangent[:, 1], -tangent[:, 0]])
            found[half] = (xy, inward, length, abs(angle - angle[0]))
        return found

    @cached_property
    def axis(self) -> tuple[float, float]:
        """Where the feather axis crosses the section [chord]: half way between the surfaces at a quarter chord."""
        heights = [np.interp(0.25, *self._aft(half).T) for half in HALVES]
        return 0.25, float(np.mean(heights))

    def _aft(self, half: str) -> FloatArray:
        xy = self.sides[half][0]
        return xy[int(np.argmin(xy[:, 0])) :]

    def camber(self, x: float) -> float:
        return float(np.mean([np.interp(x, *self._aft(half).T) for half in HALVES]))

    def at_depth(self, r: float, half: str, depth: float) -> tuple[FloatArray, FloatArray]:
        """Points (n, 2) of a surface so far inside the section [mm], and lengths (n,) from the nose along them [mm].

        A curve moved inwards by d is shorter by d times the angle it turns through.
        """
        chord = float(self.chord_at(np.array([r]))[0])
        xy, inward, length, angle = self.sides[half]
        return chord * xy + depth * inward, chord * length - depth * angle

    def girth(self, r: float, depth: float) -> float:
        return sum(float(self.at_depth(r, half, depth)[1][-1]) for half in HALVES)

    def to_x(self, r: float, half: str, depth: float, x: float) -> float:
        """Length from the nose at which a surface at a depth reaches an x behind the leading edge [mm]."""
        xy, along = self.at_depth(r, half, depth)
        first = int(np.argmin(xy[:, 0]))
        return float(np.interp(x, xy[first:, 0], along[first:]))

    def in_space(self, r: float, xy: FloatArray) -> FloatArray:
        """Points of a section (n, 2) [mm] to the blade frame: x out, y forward, z up; leading edge up is positive."""
        at = np.array([r])
        chord, angle = float(self.chord_at(at)[0]), float(self.angle_at(at)[0])
        forward, up = chord * self.axis[0] - xy[:, 0], xy[:, 1] - chord * self.axis[1]
        y = forward * np.cos(angle) - up * np.sin(angle)
        z = forward * np.sin(angle) + up * np.cos(angle)
        return np.column_stack([np.full(len(xy), r), y, z])

    def in_section(self, point: FloatArray) -> FloatArray:
        """A point of the blade frame (3,) to x, y of its section [mm]."""
        chord, angle = self.chord_at(point[:1])[0], self.angle_at(point[:1])[0]
        forward = point[1] * np.cos(angle) + point[2] * np.sin(angle)
        up = -point[1] * np.sin(angle) + point[2] * np.cos(angle)
        return np.array([chord * self.axis[0] - forward, up + chord * self.axis[1]])


@dataclass(frozen=True)
class Sheet:
    """A piece of skin: which surfaces, how deep what is laid flat, and where it begins and ends.

    nose : begins at this x [mm]; tail : ends so far ahead of the tail [mm]; share : ends at this share of the chord
    """

    halves: tuple[str, ...] = HALVES
    depth: float = 1.0
    nose: float = 0.0
    tail: float = 0.0
    share: float | None = None

    def ends(self, wing: Wing, r: float, half: str) -> tuple[float, float]:
        """Lengths from the nose where it begins and ends [mm]."""
        chord = float(wing.chord_at(np.array([r]))[0])
        start = wing.to_x(r, half, self.depth, self.nose) if self.nose else 0.0
        if self.share is not None:
            return start, wing.to_x(r, half, self.depth, self.share * chord)
        whole = float(wing.at_depth(r, half, self.depth)[1][-1])
        return start, wing.to_x(r, half, self.depth, chord - self.tail) if self.tail else whole

    def girth(self, wing: Wing, r: float) -> float:
        return sum(b - a for a, b in (self.ends(wing, r, half) for half in self.halves))

    def row(self, wing: Wing, r: float, shares: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Points in space (m, 3), and their lengths along the row (m,), from the upper tail round to the lower.

        shares : (n,) 0 to 1 of each surface
        """
        space, lengths, run = [], [], 0.0
        for half in self.halves:
            start, end = self.ends(wing, r, half)
            back = half == "upper"
            s = end - (end - start) * shares if back else start + (end - start) * shares
            xy, along = wing.at_depth(r, half, self.depth)
            points = np.column_stack([np.interp(s, along, xy[:, 0]), np.interp(s, along, xy[:, 1])])
            first = 1 if space else 0
            space.append(wing.in_space(r, points)[first:])
            lengths.append((run + abs(s - s[0]))[first:])
            run += end - start
        return np.vstack(space), np.concatenate(lengths)


# Measured on the drawing


def is_rib(path: Path) -> bool:
    x0, y0, x1, y1 = path.bounds()
    return y1 - y0 > max(25.0, 2.0 * (x1 - x0))


def rib_lines(flat: Flat) -> list[FloatArray]:
    """Points of each rib's line from its lowest y up, in order from the root end (the wider) of the pattern."""
    lines = [upward(mark.flattened(1e-4)) for mark in flat.marks if not mark.closed and is_rib(mark)]
    lines.sort(key=lambda line: line[0, 0])
    return lines if length(lines[0]) > length(lines[-1]) or lines[0][0, 0] >= 0.0 else lines[::-1]


def upward(line: FloatArray) -> FloatArray:
    return line if line[0, 1] < line[-1, 1] else line[::-1]


def length(line: FloatArray) -> float:
    return float(np.hypot(*np.diff(line, axis=0).T).sum())


def along(line: FloatArray, s: FloatArray) -> FloatArray:
    """(m, 2) points at lengths along a line, drawn on straight beyond its ends by no more than a tenth."""
    run = np.append(0.0, np.cumsum(np.hypot(*np.diff(line, axis=0).T)))
    return np.column_stack([np.interp(s, run, line[:, 0]), np.interp(s, run, line[:, 1])])


def named(flat: Flat, name: str) -> list[FloatArray]:
    """Lines along the blade that carry a name (it stands just above its line), root to tip as drawn, by rising y."""
    found = []
    for text in flat.texts:
        if text.text != name:
            continue
        below = []
        for mark in flat.marks:
            x0, _, x1, _ = mark.bounds()
            if not mark.closed and not is_rib(mark) and x1 - x0 > 100.0 and x0 <= text.at[0] <= x1:
                line = mark.flattened(1e-4)
                line = line[np.argsort(line[:, 0])]
                below.append((abs(text.at[1] - np.interp(text.at[0], *line.T) - 2.25), line))
        assert min(below, key=lambda each: each[0])[0] < 0.02, f"no line below {name}"
        found.append(min(below, key=lambda each: each[0])[1])
    return sorted(found, key=lambda line: line[0, 1])


def sides(path: Path) -> dict[str, FloatArray]:
    """The four sides of an outline between its sharp corners: "low" and "high" rise in x, "left" and "right" in y."""
    loop = path if path.area() > 0.0 else path.reversed()
    step = np.roll(loop.xy, -1, axis=0) - loop.xy
    half = 2.0 * np.arctan(loop.bulge)
    heading = np.arctan2(step[:, 1], step[:, 0])
    turn = (heading - half) - np.roll(heading + half, 1)
    turn = (turn + np.pi) % (2.0 * np.pi) - np.pi
    corners = np.flatnonzero(abs(turn) > np.radians(40.0))
    assert len(corners) == 4
    found = {}
    for a, b in zip(corners, np.roll(corners, -1), strict=True):
        index = np.arange(a, b + 1 if b > a else b + 1 + len(loop.xy)) % len(loop.xy)
        line = Path(loop.xy[index], np.append(loop.bulge[index[:-1]], 0.0), False).flattened(1e-4)
        way = line[-1] - line[0]
        if abs(way[0]) > abs(way[1]):
            found["low" if way[0] > 0 else "high"] = line if way[0] > 0 else line[::-1]
        else:
            found["right" if way[1] > 0 else "left"] = line if way[1] > 0 else line[::-1]
    assert len(found) == 4
    return found


def crossing(line: FloatArray, other: FloatArray) -> float:
    """Length along a line up to where another crosses it [mm]."""
    one, two = shapely.LineString(line), shapely.LineString(other)
    reach = shapely.LineString(np.vstack([2 * other[0] - other[1], other, 2 * other[-1] - other[-2]]))
    met = one.intersection(two if one.intersects(two) else reach)
    assert met.geom_type == "Point", met.geom_type
    return float(one.project(met))


# Grids: the same places in space and in the flat


@dataclass(frozen=True, eq=False)
class Grids:
    """Rows at ribs, columns at even shares of each surface.

    rows, columns, diagonals : lengths in space along the surface (k, n - 1), (k - 1, n), two of (k - 1, n - 1)
    lengths                  : (k, n) along each row
    """

    rows: FloatArray
    columns: FloatArray
    diagonals: tuple[FloatArray, FloatArray]
    lengths: FloatArray


def in_space(wing: Wing, sheet: Sheet, r: list[float], cells: int = 40, fine: int = 8) -> Grids:
    """Lengths on the surface itself: each line stepped through `fine` times as often in both directions."""
    shares = np.linspace(0.0, 1.0, cells * fine + 1)
    radii = np.concatenate([np.linspace(a, b, fine, endpoint=False) for a, b in pairwise(r)])
    grid, run = zip(*(sheet.row(wing, float(at), shares) for at in [*radii, r[-1]]), strict=True)
    p, lengths = np.array(grid), np.array(run)
    k, n = (p.shape[0] - 1) // fine, (p.shape[1] - 1) // fine

    def summed(pieces: FloatArray, axes: tuple[bool, bool]) -> FloatArray:
        shape = [(k, fine) if axes[0] else (k + 1, 1), (n, fine) if axes[1] else (n + 1, 1)]
        return pieces.reshape(*shape[0], *shape[1]).sum(axis=(1, 3))

    def diagonal(up: bool) -> FloatArray:
        total = np.zeros((k, n))
        for t in range(fine):
            v = (t, t + 1) if up else (fine - t, fine - t - 1)
            start, end = p[t:-1:fine][:k], p[t + 1 :: fine][:k]
            a, b = start[:, v[0] :: fine][:, :n], end[:, v[1] :: fine][:, :n]
            total += np.linalg.norm(b - a, axis=-1)
        return total

    rows = np.diff(lengths[::fine], axis=1)
    columns = np.linalg.norm(np.diff(p[:, ::fine], axis=0), axis=-1)
    return Grids(
        summed(rows, (False, True)),
        summed(columns, (True, False)),
        (diagonal(True), diagonal(False)),
        lengths[::fine, ::fine],
    )


def in_flat(lines: list[FloatArray], lengths: FloatArray) -> FloatArray:
    """(k, n, 2) places at lengths (k, n) along rib lines."""
    return np.array([along(line, s) for line, s in zip(lines, lengths, strict=True)])


def misfit(space: Grids, flat: FloatArray) -> float:
    """Greatest change of length, over what it may change, of whole rib lines, whole rulings and diagonals of one cell
    and of blocks as long as the blade: a pattern is true up to 1."""
    k, n = space.columns.shape[0], space.rows.shape[1]

    def norm(v: FloatArray) -> FloatArray:
        return np.asarray(np.linalg.norm(v, axis=-1))

    up, down = norm(flat[1:, 1:] - flat[:-1, :-1]), norm(flat[1:, :-1] - flat[:-1, 1:])
    pairs = [
        (space.rows.sum(axis=1), norm(np.diff(flat, axis=1)).sum(axis=1)),
        (space.columns.sum(axis=0), norm(np.diff(flat, axis=0)).sum(axis=0)),
        (space.columns, norm(np.diff(flat, axis=0))),
        (space.diagonals[0], up),
        (space.diagonals[1], down),
    ]
    i = np.arange(k)
    for start in range(n - k + 1):
        pairs.append((space.diagonals[0][i, start + i].sum(), up[i, start + i].sum()))
        pairs.append((space.diagonals[1][i, start + k - 1 - i].sum(), down[i, start + k - 1 - i].sum()))
    return max(float((abs(b - a) / np.maximum(LEAST_MM, SHARE * a)).max()) for a, b in pairs)


def trapezoid(space: Grids, area: float) -> FloatArray:
    """(k, n, 2) the easy answer: straight rib lines, the right widths at both ends and the right area."""
    width = space.lengths[:, -1]
    run = np.append(0.0, np.cumsum(space.columns.mean(axis=1)))
    u = (run / run[-1])[:, None]
    x = np.broadcast_to(u * 2.0 * area / (width[0] + width[-1]), space.lengths.shape)
    wide = width[0] + (width[-1] - width[0]) * u
    return np.stack((x, (space.lengths / width[:, None] - 0.5) * wide), axis=-1)
