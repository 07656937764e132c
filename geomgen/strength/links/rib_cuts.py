"""A rib cut across its chord at many places: what wood is left there, and what lift it carries to its spar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from geomgen.arrays import BoolArray, FloatArray
from geomgen.model.part import Flat
from geomgen.plane.path import Loop
from geomgen.strength.build import Build
from geomgen.strength.formulas.rib import Ligaments
from geomgen.strength.links.bays import Bay
from geomgen.strength.links.chordwise import ahead_share, behind_share

BARE_MM = 0.1  # what is thinner is film
NEAR_MM = 0.05  # arcs are taken as chords that near them
PLACES = 36  # cuts between nose and tail, besides one in the middle of each hole


@dataclass(frozen=True, eq=False)
class RibCuts:
    """One rib.

    bay    : where it stands
    flat   : its shape
    axis   : of the tube in the rib's own frame [mm]
    filled : its holes that what lies in them fills: spars'
    open   : holes that nothing fills: channels', bores, screws', and round lightening holes
    truss  : holes between the members of a truss, nose to tail
    """

    bay: Bay
    flat: Flat
    axis: tuple[float, float]
    filled: tuple[Loop, ...]
    open: tuple[Loop, ...]
    truss: tuple[Loop, ...]

    @property
    def chord_mm(self) -> float:
        """Chord of the section [mm]."""
        return self.bay.blank.station.chord_mm

    @property
    def thick_mm(self) -> float:
        """Thickness of its sheet [mm]."""
        return self.flat.thickness_mm

    @cached_property
    def cuts(self) -> tuple[FloatArray, tuple[Ligaments, ...]]:
        """Places along the chord (n,) [mm], and what a cut square to it leaves there, where it leaves anything."""
        x0, y0, x1, y1 = self.flat.weighed.bounds()
        middles = [(hole.bounds()[0] + hole.bounds()[2]) / 2.0 for hole in (*self.filled, *self.open)]
        x = np.unique(np.concatenate([np.linspace(x0, x1, PLACES + 2)[1:-1], middles]))
        lines = shapely.linestrings(np.stack([np.column_stack([x, np.full_like(x, y)]) for y in (y0, y1)], axis=1))
        plate = self.flat.weighed.to_shapely(NEAR_MM)
        pieces, of = shapely.get_parts(shapely.intersection(plate, lines), return_index=True)
        long = shapely.length(pieces) > 0.0
        bounds, of = shapely.bounds(pieces[long])[:, [1, 3]], of[long]
        found = [np.sort(bounds[of == k], axis=0) - y0 for k in range(len(x))]
        some = [k for k, spans in enumerate(found) if len(spans)]
        return x[some], tuple(Ligaments(found[k][:, 0], found[k][:, 1], self.thick_mm) for k in some)

    def shear_share(self, x_mm: FloatArray) -> FloatArray:
        """(n,) share of the bay's lift that goes past places along the chord [mm] to the tube [-]: of what lies ahead
        of those ahead of it, of what lies behind of those behind it; at the tube itself the greater."""
        share = x_mm / self.chord_mm
        ahead, behind = ahead_share(share), behind_share(share)
        tube = [hole.bounds() for hole in self.filled if _within(hole, self.axis)]
        low, high = (tube[0][0], tube[0][2]) if tube else (self.axis[0], self.axis[0])
        both = np.maximum(ahead, behind)
        return np.where(x_mm < low, ahead, np.where(x_mm > high, behind, both))

    def notched_under_sheet(self, x_mm: FloatArray) -> BoolArray:
        """(n,) whether a place along the chord [mm] lies in a notch that a sheet is glued over."""
        cover = self.bay.blank.cover
        step = np.inf if cover.step is None else cover.step * self.chord_mm
        sheeted = np.where(x_mm <= step, cover.ahead_mm, cover.behind_mm) > BARE_MM
        found = np.zeros(len(x_mm), dtype=bool)
        for notch in self.bay.blank.notches:
            corners = notch.corners()
            found |= (x_mm >= float(corners[:, 0].min())) & (x_mm <= float(corners[:, 0].max()))
        return np.asarray(found & sheeted)

    def arm_mm(self, x_mm: FloatArray) -> FloatArray:
        """(n,) bending of the rib in its plane at places along the chord, for each newton of the bay's lift [mm]."""
        fine = np.linspace(0.0, 1.0, 201)
        step = self.chord_mm / 200.0
        ahead = np.concatenate([[0.0], np.cumsum((ahead_share(fine)[1:] + ahead_share(fine)[:-1]) / 2.0)]) * step
        rest = np.concatenate([[0.0], np.cumsum((behind_share(fine)[1:] + behind_share(fine)[:-1]) / 2.0)]) * step
        share = x_mm / self.chord_mm
        before, after = np.interp(share, fine, ahead), rest[-1] - np.interp(share, fine, rest)
        return np.asarray(np.where(x_mm < self.axis[0], before, after))


def rib_cuts(build: Build, bay: Bay) -> RibCuts | None:
    """One rib's cuts; None where it isn't flat."""
    flat = bay.rib.shape
    if not isinstance(flat, Flat):
        return None
    spars = {f"blade.spar.{name}" for name in build.design.blade.spar}
    openings = bay.blank.openings
    filled = tuple(one.loop for one in openings if one.path in spars)
    others = tuple(one.loop for one in openings if one.path not in spars)
    light = flat.weighed.holes[len(openings) :]
    lighten = build.design.blade.ribs[bay.blank.place.run].lighten
    truss = lighten is not None and lighten.by == "truss"
    ordered = tuple(sorted(light, key=lambda hole: hole.bounds()[0]))
    return RibCuts(
        bay, flat, bay.blank.station.axis_mm, filled, others if truss else (*others, *ordered), ordered if truss else ()
    )


def round_holes(cuts: RibCuts) -> Iterator[tuple[float, float, Ligaments]]:
    """Open holes: middle along the chord, height over all, and what is left above and below [mm]."""
    x, left = cuts.cuts
    for hole in cuts.open:
        x0, y0, x1, y1 = hole.bounds()
        at = int(np.argmin(np.abs(x - (x0 + x1) / 2.0)))
        yield float(x[at]), y1 - y0, left[at]


def _within(hole: Loop, point: tuple[float, float]) -> bool:
    x0, y0, x1, y1 = hole.bounds()
    return x0 <= point[0] <= x1 and y0 <= point[1] <= y1
