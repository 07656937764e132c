"""Spar caps: strips laminated on one another in notches of the ribs' upper and lower edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.design.schema import Design, LengthStock
from geomgen.design.schema.spar import CapSpar
from geomgen.errors import Fault
from geomgen.model.part import Length, Part
from geomgen.model.role import Assembly, Role
from geomgen.model.spread import straight
from geomgen.plane.biarc import unit
from geomgen.structure.spars.slices import Slice, Which, aft_of, astride, left_section, nodes, seated, slices
from geomgen.structure.spars.splices import Along, Span, Wanted, joined

FloatArray = NDArray[np.float64]
SIDES: tuple[Which, Which] = ("upper", "lower")

FEATHERED = 5.0  # slope of a stopped strip's end
FEATHER = "feather it over its last {:g} mm (5:1, as AC 43.13-1B, read, has it for the ends of plates on a spar)"


@dataclass(frozen=True, eq=False)
class Stack:
    """One cap at one radius: strips laid on one another from the edge inwards.

    at       : (2,) middle of its outer face, in the station's frame [mm]
    way      : (2,) unit vector into the section, square to that face
    width_mm : of the strips [mm]
    depth_mm : of all strips together [mm]
    """

    at: FloatArray
    way: FloatArray
    width_mm: float
    depth_mm: float

    def corners(self) -> FloatArray:
        """(4, 2) corners, the outer two first [mm]."""
        across = aft_of(self.way) * self.width_mm / 2
        inner = self.at + self.depth_mm * self.way
        return np.array([self.at - across, self.at + across, inner + across, inner - across])


def strip_mm(design: Design, spar: CapSpar) -> tuple[float, float]:
    """Width and height of one strip [mm]; the rules see to it that it has both."""
    stock = design.stock[spar.stock]
    assert isinstance(stock, LengthStock)
    return stock.width or 0.0, stock.height or 0.0


def layer_ends(design: Design, spar: CapSpar) -> tuple[float, ...]:
    """r at which each lamination ends, never beyond the spar's own end, the outermost in the section first [mm]."""
    return tuple(min(design.r(end), design.r(spar.to)) for end in spar.layers)


def stacks(design: Design, spar: CapSpar, at: Slice, x_mm: float, layers: int) -> tuple[Stack, Stack] | None:
    """Upper and lower cap at one radius, or None where the inside doesn't reach over their width.

    x_mm   : where their middle crosses the chord, from the nose [mm]
    layers : laminations there
    """
    width, height = strip_mm(design, spar)
    upper, lower = (seated(at.outline, side, x_mm, width) for side in SIDES)
    if upper is None or lower is None:
        return None
    return Stack(*upper, width, layers * height), Stack(*lower, width, layers * height)


def between_mm(upper: Stack, lower: Stack) -> float:
    """Least depth between the inner faces of two caps; negative where they run into one another [mm]."""
    up = unit(upper.at - lower.at)
    return float((upper.corners()[2:] @ up).min() - (lower.corners()[2:] @ up).max())


def cap_faults(design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]) -> list[Fault]:
    """Where caps leave the section, and where too little of a rib is left between them; the worst place of each."""
    spar, path = design.blade.spar[name], f"blade.spar.{name}"
    assert isinstance(spar, CapSpar)
    ends, web = layer_ends(design, spar), design.blade.construction.web
    r = np.unique(np.concatenate([nodes(places, float(route.start[0]), max(ends)), np.array(ends)]))
    least, worst = np.inf, 0.0
    for at, radius in zip(slices(design, blade, r, path), r.tolist(), strict=True):
        layers = sum(end >= radius - 1e-6 for end in ends)
        x = float(route.in_station(at.station)[0][0]) if at else 0.0
        both = stacks(design, spar, at, x, layers) if at else None
        if at is None or both is None:
            wrong = f"its caps leave the section at r {radius:.0f} mm"
            return [left_section(at, wrong, x, strip_mm(design, spar)[0], path)]
        if stepped := astride(design, at, x, both[0].width_mm, path):
            return stepped
        if (left := between_mm(*both)) < least:
            least, worst = left, radius
    if least >= web:
        return []
    height = strip_mm(design, spar)[1]
    layers = sum(end >= worst - 1e-6 for end in ends)
    meet = "meet" if least <= 0 else f"leave {least:.2f} mm of the rib between them"
    wrong = f"{layers} of {height:g} mm above and below {meet} at r {worst:.0f} mm"
    remedy = "fewer or thinner laminations there, a place farther forward, or a deeper section"
    return [Fault(f"{path}.layers", "", wrong, f"at least {web:g} mm left, blade.construction.web", remedy)]


def laminations(
    design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace], spans: Sequence[Span]
) -> list[Part]:
    """One part for each lamination above and below, exact along its own line from rib to rib.

    Each is numbered from the outermost in the section: "spar main2 upper 1". Its length is that of its line: what its
    joints take beyond that stands in its notes.

    spans  : stretches of r where no joint may stand [mm]
    raises : MakeError where one is longer than its stock and can't be joined
    """
    spar, path = design.blade.spar[name], f"blade.spar.{name}"
    assert isinstance(spar, CapSpar)
    ends, (_, height) = layer_ends(design, spar), strip_mm(design, spar)
    r = nodes(places, float(route.start[0]), max(ends))
    r = np.unique(np.concatenate([r, np.array(ends)]))
    found = _lines(design, spar, route, slices(design, blade, r, path))
    parts: list[Part] = []
    wanted: list[Wanted] = []
    for i, end in enumerate(ends, start=1):
        stop = () if end >= max(ends) - 1e-6 else (f"ends at r {end:.0f} mm: {FEATHER.format(FEATHERED * height)}",)
        for side in SIDES:
            points = (found[side][0] + (i - 0.5) * height * found[side][1])[r <= end + 1e-6]
            length, spread = straight(list(pairwise(points)))
            wanted.append(Wanted(f"spar {name} {side} {i}", Along.through(points), height))
            parts.append(
                Part(
                    wanted[-1].name, Role.SPAR, spar.stock, path, Length(length), Assembly.BLADE, 1, spread, notes=stop
                )
            )
    made = joined(design, path, spar, wanted, spans)
    return [made[part.name].told(part) for part in parts]


def _lines(
    design: Design, spar: CapSpar, route: Route, at: Sequence[Slice | None]
) -> dict[Which, tuple[FloatArray, FloatArray]]:
    """Outer faces' middles (n, 3) [mm] and ways inwards (n, 3), above and below, in the blade frame."""
    there = [one for one in at if one is not None]
    both = [stacks(design, spar, one, float(route.in_station(one.station)[0][0]), 1) for one in there]
    lines: dict[Which, tuple[FloatArray, FloatArray]] = {}
    for k, side in enumerate(SIDES):
        placed = [(one.station, pair[k]) for one, pair in zip(there, both, strict=True) if pair]
        outer = np.vstack([station.to_blade(stack.at)[0] for station, stack in placed])
        inner = np.vstack([station.to_blade(stack.at + stack.way)[0] for station, stack in placed])
        lines[side] = outer, inner - outer
    return lines
