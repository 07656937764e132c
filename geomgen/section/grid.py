"""The stations that blended and smoothed sections are sampled at: close at the nose, wider towards the tail."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from geomgen.arrays import FloatArray

_COUNT = 161
_NOSE = 0.1  # step at the nose over the mean step: a nose of 0.1 % chord is still met to 1e-6 chord
_LEAST = 0.003  # no station nearer than this to a corner


def stations(breaks: Sequence[float] = ()) -> list[FloatArray]:
    """Shares of a surface's length, from the nose to the tail, in one array for each stretch between corners.

    breaks  : shares at which corners lie, rising, each within 0..1
    returns : arrays that begin and end at the breaks
    """
    even = np.linspace(0.0, 1.0, _COUNT)
    shares = even * (_NOSE + (1.0 - _NOSE) * even)
    ends = [0.0, *breaks, 1.0]
    found = []
    for start, end in pairwise(ends):
        off = (_LEAST if start > 0.0 else 0.0), (_LEAST if end < 1.0 else 0.0)
        inner = shares[(shares > start + off[0]) & (shares < end - off[1])]
        found.append(np.concatenate([[start], inner, [end]]))
    return found
