"""Where along a blade its loads are told, and between which radii it is taken as alike."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.layout import Layout
from geomgen.root.hub_spec import HubSpec
from geomgen.root.root import Root

APART_MM = 0.5  # of two places, less than which they are one


@dataclass(frozen=True, eq=False)
class Places:
    """Along one blade.

    r_mm     : (k,) from the main spar's inner end to its outer one: the socket's two ends, the turning cap, every rib
               and the middle of every bay, where other spars end [mm]
    inner_mm : where the socket begins, at the collar's face [mm]
    outer_mm : where it ends, at the fixed cap's seat [mm]
    twist_mm : middle of the turning cap, whose pins hold the twist [mm]
    """

    r_mm: FloatArray
    inner_mm: float
    outer_mm: float
    twist_mm: float

    @property
    def middles_mm(self) -> FloatArray:
        """(k-1,) between neighbours: where cross-sections are taken [mm]."""
        return np.asarray((self.r_mm[1:] + self.r_mm[:-1]) / 2.0)


def places(layout: Layout, root: Root, hub: HubSpec, *, main_spar: str) -> Places:
    """Those of one blade.

    main_spar : name of the spar on the feather axis
    """
    main = layout.spars[main_spar]
    begins, ends = float(main.start[0]), float(main.end[0])
    ribs = np.array([rib.r_mm for rib in layout.ribs])
    others = [float(r) for route in layout.spars.values() for r in (route.start[0], route.end[0])]
    wanted = np.array([*ribs, *((ribs[1:] + ribs[:-1]) / 2.0), *others])
    fixed = np.array([begins, hub.collar_seat, hub.seat, root.turning_mid_mm, ends])
    inside = wanted[(wanted > begins) & (wanted < ends)]
    near = np.abs(inside[:, None] - fixed).min(axis=1) < APART_MM
    some = np.sort(np.concatenate([fixed, inside[~near]]))
    kept = [float(some[0])]
    for r in some[1:].tolist():
        if r - kept[-1] >= APART_MM or r in fixed:
            kept.append(r)
    return Places(np.array(kept), hub.collar_seat, hub.seat, root.turning_mid_mm)
