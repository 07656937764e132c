"""Glue by joint area: skin to ribs, spars to ribs, the skins' seam at the tail; or one stated mass."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from geomgen.design.schema import Design
from geomgen.parts.blank import Blank
from geomgen.parts.part import Area, Bought, Part

FloatArray = NDArray[np.float64]


def glue(design: Design, made: Sequence[Blank]) -> list[Part]:
    """One part for each kind of joint; none where the design has no [glue].

    A stated mass is spread as the joints would be.
    """
    if design.glue is None:
        return []
    skin, spars, seam = _skin_joints(made), _spar_joints(made), _seam(made)
    joints = [("glue skin to ribs", skin), ("glue spars to ribs", spars), ("glue tail seam", seam)]
    joints = [(name, rows) for name, rows in joints if rows[:, 0].sum() > 0]
    if design.glue.mass is not None:
        mass, rows = design.glue.mass, np.vstack([rows for _, rows in joints])
        return [_joint("glue", Bought((mass, mass, mass)), rows)]
    return [_joint(name, Area(float(rows[:, 0].sum())), rows) for name, rows in joints]


def _joint(name: str, shape: Area | Bought, rows: FloatArray) -> Part:
    spread = rows / np.array([rows[:, 0].sum(), 1.0, 1.0, 1.0])
    return Part(name=name, what="glue", stock="", path="glue", shape=shape, on="blade", count=1, spread=spread)


def _skin_joints(made: Sequence[Blank]) -> FloatArray:
    """(n, 4) area [mm2] and place [mm] of the joint of each rib and the skin."""
    rows = []
    for blank in made:
        area = blank.outline.contact_mm * blank.place.thickness_mm if blank.skin_mm > 0 else 0.0
        middle = blank.outline.middle(50).mean(axis=0)
        rows.append([area, *blank.station.to_blade(middle)[0]])
    return np.array(rows)


def _spar_joints(made: Sequence[Blank]) -> FloatArray:
    """(n, 4) area [mm2] and place [mm] of the joint of each rib and each spar."""
    rows = [
        [
            opening.loop.length() * blank.place.thickness_mm,
            *blank.station.to_blade(np.array([opening.loop.centroid()]))[0],
        ]
        for blank in made
        for opening in blank.openings
        if opening.path.startswith("blade.spar.")
    ]
    return np.array(rows).reshape(-1, 4)


def _seam(made: Sequence[Blank]) -> FloatArray:
    """(n, 4) area [mm2] and place [mm] of the seam of the two skins behind the ribs' tails, bay by bay."""
    rows = []
    for inner, outer in itertools.pairwise(made):
        if min(inner.skin_mm, outer.skin_mm) <= 0:
            continue
        widths = [blank.station.chord_mm - blank.outline.tail_mm for blank in (inner, outer)]
        area = (widths[0] + widths[1]) / 2 * (outer.place.r_mm - inner.place.r_mm)
        middles = [
            blank.station.to_blade(np.array([[(blank.station.chord_mm + blank.outline.tail_mm) / 2, 0.0]]))[0]
            for blank in (inner, outer)
        ]
        rows.append([area, *((middles[0] + middles[1]) / 2)])
    return np.array(rows).reshape(-1, 4)
