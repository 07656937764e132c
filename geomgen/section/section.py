"""An aerofoil at chord 1: two surfaces from nose to tail, x aft, y up, nose at (0, 0)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from geomgen.arrays import FloatArray
from geomgen.section import hermite

SHUT = 1e-9  # a tail thinner than this is closed [chord]
SMOOTH = float(np.radians(0.1))  # tangents that meet within this are one [rad]


class Run(NamedTuple):
    """One smooth stretch.

    xy      : (n, 2) points, none repeated [chord]
    tangent : (n, 2) unit tangents in the direction of travel
    """

    xy: FloatArray
    tangent: FloatArray


@dataclass(frozen=True, eq=False)
class Surface:
    """Upper or lower surface, from the nose (index 0) to the tail.

    Dense enough that cubic Hermite interpolation is good to 1e-6 chord. A corner's point stands twice, first with the
    tangent before, then with the tangent after.

    xy      : (n, 2) points [chord]
    tangent : (n, 2) unit tangents towards the tail
    corners : index of the first of the two points of each corner
    names   : what each corner is called
    """

    xy: FloatArray
    tangent: FloatArray
    corners: tuple[int, ...] = ()
    names: tuple[str, ...] = ()

    @cached_property
    def along(self) -> FloatArray:
        """(n,) length from the nose to each point [chord]."""
        return hermite.lengths(self.xy, self.tangent)

    @property
    def length(self) -> float:
        """Length from nose to tail [chord]."""
        return float(self.along[-1])

    def at(self, along: ArrayLike, side: Literal["left", "right"] = "right") -> tuple[FloatArray, FloatArray]:
        """Points and unit tangents at lengths from the nose.

        along   : (m,) [chord]
        side    : at a corner take the tangent before ("left") or after ("right")
        returns : (m, 2) [chord], (m, 2)
        """
        s = np.asarray(along, dtype=np.float64)
        i = np.clip(np.searchsorted(self.along, s, side=side) - 1, 0, len(self.along) - 2)
        step = self.along[i + 1] - self.along[i]
        share = np.clip((s - self.along[i]) / step, 0.0, 1.0)
        ends = self.xy[i], self.xy[i + 1]
        xy, speed = hermite.between(ends, (self.tangent[i], self.tangent[i + 1]), step, share)
        return xy, speed / np.linalg.norm(speed, axis=-1, keepdims=True)

    def y(self, x: ArrayLike) -> FloatArray:
        """Heights at any x, in the shape of x [chord]; ahead of the nose the nose's own."""
        x = np.asarray(x, dtype=np.float64)
        if x.ndim == 0:
            return np.asarray(hermite.height(self.xy, self.tangent, self.along, float(x)))
        return hermite.heights(self.xy[None], self.tangent[None], x.reshape(1, -1)).reshape(x.shape)

    def runs(self) -> tuple[Run, ...]:
        """The smooth stretches between corners, from nose to tail."""
        starts = (0, *(i + 1 for i in self.corners))
        ends = (*(i + 1 for i in self.corners), len(self.xy))
        return tuple(Run(self.xy[i:j], self.tangent[i:j]) for i, j in zip(starts, ends, strict=True))


@dataclass(frozen=True, eq=False)
class Section:
    """An aerofoil at chord 1.

    name         : what the maker calls it
    note         : where it came from
    upper, lower : its surfaces; both begin at the nose (0, 0), their ends are either side of (1, 0)
    """

    name: str
    note: str
    upper: Surface
    lower: Surface

    def upper_y(self, x: ArrayLike) -> FloatArray:
        """Height of the upper surface at x, in the shape of x [chord]."""
        return self.upper.y(x)

    def lower_y(self, x: ArrayLike) -> FloatArray:
        """Height of the lower surface at x, in the shape of x [chord]."""
        return self.lower.y(x)

    def camber_y(self, x: ArrayLike) -> FloatArray:
        """Half way between upper and lower surface at equal x [chord]."""
        return np.asarray(0.5 * (self.upper.y(x) + self.lower.y(x)))

    def depth(self, x: ArrayLike) -> FloatArray:
        """Upper less lower height at equal x [chord]."""
        return np.asarray(self.upper.y(x) - self.lower.y(x))

    @property
    def tail_gap(self) -> float:
        """Thickness of the tail [chord]; 0 where it is closed."""
        gap = float(np.hypot(*(self.upper.xy[-1] - self.lower.xy[-1])))
        return gap if gap > SHUT else 0.0

    @property
    def round_nose(self) -> bool:
        """Whether the surfaces meet in a tangent at the nose."""
        leave, arrive = self.upper.tangent[0], -self.lower.tangent[0]
        return bool(abs(np.arctan2(leave[0] * arrive[1] - leave[1] * arrive[0], leave @ arrive)) < SMOOTH)

    def runs(self) -> tuple[Run, ...]:
        """Smooth stretches end to end, anticlockwise from the upper tail round the nose to the lower tail."""
        back = [Run(run.xy[::-1], -run.tangent[::-1]) for run in reversed(self.upper.runs())]
        out = list(self.lower.runs())
        if self.round_nose:
            nose = Run(np.vstack([back[-1].xy, out[0].xy[1:]]), np.vstack([back[-1].tangent, out[0].tangent[1:]]))
            return (*back[:-1], nose, *out[1:])
        return (*back, *out)

    def corners(self) -> tuple[tuple[str, tuple[float, float]], ...]:
        """Name and place of each corner, in the order of `runs`: where one stretch begins and the next ends [chord]."""
        upper, lower = self.upper, self.lower
        found = [("upper tail" if self.tail_gap else "tail", upper.xy[-1])]
        found += [(f"upper {name}", upper.xy[i]) for i, name in zip(upper.corners, upper.names, strict=True)][::-1]
        found += [] if self.round_nose else [("nose", upper.xy[0])]
        found += [(f"lower {name}", lower.xy[i]) for i, name in zip(lower.corners, lower.names, strict=True)]
        found += [("lower tail", lower.xy[-1])] if self.tail_gap else []
        return tuple((name, (float(x), float(y))) for name, (x, y) in found)


def heights(sections: Sequence[Section], x: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Upper and lower heights of many sections at once.

    x       : (k, m) for k sections [chord]
    returns : (k, m), (k, m) [chord]
    """
    found = np.empty((2, *x.shape))
    for row, surfaces in zip(found, ([s.upper for s in sections], [s.lower for s in sections]), strict=True):
        sizes = np.array([len(surface.xy) for surface in surfaces], dtype=np.intp)
        for size in np.unique(sizes):
            of = np.flatnonzero(sizes == size)
            xy = np.stack([surfaces[i].xy for i in of])
            row[of] = hermite.heights(xy, np.stack([surfaces[i].tangent for i in of]), x[of])
    return found[0], found[1]


def joined(runs: Sequence[Run], names: Sequence[str]) -> Surface:
    """One surface from stretches end to end: a named corner where their tangents part, else one smooth stretch.

    runs  : from nose to tail; each begins where the one before ends
    names : of the joints, one fewer than the runs
    """
    xy, tangent = [runs[0].xy], [runs[0].tangent]
    corners: list[int] = []
    kept: list[str] = []
    for run, name in zip(runs[1:], names, strict=True):
        before, after = tangent[-1][-1], run.tangent[0]
        if abs(np.arctan2(before[0] * after[1] - before[1] * after[0], before @ after)) < SMOOTH:
            middle = before + after
            tangent[-1] = np.vstack([tangent[-1][:-1], middle / np.hypot(*middle)])
            run = Run(run.xy[1:], run.tangent[1:])
        else:
            corners.append(sum(map(len, xy)) - 1)
            kept.append(name)
        xy.append(run.xy)
        tangent.append(run.tangent)
    return Surface(np.vstack(xy), np.vstack(tangent), tuple(corners), tuple(kept))
