"""Joints of spars: let into ribs, glued to the sheet over them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Half
from geomgen.model.joint import Bond, Joint, Key, over
from geomgen.model.layout import rib_key
from geomgen.structure.spars.kind import Member, Passage


def let_in(key: Key, passage: Passage, *, edge_mm: float, at: Sequence[float] | FloatArray, path: str) -> Joint:
    """A part glued in a rib, along so much of a cut edge [mm], about a point of the station's frame [mm]."""
    place = passage.station.to_blade(np.array([at]))[0]
    contact = np.array([[edge_mm * passage.rib.thickness_mm, *place]])
    return Joint(key, rib_key(passage.rib), Bond.LET_IN, path, contact)


def in_holes(key: Key, passages: Iterable[Passage], path: str) -> Iterator[Joint]:
    """A part glued all round in its holes."""
    for passage in passages:
        for hole in passage.cuts.openings:
            yield let_in(key, passage, edge_mm=hole.loop.length(), at=hole.loop.centroid(), path=path)


def under_sheet(
    member: Member[Any], key: Key, half: Half, *, area_mm2: float, spread: FloatArray, width_mm: float
) -> list[Joint]:
    """A part glued to the sheet over it; none where there is no sheet.

    area_mm2, spread : of the face, and how it lies along the blade: (n, 4) shares and places
    width_mm         : of the face along the chord
    """
    rows = over(area_mm2, spread)
    found = dict[Key, list[FloatArray]]()
    for row, station in zip(rows, member.layout.blade.stations(rows[:, 1]), strict=True):
        share = (member.x_mm(station) - width_mm / 2) / station.chord_mm
        if (sheet := member.layout.sheet_over(half, station.r_mm, share)) is not None:
            found.setdefault(sheet, []).append(row)
    return [Joint(key, sheet, Bond.GLUED, member.path, np.array(some)) for sheet, some in found.items()]
