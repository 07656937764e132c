"""The air a rotor turns in: the standard atmosphere, and a day warmer or colder than standard."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geomgen.errors import DesignError, Fault
from geomgen.figures import figure

GRAVITY_M_S2 = 9.80665
_SEA_LEVEL_K, _SEA_LEVEL_PA = 288.15, 101_325.0
_LAPSE_K_M = 0.0065
_GAS_CONSTANT = 287.05287
_EARTH_RADIUS_M = 6_356_766.0
_FREEZING_K = 273.15
_LOWEST_M, _HIGHEST_M = -500.0, 11_000.0
_SUTHERLAND, _SUTHERLAND_K = 1.458e-6, 110.4  # [kg/(s m K^0.5)], [K]
_HEAT_RATIO = 1.4


@dataclass(frozen=True)
class Air:
    """Air at one place.

    temperature_k  : temperature [K]
    pressure_pa    : pressure [Pa]
    density_kg_m3  : density [kg/m3]
    source         : of the figures that follow from its temperature, U.S. Standard Atmosphere 1976
    """

    temperature_k: float
    pressure_pa: float
    density_kg_m3: float

    @property
    def viscosity_pa_s(self) -> float:
        """Dynamic viscosity, by Sutherland's law [Pa s]."""
        return float(_SUTHERLAND * self.temperature_k**1.5 / (self.temperature_k + _SUTHERLAND_K))

    @property
    def kinematic_viscosity_m2_s(self) -> float:
        """Viscosity over density [m2/s]."""
        return self.viscosity_pa_s / self.density_kg_m3

    @property
    def sound_m_s(self) -> float:
        """Speed of sound [m/s]."""
        return math.sqrt(_HEAT_RATIO * _GAS_CONSTANT * self.temperature_k)

    @property
    def conductivity_w_mk(self) -> float:
        """How well still air leads heat [W/(m K)]."""
        kelvin = self.temperature_k
        return float(2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10.0 ** (-12.0 / kelvin)))

    @property
    def heat_j_kgk(self) -> float:
        """Heat that a kilogram takes up at constant pressure [J/(kg K)]: 7/2 of the gas constant."""
        return _HEAT_RATIO / (_HEAT_RATIO - 1.0) * _GAS_CONSTANT


def air(height_m: float = 0.0, temperature_deg_c: float | None = None) -> Air:
    """Air at a height above sea level.

    height_m          : geometric height [m], -500 .. 11 000
    temperature_deg_c : the day's own temperature [degC]; None = standard. It replaces the standard temperature in
                        the density; the pressure stays that of the height
    raises            : DesignError outside the range of heights, or at or below absolute zero
    source            : U.S. Standard Atmosphere 1976, the same as ISO 2533 below 32 km; dry air
    """
    if not _LOWEST_M <= height_m <= _HIGHEST_M:
        allowed = f"{_metres(_LOWEST_M)} to {_metres(_HIGHEST_M)}"
        raise DesignError(Fault("duty.air.height", _metres(height_m), "outside the lowest layer of air", allowed))
    standard = standard_air(geopotential_m(height_m))
    if temperature_deg_c is None:
        return standard
    kelvin = temperature_deg_c + _FREEZING_K
    if not kelvin > 0.0:
        value = figure("degC", temperature_deg_c)
        raise DesignError(Fault("duty.air.temperature", value, "at or below absolute zero"))
    return Air(kelvin, standard.pressure_pa, standard.pressure_pa / (_GAS_CONSTANT * kelvin))


def _metres(height_m: float) -> str:
    return figure("m", height_m * 1e3)


def standard_air(geopotential_height_m: float) -> Air:
    """Standard air at a geopotential height [m] in the lowest layer, where temperature falls 6.5 K each km."""
    kelvin = _SEA_LEVEL_K - _LAPSE_K_M * geopotential_height_m
    exponent = GRAVITY_M_S2 / (_GAS_CONSTANT * _LAPSE_K_M)
    pascal: float = _SEA_LEVEL_PA * (kelvin / _SEA_LEVEL_K) ** exponent
    return Air(kelvin, pascal, pascal / (_GAS_CONSTANT * kelvin))


def geopotential_m(height_m: float) -> float:
    """Geopotential height of a geometric one [m]: 1000 m is 999.84 m."""
    return _EARTH_RADIUS_M * height_m / (_EARTH_RADIUS_M + height_m)
