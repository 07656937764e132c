"""Copper along a blade: its resistance, what it drops, and how warm it gets in still air."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np

from geomgen.hover.air import GRAVITY_M_S2, Air
from geomgen.materials.wires import find_wire, wire_names

COPPER_OHM_MM2_M = 0.017241  # at 20 degC; international annealed copper standard, IEC 60028
PER_K = 0.00393
MOST_RISE_K = 40.0  # of the outside, in a blade of foam, glue and print, which soften at 60 to 80 degC; from memory
_EMISSIVITY = 0.9  # of insulation; textbook, from memory
_BOLTZMANN = 5.670374e-8
_PRANDTL = 0.71
_BUNDLED = ((1, 1.0), (2, 0.83), (3, 0.73), (6, 0.585), (12, 0.47))  # current of each of n; worked out by this balance
IN_FOAM = 0.70  # current where it lies in 20 mm of foam of 0.033 W/(m K); worked out the same way


class Warmth(Enum):
    """How a wire stands its current."""

    COOL = "within what a handbook grants enclosed wire"
    WARM = "above what a handbook grants enclosed wire"
    HOT = f"outside more than {MOST_RISE_K:g} K above the air"


@dataclass(frozen=True)
class Wire:
    """One kind of wire between pack and fan.

    copper_mm2 : of one [mm2]
    outside_mm : [mm]
    length_m   : of one, hub to fan [m]
    count      : that go to one fan: two carry direct current, three a motor's [-]
    beside     : all wires in its channel [-]
    """

    copper_mm2: float
    outside_mm: float
    length_m: float
    count: int
    beside: int

    def resistance_ohm(self, copper_deg_c: float = 20.0) -> float:
        """Of one, one way [ohm]."""
        return COPPER_OHM_MM2_M * self.length_m / self.copper_mm2 * (1.0 + PER_K * (copper_deg_c - 20.0))


def heat_transfer_w_m2k(outside_mm: float, rise_k: float, air: Air) -> float:
    """From the outside of a level wire to still air, by convection and radiation [W/(m2 K)].

    source : Churchill and Chu, 1975, horizontal cylinder (textbook, from memory); grey radiation
    """
    d, film = outside_mm * 1e-3, air.temperature_k + rise_k / 2.0
    viscosity = air.kinematic_viscosity_m2_s * (film / air.temperature_k) ** 1.7
    rayleigh = GRAVITY_M_S2 / film * rise_k * d**3 / viscosity**2 * _PRANDTL
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.559 / _PRANDTL) ** (9 / 16)) ** (8 / 27)) ** 2
    hot = air.temperature_k + rise_k
    radiated = _EMISSIVITY * _BOLTZMANN * (hot**4 - air.temperature_k**4) / rise_k
    return float(nusselt * air.conductivity_w_mk * (film / air.temperature_k) ** 0.85 / d + radiated)


def current_for_rise_a(copper_mm2: float, outside_mm: float, rise_k: float, air: Air) -> float:
    """Current [A] at which the outside of one wire by itself stands so far above still air [K]."""
    copper_deg_c = air.temperature_k - 273.15 + rise_k
    ohm_per_m = COPPER_OHM_MM2_M / copper_mm2 * (1.0 + PER_K * (copper_deg_c - 20.0))
    out_w_m = heat_transfer_w_m2k(outside_mm, rise_k, air) * math.pi * outside_mm * 1e-3 * rise_k
    return math.sqrt(out_w_m / ohm_per_m)


def rise_k(current_a: float, copper_mm2: float, outside_mm: float, air: Air, *, granted: float = 1.0) -> float:
    """How far the outside of a wire stands above still air [K].

    current_a : in each [A]
    granted   : share of the current of one by itself that makes the same rise, from `granted_share` [-]
    """
    low, high, alone = 1e-6, 2000.0, current_a / granted
    for _ in range(40):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if current_for_rise_a(copper_mm2, outside_mm, middle, air) < alone else (low, middle)
    return high


def granted_share(beside: int, *, in_foam: bool = False) -> float:
    """Share of the current of one wire by itself that each of several may carry at the same rise [-]."""
    counts, shares = zip(*_BUNDLED, strict=True)
    share = float(np.interp(math.log(max(beside, 1)), np.log(counts), shares))
    return share * (IN_FOAM if in_foam else 1.0)


def enclosed_a(copper_mm2: float) -> float | None:
    """What a handbook grants enclosed wire of this copper [A], by powers between gauges; None beyond its table."""
    rows = [(each.nominal_mm2, each.enclosed_a) for each in map(find_wire, wire_names()) if each.enclosed_a is not None]
    areas, amps = np.array(sorted(rows)).T
    if not areas[0] <= copper_mm2 <= areas[-1]:
        return None
    return float(np.exp(np.interp(math.log(copper_mm2), np.log(areas), np.log(amps))))


def warmth(wire: Wire, current_a: float, rise: float) -> Warmth:
    """How a wire stands its current [A] with the rise that it makes [K]."""
    if rise > MOST_RISE_K:
        return Warmth.HOT
    enclosed = enclosed_a(wire.copper_mm2)
    return Warmth.WARM if enclosed is not None and current_a > enclosed else Warmth.COOL
