"""How fast a blade swings at each speed, where that meets its turning, and when lift would twist it off."""

from __future__ import annotations

import numpy as np

from geomgen.model.air_loads import AirLoads
from geomgen.strength.beam.beam import Beam, Masses
from geomgen.strength.beam.crossings import crossings
from geomgen.strength.beam.divergence import divergence
from geomgen.strength.beam.modes import modes
from geomgen.strength.cross_section import Stiffness
from geomgen.strength.held import Crossing, Frequencies, Mode, rpm_of

SPEEDS, BEYOND = 41, 1.3  # how many speeds are looked at, up to so many times the highest
COUNT = 6  # lowest modes that are told
WORDS = (
    "The hub is taken as held; a rotor that its fans drive turns freely, so that lag of all blades together swings "
    "faster than told. Air, which damps flap, and the play in socket and pins, which softens, are left out.",
)


def swings(
    beam: Beam, masses: Masses, *, working: tuple[float, float], blades: int, coning_rad: float
) -> tuple[Frequencies, tuple[Crossing, ...]]:
    """The lowest modes from rest to beyond the highest speed, and all crossings with turns.

    working : lowest and highest speed at which it works [rad/s]
    """
    speeds = np.linspace(0.0, BEYOND * working[1], SPEEDS)
    found = modes(beam, masses, speeds, coning_rad=coning_rad, count=COUNT)
    met = crossings(found, blades=blades, working=working)
    told = tuple(Mode(name, hz) for name, hz in zip(found.names, found.natural.T / (2.0 * np.pi), strict=True))
    low, high = rpm_of(working[0]), rpm_of(working[1])
    return (
        Frequencies(speeds * 30.0 / np.pi, told, (low, high), blades, WORDS),
        tuple(Crossing(each.mode, each.per_turn, rpm_of(each.rad_s), each.near) for each in met),
    )


def diverges(beam: Beam, masses: Masses, stiffness: Stiffness, air: AirLoads, *, coning_rad: float) -> float | None:
    """Speed at which lift, which grows with twist, outgrows what twist meets [rad/s]; None where it doesn't.

    stiffness : its centre of stiffness, or the feather axis where that lies further aft, is what lift turns it about
    """
    x_mm = beam.x_m * 1e3
    axis = np.minimum(np.interp(x_mm, stiffness.r_mm, stiffness.centre[:, 0]), 0.0)
    ahead = np.interp(x_mm, air.r_mm, air.quarter_mm[:, 0]) - axis
    slope = np.interp(x_mm, air.r_mm, air.slope_n_s2 / (air.wide_mm * 1e-3), left=0.0)
    return divergence(beam, masses, slope_n_s2=slope, ahead_m=np.maximum(ahead, 0.0) * 1e-3, coning_rad=coning_rad)
