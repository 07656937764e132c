"""Paths of lines and arcs made from other things: smooth curves, ends joined, and the shapes of holes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from geomgen.plane.path import Path, turning
from geomgen.plane.smooth import Piece, smooth_arcs
from geomgen.tolerances import Tolerances

__all__ = ["Piece", "arc_slot", "ellipse", "join", "obround", "rectangle", "rounded", "smooth_arcs"]

Point = tuple[float, float]

_MEET_MM = 1e-6  # ends nearer than this are the same point
_QUARTER = float(np.tan(np.pi / 8.0))  # bulge of a quarter circle


def join(paths: Sequence[Path], closed: bool) -> Path:
    """Open paths joined end to end into one; a straight line spans ends that are apart.

    closed : whether the last end runs back to the first start
    raises : ValueError on no path or a closed one
    """
    if not paths or any(path.closed for path in paths):
        raise ValueError("join takes one or more open paths")
    xy = np.vstack([path.xy for path in paths])
    bulge = np.concatenate([np.append(path.bulge[:-1], 0.0) for path in paths])
    last = np.cumsum([len(path.xy) for path in paths]) - 1
    gap = np.roll(xy, -1, axis=0)[last] - xy[last]
    meets = np.hypot(gap[:, 0], gap[:, 1]) <= _MEET_MM
    meets[-1] &= closed
    return Path(np.delete(xy, last[meets], axis=0), np.delete(bulge, last[meets]), closed)


def ellipse(center: Point, a: float, b: float, turn_deg: float, tol: Tolerances) -> Path:
    """Closed anticlockwise path of arcs that meet in a tangent, within `tol.chordal_mm` of an ellipse.

    a, b     : half axes, > 0 [mm]
    turn_deg : angle of the axis `a` from x
    raises   : MakeError where it is too slender to be followed
    """
    _positive(a=a, b=b)
    quarter = np.linspace(0.0, 0.5 * np.pi, 129)
    pieces = []
    for k in range(2):  # each quarter from one axis to the next; the other half is the same, turned
        t = quarter + 0.5 * np.pi * k
        way = np.column_stack((-a * np.sin(t), b * np.cos(t)))
        pieces.append(Piece(np.column_stack((a * np.cos(t), b * np.sin(t))), way / np.hypot(*way.T)[:, None]))
    half = smooth_arcs(pieces, tol)
    whole = join([*half, *(path.turned(180.0) for path in half)], closed=True)
    return whole.turned(turn_deg).moved(*center)


def rectangle(center: Point, width: float, height: float, turn_deg: float = 0.0) -> Path:
    """Closed anticlockwise rectangle: `width` along x before it is turned, `height` along y [mm]."""
    return rounded(center, width, height, 0.0, turn_deg)


def rounded(center: Point, width: float, height: float, radius: float, turn_deg: float = 0.0) -> Path:
    """Closed anticlockwise rectangle with round corners; `radius` from 0 to half the smaller side [mm]."""
    _positive(width=width, height=height)
    x, y = 0.5 * width, 0.5 * height
    if not 0.0 <= radius <= min(x, y):
        raise ValueError(f"a corner's radius must be from 0 to {min(x, y):g} mm, not {radius:g}")
    sides = np.array([(x, radius - y), (x, y - radius), (x - radius, y), (radius - x, y)])
    xy = np.vstack((sides, -sides))
    apart = np.hypot(*(np.roll(xy, -1, axis=0) - xy).T) > 0.0
    bulge = np.tile((0.0, _QUARTER), 4)
    return Path(xy[apart], bulge[apart], True).transformed(turning(turn_deg)).moved(*center)


def obround(center: Point, length: float, width: float, turn_deg: float = 0.0) -> Path:
    """Closed anticlockwise slot with half-round ends: `length` over all along x before it is turned, > `width` [mm]."""
    if not length > width:
        raise ValueError(f"an obround must be longer than it is wide, not {length:g} by {width:g} mm")
    _positive(width=width)
    x, y = 0.5 * (length - width), 0.5 * width
    xy = np.array([(-x, -y), (x, -y), (x, y), (-x, y)])
    return Path(xy, np.array((0.0, 1.0, 0.0, 1.0)), True).transformed(turning(turn_deg)).moved(*center)


def arc_slot(center: Point, radius: float, width: float, from_deg: float, to_deg: float) -> Path:
    """Closed anticlockwise slot along an arc, with half-round ends.

    radius         : of the arc the slot's middle runs on, > width / 2 [mm]
    from_deg, to_deg : angles of the middles of its round ends, from x, to_deg > from_deg, less than 360 apart
    """
    _positive(width=width)
    if not radius > 0.5 * width:
        raise ValueError(f"an arc slot's radius must be greater than half its width, not {radius:g} mm")
    if not 0.0 < to_deg - from_deg < 360.0:
        raise ValueError(f"an arc slot runs from a smaller to a greater angle, not from {from_deg:g} to {to_deg:g} deg")
    ends = np.radians((from_deg, to_deg))
    spoke = np.column_stack((np.cos(ends), np.sin(ends)))
    inner, outer = (radius - 0.5 * width) * spoke, (radius + 0.5 * width) * spoke
    bulge = float(np.tan(0.25 * (ends[1] - ends[0])))
    xy = np.array((outer[0], outer[1], inner[1], inner[0]))
    return Path(xy, np.array((bulge, 1.0, -bulge, 1.0)), True).moved(*center)


def _positive(**sizes: float) -> None:
    for name, value in sizes.items():
        if not (np.isfinite(value) and value > 0.0):
            raise ValueError(f"{name} must be greater than 0 mm, not {value:g}")
