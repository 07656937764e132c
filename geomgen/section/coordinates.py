"""Coordinate files: points into a section at chord 1, and a section back into points."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from geomgen.errors import DesignError
from geomgen.section import spline
from geomgen.section.check import in_order, no_crossing, shut, thick
from geomgen.section.grid import stations
from geomgen.section.listing import MOST_BYTES, Listing, Origin, parse
from geomgen.section.section import Section, Surface

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

_REPEAT = 1e-6  # points nearer than this are one [share of the file's extent]
_EDGE = 0.03  # the edge of an open tail is no longer than this [share of the file's extent]


def read(file: Path, path: str = "", shown: str = "") -> Section:
    """The section in a coordinate file.

    file   : either one loop from the trailing edge round the nose and back, in either direction, or an upper and a lower
             list from the nose, in either order, with their two counts on the line after the title
    path   : key path in the design file, for a fault
    shown  : the file's name for a fault; its own where none is given
    raises : DesignError, with the file and its line

    Its size, place and slope don't matter: the nose, the point farthest from the tail's middle, goes to (0, 0) and the
    tail's middle to (1, 0). Repeated points are dropped. The surface is a smooth curve through the points, so a kink is
    rounded.
    """
    origin = Origin(shown or file.name, path, shown or file.name)
    try:
        with file.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except OSError as error:
        raise DesignError(origin.fault(None, f"can't be read: {error.strerror or error}")) from error
    return section(parse(data, origin), origin, name=file.stem)


def section(listing: Listing, origin: Origin, name: str) -> Section:
    """The section through listed points."""
    xy, lines = _distinct(*_loop(listing, origin))
    if len(xy) < 10:
        raise origin.refusal(int(lines[-1]), f"holds {len(xy)} different points", "at least 10")
    xy, lines = _without_edge(xy, lines)
    xy = _upright(xy, shut(xy, lines, origin))
    in_order(xy, lines, origin)
    no_crossing(xy, lines, origin)
    thick(xy, lines, origin)
    if _area(xy) < 0.0:
        xy = xy[::-1]
    around = Surface(xy, spline.tangents(xy))
    nose = _nose(around)
    around = Surface(_upright(xy, around.at([nose])[0][0]), _turned(around, nose))
    before, after = (around.at(at) for at in _stations(around, nose))
    for points in (before[0], after[0]):
        points[0] = 0.0
    note = f"coordinate file {origin.file}" + (f": {listing.title}" if listing.title else "")
    return Section(name, note, Surface(before[0], -before[1]), Surface(*after))
