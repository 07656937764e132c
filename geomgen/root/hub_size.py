"""How large a hub is over all, from its figures alone."""

from __future__ import annotations

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.frames import applied
from geomgen.plane.polar import on_circle
from geomgen.root.hub_mass import arms_to_hub
from geomgen.root.hub_spec import Duct, HubSpec

ROUND = np.arange(0.0, 360.0, 0.5)  # [deg]: a circle of 100 mm is 0.002 mm too small between two of them


def hub_corners(spec: HubSpec) -> FloatArray:
    """(n, 3) points in the hub's frame whose convex hull is the hub's [mm].

    Cup, thick roots, flanges and the arms' outer ends; their inner ends lie in the cup.
    """
    ring = on_circle(spec.bay_radius + spec.wall, ROUND)
    cup = [np.column_stack((ring, np.full(len(ring), height))) for height in (0.0, spec.rim)]
    flange, boss = on_circle(spec.flange / 2, ROUND), on_circle(spec.boss / 2, ROUND)
    ends = [(flange, spec.seat), (flange, spec.seat - spec.flange_thickness), (boss, spec.boss_end)]
    ends += [(_shell(duct, spec.wall), spec.seat) for duct in spec.ducts]
    arm = np.concatenate([np.column_stack((xy, np.full(len(xy), -s))) for xy, s in ends])
    corners = np.concatenate([*cup, *(applied(place, arm) for place in arms_to_hub(spec))])
    return np.asarray(corners * (1.0, -1.0 if spec.clockwise else 1.0, 1.0))


def hub_extents(spec: HubSpec) -> tuple[float, float, float]:
    """Along X, along Y, and in height, as it stands in its file to print [mm]."""
    x, y, height = np.ptp(hub_corners(spec), axis=0).tolist()
    return x, y, height


def hub_diameter(spec: HubSpec) -> float:
    """Of the circle about the rotor axis that it turns in [mm]."""
    return 2.0 * float(np.hypot(*hub_corners(spec)[:, :2].T).max())


def _shell(duct: Duct, wall: float) -> FloatArray:
    """(n, 2) points round a duct with its wall."""
    middles = on_circle(np.full(25, duct.radius), np.linspace(duct.from_deg, duct.to_deg, 25))
    return (middles[:, None] + on_circle(duct.width / 2 + wall, ROUND)).reshape(-1, 2)
