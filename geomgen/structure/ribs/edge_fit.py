"""How a rib's square-cut edge meets a cover that runs at a slope: where it stands proud, where it leaves a gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from geomgen.arrays import FloatArray
from geomgen.blade.under_cover import under_covers
from geomgen.blade.under_skin import Outline
from geomgen.figures import mm
from geomgen.model.joint import Key
from geomgen.model.layout import Layout, rib_key
from geomgen.structure.ribs.blank import Blank

SAND_MM = 0.1  # what stands proud by more is sanded off; less is pressed into the cover, or the glue's own thickness


@dataclass(frozen=True)
class EdgeFit:
    """A rib's edge against what covers it, between its two faces.

    proud_mm : greatest reach of its edge beyond the inside of the cover, at a face [mm]
    gap_mm   : greatest gap between them, at a face [mm]
    place    : where the edge stands proud most: "nose", "tail", "upper" or "lower"
    face     : at which face: "root" or "tip"
    """

    proud_mm: float
    gap_mm: float
    place: str
    face: str

    def note(self) -> str:
        """What to do about it; "" where there is nothing."""
        if self.proud_mm <= SAND_MM:
            return ""
        where = self.place if self.place in ("nose", "tail") else f"{self.place} edge"
        return f"sand here, {mm(self.proud_mm, 2)}: its {where} stands proud at the {self.face} side face"


def fit_notes(layout: Layout, blanks: Sequence[Blank]) -> dict[Key, str]:
    """What to do about the edges that don't fit: rib -> note; ribs without any aren't there."""
    fits = edge_fits(layout, blanks)
    return {rib_key(blank.place): note for blank, fit in zip(blanks, fits, strict=True) if (note := fit.note())}


def edge_fits(layout: Layout, blanks: Sequence[Blank]) -> list[EdgeFit]:
    """How each rib's edge fits; ribs are cut square, by their outline at mid thickness.

    The inside of the cover is taken at both faces; there the rib's own outline is laid over it, seen along the feather
    axis. Edges without a cover are held against the section itself.
    """
    blade, ends = layout.blade, []
    for sign in (-1.0, 1.0):
        r = [blank.place.r_mm + sign * blank.place.thickness_mm / 2 for blank in blanks]
        r = np.clip(r, blade.root_mm, blade.radius_mm).tolist()
        stations = blade.stations(r)
        covers = [layout.cover(at) for at in r]
        outlines = under_covers(stations, covers, 0.0, [""] * len(r))  # the inside of the cover runs on to the tail
        rings = [
            None if outline is None else station.to_blade(_ring(outline))[:, 1:]
            for station, outline in zip(stations, outlines, strict=True)
        ]
        ends.append(rings)
    own = [blank.station.to_blade(_ring(blank.outline))[:, 1:] for blank in blanks]
    each = zip(blanks, own, *ends, strict=True)
    return [_fit(blank, points, {"root": inner, "tip": outer}) for blank, points, inner, outer in each]


def _ring(outline: Outline) -> FloatArray:
    return np.vstack([piece.xy[:-1] for piece in outline.pieces])


def _fit(blank: Blank, own: FloatArray, faces: dict[str, FloatArray | None]) -> EdgeFit:
    proud, gap, place, face = 0.0, 0.0, "upper", "root"
    for name, inside in faces.items():
        if inside is None:
            continue
        polygon = shapely.Polygon(inside)
        points = shapely.points(own)
        away = shapely.distance(points, polygon.exterior)
        beyond = np.where(shapely.contains_properly(polygon, points), -away, away)
        k = int(np.argmax(beyond))
        if beyond[k] > proud:
            proud, place, face = float(beyond[k]), _place(blank, own[k]), name
        gap = max(gap, float(-beyond.min()))
    return EdgeFit(proud, gap, place, face)


def _place(blank: Blank, yz: FloatArray) -> str:
    """Which part of the rib's edge a point of the blade frame lies on."""
    x, y = blank.station.from_blade(np.array([[blank.place.r_mm, *yz]]))[0]
    nose, tail = blank.outline.nose_mm, blank.outline.tail_mm
    share = (x - nose) / (tail - nose)
    if share < 0.03:
        return "nose"
    if share > 0.97:
        return "tail"
    middle = float(blank.outline.upper.y(np.array([x]))[0] + blank.outline.lower.y(np.array([x]))[0]) / 2
    return "upper" if y > middle else "lower"
