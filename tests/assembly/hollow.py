"""What covers a blade at one radius, and the hollow it leaves: bands under the surface, strips at nose and tail.

Bands are buffers of the surface, inwards and square to it, by shapely; corners run on to a point.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np
import shapely
from by_equations import FloatArray, OwnBlade, Placed

from geomgen.design.schema import Core, Covered, Design, Folded, Ribbed, Sheeted

FAR = 1e3  # beyond any section [mm]
CRACK = 0.002  # a gap between two covers narrower than twice that is none [mm]
FINE = 0.001  # of the covers' edges [mm]


@dataclass(frozen=True, eq=False)
class Hollow:
    """One radius of a covered blade, all shapes in the blade's (forward, up) [mm].

    placed : the section
    laid   : skin, sheet, film, strips, in the section's frame
    inside : what they leave, its largest piece
    edge   : (n, 2) the same as points, in the section's frame, before any are left out
    """

    placed: Placed
    laid: shapely.Geometry
    inside: shapely.Polygon
    edge: FloatArray

    @cached_property
    def covers(self) -> shapely.Geometry:
        """Skin, sheet, film, strips."""
        return _turned(self.laid, self.placed)


def sheet_mm(design: Design, stock: str) -> float:
    """Thickness of a sheet [mm]."""
    return float(getattr(design.stock[stock], "thickness"))  # noqa: B009


@cache
def hollow(blade: OwnBlade, r: float, strips_on_ribs: bool = True) -> Hollow:
    """What covers the blade at a radius, at a rib or between ribs (where no cap strips lie)."""
    placed = blade.at(r)
    ring = np.vstack([placed.upper[::-1], placed.lower[1:]])
    whole = shapely.Polygon(ring).buffer(0)
    covers = shapely.union_all(_covers(blade.design, placed, whole, strips_on_ribs))
    if isinstance(blade.design.blade.construction, Sheeted):
        covers = covers.buffer(CRACK, join_style="mitre").buffer(-CRACK, join_style="mitre")
    inside = max(shapely.get_parts(whole.difference(covers)), key=lambda part: part.area)
    return Hollow(placed, covers, _turned(inside, placed), np.array(inside.exterior.coords)[:-1])


def _turned(shape: shapely.Geometry, placed: Placed) -> shapely.Geometry:
    """A shape of the section's frame in the blade's, with no more points than it needs, ready for many questions."""
    turned = shapely.transform(shape.simplify(FINE), placed.to_yz)
    shapely.prepare(turned)
    return turned


def _covers(design: Design, at: Placed, whole: shapely.Polygon, strips_on_ribs: bool) -> list[shapely.Geometry]:
    built, chord = design.blade.construction, at.chord
    round_it = np.vstack([at.upper[::-1], at.lower[1:]])
    if isinstance(built, Folded):
        return [band(round_it, sheet_mm(design, built.stock), whole)]
    if isinstance(built, Ribbed):
        nose = built.strip.width if built.strip and built.pattern == "panels" else 0.0
        tail = built.tail.width if built.tail else 0.0
        some = [s for s in design.blade.skin.values() if design.r(s.from_) - 1e-6 <= at.r <= design.r(s.to) + 1e-6]
        bands = [band(round_it, sheet_mm(design, skin.stock), whole) for skin in some]
        return [*bands, *_strips(whole, nose, tail, chord)]
    if isinstance(built, Core):
        return [band(round_it, sheet_mm(design, built.cover), whole)] if built.cover else []
    assert isinstance(built, Sheeted | Covered)
    ends = tuple(edge.width if edge else 0.0 for edge in (built.nose, built.tail))
    if isinstance(built, Covered):
        return [band(round_it, sheet_mm(design, built.stock), whole), *_strips(whole, *ends, chord)]
    film = sheet_mm(design, built.cover) if built.cover else 0.0
    sheet = sheet_mm(design, built.stock)
    bands = [band(round_it, film, whole)] if film else []
    if built.to is None:
        return [*bands, band(round_it, film + sheet, whole), *_strips(whole, *ends, chord)]
    fore, aft = zip(*(_parted(side, built.to * chord, film + sheet / 2) for side in (at.upper, at.lower)), strict=True)
    bands.append(band(np.vstack([fore[0][::-1], fore[1][1:]]), film + sheet, whole))
    if built.caps and strips_on_ribs:
        bands += [band(part, film + sheet_mm(design, built.caps.stock), whole) for part in aft]
    return [*bands, *_strips(whole, *ends, chord)]


def band(curve: FloatArray, depth: float, whole: shapely.Polygon) -> shapely.Geometry:
    """What of a section lies within a depth of a curve (n, 2) on its surface, its ends square to the curve."""
    return shapely.LineString(curve).buffer(depth, cap_style="flat", join_style="mitre").intersection(whole)


def _strips(whole: shapely.Polygon, nose: float, tail: float, chord: float) -> list[shapely.Geometry]:
    """Strips along nose and tail, planed to the section, upright where they end."""
    found = [shapely.box(-FAR, -FAR, nose, FAR), shapely.box(chord - tail, -FAR, FAR, FAR)]
    return [whole.intersection(box) for box, width in zip(found, (nose, tail), strict=True) if width > 0]


def _parted(side: FloatArray, x: float, depth: float) -> tuple[FloatArray, FloatArray]:
    """A surface (n, 2), nose to tail, parted where the sheet ends: its middle, at a depth, reaches x [mm]."""
    way = np.gradient(side, axis=0)
    way /= np.hypot(*way.T)[:, None]
    up = 1.0 if side[len(side) // 4, 1] > 0 else -1.0
    inward = up * np.column_stack([way[:, 1], -way[:, 0]])
    middle = side + depth * inward
    after = int(np.argmax((middle[:, 0] >= x) & (np.arange(len(side)) > len(side) // 8)))
    share = (x - middle[after - 1, 0]) / (middle[after, 0] - middle[after - 1, 0])
    cut = side[after - 1] + share * (side[after] - side[after - 1])
    return np.vstack([side[:after], cut]), np.vstack([cut, side[after:]])
