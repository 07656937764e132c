"""Fans, packs, wires and controllers by class."""

from __future__ import annotations

import pytest

from geomgen.errors import DesignError
from geomgen.materials.fans import fan_names, find_fan
from geomgen.materials.figure import Figure
from geomgen.materials.packs import cell_resistance_ohm, cell_voltage, cold_factor, energy_wh, pack_mass_g
from geomgen.materials.power import power_table
from geomgen.materials.wires import (
    find_controller,
    find_wire,
    gauge_diameter_mm,
    gauge_mm2,
    wire_names,
)

# ASTM B258's formula, by an independent table: diameter [mm], area [mm2], resistance at 20 degC [ohm/km]
GAUGES = {
    10: (2.58819, 5.26115, 3.27704),
    16: (1.29085, 1.30870, 13.17419),
    20: (0.81182, 0.51762, 33.30827),
    22: (0.64380, 0.32553, 52.96222),
    26: (0.40489, 0.12876, 133.90428),
    30: (0.25464, 0.05093, 338.54992),
}
# A public wire chart, read: ohm/km of solid wire at 20 degC; 0.1 %
CHART = {10: 3.2764, 12: 5.211, 14: 8.282, 16: 13.17, 18: 20.94, 20: 33.31}
# FAA AC 43.13-1B table 11-9: greatest ohm per 1000 ft of tin-plated strands at 20 degC
AC43 = {24: 28.40, 22: 16.20, 20: 9.88, 18: 6.23, 16: 4.81, 14: 3.06, 12: 2.02}
COPPER = 17.241  # ohm mm2/km at 20 degC, the International Annealed Copper Standard


def figures() -> list[tuple[str, Figure]]:
    found = []
    for name in fan_names():
        fan = find_fan(name)
        found += [(name, each) for each in (fan.mass, fan.power, fan.voltage, fan.efficiency, fan.inertia)]
    found += [("pack", pack_mass_g(3, capacity)) for capacity in (0.3, 1.5, 5.0)]
    found += [("cell", cell_resistance_ohm(1.5, cold, worn)) for cold in (-5, 5, 30, 60) for worn in (True, False)]
    return found + [(name, find_controller(name).mass) for name in power_table()["controller"]]


@pytest.mark.parametrize(("name", "figure"), figures())
def test_every_figure_has_its_ends_and_its_source(name: str, figure: Figure) -> None:
    assert 0 < figure.low <= figure.typical <= figure.high, name
    assert len(figure.source) > 10 or figure.source == "from memory"


@pytest.mark.parametrize("word", ["40 mm", "40mm", "40", "40 MM", "40-mm"])
def test_a_fan_is_found_by_its_size(word: str) -> None:
    assert find_fan(word).inside_mm == 40.0


def test_sizes_rise() -> None:
    fans = [find_fan(name) for name in fan_names()]
    for what in ("inside_mm", "centre_mm"):
        sizes = [getattr(fan, what) for fan in fans]
        assert sizes == sorted(set(sizes))
    for end in ("low", "typical", "high"):
        for what in ("mass", "inertia"):
            row = [getattr(getattr(fan, what), end) for fan in fans]
            assert row == sorted(set(row)), (what, end)
    for name in wire_names():
        wire = find_wire(name)
        assert wire.copper_mm2 == pytest.approx(wire.nominal_mm2, rel=0.17), name
        assert 1.05 * (4 * wire.copper_mm2 / 3.1416) ** 0.5 < wire.outside_mm
        # copper of 8.89 and silicone of 1.2 g/cm3 (from memory) fill what is inside
        rubber = 3.1416 / 4 * wire.outside_mm**2 - wire.copper_mm2
        assert wire.mass_g_m == pytest.approx(8.89 * wire.copper_mm2 + 1.2 * rubber, rel=0.02), name


def test_a_slip_is_told_with_what_is_meant() -> None:
    with pytest.raises(DesignError) as caught:
        find_fan("45 mm", "power.fan.kind")
    (fault,) = caught.value.faults
    assert fault.path == "power.fan.kind" and "45 mm" in fault.value and 'do you mean "' in fault.remedy
    with pytest.raises(DesignError) as caught:
        find_wire("thick", "power.wire")
    assert "22 AWG" in caught.value.faults[0].allowed
    with pytest.raises(DesignError):
        find_controller("a kitchen chair")


@pytest.mark.parametrize("gauge", GAUGES)
def test_gauges_by_formula(gauge: int) -> None:
    diameter, area, resistance = GAUGES[gauge]
    assert gauge_diameter_mm(gauge) == pytest.approx(diameter, rel=1e-4)
    assert gauge_mm2(gauge) == pytest.approx(area, rel=1e-4)
    assert COPPER / gauge_mm2(gauge) == pytest.approx(resistance, rel=1e-3)


@pytest.mark.parametrize("gauge", CHART)
def test_gauges_by_a_public_chart(gauge: int) -> None:
    assert COPPER / gauge_mm2(gauge) == pytest.approx(CHART[gauge], rel=1e-3)


@pytest.mark.parametrize("gauge", AC43)
def test_gauges_by_a_handbook_of_aircraft_wire(gauge: int) -> None:
    """Its wires are stranded and plated, and its figure is the greatest allowed: solid ones are 0.78 .. 1.03 of it."""
    assert 0.78 < COPPER / gauge_mm2(gauge) * 0.3048 / AC43[gauge] < 1.03


def test_what_packs_weigh_lies_within_what_was_weighed() -> None:
    """Two 1.5 Ah packs of three cells on a public page weigh 106 and 136 g; a 5.2 Ah one 390 g."""
    assert energy_wh(3, 1.5) == pytest.approx(16.65)
    assert pack_mass_g(3, 1.5).low == pytest.approx(106, rel=0.01)
    assert pack_mass_g(3, 1.5).low < 136 < pack_mass_g(3, 1.5).high
    assert pack_mass_g(3, 5.2).low < 390 < pack_mass_g(3, 5.2).high
    assert "outside the classes" in pack_mass_g(6, 8.0).source


def test_voltage_of_a_cell_rises_with_charge() -> None:
    table = cell_voltage()
    assert table.charge[0] == 0.0 and table.charge[-1] == 1.0
    for low, typical, high in zip(table.low, table.typical, table.high, strict=True):
        assert low <= typical <= high
    for row in (table.charge, table.low, table.typical, table.high):
        assert list(row) == sorted(set(row))
    assert dict(zip(table.charge, table.typical, strict=True))[0.5] == 3.84
    # mean from full to 20 %, trapezia by hand: 3.916 V
    steps = [(a + b) / 2 for a, b in zip(table.typical[4:], table.typical[5:], strict=False)]
    assert sum(steps) / len(steps) == pytest.approx(3.916, abs=5e-4)


def test_resistance_of_a_cell() -> None:
    """A logged 5 Ah pack had 3.44 mohm a cell with wires and plug, between typical and high."""
    assert cell_resistance_ohm(1.5).typical == pytest.approx(0.010)
    assert cell_resistance_ohm(5.0).typical < 3.44e-3 < cell_resistance_ohm(5.0).high
    assert cell_resistance_ohm(1.5, worn=True).typical == pytest.approx(0.020)
    assert cell_resistance_ohm(1.5, 10.0).typical == pytest.approx(0.017)
    assert [cold_factor(t).typical for t in (-20, 0, 5, 25, 40, 60)] == pytest.approx([2.5, 2.5, 2.1, 1.0, 0.8, 0.8])
