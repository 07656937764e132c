"""Inertia: a blade about its feather, flap and lag axes, all that turns about the rotor axis and about its centre.

A blade's hinge axes meet where the feather axis meets the rotor axis: x out along the feather axis, coned; y level and
forward, about which the blade flaps; z square to both, up, about which it lags. A tensor's products have their minus
sign. All of the craft turns: nothing is left out but the payload, whose place isn't known.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.design.schema import Design
from geomgen.frames import turn
from geomgen.mass.elements import of_craft
from geomgen.model.element import Body, Element, body, inertia_of
from geomgen.model.role import Assembly

AXES = ("feather", "flap", "lag")


@dataclass(frozen=True, eq=False)
class BladeInertia:
    """One blade's inertia.

    mass_g    : [g]
    centre    : (3,) centre of gravity in the blade frame, at the reference pitch [mm]
    reference : (3, 3) tensor about feather, flap and lag axes at the reference pitch [g mm2]
    at_set    : (3, 3) the same at the pitch set, in axes that don't turn with pitch [g mm2]
    pitch_deg : the pitch set [deg]
    coning_deg : [deg]
    """

    mass_g: float
    centre: FloatArray
    reference: FloatArray
    at_set: FloatArray
    pitch_deg: float
    coning_deg: float

    @property
    def about_rotor_axis(self) -> float:
        """About the rotor axis, coned, at the pitch set [g mm2]."""
        up = self._up()
        return float(up @ self.at_set @ up)

    def flattening_nm(self, rpm: float) -> float:
        """Moment about the feather axis by which turning pulls the blade flat, + leading edge up [N m].

        rpm    : [1/min]
        source : -w x (I w), the moment of centrifugal forces on a body that turns evenly, along the feather axis; for
                 no coning that is the product I_yz times w2
        """
        w = self._up()
        moment = -np.cross(w, self.at_set @ w)
        return float(moment[0]) * 1e-9 * (rpm * math.pi / 30.0) ** 2

    def _up(self) -> FloatArray:
        """(3,) the rotor axis in the hinge axes."""
        coning = math.radians(self.coning_deg)
        return np.array([math.sin(coning), 0.0, math.cos(coning)])


@dataclass(frozen=True, eq=False)
class CraftInertia:
    """All that turns, at the pitch set, coned, in the rotor frame of the craft's own hand.

    body             : mass [g], centre [mm], tensor about that centre [g mm2]
    about_rotor_axis : [g mm2]
    """

    body: Body
    about_rotor_axis: float


@dataclass(frozen=True, eq=False)
class Inertia:
    """Of one blade, and of all that turns."""

    blade: BladeInertia
    craft: CraftInertia


def about_origin(some: Sequence[Element]) -> FloatArray:
    """(3, 3) inertia tensor of elements about the origin of the frame that they lie in [g mm2]."""
    total = np.zeros((3, 3))
    for each in some:
        total += each.inertia + each.mass_g * inertia_of(np.outer(each.centre, each.centre))
    return total


def blade_inertia(some: Sequence[Element], *, pitch_deg: float, coning_deg: float, number: int = 1) -> BladeInertia:
    """One blade's inertia.

    some   : elements in the blade frame, at the reference pitch; others than this blade's are passed over
    number : which blade it is, where blades differ [-]
    """
    mine = [each for each in some if each.assembly == Assembly.BLADE and each.blade in (None, number)]
    whole, reference = body(mine), about_origin(mine)
    turned = turn("x", pitch_deg)[:3, :3]
    return BladeInertia(whole.mass_g, whole.centre, reference, turned @ reference @ turned.T, pitch_deg, coning_deg)


def craft_inertia(some: Sequence[Element], design: Design) -> CraftInertia:
    """Of all that turns; elements as of `mass.elements.elements`."""
    placed = of_craft(some, design)
    return CraftInertia(body(placed), float(about_origin(placed)[2, 2]))


def inertia(some: Sequence[Element], design: Design) -> Inertia:
    """Of one blade, and of all that turns."""
    blade = blade_inertia(some, pitch_deg=design.pitch.set, coning_deg=design.rotor.coning)
    return Inertia(blade, craft_inertia(some, design))
