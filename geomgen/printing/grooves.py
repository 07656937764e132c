"""Marks and letters of a flat part as grooves in its drawn face."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

from geomgen.marking.lettering import written
from geomgen.model.part import Flat
from geomgen.plane.path import Path

WIDTH_MM = 0.6  # least width of a sunk detail that prints; common practice
DEPTH_MM = 0.4  # two layers; common practice
FLATTEN_MM = 0.01
ROUND_SEGMENTS = 4  # chords in a quarter of a groove's round end


def grooves(flat: Flat) -> shapely.Geometry:
    """What marks and letters take out of the drawn face; kept a groove's width off every edge."""
    letters = [path for text in flat.texts for path in written(text)]
    lines = [shapely.LineString(_run(path)) for path in (*flat.marks, *letters)]
    joined = shapely.union_all(shapely.buffer(lines, WIDTH_MM / 2, quad_segs=ROUND_SEGMENTS))
    inside = flat.region.to_shapely(FLATTEN_MM).buffer(-WIDTH_MM, quad_segs=2)
    return shapely.intersection(joined, inside)


def _run(path: Path) -> NDArray[np.float64]:
    points = path.flattened(FLATTEN_MM)
    return np.vstack((points, points[:1])) if path.closed else points
