"""Wires: resistance, drop, and warmth in still air.

Source of the currents at +40 K: balance of heat worked out apart with tabled properties of air (25 degC, emissivity
0.9), give or take 3 %; of what is granted enclosed wire: Reference Data for Engineers, 7th edition, ordinary wire.
"""

from __future__ import annotations

import math

import pytest

from geomgen.hover.air import air
from geomgen.hover.power.wire import (
    IN_FOAM,
    MOST_RISE_K,
    Warmth,
    Wire,
    current_for_rise_a,
    enclosed_a,
    granted_share,
    heat_transfer_w_m2k,
    rise_k,
    warmth,
)
from geomgen.materials.wires import find_wire, gauge_mm2

AIR = air(0.0, 25.0)
FOR_40_K = {"26 AWG": 6.1, "24 AWG": 7.3, "22 AWG": 9.05, "20 AWG": 11.8, "18 AWG": 15.7, "16 AWG": 22.1}
ENCLOSED = {30: 0.52, 28: 0.83, 26: 1.3, 24: 2.1, 22: 5.0, 20: 7.5, 18: 10.0}


@pytest.mark.parametrize("name", FOR_40_K)
def test_current_that_makes_40_kelvin(name: str) -> None:
    """Copper is taken to be as warm as the outside; it is 4 to 5 K warmer, which is 1 % of the current."""
    kind = find_wire(name)
    amps = current_for_rise_a(kind.copper_mm2, kind.outside_mm, 40.0, AIR)
    assert amps == pytest.approx(FOR_40_K[name], rel=0.03)
    assert current_for_rise_a(kind.copper_mm2, kind.outside_mm, 20.0, AIR) == pytest.approx(0.70 * amps, rel=0.03)


@pytest.mark.parametrize(("name", "amps", "rise"), [("22 AWG", 5.0, 13.0), ("20 AWG", 8.0, 19.0)])
def test_rise_by_current(name: str, amps: float, rise: float) -> None:
    kind = find_wire(name)
    assert rise_k(amps, kind.copper_mm2, kind.outside_mm, AIR) == pytest.approx(rise, abs=0.8)


def test_a_rise_asked_back() -> None:
    amps = current_for_rise_a(0.3, 1.7, 31.0, AIR)
    assert rise_k(amps, 0.3, 1.7, AIR) == pytest.approx(31.0, rel=1e-6)
    assert rise_k(amps * 0.73, 0.3, 1.7, AIR, granted=0.73) == pytest.approx(31.0, rel=1e-6)


def test_heat_from_a_wire_by_hand() -> None:
    """1.7 mm, 40 K above 298.15 K; film at 318.15 K: nu 17.6e-6 m2/s, k 0.0276 W/(m K), Pr 0.71 (tables of air). Small
    wires give up about 26 W/(m2 K), thick ones of 3.5 to 4 mm about 20."""
    rayleigh = 9.80665 / 318.15 * 40.0 * 0.0017**3 / 17.6e-6**2 * 0.71
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1.0 + (0.559 / 0.71) ** (9 / 16)) ** (8 / 27)) ** 2
    radiated = 0.9 * 5.670374e-8 * (338.15**2 + 298.15**2) * (338.15 + 298.15)
    assert heat_transfer_w_m2k(1.7, 40.0, AIR) == pytest.approx(nusselt * 0.0276 / 0.0017 + radiated, rel=0.01)
    assert heat_transfer_w_m2k(1.7, 40.0, AIR) == pytest.approx(26.0, rel=0.05)
    assert heat_transfer_w_m2k(3.75, 40.0, AIR) == pytest.approx(20.0, rel=0.06)


def test_drop_along_a_blade() -> None:
    """22 AWG of 0.30040 mm2, 1.4 m there and back, 5 A: 0.80346 V, 4.017 W."""
    wire = Wire(find_wire("22 AWG").copper_mm2, 1.7, 1.4, 2, 2)
    assert 2 * 5.0 * wire.resistance_ohm() == pytest.approx(0.80346, rel=5e-4)
    assert 2 * 25.0 * wire.resistance_ohm() == pytest.approx(4.017, rel=5e-4)


def test_warm_copper_resists_more() -> None:
    """0.393 % a kelvin, IEC 60028: 7.86 % at 40 degC. Solid 22 AWG has 52.96 ohm/km at 20 degC (ASTM B258)."""
    wire = Wire(gauge_mm2(22), 1.7, 1000.0, 2, 2)
    assert wire.resistance_ohm() == pytest.approx(52.96222, rel=1e-3)
    assert wire.resistance_ohm(40.0) / wire.resistance_ohm() == pytest.approx(1.0786)


@pytest.mark.parametrize(("beside", "share"), [(1, 1.0), (2, 0.83), (3, 0.73), (6, 0.585), (12, 0.47), (40, 0.47)])
def test_share_in_a_bundle(beside: int, share: float) -> None:
    assert granted_share(beside) == pytest.approx(share)
    assert granted_share(beside, in_foam=True) == pytest.approx(share * IN_FOAM)


def test_shares_of_bundles_by_their_own_balance() -> None:
    """A bundle as one cylinder of 1.2 sqrt(n) d, each wire with all its current: within 5 %. 1.7 mm, +40 K."""
    kind = find_wire("22 AWG")
    alone = current_for_rise_a(kind.copper_mm2, kind.outside_mm, 40.0, AIR)
    for beside in (2, 3, 6, 12):
        around = 1.2 * math.sqrt(beside) * kind.outside_mm
        each = current_for_rise_a(kind.copper_mm2 * beside, around, 40.0, AIR) / beside
        assert each / alone == pytest.approx(granted_share(beside), rel=0.05)


@pytest.mark.parametrize("gauge", ENCLOSED)
def test_what_a_handbook_grants(gauge: int) -> None:
    assert enclosed_a(gauge_mm2(gauge)) == pytest.approx(ENCLOSED[gauge])


def test_between_gauges_and_beyond_the_handbook() -> None:
    """21 AWG lies between 5.0 and 7.5 A: by powers, at their geometric mean, 6.12 A."""
    assert enclosed_a(gauge_mm2(21)) == pytest.approx(math.sqrt(5.0 * 7.5), rel=1e-3)
    assert enclosed_a(0.04) is None and enclosed_a(1.3) is None


def test_how_a_wire_stands_its_current() -> None:
    wire = Wire(gauge_mm2(22), 1.7, 1.4, 3, 3)
    assert warmth(wire, 4.9, 13.0) is Warmth.COOL
    assert warmth(wire, 5.1, 14.0) is Warmth.WARM
    assert warmth(wire, 4.9, MOST_RISE_K + 0.1) is Warmth.HOT
    assert warmth(Wire(2.0, 3.5, 1.4, 3, 3), 20.0, 12.0) is Warmth.COOL  # beyond the handbook's table
