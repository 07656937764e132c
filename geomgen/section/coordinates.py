"""Coordinate files: points into a section at chord 1, and a section back into points."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from geomgen.arrays import FloatArray, IntArray
from geomgen.errors import DesignError
from geomgen.plain_file import read_bytes
from geomgen.section import point_faults, spline
from geomgen.section.grid import stations
from geomgen.section.listing import MOST_BYTES, Listing, Origin, parse
from geomgen.section.section import Section, Surface

_REPEAT = 1e-6  # points nearer than this are one [share of the file's extent]
_EDGE = 0.03  # the edge of an open tail is no longer than this [share of the file's extent]


def read(file: Path, origin: Origin | None = None) -> Section:
    """The section in a coordinate file.

    file   : one loop from the tail round the nose and back, in either direction; or an upper and a lower list
             from the nose, in either order, with their two counts on the line after the title
    origin : what a fault says of it; its name alone where none is given
    raises : DesignError, with the file and its line

    Its size, place and slope don't matter: the nose, the point farthest from the tail's middle, goes to (0, 0) and the
    tail's middle to (1, 0). Repeated points are dropped. The surface is a smooth curve through the points, so a kink is
    rounded.
    """
    origin = origin or Origin(file.name, "", "")
    try:
        data = read_bytes(file, MOST_BYTES + 1)
    except OSError as error:
        raise DesignError(origin.fault(None, f"can't be read: {(error.strerror or str(error)).lower()}")) from error
    return section(parse(data, origin), origin, name=file.stem)


def section(listing: Listing, origin: Origin, name: str) -> Section:
    """The section through listed points; raises as `read`."""
    xy, lines = _without_edge(*_distinct(*_loop(listing, origin)))
    point_faults.enough(xy, lines, origin)
    point_faults.shut(xy, lines, origin)
    farthest = xy[np.argmax(np.hypot(*(xy - _tail(xy)).T))]
    xy = (xy - farthest) @ _upright(xy, farthest)
    point_faults.in_order(xy, lines, origin)
    point_faults.no_crossing(xy, lines, origin)
    if point_faults.signed_area(xy) < 0.0:
        xy, lines = xy[::-1], lines[::-1]
    around = Surface(xy, spline.tangents(xy))
    nose = _nose(around)
    point = around.at([nose])[0][0]
    matrix = _upright(xy, point)
    surfaces = []
    for way, length in ((-1.0, nose), (1.0, around.length - nose)):
        at, tangent = around.at(nose + way * length * stations()[0])
        at, tangent = (at - point) @ matrix, way * tangent @ matrix
        at[0] = 0.0
        surfaces.append(Surface(at, tangent / np.hypot(tangent[:, 0], tangent[:, 1])[:, None]))
    note = f"coordinate file {origin.file}" + (f": {listing.title}" if listing.title else "")
    found = Section(name, note, *surfaces)
    point_faults.has_depth(found, xy, lines, origin)
    return found


def text(section: Section, title: str, each: int = 81) -> str:
    """A section as a coordinate file: one loop from the upper tail round the nose to the lower tail.

    title : the first line
    each  : points on each surface; a corner is not kept as one
    """
    share = np.linspace(0.0, 1.0, each)
    share = share * (0.1 + 0.9 * share)
    upper, lower = (surface.at(surface.length * share)[0] for surface in (section.upper, section.lower))
    rows = [f"{x:10.7f} {y:10.7f}" for x, y in np.vstack([upper[::-1], lower[1:]]) + 0.0]
    return "\n".join([title, *rows]) + "\n"


def _loop(listing: Listing, origin: Origin) -> tuple[FloatArray, IntArray]:
    """The points as one loop from tail to tail."""
    xy, lines = listing.xy, listing.lines
    if listing.counts is None:
        return xy, lines
    first = listing.counts[0]
    extent = float(np.max(np.ptp(xy, axis=0)))
    apart = float(np.hypot(*(xy[first] - xy[0])))
    if apart > point_faults.OPEN * extent:
        wrong = f"the second list begins {apart / extent:.0%} of the chord from where the first does"
        raise origin.refusal(int(lines[first]), wrong, "both lists run from the nose to the tail")
    order = np.concatenate([np.arange(first)[::-1], np.arange(first, len(xy))])
    return xy[order], lines[order]


def _distinct(xy: FloatArray, lines: IntArray) -> tuple[FloatArray, IntArray]:
    """The loop without points that repeat the one before; the ends may be the same."""
    step = np.hypot(*np.diff(xy, axis=0).T)
    kept = np.append(True, step > _REPEAT * float(np.max(np.ptp(xy, axis=0))))
    return xy[kept], lines[kept]


def _without_edge(xy: FloatArray, lines: IntArray) -> tuple[FloatArray, IntArray]:
    """The loop without the edge of an open tail, where points at its middle or at both its ends list it."""
    limit = _EDGE * float(np.max(np.ptp(xy, axis=0)))
    for _ in range(2):
        for end in (slice(0, 3), slice(-1, -4, -1)):
            if len(xy) > 4:
                edge, then = np.diff(xy[end], axis=0)
                square = edge @ then < 0.5 * np.hypot(*edge) * np.hypot(*then)
                if square and np.hypot(*edge) < limit:
                    xy, lines = (xy[1:], lines[1:]) if end.start == 0 else (xy[:-1], lines[:-1])
    return xy, lines


def _tail(xy: FloatArray) -> FloatArray:
    """Middle of a loop's two ends, (2,)."""
    return np.asarray(0.5 * (xy[0] + xy[-1]))


def _upright(xy: FloatArray, nose: FloatArray) -> FloatArray:
    """(2, 2) that turns and scales row vectors so that the chord from the nose to the loop's tail is (1, 0)."""
    x, y = _tail(xy) - nose
    return np.asarray(np.array([[x, -y], [y, x]]) / (x * x + y * y))


def _nose(around: Surface) -> float:
    """Length along the smooth loop at which it is farthest from the tail's middle, so square to the line of sight."""
    tail = _tail(around.xy)
    i = int(np.argmax(np.hypot(*(around.xy - tail).T)))
    low, high = around.along[max(i - 1, 0)], around.along[min(i + 1, len(around.xy) - 1)]
    for _ in range(7):
        at = np.linspace(low, high, 41)
        point, tangent = around.at(at)
        nearing = np.flatnonzero(np.sum((point - tail) * tangent, axis=1) < 0.0)
        first = int(nearing[0]) if len(nearing) else 40
        low, high = at[max(first - 1, 0)], at[first]
    return float(0.5 * (low + high))
