"""Tangents either side of a corner, in sections blended between two with that corner at different shares."""

from __future__ import annotations

import numpy as np
import pytest

from geomgen.section.blend import blend
from geomgen.section.families import naca
from geomgen.section.folding import Folds, folded
from geomgen.section.reshape import flattened


@pytest.mark.parametrize("share", [0.25, 0.5, 0.9])
def test_behind_and_ahead_of_a_corner_tangents_are_those_of_the_flats(share: float) -> None:
    one = folded(naca("4415"), Folds((0.2, 0.45, 0.7), (0.3,), 0.0286))
    two = folded(naca("4412"), Folds((0.25, 0.5, 0.65), (0.35,), 0.04))
    made = blend(one, two, share)
    for surface in (made.upper, made.lower):
        for run in surface.runs()[1:]:
            way = run.xy[-1] - run.xy[0]
            assert run.tangent == pytest.approx(np.tile(way / np.hypot(*way), (len(run.xy), 1)), abs=1e-9)
        ahead = surface.runs()[0]
        assert ahead.tangent[-1] == pytest.approx(ahead.tangent[-2], abs=1e-9)


def test_the_flat_of_blended_flattened_sections_begins_along_itself() -> None:
    for start in np.linspace(0.25, 0.45, 9):
        made = blend(flattened(naca("4415"), 0.3), flattened(naca("4412"), float(start)), 0.4)
        flat = made.lower.runs()[-1]
        way = flat.xy[-1] - flat.xy[0]
        assert flat.tangent[0] == pytest.approx(way / np.hypot(*way), abs=1e-9)
