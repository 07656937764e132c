"""The demo's blade worked out without the program: NACA Report 460, straight lines along r, shapely's offset.

Lengths in mm. Everything here is dense polylines; their chords are within 1e-5 of the curves.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

ROOT, END, RADIUS = 130.0, 782.0, 800.0  # the frame ends 18 mm, the tip's depth, inside the radius
REFERENCE = 0.75 * RADIUS  # the station whose chord lies level
BETA = np.linspace(0.0, np.pi, 301)
RADII = np.linspace(ROOT, END, 49)
FOLDS = (0.12, 0.35, 0.65), (0.10, 0.50)  # of the folded board, above and below
NOSE_R = 6.0  # its rolled nose


def chord(r: float | FloatArray) -> FloatArray:
    """210 at the root, 150 at the radius, straight between."""
    return np.asarray(210.0 - 60.0 * (np.asarray(r) - ROOT) / (RADIUS - ROOT))


def angle(r: float) -> float:
    """Chord line against that at the reference station; 5 deg at the root, 0 at the radius [rad]."""
    return float(np.radians(5.0 * (REFERENCE - r) / (RADIUS - ROOT)))


def mean_line(x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Height and slope of the four-digit mean line 44: 4 % at 40 %."""
    m, p = 0.04, 0.4
    k = np.where(x < p, m / p**2, m / (1 - p) ** 2)
    return np.where(x < p, k * (2 * p * x - x * x), k * (1 - 2 * p + 2 * p * x - x * x)), 2 * k * (p - x)


def naca(r: float) -> tuple[FloatArray, FloatArray]:
    """Upper and lower surface at a radius, nose to open tail: 4415 at the root, straight to 4414 at the radius."""
    x = 0.5 * (1.0 - np.cos(BETA))
    t = 0.15 - 0.01 * (r - ROOT) / (RADIUS - ROOT)
    half = 5 * t * (0.2969 * np.sqrt(x) - 0.126 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    y, slope = mean_line(x)
    c, s = 1 / np.hypot(1, slope), slope / np.hypot(1, slope)
    sides = [np.column_stack([x - sign * half * s, y + sign * half * c]) for sign in (1.0, -1.0)]
    return float(chord(r)) * sides[0], float(chord(r)) * sides[1]


def board(r: float) -> tuple[FloatArray, FloatArray]:
    """The folded board's outer face: an arc through the nose, then flats through the score lines to the tail."""
    made = []
    start = np.arctan(mean_line(np.zeros(1))[1][0])
    centre = NOSE_R * np.array([np.cos(start), np.sin(start)])
    for sign, surface, shares in zip((1.0, -1.0), naca(r), FOLDS, strict=True):
        x = np.array(shares) * float(chord(r))
        ahead = np.argmin(surface[:, 0])
        points = np.vstack([np.column_stack([x, np.interp(x, *surface[ahead:].T)]), surface[-1:]])
        gap = points[0] - centre
        far = np.hypot(*gap)
        touch = np.arctan2(gap[1], gap[0]) + sign * np.arccos(NOSE_R / far)  # radius to the point of contact
        first = start + np.pi - (2 * np.pi if sign < 0 else 0.0)
        round_nose = np.linspace(first, touch, 61)
        arc = centre + NOSE_R * np.column_stack([np.cos(round_nose), np.sin(round_nose)])
        made.append(np.vstack([arc, points]))
    return made[0], made[1]


Section = Callable[[float], tuple[FloatArray, FloatArray]]


def placed(xy: FloatArray, r: float) -> FloatArray:
    """Points of a section in space: out, forward of the feather axis, up; the axis at 25 % of the chord, mid height."""
    c = float(chord(r))
    upper, lower = naca(r)
    heights = [np.interp(0.25 * c, *side[np.argmin(side[:, 0]) :].T) for side in (upper, lower)]
    aft, up = (xy - [0.25 * c, 0.5 * sum(heights)]).T
    cos, sin = np.cos(angle(r)), np.sin(angle(r))
    return np.column_stack([np.full(len(xy), r), -aft * cos - up * sin, -aft * sin + up * cos])


def sunk(side: FloatArray, depth: float, sign: float) -> FloatArray:
    """A surface moved inwards along its normal; sign 1 above, -1 below."""
    way = np.gradient(side, axis=0)
    way /= np.hypot(*way.T)[:, None]
    return np.asarray(side + sign * depth * np.column_stack([way[:, 1], -way[:, 0]]))


def between(side: FloatArray, low: float, high: float, count: int = 301) -> FloatArray:
    """The stretch of a surface between two x, at equal shares of its length; from the nose where low is 0."""
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(side, axis=0).T)))
    ahead = int(np.argmin(side[:, 0]))
    start, end = np.interp([low, high], side[ahead:, 0], along[ahead:])
    at = np.linspace(0.0 if low <= 0 else start, end, count)
    return np.column_stack([np.interp(at, along, side[:, k]) for k in (0, 1)])


def length(points: FloatArray) -> float:
    """Length of a polyline."""
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def surface_mm2(rows: list[FloatArray]) -> float:
    """Area of a surface through rows of equally many points in space, by triangles."""
    grid = np.array(rows)
    a, b, c, d = grid[:-1, :-1], grid[1:, :-1], grid[1:, 1:], grid[:-1, 1:]
    halves = [np.linalg.norm(np.cross(p - a, q - a), axis=-1).sum() for p, q in ((b, c), (c, d))]
    return 0.5 * float(sum(halves))


def along_r(measure: Callable[[float], float], low: float = ROOT, high: float = END) -> float:
    """A measure times dr, by Simpson's rule over 8 bays: measures here are smooth in r."""
    r = np.linspace(low, high, 17)
    weights = np.array([1.0, *[4.0, 2.0] * 7, 4.0, 1.0])
    return float(weights @ [measure(each) for each in r] * (r[1] - r[0]) / 3)


@dataclass(frozen=True)
class Inside:
    """What a rib may fill: the section inside its cover, begun and ended at strips or where it gets too thin.

    shape      : polygon
    start, end : x where it begins and ends
    """

    shape: shapely.Polygon
    start: float
    end: float

    def heights(self, x: float) -> tuple[float, float]:
        """Lower and upper edge at an x."""
        _, y0, _, y1 = self.shape.intersection(shapely.LineString([(x, -99.0), (x, 99.0)])).bounds
        return y0, y1

    def depth(self, x: float) -> float:
        """Between the edges at an x."""
        y0, y1 = self.heights(x)
        return float(y1 - y0)

    def contact(self, low: float = -99.0, high: float = 999.0) -> float:
        """Length of upper and lower edge between two x."""
        edge = shapely.intersection(self.shape.exterior, shapely.box(low, -99.0, high, 99.0))
        ends = [(x + s, -99.0, x + s + 2e-3, 99.0) for x, s in ((self.start, -1e-3), (self.end, -1e-3))]
        for end in ends if self.start > 1.5 else ends[1:]:
            edge = edge.difference(shapely.box(*end))
        return float(edge.length)


def inside(
    r: float, cover: float, least: float, strips: tuple[float, float] = (0.0, 0.0), of: Section = naca
) -> Inside:
    """The section less its cover, between strips at nose and tail, ended where it is thinner than `least`."""
    upper, lower = of(r)
    whole = shapely.Polygon(np.vstack([upper[::-1], lower[1:]])).buffer(-cover, join_style="mitre", mitre_limit=20.0)
    c = float(chord(r))
    x = np.linspace(0.6 * c, 0.999 * c, 4001)
    xy = shapely.get_coordinates(whole.exterior)
    top, foot = _edges(xy)
    deep = np.interp(x, *top) - np.interp(x, *foot)
    end = min(float(np.interp(-least, -deep, x)), c - strips[1])
    start = max(whole.bounds[0], strips[0])
    return Inside(whole.intersection(shapely.box(start, -99.0, end, 99.0)), start, end)


def _edges(ring: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(2, n) upper and lower edge of a closed ring, x rising."""
    ring = ring[:-1]
    nose, tail = int(np.argmin(ring[:, 0])), int(np.argmax(ring[:, 0]))
    ring = np.roll(ring, -nose, axis=0)
    cut = (tail - nose) % len(ring)
    one, other = ring[: cut + 1], np.vstack([ring[cut:], ring[:1]])[::-1]
    pair = sorted((one, other), key=lambda side: -float(np.interp(0.5 * ring[cut, 0], *side.T)))
    return pair[0].T, pair[1].T
