"""Air against a published table.

Source of the rows: U.S. Standard Atmosphere 1976 (T0 288.15 K, p0 101 325 Pa, 6.5 K/km, R 287.05287), a public
table of it in geometric kilometres agreeing with its last digit; tolerance 1e-4 relative.
"""

from __future__ import annotations

import pytest

from geomgen.errors import DesignError
from geomgen.hover.air import air, geopotential_m, standard_air

GEOPOTENTIAL = [  # h [m], T [K], p [Pa], rho [kg/m3]
    (0, 288.150, 101325.0, 1.22500),
    (500, 284.900, 95460.8, 1.16727),
    (1000, 281.650, 89874.6, 1.11164),
    (1500, 278.400, 84556.0, 1.05807),
    (2000, 275.150, 79495.2, 1.00649),
    (2500, 271.900, 74682.5, 0.95686),
    (3000, 268.650, 70108.5, 0.90912),
]
OF_TEMPERATURE = [  # h [m], speed of sound [m/s], viscosity [Pa s], kinematic viscosity [m2/s]
    (0, 340.294, 1.78938e-05, 1.46072e-05),
    (500, 338.369, 1.77366e-05, 1.51949e-05),
    (1000, 336.434, 1.75785e-05, 1.58130e-05),
    (2000, 332.529, 1.72596e-05, 1.71483e-05),
    (3000, 328.578, 1.69372e-05, 1.86303e-05),
]
GEOMETRIC = [  # z [m], p [Pa], rho [kg/m3]
    (500, 95461.3, 1.16727),
    (1000, 89876.3, 1.11166),
    (2000, 79501.4, 1.00655),
    (3000, 70121.1, 0.90925),
]


@pytest.mark.parametrize(("height", "kelvin", "pascal", "density"), GEOPOTENTIAL)
def test_standard_air_by_geopotential_height(height: float, kelvin: float, pascal: float, density: float) -> None:
    got = standard_air(height)
    assert got.temperature_k == pytest.approx(kelvin, rel=1e-6)
    assert got.pressure_pa == pytest.approx(pascal, rel=2e-6)
    assert got.density_kg_m3 == pytest.approx(density, rel=1e-5)


@pytest.mark.parametrize(("height", "pascal", "density"), GEOMETRIC)
def test_air_by_geometric_height(height: float, pascal: float, density: float) -> None:
    got = air(height)
    assert got.pressure_pa == pytest.approx(pascal, rel=2e-6)
    assert got.density_kg_m3 == pytest.approx(density, rel=1e-5)


def test_public_table_of_the_standard() -> None:
    """As printed for geometric km: 0.5 km 1.167, 1 km 1.112, 2 km 1.007 (last digit)."""
    for height, printed in ((500, 1.167), (1000, 1.112), (2000, 1.007)):
        assert air(height).density_kg_m3 == pytest.approx(printed, abs=5.01e-4)


def test_a_cold_day_keeps_the_pressure_and_thickens_the_air() -> None:
    cold, standard = air(40, 2.0), air(40)
    assert cold.pressure_pa == standard.pressure_pa
    assert cold.temperature_k == pytest.approx(275.15)
    assert cold.density_kg_m3 / standard.density_kg_m3 == pytest.approx((288.15 - 0.0065 * 40) / 275.15, rel=1e-6)


def test_geopotential_height_is_the_lesser() -> None:
    """1000 m geometric is 999.84 m (from memory, any table of the standard)."""
    assert geopotential_m(1000) == pytest.approx(999.84, abs=0.01)


@pytest.mark.parametrize("height", [-600.0, 12_000.0, float("nan")])
def test_heights_out_of_the_layer_are_refused(height: float) -> None:
    with pytest.raises(DesignError) as caught:
        air(height)
    assert caught.value.faults[0].path == "duty.air.height"


@pytest.mark.parametrize("temperature", [-273.15, -300.0, float("nan")])
def test_temperatures_that_cannot_be_are_refused(temperature: float) -> None:
    with pytest.raises(DesignError) as caught:
        air(0, temperature)
    assert caught.value.faults[0].path == "duty.air.temperature"


@pytest.mark.parametrize(("height", "sound", "viscosity", "kinematic"), OF_TEMPERATURE)
def test_what_follows_from_temperature(height: float, sound: float, viscosity: float, kinematic: float) -> None:
    got = standard_air(height)
    assert got.sound_m_s == pytest.approx(sound, rel=1e-5)
    assert got.viscosity_pa_s == pytest.approx(viscosity, rel=1e-5)
    assert got.kinematic_viscosity_m2_s == pytest.approx(kinematic, rel=1e-5)


def test_how_air_leads_heat_at_sea_level() -> None:
    """The standard's sea-level figure, 2.5326e-2 W/(m K) (from memory); with cp 1005 the Prandtl number is 0.71."""
    got = standard_air(0)
    assert got.conductivity_w_mk == pytest.approx(2.5326e-2, rel=1e-4)
    assert got.heat_j_kgk * got.viscosity_pa_s / got.conductivity_w_mk == pytest.approx(0.71, abs=0.005)
