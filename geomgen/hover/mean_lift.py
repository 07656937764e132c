"""The rpm at which a rotor carries its weight, if every part of the blade worked at one lift coefficient."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geomgen.hover.air import GRAVITY_M_S2

FORMULA = "mean lift: T = 1/2 rho Omega^2 C_L N cos^3(coning) * integral of c r^2 dr, from root to tip"
WARNING = (
    "The mean-lift formula ignores losses: air swept round the tip, the inflow that takes away angle, drag of hub and "
    "fittings, wash on what hangs below. The rpm needed is higher, and whether the tip fans can hold it is not asked."
)


@dataclass(frozen=True)
class MeanLift:
    """What the mean-lift formula says of a rotor at one weight.

    rpm                 : rotor speed at which lift equals weight [1/min]
    mass_g              : mass carried [g]
    lift_coefficient    : mean lift coefficient taken [-]
    air_density_kg_m3   : density of the air [kg/m3]
    reference_radius_mm : where a blade of this area, all in one place, would lift as much [mm]
    tip_speed_m_s       : at that rpm [m/s]
    solidity            : blade area over disc area [-]
    """

    rpm: float
    mass_g: float
    lift_coefficient: float
    air_density_kg_m3: float
    reference_radius_mm: float
    tip_speed_m_s: float
    solidity: float
    formula: str = FORMULA
    warning: str = WARNING


def chord_moment(r_mm: ArrayLike, chord_mm: ArrayLike, power: int) -> float:
    """Integral of c(r) r^power dr over one blade, exact for a chord that runs straight between entries.

    r_mm     : (n,) radii, rising, root first and tip last [mm]
    chord_mm : (n,) chord there [mm]
    power    : 0, 1 or 2
    returns  : [mm^(power + 2)]
    source   : Simpson's rule, exact for the cubic that a straight chord times r^2 is
    """
    r = np.asarray(r_mm, dtype=np.float64)
    chord = np.asarray(chord_mm, dtype=np.float64)
    ends = chord * r**power
    middle = (chord[:-1] + chord[1:]) / 2 * ((r[:-1] + r[1:]) / 2) ** power
    return float(np.sum(np.diff(r) / 6 * (ends[:-1] + 4 * middle + ends[1:])))


def mean_lift(
    r_mm: ArrayLike,
    chord_mm: ArrayLike,
    blades: int,
    mass_g: float,
    lift_coefficient: float,
    air_density_kg_m3: float,
    coning_deg: float = 0.0,
) -> MeanLift:
    """The rpm at which the mean-lift formula carries a mass.

    r_mm, chord_mm    : (n,) chord along the feather axis from root to tip, straight between entries [mm]
    blades            : [-]
    mass_g            : all that is carried, payload included [g]
    lift_coefficient  : mean over the blade [-], > 0
    air_density_kg_m3 : [kg/m3]
    coning_deg        : lifts the blade: its speed falls with the cosine (twice) and so does what of its lift
                        points up [deg]
    source            : blade element at constant lift coefficient; for a rectangular blade from the axis it
                        is the textbook T = rho (Omega R)^2 S C_L / 6
    """
    r = np.asarray(r_mm, dtype=np.float64)
    tip_m = float(r[-1]) * 1e-3
    second, area = chord_moment(r, chord_mm, 2), chord_moment(r, chord_mm, 0)
    cosine = float(np.cos(np.radians(coning_deg)))
    lift_per_speed2 = 0.5 * air_density_kg_m3 * lift_coefficient * blades * second * 1e-12 * cosine**3
    omega = float(np.sqrt(mass_g * 1e-3 * GRAVITY_M_S2 / lift_per_speed2))
    return MeanLift(
        rpm=omega * 30 / np.pi,
        mass_g=mass_g,
        lift_coefficient=lift_coefficient,
        air_density_kg_m3=air_density_kg_m3,
        reference_radius_mm=float(np.sqrt(second / area)),
        tip_speed_m_s=omega * tip_m * cosine,
        solidity=blades * area * 1e-6 / (np.pi * tip_m**2),
    )
