"""What air and fans do to one blade, as plain data: hover hands it over, and whoever asks what holds takes it up.

Places and directions are in the blade's axes that don't turn with pitch: out along the coned feather axis, forward in
the rotor's plane, up across both.
"""

from __future__ import annotations

from dataclasses import dataclass

from geomgen.arrays import FloatArray

Three = tuple[float, float, float]
"""(low, typical, high)."""


@dataclass(frozen=True, eq=False)
class FanPull:
    """The fans of one blade.

    place      : (3,) of their middle [mm]
    forward    : (3,) direction of their pull [-]
    speeds_m_s : (k,) speeds through the air, rising from 0 [m/s]
    full_n     : (k,) pull of all of one blade at full throttle at these, from a full pack [N]
    drag_n_s2  : of their housings, for each square of the rotor's speed in rad/s [N s2]
    spin       : (low, typical, high) inertia times speed of rotation at full throttle, of all of one blade; > 0 where
                 it lifts the nose of an anticlockwise twin; 0 where it isn't known which way they turn [kg m2 rad/s]
    spin_words : where that is from, or what isn't known
    """

    place: FloatArray
    forward: FloatArray
    speeds_m_s: FloatArray
    full_n: FloatArray
    drag_n_s2: float
    spin: Three
    spin_words: str


@dataclass(frozen=True, eq=False)
class AirLoads:
    """What the air does to one blade at the pitch to fly at, for each square of the rotor's speed in rad/s; it grows
    with that square, as coefficients hardly depend on speed. Of the anticlockwise twin.

    r_mm       : (n,) middles of the blade's pieces, root first [mm]
    wide_mm    : (n,) how far each reaches along r [mm]
    up_n_s2    : (n,) force on each across the blade, upwards [N s2]
    back_n_s2  : (n,) force on each against the blade's motion [N s2]
    turn_nm_s2 : (n,) moment about the quarter chord, nose up [N m s2]
    slope_n_s2 : (n,) how much more lift each gives for a radian that it alone is turned nose up [N s2]
    quarter_mm : (n, 2) where the quarter chord lies, forward of the feather axis and up [mm]
    spread     : factors on all of it, how far theory has been off measured rotors: (low, 1, high) [-]
    carries    : (low, typical, high) speed that carries the craft; None where nothing does [rad/s]
    full_rad_s : speed at full throttle; None where that isn't known [rad/s]
    fans       : None where the design has none
    density_kg_m3 : of the air
    source     : in words
    """

    r_mm: FloatArray
    wide_mm: FloatArray
    up_n_s2: FloatArray
    back_n_s2: FloatArray
    turn_nm_s2: FloatArray
    slope_n_s2: FloatArray
    quarter_mm: FloatArray
    spread: Three
    carries: Three | None
    full_rad_s: float | None
    fans: FanPull | None
    density_kg_m3: float
    source: str
