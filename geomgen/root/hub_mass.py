"""A hub's volume, centroid and inertia from its figures alone: no solid is built.

The cup is a sum of cylinders. An arm is looked at along its axis: at each place of its cross-section a line runs out
through the bay's wall and the arm, and where it enters and leaves each is in closed form. These lengths are summed
over the cross-section by Gauss's rule in polar coordinates, between the breaks of its outlines.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.frames import blades_to_rotor, shift
from geomgen.model.element import inertia_of
from geomgen.root.cross_section import CrossSection, arm_cross_section
from geomgen.root.hub_spec import HubSpec
from geomgen.root.seat import cap_to_blade

Lengths = list[tuple[float, FloatArray, FloatArray]]

STATED_SHARE = 5e-5  # how far volume and inertia may be off those of the exact solid, relative to them, and the
# centroid off its place, relative to the hub's height


@dataclass(frozen=True, eq=False)
class Bulk:
    """What a solid's mass follows from.

    volume_mm3 : [mm3]
    centroid   : (3,) in the solid's own frame [mm]
    inertia    : (3, 3) about the centroid, for a density of 1 [mm5]
    """

    volume_mm3: float
    centroid: FloatArray
    inertia: FloatArray


def hub_mass(spec: HubSpec) -> Bulk:
    """The hub's, in its own frame and hand, as good as `STATED_SHARE`.

    Arms that meet one another outside the cup are counted as if they didn't; the rules of a hub leave no room for it.
    """
    total, arm = _cup(spec), _arm(spec)
    for place in arms_to_hub(spec):
        total += place @ arm @ place.T
    if spec.clockwise:
        hand = np.array([1.0, -1.0, 1.0, 1.0])
        total *= np.outer(hand, hand)
    volume = float(total[3, 3])
    centroid = total[:3, 3] / volume
    about = total[:3, :3] - volume * np.outer(centroid, centroid)
    return Bulk(volume, centroid, inertia_of(about))


def arms_to_hub(spec: HubSpec) -> list[FloatArray]:
    """(4, 4) from each arm's frame, x aft, y up and z towards the rotor axis, to the anticlockwise hub's."""
    up, arm = shift((0.0, 0.0, spec.axis_height)), cap_to_blade(0.0)
    return [up @ blade @ arm for blade in blades_to_rotor(spec.blades, coning_deg=spec.coning)]


def _cup(spec: HubSpec) -> FloatArray:
    """(4, 4) integral of p p^T over the cup without its arms, p = (x, y, z, 1)."""
    total = _cylinder(spec.bay_radius + spec.wall, 0.0, spec.rim) - _cylinder(spec.bay_radius, spec.floor, spec.rim)
    for diameter, at in [(spec.bore, (0.0, 0.0)), *((spec.bolt, at) for at in spec.bolts)]:
        total -= _cylinder(diameter / 2, 0.0, spec.floor, at)
    return total


def _cylinder(radius: float, low: float, high: float, at: tuple[float, float] = (0.0, 0.0)) -> FloatArray:
    """(4, 4) integral of p p^T over an upright cylinder."""
    middle = np.array([*at, (low + high) / 2, 1.0])
    about = np.diag([radius**2 / 4, radius**2 / 4, (high - low) ** 2 / 12, 0.0])
    return np.asarray(np.pi * radius**2 * (high - low) * (np.outer(middle, middle) + about))


def _arm(spec: HubSpec) -> FloatArray:
    """(4, 4) integral of p p^T over what an arm adds to the cup, less what it takes; p in the arm's frame."""
    section = arm_cross_section(spec)
    lengths = _lengths(spec, section)
    one, s, ss = (
        section.area * sum(sign * np.where(end > start, end**k - start**k, 0.0) for sign, start, end in lengths) / k
        for k in (1, 2, 3)
    )
    rows = np.array([section.x, section.y, np.ones_like(section.x)])
    total, across = np.zeros((4, 4)), np.array([0, 1, 3])
    total[np.ix_(across, across)] = (rows * one) @ rows.T
    total[2, across] = total[across, 2] = -rows @ s  # z points to the rotor axis
    total[2, 2] = ss.sum()
    return total


def _lengths(spec: HubSpec, section: CrossSection) -> Lengths:
    """Along each line: sign, start and end s [mm] of what the arm adds to the cup, or takes of its wall."""
    r, never = section.r, np.inf
    top = np.where(section.pilot, spec.seat - spec.pilot_depth, spec.seat)
    root = spec.boss_end + np.clip(spec.boss / 2 - r, 0.0, (spec.boss - spec.arm) / 2)
    arm = np.minimum(np.where(section.shell, spec.seat, np.where(r < spec.boss / 2, root, 0.0)), top)
    empty = np.where(section.void, never, np.where(r < spec.pocket / 2, spec.collar_seat, -never))  # up to this s
    begin = np.maximum(empty, spec.pocket_from / 2)
    flange = np.maximum(np.maximum(arm, spec.seat - spec.flange_thickness), empty)
    enters, leaves, rim = _through_wall(spec, section)
    below, above = ((enters, rim), (rim, leaves)) if spec.coning >= 0.0 else ((rim, leaves), (enters, rim))
    return [
        (1.0, np.maximum(leaves, begin), arm),
        (1.0, np.maximum(above[0], begin), np.minimum(above[1], arm)),
        (1.0, flange, np.where(r < spec.flange / 2, top, 0.0)),
        (-1.0, below[0], np.minimum(below[1], empty)),
    ]


def _through_wall(spec: HubSpec, section: CrossSection) -> tuple[FloatArray, FloatArray, FloatArray]:
    """s [mm] where each line enters the bay's wall, leaves it, and, between these, passes the rim's height."""
    coning = np.radians(spec.coning)
    rise, level = float(np.sin(coning)), float(np.cos(coning))
    enters, leaves = (
        (np.sqrt(np.maximum(radius**2 - section.x**2, 0.0)) + section.y * rise) / level
        for radius in (spec.bay_radius, spec.bay_radius + spec.wall)
    )
    higher = spec.rim - spec.axis_height - section.y * level  # the rim above the line's foot
    rim = higher / rise if rise else np.where(higher > 0.0, np.inf, -np.inf)
    return enters, leaves, np.clip(rim, enters, leaves)
