"""Box spars: let into the ribs from below, as deep as the section leaves inside under a bridge of rib."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace, sheet_mm
from geomgen.blade.route import Route
from geomgen.design.schema import Design
from geomgen.design.schema.spar import BoxSpar
from geomgen.errors import Fault
from geomgen.structure.spars.slices import Slice, aft_of, astride, edge_over, left_section, nodes, seated, slices

FloatArray = NDArray[np.float64]

LOOKS = 41  # places along the upper edge over a box that are looked at


@dataclass(frozen=True, eq=False)
class Hollow:
    """A box at one radius, in the station's frame; it lies on the lower edge and follows the blade's twist.

    foot      : (2,) middle of its lower face [mm]
    up        : (2,) unit vector square to that face
    width_mm  : over all, along the lower face [mm]
    height_mm : over all, square to it [mm]
    """

    foot: FloatArray
    up: FloatArray
    width_mm: float
    height_mm: float

    def corners(self, less_mm: float = 0.0) -> FloatArray:
        """(4, 2) low ahead, low behind, high behind, high ahead; with its wall taken off, those inside [mm]."""
        x, top = self.width_mm / 2 - less_mm, self.height_mm - less_mm
        turn = np.array([aft_of(self.up), self.up])
        return np.asarray(self.foot + np.array([[-x, less_mm], [x, less_mm], [x, top], [-x, top]]) @ turn)


def hollow(design: Design, spar: BoxSpar, at: Slice, route: Route) -> Hollow | None:
    """How a box lies at one radius: on the lower edge, and a web's width clear of the upper one; None outside both.

    The bridge is measured square to the upper edge where that slopes most over the box, and leaves room for the fit.
    """
    x, half, web = float(route.in_station(at.station)[0][0]), (spar.width + spar.fit) / 2, design.blade.construction.web
    seat = seated(at.outline, "lower", x, spar.width)
    if seat is None:
        return None
    foot, up = seat
    heights = [edge_over(at.outline.upper, foot, up, e, e) for e in np.linspace(-half, half, LOOKS)]
    if any(height is None for height in heights):
        return None
    upper = np.array([height[0] for height in heights if height is not None])
    slope = np.abs(np.diff(upper)).max() * (LOOKS - 1) / (2 * half)
    height = float(upper.min() - web * np.hypot(1.0, slope))
    return Hollow(foot, up, spar.width, height) if height > 0 else None


def box_faults(design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]) -> list[Fault]:
    """Where a box leaves the section, or has no room inside its own walls; the worst place."""
    spar, path = design.blade.spar[name], f"blade.spar.{name}"
    assert isinstance(spar, BoxSpar)
    wall, web = sheet_mm(design, spar.stock), design.blade.construction.web
    if spar.width <= 2 * wall:
        wrong = f"its two walls of {wall:g} mm leave nothing between them"
        return [Fault(f"{path}.width", f"{spar.width:g} mm", wrong, f"more than {2 * wall:g} mm")]
    r = nodes(places, float(route.start[0]), float(route.end[0]))
    there = slices(design, blade, r, path)
    for at in there:
        x = float(route.in_station(at.station)[0][0]) if at else 0.0
        if at and (stepped := astride(design, at, x, spar.width, path)):
            return stepped
    found = [hollow(design, spar, at, route) if at else None for at in there]
    heights = [one.height_mm if one else 0.0 for one in found]
    least = int(np.argmin(heights))
    if heights[least] > 2 * wall:
        return []
    at, half = there[least], spar.width / 2
    x = float(route.in_station(at.station)[0][0]) if at else 0.0
    if at is None or not at.outline.nose_mm <= x - half <= x + half <= at.outline.tail_mm:
        return [left_section(at, f"it leaves the section at r {r[least]:.0f} mm", x, spar.width, path)]
    wrong = f"at r {r[least]:.0f} mm the section leaves it {heights[least]:.1f} mm, under {web:g} mm of rib"
    allowed, remedy = f"more than twice its sheet, {2 * wall:g} mm", "another chord, a thinner sheet, or end it sooner"
    return [Fault(path, "", wrong, allowed, remedy)]
