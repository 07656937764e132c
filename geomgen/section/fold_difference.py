"""How far a section as made differs from the one that was designed. Chord 1."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.section.measures import measures
from geomgen.section.section import Section, Surface

_STEP = 5e-4  # between points of an outline [chord]: a chord is off a nose of 1 % by 3e-6


@dataclass(frozen=True)
class Difference:
    """Made against designed.

    greatest  : greatest distance from a point of either outline to the other outline [chord]
    at        : x of that point [chord]
    area      : area made over area designed, less 1 [-]
    thickness : greatest thickness made less designed [chord]
    camber    : greatest camber made less designed [chord]
    """

    greatest: float
    at: float
    area: float
    thickness: float
    camber: float


def difference(designed: Section, made: Section) -> Difference:
    """How far a section as made differs from the one that was designed, both at chord 1 in one place.

    source : greatest distance both ways (Hausdorff's) between closed outlines, edge of an open tail included
    """
    one, other = _outline(designed), _outline(made)
    points, away = np.vstack([one, other]), np.concatenate([_away(one, other), _away(other, one)])
    worst = int(np.argmax(away))
    was, now = measures(designed), measures(made)
    return Difference(
        greatest=float(away[worst]),
        at=float(points[worst, 0]),
        area=float(now.area / was.area - 1.0),
        thickness=now.thickness - was.thickness,
        camber=now.camber - was.camber,
    )


def _away(points: FloatArray, outline: FloatArray) -> FloatArray:
    """(n,) distance of each point from an outline [chord]."""
    edges = shapely.linestrings(np.stack([outline[:-1], outline[1:]], axis=1))
    found = shapely.STRtree(edges).query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    return np.asarray(found[1])


def _outline(section: Section) -> FloatArray:
    """(n, 2) points round the whole outline, the first again at the end [chord]."""
    upper, lower = _points(section.upper)[::-1], _points(section.lower)
    ring = np.vstack([upper, lower[1:], upper[:1]])
    return np.asarray(ring[np.append(np.any(np.diff(ring, axis=0) != 0.0, axis=1), True)])


def _points(surface: Surface) -> FloatArray:
    """(n, 2) points of a surface, its samples and corners among them, nose to tail [chord]."""
    even = np.linspace(0.0, surface.length, int(np.ceil(surface.length / _STEP)) + 1)
    return surface.at(np.unique(np.concatenate([even, surface.along])))[0]
