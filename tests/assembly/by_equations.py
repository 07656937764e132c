"""A blade drawn from a design's figures and the published equations alone: nothing of the house's own geometry.

Chord, twist and offset run straight between the design's entries. Sections are of the four-digit family, thickness
laid off square to the mean line, tail open (NACA Report 460, equations from memory); the second example's coordinate
file says in its first line which one it holds; a file's section is turned and scaled until the point farthest from
the tail's middle is (0, 0) and the tail's middle (1, 0), as the design file promises. Between two entries points at
equal shares of a surface's length move straight. A folded board has flats between its score lines and an arc round
the nose.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design, Folded

FloatArray = NDArray[np.float64]

COUNT = 401  # points of a surface, nose to tail
FILES = {"kite_day_section.dat": (0.035, 0.4, 0.135)}  # camber, its place, thickness; as the file's first line says

Figures = tuple[float, float, float]


def four_digit(camber: float, place: float, thick: float, sign: float, count: int = COUNT) -> FloatArray:
    """(count, 2) upper (1) or lower (-1) surface, nose to tail, chord 1."""
    x = np.sin(np.linspace(0.0, np.pi / 2, count)) ** 2
    half = 5 * thick * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    if camber == 0:
        return np.column_stack([x, sign * half])
    fore = x < place
    mean = np.where(fore, camber / place**2, camber / (1 - place) ** 2) * np.where(
        fore, 2 * place * x - x**2, 1 - 2 * place + 2 * place * x - x**2
    )
    slope = np.where(fore, camber / place**2, camber / (1 - place) ** 2) * 2 * (place - x)
    long = np.hypot(1.0, slope)
    return np.column_stack([x - sign * half * slope / long, mean + sign * half / long])


def as_read(figures: Figures) -> list[FloatArray]:
    """A section as a coordinate file's is read: its nose the point farthest from the tail's middle, at (0, 0)."""
    fine = 50
    sides = [four_digit(*figures, sign, (COUNT - 1) * fine + 1) for sign in (1.0, -1.0)]
    ring = np.vstack([sides[0][::-1], sides[1][1:]])
    tail = (sides[0][-1] + sides[1][-1]) / 2
    nose = int(np.argmax(np.hypot(*(ring - tail).T)))
    x = tail - ring[nose]
    ring = (ring - ring[nose]) @ np.array([[x[0], -x[1]], [x[1], x[0]]]) / (x @ x)
    return [np.vstack([part[:-1:fine], part[-1:]]) for part in (ring[nose::-1], ring[nose:])]


def at_shares(curve: FloatArray, shares: FloatArray) -> FloatArray:
    """Points of a curve (n, 2) at shares of its length."""
    s = np.append(0.0, np.cumsum(np.hypot(*np.diff(curve, axis=0).T)))
    return np.column_stack([np.interp(shares * s[-1], s, curve[:, c]) for c in (0, 1)])


@dataclass(frozen=True, eq=False)
class Placed:
    """A section at one radius: surfaces (n, 2) in its own frame, nose to tail, x aft, y up; and how it lies [mm].

    r, chord : [mm]
    angle    : leading edge up against the reference pitch [rad]
    axis     : (2,) the feather axis in the section's frame [mm]
    """

    r: float
    chord: float
    angle: float
    axis: FloatArray
    upper: FloatArray
    lower: FloatArray

    def to_yz(self, xy: FloatArray) -> FloatArray:
        """(n, 2) of the section's frame to forward and up of the blade: turned leading edge up [mm]."""
        x, y = (np.atleast_2d(xy) - self.axis).T
        c, s = np.cos(self.angle), np.sin(self.angle)
        return np.column_stack([-x * c - y * s, -x * s + y * c])

    def from_yz(self, yz: FloatArray) -> FloatArray:
        """And back [mm]."""
        f, u = np.atleast_2d(yz).T
        c, s = np.cos(self.angle), np.sin(self.angle)
        return np.column_stack([-f * c - u * s, -f * s + u * c]) + self.axis

    def camber(self, share: float) -> FloatArray:
        """(2,) half way between the surfaces at a share of the chord [mm]."""
        x = share * self.chord
        return np.array([x, sum(np.interp(x, side[:, 0], side[:, 1]) for side in (self.upper, self.lower)) / 2])


@dataclass(frozen=True, eq=False)
class OwnBlade:
    """The blade of a design; two of the same planform, sections and covers are equal, and drawn once."""

    design: Design

    @cached_property
    def _drawn_from(self) -> str:
        design, blade = self.design, self.design.blade
        what = blade.feather, blade.along, blade.construction, blade.skin, blade.tip
        return repr((design.rotor, design.r(design.pitch.zero_at), what, design.stock))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, OwnBlade) and self._drawn_from == other._drawn_from

    def __hash__(self) -> int:
        return hash(self._drawn_from)

    def column(self, name: str, r: float) -> float:
        """Chord, twist or offset at a radius."""
        rows = [(self.design.r(e.at), getattr(e, name)) for e in self.design.blade.along]
        given = [(at, value) for at, value in rows if value is not None] or [(0.0, 0.0)]
        return float(np.interp(r, *np.array(given, dtype=float).T))

    @cache  # noqa: B019
    def at(self, r: float) -> Placed:
        """The section at a radius [mm]."""
        design = self.design
        chord, offset = self.column("chord", r), self.column("offset", r)
        twist = self.column("twist", r) - self.column("twist", design.r(design.pitch.zero_at))
        upper, lower = (chord * side for side in self._surfaces(r))
        bare = Placed(r, chord, np.radians(twist), np.zeros(2), upper, lower)
        assert design.blade.feather.height == "camber"
        axis = bare.camber(design.blade.feather.chord + offset / chord)
        built = design.blade.construction
        if isinstance(built, Folded):
            slope, radius = self._nose_slope(), built.nose_radius
            upper = _folded(bare.upper, np.array(built.folds.upper) * chord, radius, slope, 1.0)
            lower = _folded(bare.lower, np.array(built.folds.lower) * chord, radius, slope, -1.0)
        return Placed(r, chord, np.radians(twist), axis, upper, lower)

    @cached_property
    def _sections(self) -> list[tuple[float, Figures, FloatArray, FloatArray]]:
        """Radius [mm], figures, upper and lower surface at chord 1, of each entry that names a section."""
        found = []
        for entry in self.design.blade.along:
            if (spec := entry.section) is not None:
                digits = spec.naca or ""
                read = FILES.get(spec.file or "")
                figures = read or (int(digits[0]) / 100, int(digits[1]) / 10, int(digits[2:]) / 100)
                sides = as_read(figures) if read else [four_digit(*figures, sign) for sign in (1.0, -1.0)]
                found.append((self.design.r(entry.at), figures, *sides))
        return found

    def _surfaces(self, r: float) -> list[FloatArray]:
        """Upper and lower, chord 1."""
        radii = [at for at, *_ in self._sections]
        inner = int(np.clip(np.searchsorted(radii, r, side="right") - 1, 0, len(radii) - 1))
        a, b = self._sections[inner], self._sections[min(inner + 1, len(radii) - 1)]
        if a[1] == b[1]:
            return [*a[2:]]
        weight, blended = (r - a[0]) / (b[0] - a[0]), []
        for one, other in zip(a[2:], b[2:], strict=True):
            s = np.append(0.0, np.cumsum(np.hypot(*np.diff(one, axis=0).T)))
            blended.append((1 - weight) * one + weight * at_shares(other, s / s[-1]))
        return blended

    def _nose_slope(self) -> float:
        """Of the mean line at the nose: all sections of one blade here share their mean line."""
        ((camber, place, _), *others) = [figures for _, figures, *_ in self._sections]
        assert all(figures[:2] == (camber, place) for figures in others)
        return 2 * camber / place


def _folded(wanted: FloatArray, scored: FloatArray, radius: float, slope: float, sign: float) -> FloatArray:
    """(n, 2) what a board makes of a surface: an arc from the nose, then flats from score line to score line [mm]."""
    inward = np.array([1.0, slope]) / np.hypot(1.0, slope)
    centre = radius * inward
    points = [*(at_x(wanted, x) for x in scored), wanted[-1]]
    gap = points[0] - centre
    far = np.hypot(*gap)
    turn = np.arctan2(gap[1], gap[0]) + sign * np.arccos(radius / far)  # to where the tangent through the point touches
    start = np.arctan2(-inward[1], -inward[0])  # from the centre to the nose
    sweep = (start - turn) % (2 * np.pi) if sign > 0 else (turn - start) % (2 * np.pi)
    way = start - sign * np.linspace(0.0, sweep, 241)
    arc = centre + radius * np.column_stack([np.cos(way), np.sin(way)])
    rows, last = [arc], arc[-1]
    for point in points:
        rows.append(last + np.linspace(0.0, 1.0, 12)[1:, None] * (point - last))
        last = point
    return np.vstack(rows)


def at_x(curve: FloatArray, x: float) -> FloatArray:
    """(2,) where a curve (n, 2), nose to tail, reaches an x aft of its foremost point [mm]."""
    aft = int(np.argmin(curve[:, 0]))
    return np.array([x, np.interp(x, curve[aft:, 0], curve[aft:, 1])])
