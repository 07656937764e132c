"""Glue joints of spars in the ribs' notches and within caps: areas, and where they are."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from geomgen.blade.blade import Blade
from geomgen.blade.rib_places import RibPlace
from geomgen.blade.route import Route
from geomgen.design.schema import Design
from geomgen.design.schema.spar import CapSpar, SheetSpar
from geomgen.parts.blank import Blank
from geomgen.parts.spars.caps import layer_ends, stacks, strip_mm
from geomgen.parts.spars.cuts import spar_cuts
from geomgen.parts.spars.slices import nodes, slices
from geomgen.parts.spars.webs import bays
from geomgen.parts.spread import straight
from geomgen.tolerances import Tolerances

FloatArray = NDArray[np.float64]


def notch_joints(design: Design, routes: Mapping[str, Route], made: Sequence[Blank], tol: Tolerances) -> FloatArray:
    """(n, 4) area [mm2] and place [mm] of each joint of a rib and what lies in its notches.

    A strip or a box is glued on the three faces of its notch, a sheet on both its faces along all of its depth.
    """
    rows = []
    for blank in made:
        for name, route in routes.items():
            halved = isinstance(design.blade.spar[name], SheetSpar)
            cuts = spar_cuts(design, name, route, blank.place, blank.station, blank.outline, tol)
            for notch in cuts.notches:
                girth = 4 * notch.depth_mm if halved else notch.width_mm + 2 * notch.depth_mm
                reach = notch.depth_mm if halved else notch.depth_mm / 2
                middle = np.array(notch.at) + reach * np.array(notch.way)
                rows.append([girth * blank.place.thickness_mm, *blank.station.to_blade(middle)[0]])
    return np.array(rows).reshape(-1, 4)


def cap_joints(design: Design, blade: Blade, routes: Mapping[str, Route], places: Sequence[RibPlace]) -> FloatArray:
    """(n, 4) area [mm2] and place [mm] of the joints within caps: strip on strip, and webs on the caps' faces."""
    rows: list[FloatArray] = []
    for name, route in routes.items():
        spar = design.blade.spar[name]
        if isinstance(spar, CapSpar):
            rows += _between_strips(design, blade, name, route, places)
            rows += _on_webs(design, blade, name, route, places)
    return np.vstack([np.zeros((0, 4)), *rows])


def _between_strips(
    design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]
) -> list[FloatArray]:
    """As wide as the strips, from the root to where the inner one ends."""
    spar = design.blade.spar[name]
    assert isinstance(spar, CapSpar)
    width, height = strip_mm(design, spar)
    rows = []
    for under, end in enumerate(layer_ends(design, spar)[1:], start=1):
        there = slices(design, blade, nodes(places, float(route.start[0]), end), f"blade.spar.{name}")
        pairs = [
            (at.station, stacks(design, spar, at, float(route.in_station(at.station)[0][0]), under))
            for at in there
            if at is not None
        ]
        for side in (0, 1):
            inner = [(station, pair[side]) for station, pair in pairs if pair is not None]
            points = [station.to_blade(stack.at + under * height * stack.way)[0] for station, stack in inner]
            length, spread = straight(list(pairwise(points)))
            rows.append(spread * [length * width, 1.0, 1.0, 1.0])
    return rows


def _on_webs(design: Design, blade: Blade, name: str, route: Route, places: Sequence[RibPlace]) -> list[FloatArray]:
    """Over the faces of both caps on the webs' side, as deep as the caps are where a bay begins."""
    spar = design.blade.spar[name]
    assert isinstance(spar, CapSpar)
    height = strip_mm(design, spar)[1]
    rows = []
    for bay in bays(design, blade, name, route, places):
        depth = height * sum(end >= bay.inner[0].station.r_mm for end in layer_ends(design, spar))
        for top in (False, True):
            points = []
            for at, web in (bay.inner, bay.outer):
                up = web.height_mm - depth / 2 if top else depth / 2
                points.append(at.station.to_blade(web.foot + up * web.up)[0])
            length, spread = straight([(points[0], points[1])])
            rows.append(spread * [length * depth, 1.0, 1.0, 1.0])
    return rows
