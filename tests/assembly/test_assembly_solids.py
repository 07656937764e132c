"""Solids put together at three stations of each construction: root, middle and outermost, by CadQuery.

Ribs are extruded from the region's own lines and arcs; covers and spars come from the published equations and the
parts' record, as in the plane test. Volumes in common are held against that test's areas, as a second way to the same
figure: a boolean that misses a thin overlap altogether still adds up.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from assembled import SHARES, WEIGHTS, Assembled, Plane, assembled
from meeting import beyond

MEAN = 0.03  # overlap on average over the contact [mm]
BEYOND = 0.6  # covers and spars reach so far beyond a rib's faces [mm]
TOUCH = 1e-3  # mm3 that may be left of two things that only touch
MADE = ["base", "foam_on_ply", "balsa", "film", "foam_board", "sheeted_all_round", "panels"]


def station(built: Assembled, which: str) -> list[Plane]:
    """Planes through the first rib, one in the middle, or the last."""
    return built.rib_planes[{"root": 0, "middle": len(built.ribs) // 2, "outermost": -1}[which]]


@pytest.mark.parametrize("which", ["root", "middle", "outermost"])
@pytest.mark.parametrize("name", [f"lantern {name}" for name in MADE] + ["kite_day base"])
def test_a_rib_in_its_covers(name: str, which: str) -> None:
    from kernel_solids import inside, met, plate

    built = assembled(name)
    planes = station(built, which)
    rib = planes[0].rib
    half = rib.part.shape.thickness_mm / 2 + BEYOND
    over = met(plate(rib), inside(built.own, rib.part.r_mm - half, rib.part.r_mm + half))
    found = [beyond(plane.wood, plane.hollow.inside) for plane in planes]
    thick, contact = rib.part.shape.thickness_mm, WEIGHTS @ [each.contact for each in found]
    assert over.rest_mm3 <= MEAN * contact * thick
    assert over.rest_mm3 == pytest.approx(WEIGHTS @ [each.area for each in found] * thick, rel=0.1, abs=0.001 * contact * thick)
