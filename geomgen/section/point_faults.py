"""Whether the points of a coordinate file can be an aerofoil: each refusal names the line at fault.

Points run in a loop from tail to tail; `lines` gives each one's line in the file.
"""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.section.listing import Origin
from geomgen.section.section import Section

LEAST = 10
OPEN = 0.05  # a loop whose ends are farther apart than this is open [share of the chord]
_SHORT = 0.01  # one end may be ahead of the other by this much along the chord
_LEAP = 0.3  # neighbours farther apart than this leave the shape to guesswork [chord]
_BACK = -0.17  # a curve that turns by more than about 100 deg at a point runs back (cosine)
_FLAT = 1e-4  # least area [chord²]


def enough(xy: FloatArray, lines: IntArray, origin: Origin) -> None:
    """Refuse too few points, and points that all lie on one line."""
    if len(xy) < LEAST:
        raise origin.refusal(int(lines.max()), f"holds {len(xy)} different points", f"at least {LEAST}")
    extent = float(np.max(np.ptp(xy, axis=0)))
    if abs(signed_area(xy)) < _FLAT * extent**2:
        raise origin.refusal(int(lines.min()), "its points enclose no area", "an upper and a lower surface")


def shut(xy: FloatArray, lines: IntArray, origin: Origin) -> None:
    """Refuse a loop whose ends don't meet at the tail."""
    gap, tail = xy[-1] - xy[0], 0.5 * (xy[0] + xy[-1])
    sight = tail - xy
    chord = float(np.max(np.hypot(*(xy - xy[0]).T)))
    farthest = np.argmax(np.hypot(*sight.T))
    way = sight[farthest] / np.hypot(*sight[farthest])
    apart, ahead = float(np.hypot(*gap)) / chord, float(gap @ way) / chord
    short = int(lines[0] if ahead > 0.0 else lines[-1])
    if apart > OPEN:
        wrong = f"open: the two ends of the outline are {apart:.1%} of the chord apart"
        remedy = "two lists need their counts on the second line" if apart > 0.5 else "add the points up to the tail"
        raise origin.refusal(short, wrong, f"at most {OPEN:.0%}", remedy)
    if abs(ahead) > _SHORT:
        wrong = f"open: one surface ends {abs(ahead):.1%} of the chord before the other"
        raise origin.refusal(short, wrong, f"at most {_SHORT:.0%}", "add its last point at the tail")


def in_order(xy: FloatArray, lines: IntArray, origin: Origin) -> None:
    """Refuse leaps, points that run back, and a loop that begins at the nose. Points at chord 1, nose at (0, 0)."""
    step = np.diff(xy, axis=0)
    size = np.hypot(*step.T)
    leap = int(np.argmax(size))
    if size[leap] > _LEAP:
        wrong = f"this point is {size[leap]:.1%} of the chord from the one before"
        remedy = "put points between, so that the shape is known; two lists need their counts on the second line"
        raise origin.refusal(int(lines[leap + 1]), wrong, f"at most {_LEAP:.0%}", remedy)
    turn = np.sum(step[1:] * step[:-1], axis=1) / (size[1:] * size[:-1])
    nose = int(np.argmin(xy[:, 0]))
    away = np.abs(np.arange(1, len(xy) - 1) - nose) > 1
    back = np.flatnonzero((turn < _BACK) & away)
    if len(back):
        wrong = "backward: the outline doubles back to this point"
        raise origin.refusal(int(lines[back[0] + 2]), wrong, "points in order along the outline")
    fore, aft = (_depth(xy, nose, x) for x in (0.05, 0.95))
    if fore < 0.7 * aft:
        wrong = "backward: the outline begins and ends at the nose"
        allowed = "one loop from the tail round the nose, or two lists from the nose with their counts"
        raise origin.refusal(int(lines.min()), wrong, allowed)


def no_crossing(xy: FloatArray, lines: IntArray, origin: Origin) -> None:
    """Refuse an outline that crosses itself."""
    a, b = xy[:-1], xy[1:]

    def side(p: FloatArray, q: FloatArray, r: FloatArray) -> FloatArray:
        d, e = q - p, r[None] - p[:, None]
        return np.asarray(d[:, None, 0] * e[..., 1] - d[:, None, 1] * e[..., 0])

    parts = side(a, b, a) * side(a, b, b) < 0.0
    crossed = np.argwhere(np.triu(parts & parts.T, 2))
    if len(crossed):
        i, j = crossed[0]
        wrong = f"the outline crosses itself: the stretch up to this point crosses the one up to line {lines[i + 1]}"
        raise origin.refusal(int(lines[j + 1]), wrong)


def has_depth(section: Section, xy: FloatArray, lines: IntArray, origin: Origin) -> None:
    """Refuse a section whose smooth surfaces touch or cross between nose and tail."""
    x = np.linspace(0.005, 0.99, 400)
    depth = section.depth(x)
    i = int(np.argmin(depth))
    if depth[i] <= 0.0:
        near = int(np.argmin(np.hypot(*(xy - [x[i], float(section.camber_y(x[i]))]).T)))
        wrong = f"the smooth upper and lower surfaces cross near {x[i]:.1%} of the chord"
        raise origin.refusal(int(lines[near]), wrong, "", "give more points there")


def signed_area(xy: FloatArray) -> float:
    """Area inside a loop of points, positive where it runs anticlockwise."""
    x, y = (xy - xy[0]).T
    return float(0.5 * np.sum(x[:-1] * y[1:] - x[1:] * y[:-1]))


def _depth(xy: FloatArray, nose: int, x: float) -> float:
    """Distance between the two sides of the loop at x."""
    first, second = xy[: nose + 1][::-1], xy[nose:]
    return abs(float(np.interp(x, first[:, 0], first[:, 1]) - np.interp(x, second[:, 0], second[:, 1])))
