"""Solids put together at three stations of each construction: root, middle and outermost, by CadQuery.

Ribs are extruded from the region's own lines and arcs; covers and spars come from the published equations and the
parts' record, as in the plane test. Volumes in common are held against that test's areas, as a second way to the same
figure: a boolean that misses a thin overlap altogether still adds up.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest
from assembled import WEIGHTS, Assembled, Plane, assembled
from meeting import beyond

MEAN = 0.03  # overlap on average over the contact [mm]
REACH = 0.6  # covers and spars reach so far beyond a rib's faces [mm]
FACETS = 0.0015  # of overlap that the facets of the covers' solid may add on average [mm]
STATIONS = ["root", "middle", "outermost"]
MADE = ["lantern base", "lantern balsa", "lantern film", "lantern foam_board", "lantern sheeted_all_round"]


def station(built: Assembled, which: str) -> list[Plane]:
    """Planes through the first rib, one in the middle, or the last."""
    return built.rib_planes[{"root": 0, "middle": len(built.ribs) // 2, "outermost": -1}[which]]


@cache
def rib_solid(name: str, which: str) -> Any:
    """A rib where it stands."""
    from kernel_solids import plate

    return plate(station(assembled(name), which)[0].rib)


def in_covers(name: str, which: str, chord: float) -> float:
    """Volume of a rib that lies in its covers [mm3].

    At root and tip what sticks out of their hollow; in the middle what it shares with their own solid, the section less
    the hollow.
    """
    from kernel_solids import inside, met, whole

    built = assembled(name)
    part = station(built, which)[0].rib.part
    half = part.shape.thickness_mm / 2
    ends = part.r_mm - half, part.r_mm + half, REACH, chord
    if which != "middle":
        return met(rib_solid(name, which), inside(built.own, *ends)).rest_mm3
    covers = met(whole(built.own, *ends), inside(built.own, *ends)).rest
    return met(rib_solid(name, which), covers).both_mm3


@pytest.mark.parametrize(("name", "which"), [*((n, w) for n in MADE for w in STATIONS), ("kite_day base", "root")])
def test_a_rib_in_its_covers(name: str, which: str) -> None:
    from kernel_solids import CHORDS, WrongSum

    planes = station(assembled(name), which)
    found = [beyond(plane.wood, plane.hollow.inside) for plane in planes]
    thick = planes[0].rib.part.shape.thickness_mm
    contact, area = (WEIGHTS @ [getattr(each, what) for each in found] for what in ("contact", "area"))
    shared = None
    for chord in CHORDS:
        try:
            shared = in_covers(name, which, chord)
            break
        except WrongSum as error:  # the kernel's own trouble with faces that nearly touch: said, and tried again
            print(f"{name}, {which}, facets within {chord} mm: {error}")
    assert shared is not None
    assert shared <= MEAN * contact * thick
    assert shared == pytest.approx(area * thick, rel=0.15, abs=FACETS * contact * thick)


@pytest.mark.parametrize("which", STATIONS)
@pytest.mark.parametrize("name", [*MADE, "lantern panels", "lantern nose_box", "kite_day base"])
def test_spars_and_channels_through_a_rib(name: str, which: str) -> None:
    """Each sharing no more with the wood than the mean over its sides allows; the rest adds up."""
    from kernel_solids import met, piece, volume

    built = assembled(name)
    planes = station(built, which)
    rib, part = rib_solid(name, which), planes[0].rib.part
    half = part.shape.thickness_mm / 2
    for body in (*built.bodies, *built.channels):
        section = planes[len(planes) // 2].sections.get(body.name)
        if section is None or body.path.startswith(("pitch", "blade.tip")):
            continue
        solid = piece(body, part.r_mm - half - REACH, part.r_mm + half + REACH)
        over = met(solid, rib)
        through = [plane.sections[body.name].area for plane in planes if body.name in plane.sections]
        assert over.both_mm3 <= MEAN * section.length * 2 * half, body.name
        if len(through) == len(planes) and solid.BoundingBox().xlen < 4 * half + 2 * REACH:
            assert volume(solid) == pytest.approx(np.mean(through) * solid.BoundingBox().xlen, rel=1e-3), body.name
